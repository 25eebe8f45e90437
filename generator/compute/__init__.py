"""A checked log -> tables: the only place, with charts, that imports pandas."""
