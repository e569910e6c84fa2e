"""Pages of the patterns room at the desk: one module a page."""
