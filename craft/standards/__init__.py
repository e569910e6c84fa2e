"""Published tables of the trade as data, the source beside each row. Nothing here computes a
design.
"""
