"""Numbers in, numbers out: no files, no clock, no decision on a value.

Every function is plain arithmetic. It is annotated for one value, and the same expression works unchanged on
an array or a column of values. An unknown is NaN and stays NaN. Each docstring names units, range, source and
how sure we are of it.
"""
