"""Pages of the yarn room, one module for each kind of page."""
