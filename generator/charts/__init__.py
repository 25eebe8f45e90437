"""Rows -> chart specifications: one theme, one module a family of kinds; `marks` and `flow` are what pages use of them too."""
