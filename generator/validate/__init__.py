"""Plain values -> records by the grammar, then the rules that look across files."""
