"""The stitches that the trade knows: what each uses of the edge below and leaves on top.

Names, US and UK, come from `craft.standards.terms`; widths are common practice (a plain stitch uses
one place and leaves one; "2tog" uses two and leaves one; an increase the other way round).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from craft.notation.tree import Loops, Stitch
from craft.standards import terms

__all__ = [
    "IN_PATTERN",
    "PLAIN",
    "Named",
    "increase",
    "of_one",
    "plain_names",
    "post",
    "together",
    "unknown",
]

PLAIN = ("sc", "hdc", "dc", "tr", "dtr", "trtr", "quadtr")
"""US names of the plain stitches, short to tall."""

IN_PATTERN = Stitch("in pattern", tally=(("st", 1),))
"""One stitch "in pattern", "in established pattern", "even": its kind is that of the rows before."""


@dataclass(frozen=True, slots=True)
class Named:
    """A stitch name as a word of the text: the stitch, and the loops its name implies (scbl)."""

    stitch: Stitch
    loops: Loops = Loops.BOTH

    @property
    def noun(self) -> str:
        return self.stitch.name


@cache
def of_one(name: str) -> Named:
    """A stitch that uses one place and leaves one."""
    return Named(Stitch(name, tally=((name, 1),)))


@cache
def together(name: str, number: int) -> Named:
    """`number` stitches of one kind worked together: uses `number`, leaves one."""
    whole = f"{name}{number}tog"
    return Named(Stitch(whole, uses=number, tally=((whole, 1),)))


@cache
def increase(name: str, number: int = 2) -> Named:
    """`number` stitches in one place: "inc"."""
    whole = "inc" if name == "sc" and number == 2 else f"{name} inc" if number == 2 else f"{name} inc{number}"
    return Named(Stitch(whole, makes=number, tally=((name, number),)))


@cache
def post(name: str, side: str) -> Named:
    """A stitch round the post of the one below; `side` is "front" or "back"."""
    whole = f"{'fp' if side == 'front' else 'bp'}{name}"
    return Named(Stitch(whole, tally=((whole, 1),), post=side))


def plain_names(system: str) -> dict[str, str]:
    """Every spelling of a stitch name in "us" or "uk" terms -> its US name."""
    names: dict[str, str] = {}
    for term in terms.STITCHES:
        if term.family == "chain":
            continue
        written = (
            (term.us, term.us_name, *term.us_also)
            if system == "us"
            else (term.uk, term.uk_name, *term.uk_also)
        )
        for name in written:
            names.setdefault(name.lower(), term.us)
    return names


@cache
def unknown(name: str) -> Named:
    """A name that neither the trade nor the pattern defines: taken as one place, one stitch."""
    return Named(Stitch(name, tally=((name, 1),), known=False))
