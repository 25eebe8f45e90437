"""Bytes that nobody wrote, into everything that reads: the tool's own errors, and no other."""
