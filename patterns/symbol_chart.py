"""The symbol chart of a pattern in one size, as values from which page and paper are drawn.

The signs come from the worked fabric (at the desk) or from what a revision keeps (on the site and on paper);
the words beside them are the rounds as they are frozen. What is drawn is `craft.charting`'s.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from django.utils.functional import cached_property
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from craft.charting import (
    MOST_SIGNS,
    Course,
    Ink,
    KeyEntry,
    Piece,
    Placed,
    Sheet,
    Style,
    SymbolSet,
    Words,
    inks,
    key_of,
    lay_out,
    only,
    parts_of,
    ring_used,
    sheets_of,
    shortened,
    specimen,
    svg_of,
    symbol_svg,
)
from craft.charting.from_fabric import pieces_of
from craft.fabric.model import Fabric

__all__ = ["ChartLine", "ChartPart", "Drawn", "Figure", "SymbolChart", "live_pieces", "symbol_chart"]

SIX_POINTS_MM: Final = 2.12
FITS_PX: Final = 700
"""A drawing no wider than this is shown whole; a wider one can be scrolled."""

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class ChartLine:
    """One line of the text beside the chart. `keys`: the courses it stands for, separated by spaces.

    `target`: id in the drawing, "" where nothing is drawn of it.
    """

    ident: str
    keys: str
    target: str
    label: str
    body: str
    count: str


@dataclass(frozen=True, slots=True)
class ChartPart:
    """Some courses of a piece too large for one drawing."""

    number: int
    label: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Drawn:
    """One drawing. `svg` is made by us alone; every word in it is escaped."""

    svg: SafeString
    wide: bool


@dataclass(frozen=True, eq=False)
class Figure:
    """The chart of one piece. `says`: a sentence in its place, or beside it; "" for none."""

    number: int
    title: str
    placed: Placed | None
    words: Words
    style: Style
    lines: tuple[ChartLine, ...]
    parts: tuple[ChartPart, ...] = ()
    says: str = ""

    @cached_property
    def drawn(self) -> Drawn | None:
        if self.placed is None:
            return None
        svg = svg_of(self.placed, self.words, self.style)
        return Drawn(SafeString(svg), self.placed.box.width * self.style.scale > FITS_PX)

    def file(self) -> str | None:
        """The drawing as a file of its own: without the links into the page; None where nothing is drawn."""
        if self.placed is None:
            return None
        return svg_of(self.placed, self.words, replace(self.style, links={}))

    def sheets(self, width_mm: float, height_mm: float) -> tuple[tuple[Sheet, str], ...]:
        """The drawing over as many sheets of paper as it needs, each with its SVG."""
        if self.placed is None:
            return ()
        sheets = sheets_of(self.placed, width_mm, height_mm)
        return tuple((sheet, self._on(sheet, self.placed)) for sheet in sheets)

    def _on(self, sheet: Sheet, placed: Placed) -> str:
        size = (f"{sheet.width_mm:.1f}mm", f"{sheet.height_mm:.1f}mm")
        unit_mm = sheet.width_mm / sheet.window.width / self.style.scale
        style = replace(
            self.style, links={}, number_size=max(self.style.number_size, SIX_POINTS_MM / unit_mm)
        )
        return svg_of(placed, self.words, style, sheet, size)


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One symbol with its names, those of the pattern's own terms first."""

    svg: SafeString
    own: str
    own_words: str
    other: str
    other_words: str
    number: int


@dataclass(frozen=True, eq=False)
class SymbolChart:
    """All the drawings of a pattern in one size, and their one key. Compared by identity, so that what is
    drawn of it can be kept.
    """

    figures: tuple[Figure, ...]
    key: tuple[KeyRow, ...]
    colours: tuple[tuple[Ink, str], ...]
    ring: bool
    terms: str
    symbols: SymbolSet
    size: str = ""

    @property
    def other_terms(self) -> str:
        return "uk" if self.terms == "us" else "us"

    @property
    def has_rounds(self) -> bool:
        return any(figure.placed and figure.placed.piece.is_round for figure in self.figures)

    @property
    def has_rows(self) -> bool:
        return any(figure.placed and not figure.placed.piece.is_round for figure in self.figures)

    @property
    def has_repeat(self) -> bool:
        return any(figure.placed and figure.placed.bracket for figure in self.figures)

    @property
    def folded(self) -> bool:
        """Whether courses that repeat exactly are told and not drawn."""
        drawn = (figure.placed.piece.courses for figure in self.figures if figure.placed)
        return any(course.repeated for courses in drawn for course in courses)


def live_pieces(fabric: Fabric | None, size: int) -> tuple[Piece, ...]:
    """The pieces of a text as it stands; none where it can't be charted. Never raises on a maker's text."""
    if fabric is None:
        return ()
    try:
        return pieces_of(fabric, size)
    except Exception:
        logger.exception("The chart broke on a text of %d characters", len(fabric.draft.text))
        return ()


def symbol_chart(
    pieces: Sequence[Piece], rounds: Mapping[str, Any], facts: Mapping[str, Any], symbols: SymbolSet,
    *, size: str = "", part: int = 1, whole: bool = False,
) -> SymbolChart:  # fmt: skip
    """The chart from pieces, frozen rounds and frozen facts. `size`: its label, "" for one size.

    `part`: which part of a piece that is too large for one drawing, from 1. `whole`: draw also the courses
    that repeat exactly.
    """
    colours = inks([(yarn["key"], yarn.get("hex", "")) for yarn in facts["yarns"]])
    maker = _Figures(rounds, colours, symbols, size, part, whole=whole)
    figures = [maker.figure(number, piece) for number, piece in enumerate(pieces, 1)]
    used = {sign.colour for piece in pieces for sign in piece.signs}
    shown = [figure.placed.piece for figure in figures if figure.placed is not None]
    return SymbolChart(
        figures=tuple(figures),
        key=tuple(_key_row(entry, facts["terms"], symbols) for entry in key_of(shown)),
        colours=tuple(
            (colours[yarn["key"]], yarn["colour"] or yarn["description"])
            for yarn in facts["yarns"]
            if yarn["key"] in used and len(facts["yarns"]) > 1
        ),
        ring=ring_used(shown),
        terms=facts["terms"],
        symbols=symbols,
        size=size,
    )


def _key_row(entry: KeyEntry, terms: str, symbols: SymbolSet) -> KeyRow:
    svg = SafeString(symbol_svg(specimen(entry.sign), Style(symbols)))
    us, uk = (entry.us, entry.long_us), (entry.uk, entry.long_uk)
    own, other = (us, uk) if terms == "us" else (uk, us)
    return KeyRow(svg, *own, *other, entry.number)


class _Figures:
    """Makes the figures of one chart."""

    def __init__(
        self, rounds: Mapping[str, Any], colours: Mapping[str, Ink], symbols: SymbolSet, size: str, part: int,
        *, whole: bool,
    ) -> None:  # fmt: skip
        self.sections = {section["key"]: section for section in rounds["sections"]}
        self.colours, self.symbols, self.size = colours, symbols, size
        self.part, self.whole = part, whole

    def figure(self, number: int, piece: Piece) -> Figure:
        drawn = piece if self.whole else shortened(piece)
        ranges = parts_of(drawn)
        chosen = min(max(self.part, 1), len(ranges))
        says = self._says(piece, drawn, ranges)
        placed = None if piece.refused or _too_long(drawn) else lay_out(drawn)
        if placed is not None and len(ranges) > 1:
            courses = drawn.courses[slice(*ranges[chosen - 1])]
            placed = only(placed, frozenset(course.key for course in courses))
        prefix = f"chart-{number}"
        lines = tuple(self._lines(piece, placed, prefix))
        repeats = placed.repeats if placed else 1
        words = self._words(piece, drawn, repeats)
        parts = tuple(_parts(drawn, ranges, chosen))
        return Figure(number, piece.title, placed, words, self._style(prefix, lines), lines, parts, says)

    def _style(self, prefix: str, lines: Sequence[ChartLine]) -> Style:
        links = {key: f"#{line.ident}" for line in lines for key in line.keys.split()}
        return Style(self.symbols, self.colours, prefix, links)

    def _words(self, piece: Piece, drawn: Piece, repeats: int) -> Words:
        title = piece.title or _("Symbol chart")
        if self.size:
            title = _("%(title)s, size %(size)s") % {"title": title, "size": self.size}
        number = sum(course.number is not None for course in piece.courses)
        described = ngettext(
            "Symbol chart of %(number)s round or row. The words beside it say the same.",
            "Symbol chart of %(number)s rounds or rows. The words beside it say the same.",
            number,
        ) % {"number": number}
        repeat = f"×{repeats}"
        return Words(title, described, dict(_bands(drawn)), repeat)

    def _says(self, piece: Piece, drawn: Piece, ranges: Sequence[tuple[int, int]]) -> str:
        if piece.refused:
            return _(
                "This part has %(number)s stitches, more than a chart can show in a way that helps. "
                "The words beside it are whole."
            ) % {"number": piece.refused}  # fmt: skip
        if _too_long(drawn):
            return _("One of its rounds or rows is too long to draw. The words beside it are whole.")
        if len(ranges) > 1:
            return _("Too large for one drawing: it is drawn in %(number)s parts.") % {"number": len(ranges)}
        if any(course.repeated for course in drawn.courses):
            return _("Rounds or rows that repeat exactly are named and not drawn again.")
        return ""

    def _lines(self, piece: Piece, placed: Placed | None, prefix: str) -> Iterator[ChartLine]:
        drawn = {course.key for course in placed.piece.courses} if placed else set()
        own = {course.key for course in piece.courses}
        for section in piece.parts:
            for item in self.sections.get(str(section), {"items": ()})["items"]:
                if item["what"] == "round" and (piece.refused or not own.isdisjoint(_keys(item))):
                    yield _line(item, drawn, prefix)


def _line(item: Mapping[str, Any], drawn: set[str], prefix: str) -> ChartLine:
    keys = _keys(item)
    shown = [key for key in keys if key in drawn]
    return ChartLine(
        ident=f"{prefix}-words-{item['key'].replace(':', '-')}",
        keys=" ".join(keys),
        target=f"{prefix}-{shown[0].replace(':', '-')}" if shown else "",
        label=item["label"],
        body=item["body"],
        count=item["count"],
    )


def _keys(item: Mapping[str, Any]) -> list[str]:
    """The keys of all rounds that a line stands for: they run on from its first."""
    section, found, first = item["key"].partition(":")
    if not found or not first.isdecimal():
        return [item["key"]]
    return [f"{section}:{int(first) + place}" for place in range(max(len(item["totals"]), 1))]


def _too_long(piece: Piece) -> bool:
    return any(course.stop - course.start > MOST_SIGNS for course in piece.courses)


def _bands(piece: Piece) -> Iterator[tuple[str, str]]:
    """What stands in the bands: courses that are told, and gaps."""
    for course in piece.courses:
        if course.repeated:
            yield course.key, _told(course)
        elif course.gap:
            label = course.label or "?"
            word = _("Rnd %s") if course.kind == "round" else _("Row %s")
            yield course.key, _("%s: not read") % (word % label)


def _told(course: Course) -> str:
    words = {"these": course.label, "like": course.like}
    if course.kind == "round":
        return _("Rnds %(these)s: as %(like)s") % words
    return _("Rows %(these)s: as %(like)s") % words


def _parts(piece: Piece, ranges: Sequence[tuple[int, int]], chosen: int) -> Iterable[ChartPart]:
    if len(ranges) < 2:
        return
    for number, (start, stop) in enumerate(ranges, 1):
        labels = [course.label for course in piece.courses[start:stop] if course.label]
        label = f"{labels[0]}–{labels[-1]}" if labels else str(number)
        yield ChartPart(number, label, number == chosen)
