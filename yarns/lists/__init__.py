"""Lists in and out of the yarn room: a list of lots, and everything at once.

`cells` reads one cell; `things` finds or makes what a row names; `lots_in` plans and takes in a list of
lots; `everything_out` writes all; `everything_in` puts it into an empty room; `uploads` keeps a file
between preview and yes.
"""
