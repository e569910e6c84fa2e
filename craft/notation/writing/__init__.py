"""The draft back to text: in any terms, in a house style, without repeats, for one size."""

from craft.notation.writing.alike import same, without_spans
from craft.notation.writing.style import HouseStyle
from craft.notation.writing.writer import write, write_within

__all__ = ["HouseStyle", "same", "without_spans", "write", "write_within"]
