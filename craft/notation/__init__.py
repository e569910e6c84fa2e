"""Text to draft and back: `read`, `write`, and the tree between them."""

from craft.notation.reader import read
from craft.notation.tree import Draft
from craft.notation.writing import HouseStyle, same, write

__all__ = ["Draft", "HouseStyle", "read", "same", "write"]
