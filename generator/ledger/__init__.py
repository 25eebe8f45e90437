"""Dated events folded into balances and figures: stock, columns, tanks, money, the facts of a batch."""
