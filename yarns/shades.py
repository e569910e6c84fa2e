"""The shade card: every colour that lies on the shelf, as a picture."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final
from xml.sax.saxutils import escape

from django.db.models import F, Sum
from django.utils.translation import gettext as _

from yarns.amounts import milligrams, shown
from yarns.models import Colour, Ownership

CHIP_WIDTH: Final = 132
CHIP_HEIGHT: Final = 84
GAP: Final = 16
ACROSS: Final = 5
HEAD: Final = 40
LABEL: Final = 46
PAPER, INK, SOFT, LINE = "#fffdf7", "#25211b", "#5a5246", "#877a63"


@dataclass(frozen=True, slots=True)
class Shade:
    """One colour with what is free of it. `hex_swatch` "" where nobody knows the shade."""

    colour_id: int
    yarn_name: str
    name: str
    code: str
    hex_swatch: str
    free_mg: int

    @property
    def free(self) -> str:
        """The free mass for people."""
        return shown(milligrams(self.free_mg))


def shades() -> list[Shade]:
    """The studio's colours with something free, by yarn and name; one query."""
    rows = (
        Colour.objects.filter(lots__balance__gt=F("lots__promised"), lots__ownership=Ownership.OURS)
        .select_related("yarn")
        .annotate(free=Sum(F("lots__balance") - F("lots__promised")))
        .order_by("yarn__maker", "yarn__name", "yarn_id", "name", "pk")
    )
    return [Shade(row.pk, str(row.yarn), row.name, row.code, row.hex_swatch, row.free) for row in rows]


def by_yarn(card: list[Shade]) -> list[tuple[str, list[Shade]]]:
    """The card in its groups."""
    return [(name, list(group)) for name, group in groupby(card, key=lambda each: each.yarn_name)]


def draw_shade_card(card: list[Shade]) -> str:
    """The card as an SVG of its own, readable in light and dark and on paper."""
    width = ACROSS * (CHIP_WIDTH + GAP) + GAP
    top, parts = GAP, []
    for name, group in by_yarn(card):
        parts.append(_text(GAP, top + 22, name, size=19, weight=600))
        top += HEAD
        parts.extend(_chips(group, top))
        top += -(-len(group) // ACROSS) * (CHIP_HEIGHT + LABEL + GAP)
    height = max(top + GAP, 120)
    title = escape(_("Shade card"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
        f' viewBox="0 0 {width} {height}" role="img" aria-label="{title}"'
        f" font-family=\"'Source Sans Pro', sans-serif\"><title>{title}</title>"
        f'<rect width="100%" height="100%" fill="{PAPER}"/>{"".join(parts)}</svg>'
    )


def _chips(group: list[Shade], top: int) -> Iterator[str]:
    for number, shade in enumerate(group):
        left = GAP + number % ACROSS * (CHIP_WIDTH + GAP)
        down = top + number // ACROSS * (CHIP_HEIGHT + LABEL + GAP)
        yield _chip(shade, left, down)


def _chip(shade: Shade, left: int, top: int) -> str:
    box = f'x="{left}" y="{top}" width="{CHIP_WIDTH}" height="{CHIP_HEIGHT}" rx="6"'
    fill = shade.hex_swatch or PAPER
    dash = "" if shade.hex_swatch else ' stroke-dasharray="6 5"'
    name = f"{shade.name} {shade.code}".strip()
    return (
        f'<rect {box} fill="{escape(fill)}" stroke="{LINE}"{dash}/>'
        + ("" if shade.hex_swatch else _text(left + 12, top + 46, _("shade not known"), size=14, fill=SOFT))
        + _text(left, top + CHIP_HEIGHT + 19, name, size=15, most=18)
        + _text(left, top + CHIP_HEIGHT + 38, shade.free, size=14, fill=SOFT)
    )


def _text(
    left: int, base: int, words: str, *, size: int, weight: int = 400, fill: str = INK, most: int = 90
) -> str:
    cut = words if len(words) <= most else f"{words[: most - 1]}…"
    return (
        f'<text x="{left}" y="{base}" font-size="{size}" font-weight="{weight}" fill="{fill}">'
        f"{escape(cut)}</text>"
    )
