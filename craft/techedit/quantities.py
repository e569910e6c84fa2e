"""Numbers with units as patterns print them: "10 cm", "4 1/4 in", "24 (26, 28) cm [9½ (10¼, 11)”]".

Conversions: 1 in = 2.54 cm and 1 yd = 0.9144 m exactly, 1 oz = 28.349523125 g (international yard and
pound agreement of 1959).
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass

from craft.notation.tree import Span

__all__ = ["CM_PER_INCH", "CM_PER_UNIT", "G_PER_OUNCE", "M_PER_YARD", "Amount", "amounts", "number", "pairs"]

CM_PER_INCH = 2.54
CM_PER_UNIT = {"cm": 1.0, "mm": 0.1, "in": CM_PER_INCH, "ft": 12 * CM_PER_INCH}
M_PER_YARD = 0.9144
G_PER_OUNCE = 28.349523125

_FRACTIONS = {
    "¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3,
    "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8,
}  # fmt: skip
_NUMBER = (
    r"(?:\d/\d{1,2}(?!\d)|\d+(?:\.\d+)?(?:\s?[¼½¾⅓⅔⅛⅜⅝⅞]|[ -]\d/\d{1,2}(?!\d))?"
    r"|[¼½¾⅓⅔⅛⅜⅝⅞])"
)
_LIST = rf"{_NUMBER}(?:\s?[(\[]\s?{_NUMBER}(?:\s?[,;–-]\s?{_NUMBER})*\s?[)\]])*"
_UNIT = r"""cms?\b|mms?\b|inches\b|inch\b|ins?\b|["”″]|''|’’|yards?\b|yds?\b|metres?\b|meters?\b|m\b
    |grams?\b|grammes?\b|gr?\b|ounces?\b|ozs?\b|feet\b|ft\b"""
_AMOUNT = re.compile(
    rf"(?<![\w.,/-])(?P<numbers>{_LIST})(?P<gap>[\s-]{{0,2}})(?P<unit>{_UNIT})",
    re.IGNORECASE | re.VERBOSE,
)
_ONE = re.compile(_NUMBER)
_UNIT_NAMES = {
    "cm": "cm", "cms": "cm", "mm": "mm", "mms": "mm", "yard": "yd", "yards": "yd", "yd": "yd",
    "yds": "yd", "metre": "m", "metres": "m", "meter": "m", "meters": "m", "m": "m", "gram": "g",
    "grams": "g", "gramme": "g", "grammes": "g", "g": "g", "gr": "g", "ounce": "oz", "ounces": "oz",
    "oz": "oz", "ozs": "oz", "feet": "ft", "ft": "ft",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Amount:
    """One number or a list by size with its unit: "cm", "mm", "in", "ft", "m", "yd", "g", "oz".

    `exact`: how finely it is printed, in its unit (1 for "4", 0.1 for "4.5", 0.25 for "4 1/4").
    """

    values: tuple[float, ...]
    unit: str
    span: Span
    exact: float

    @property
    def cm(self) -> tuple[float, ...]:
        """The values in centimetres; empty for a unit that is no length of fabric."""
        factor = CM_PER_UNIT.get(self.unit)
        return tuple(value * factor for value in self.values) if factor else ()


def number(words: str) -> float:
    """The value of "10", "4.5", "4 1/2", "4½" or "1/2"."""
    whole, fraction = words.strip(), 0.0
    if whole[-1] in _FRACTIONS:
        whole, fraction = whole[:-1].strip(), _FRACTIONS[whole[-1]]
    elif "/" in whole:
        whole, _, slash = whole.replace("-", " ").rpartition(" ")
        over, under = slash.split("/")
        fraction = int(over) / int(under) if int(under) else 0.0
    return (float(whole) if whole else 0.0) + fraction


def amounts(text: str, span: Span | None = None) -> Iterator[Amount]:
    """Every number with a unit in the text, or in a stretch of it."""
    start, end = span or (0, len(text))
    for match in _AMOUNT.finditer(text, start, end):
        words = _ONE.findall(match["numbers"])
        yield Amount(
            tuple(number(word) for word in words),
            _UNIT_NAMES.get(match["unit"].lower(), "in"),
            Span(match.start(), match.end()),
            max(_fineness(word) for word in words),
        )


def _fineness(words: str) -> float:
    if words[-1] in _FRACTIONS or "/" in words:
        return 0.125 if words[-1] in "⅛⅜⅝⅞" or words.endswith("/8") else 0.25
    return 0.1 if "." in words else 1.0


_BETWEEN = re.compile(r"\s{0,4}(?:[(\[/=]|or\b)\s{0,4}(?:approx\.?\s{0,4}|about\s{0,4})?", re.IGNORECASE)


def pairs(found: tuple[Amount, ...], text: str) -> Iterator[tuple[Amount, Amount]]:
    """Neighbours that say the same in another unit: "4 in (10 cm)", "200 m / 219 yd"."""
    for first, second in itertools.pairwise(found):
        between = text[first.span.end : second.span.start]
        if len(between) <= 12 and _BETWEEN.fullmatch(between) and first.unit != second.unit:
            yield first, second
