"""Rows of the yarns room."""
