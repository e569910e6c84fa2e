"""Rows of the patterns room."""
