"""Text to draft and back: `read` and the tree that it builds."""

from craft.notation.reader import read
from craft.notation.tree import Draft

__all__ = ["Draft", "read"]
