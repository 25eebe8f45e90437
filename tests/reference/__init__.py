"""Checks from outside: each expected value carries source, place, tolerance, reason and confidence."""
