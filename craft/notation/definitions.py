"""Special stitches as the pattern defines them: what each uses, makes and is made of."""

from __future__ import annotations

from craft.notation.parse import Parser
from craft.notation.tree import Remark

__all__ = ["spelled_out"]


def spelled_out(parser: Parser, first: int) -> None:
    parser._remark(first)
    span = parser.out[-1].span
    parser.out[-1] = Remark(span)
