"""Esterday: from a logbook of biodiesel batches to a checked, browsable site."""

__version__ = "0.1.0"
