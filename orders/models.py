"""Rows of the orders room."""
