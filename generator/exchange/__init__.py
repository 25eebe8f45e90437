"""Spreadsheets in and out: sheet <-> records, by a map that a person has seen; no files, no clock."""
