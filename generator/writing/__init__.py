"""Records as they are written: text in, text out; what is in a file already is never touched."""
