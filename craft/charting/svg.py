"""A laid-out chart as SVG: plain XML, presentation attributes, no script and no style.

Every sign is one word of the path data of its course, so that signs can be counted in the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from craft.charting.inks import PLAIN, Ink
from craft.charting.key import Specimen
from craft.charting.model import Box, Course, Placed, Point, Role
from craft.charting.shapes import SymbolSet
from craft.charting.sheets import Sheet
from craft.charting.strokes import Pen, is_filled

__all__ = ["SCALE", "Style", "Words", "svg_of", "symbol_svg"]

SCALE: Final = 14.0
"""Units of the drawing for one stitch; the page shows one unit as one CSS pixel at most."""
STROKE: Final = 1.25
NUMBER_SIZE: Final = 11.0


@dataclass(frozen=True, slots=True)
class Words:
    """The words that stand in a drawing, in the reader's language. `gaps`, `told`: course key -> sentence."""

    title: str
    description: str
    gaps: Mapping[str, str] = field(default_factory=dict)
    repeat: str = ""


@dataclass(frozen=True, slots=True)
class Style:
    """How it is drawn. `prefix`: start of the ids; `links`: course key -> where its number leads to;
    `number_size`: of the words, in units of the drawing.
    """

    symbols: SymbolSet = SymbolSet.CYC
    inks: Mapping[str, Ink] = field(default_factory=dict)
    prefix: str = "chart"
    links: Mapping[str, str] = field(default_factory=dict)
    scale: float = SCALE
    number_size: float = NUMBER_SIZE


def svg_of(
    placed: Placed,
    words: Words,
    style: Style,
    sheet: Sheet | None = None,
    size: tuple[str, str] | None = None,
) -> str:
    """The drawing. `sheet`: only what lies on it, with the lines that lay it on its neighbours; `size`: width
    and height with units. Without `size` the drawing has its own size in CSS pixels.
    """
    window = sheet.window if sheet else None
    box = window or placed.box
    pen = Pen(style.symbols, style.scale)
    parts = [
        _head(placed, box, words, style, size),
        *_ring(placed, style),
        *_bands(placed, words, pen, style),
        *(_course(placed, course, pen, style, window) for course in placed.piece.courses),
        *_bracket(placed, words, pen, style),
        *_guides(sheet, style.scale),
        "</svg>",
    ]
    return "\n".join(part for part in parts if part)


def _head(placed: Placed, box: Box, words: Words, style: Style, size: tuple[str, str] | None) -> str:
    scale = style.scale
    view = f"{box.left * scale:.1f} {box.top * scale:.1f} {box.width * scale:.1f} {box.height * scale:.1f}"
    # an image may hold nothing that takes the focus; a drawing with links is a group
    wide, high = size or (f"{box.width * scale:.0f}", f"{box.height * scale:.0f}")
    ids = f"{style.prefix}-title {style.prefix}-desc"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="symbol-chart" '
        f'data-way="{"round" if placed.piece.is_round else "rows"}" viewBox="{view}" width="{wide}" '
        f'height="{high}" role="{"group" if style.links else "img"}" aria-labelledby={quoteattr(ids)} '
        f'fill="none" stroke-width="{STROKE}" '
        f'stroke-linecap="round" stroke-linejoin="round" font-family="sans-serif">\n'
        f"<title id={quoteattr(style.prefix + '-title')}>{escape(words.title)}</title>\n"
        f"<desc id={quoteattr(style.prefix + '-desc')}>{escape(words.description)}</desc>"
    )


def _ring(placed: Placed, style: Style) -> Iterator[str]:
    if placed.ring:
        yield f'<circle class="chart-ring" r="{placed.ring * style.scale:.1f}" stroke="{PLAIN.hex_colour}"/>'


def _course(placed: Placed, course: Course, pen: Pen, style: Style, window: Box | None) -> str:
    by_colour: dict[tuple[str, bool], list[str]] = {}
    for index in range(course.start, course.stop):
        mark, sign = placed.marks[index], placed.piece.signs[index]
        if window is None or window.has(mark.top):
            data = by_colour.setdefault((sign.colour, is_filled(sign)), [])
            data.append(pen.upright(mark) if sign.role is Role.STANDING else pen.draw(sign, mark))
    paths = [_path(colour, filled, data, style) for (colour, filled), data in by_colour.items()]
    number = _number(placed, course, style, window)
    if not paths and not number:
        return ""
    key = f"{style.prefix}-{course.key.replace(':', '-')}"
    opening = f'<g class="chart-course" id={quoteattr(key)} data-course={quoteattr(course.key)}>'
    return "\n".join((opening, *paths, *number, "</g>"))


def _path(colour: str, filled: bool, data: Sequence[str], style: Style) -> str:
    ink = style.inks.get(colour, PLAIN)
    named = f" data-colour={quoteattr(colour)}" if colour else ""
    weight = "" if ink.weight == 1.0 else f' stroke-width="{STROKE * ink.weight:.2f}"'
    paint = f'fill="{ink.hex_colour}"' if filled else f'stroke="{ink.hex_colour}"{weight}'
    return (
        f'<path class="{"chart-dots" if filled else "chart-lines"}"{named} {paint} d="'
        + "\n".join(data)
        + '"/>'
    )


def _number(placed: Placed, course: Course, style: Style, window: Box | None) -> list[str]:
    """The number of a course and, where the colour is another than before, its letter."""
    point = placed.numbers.get(course.key)
    if point is None or (course.number is None and not course.colour) or (window and not window.has(point)):
        return []
    words = " ".join(part for part in (course.label, course.colour) if part)
    text = _text(point, words, style, "chart-number")
    link = style.links.get(course.key)
    return [f"<a href={quoteattr(link)}>{text}</a>" if link else text]


def _text(point: Point, words: str, style: Style, css: str) -> str:
    size = style.number_size
    x, y = point[0] * style.scale, point[1] * style.scale + size * 0.35
    return (
        f'<text class="{css}" x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}" text-anchor="middle" '
        f'fill="{PLAIN.hex_colour}">{escape(words)}</text>'
    )


def _bands(placed: Placed, words: Words, pen: Pen, style: Style) -> Iterator[str]:
    """Courses that are told and not drawn: a dashed band with its sentence."""
    dashes = f'stroke="{PLAIN.hex_colour}" stroke-dasharray="3 4" stroke-width="0.8"'
    for key, band in placed.bands.items():
        ways = "".join(pen.line(*way) for way in (band.inner, band.outer))
        yield f'<path class="chart-gap" {dashes} d="{ways}"/>'
        if sentence := words.gaps.get(key):
            yield _text(band.middle, sentence, style, "chart-note")


def _bracket(placed: Placed, words: Words, pen: Pen, style: Style) -> Iterator[str]:
    if len(placed.bracket) < 2:
        return
    way = "L".join(pen.xy(point) for point in placed.bracket)
    yield f'<path class="chart-repeat" stroke="{PLAIN.hex_colour}" stroke-width="0.9" d="M{way}"/>'
    point = placed.bracket[len(placed.bracket) // 2]
    outward = _beyond(placed, point)
    yield _text(outward, words.repeat, style, "chart-note")


def _beyond(placed: Placed, point: Point) -> Point:
    if not placed.piece.is_round:
        return (point[0], point[1] + 0.7)
    whole = (point[0] ** 2 + point[1] ** 2) ** 0.5 or 1.0
    return (point[0] * (1 + 0.9 / whole), point[1] * (1 + 0.9 / whole))


def _guides(sheet: Sheet | None, scale: float) -> Iterator[str]:
    """Lines that two sheets share: one is laid on the other there."""
    if sheet is None:
        return
    box = sheet.window
    ways = [f"M{x * scale:.1f} {box.top * scale:.1f}V{box.bottom * scale:.1f}" for x in sheet.guides_x]
    ways += [f"M{box.left * scale:.1f} {y * scale:.1f}H{box.right * scale:.1f}" for y in sheet.guides_y]
    if ways:
        line = 'stroke="#777777" stroke-width="0.7" stroke-dasharray="8 5"'
        yield f'<path class="chart-guide" {line} d="{"".join(ways)}"/>'


def symbol_svg(specimen: Specimen, style: Style) -> str:
    """A symbol by itself, for the key; hidden from screen readers, whose words stand beside it."""
    pen, box, scale = Pen(style.symbols, style.scale), specimen.box, style.scale
    data = pen.draw(specimen.sign, specimen.mark)
    paint = f'fill="{PLAIN.hex_colour}"' if is_filled(specimen.sign) else f'stroke="{PLAIN.hex_colour}"'
    view = f"{box.left * scale:.1f} {box.top * scale:.1f} {box.width * scale:.1f} {box.height * scale:.1f}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="chart-symbol" viewBox="{view}" '
        f'width="{box.width * scale:.0f}" height="{box.height * scale:.0f}" aria-hidden="true" fill="none" '
        f'stroke-width="{STROKE}" stroke-linecap="round" stroke-linejoin="round">'
        f'<path {paint} d="{data}"/></svg>'
    )
