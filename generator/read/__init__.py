"""Text -> plain values, each with file, line and column."""
