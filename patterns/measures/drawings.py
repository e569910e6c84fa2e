"""Profiles and pieces in rows as places of an SVG, in units of the drawing's own box; the page scales it.

Numbers are text with a decimal point, whatever the language. Colours are those of the pattern's yarns;
where none is known the band has none and the style sheet gives it the colour of the paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from craft.fabric.levels import Level, PartLevels
from craft.fabric.profile import Profile, Station

__all__ = [
    "Band",
    "Drawing",
    "Scale",
    "rows_drawing",
    "section_drawing",
    "side_drawing",
    "top_drawing",
]

BOX: Final = 340
"""Room for the piece in both directions."""
MARGIN: Final = 22
SCALE_ROOM: Final = 46
MOST_BANDS: Final = 400
"""More rounds than this are drawn without their edges."""
_CM_STEPS: Final = (0.5, 1, 2, 5, 10, 20, 50, 100)
_INCH_STEPS: Final = (0.25, 0.5, 1, 2, 5, 10, 20, 40)


@dataclass(frozen=True, slots=True)
class Band:
    """One round. `points` as SVG has them (a path for `section`); `fill` "#rrggbb" or ""."""

    points: str
    fill: str
    number: int | None
    css: str = ""


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale bar in cm above one in inches. `cm`, `inch` are the lengths that the bars stand for."""

    left: str
    cm_right: str
    cm: str
    inch_right: str
    inch: str
    cm_y: str
    inch_y: str
    cm_text_y: str
    inch_text_y: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """One view. `gaps`: dashed outlines where rounds are not known."""

    box: str
    width: str
    height: str
    bands: tuple[Band, ...]
    gaps: tuple[str, ...]
    scale: Scale
    axis: tuple[str, str, str] | None = None
    thin: bool = False


@dataclass(frozen=True, slots=True)
class _Frame:
    """From mm to the drawing: `left` and `top` are the mm that lie at the margin."""

    left: float
    top: float
    per_mm: float
    width: float
    height: float

    def x(self, mm: float) -> str:
        return f"{MARGIN + (mm - self.left) * self.per_mm:.1f}"

    def y(self, mm: float) -> str:
        return f"{MARGIN + (mm - self.top) * self.per_mm:.1f}"

    def points(self, places: Iterable[tuple[float, float]]) -> str:
        return " ".join(f"{self.x(x)},{self.y(y)}" for x, y in places)


def _frame(places: Sequence[tuple[float, float]]) -> _Frame:
    xs, ys = [x for x, _ in places], [y for _, y in places]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    per_mm = BOX / max(wide, high, 1.0)
    return _Frame(min(xs), min(ys), per_mm, wide * per_mm + 2 * MARGIN, high * per_mm + 2 * MARGIN)


def _drawing(
    frame: _Frame,
    bands: Iterable[Band],
    gaps: Iterable[str] = (),
    axis: tuple[str, str, str] | None = None,
) -> Drawing:
    drawn = tuple(bands)
    width, height = max(frame.width, 160.0), frame.height + SCALE_ROOM
    return Drawing(
        f"0 0 {width:.0f} {height:.0f}",
        f"{width:.0f}",
        f"{height:.0f}",
        drawn,
        tuple(gaps),
        _scale(frame),
        axis,
        thin=len(drawn) > MOST_BANDS,
    )


def _scale(frame: _Frame) -> Scale:
    room = max(frame.width - 2 * MARGIN, 110.0) * 0.6
    cm = max((s for s in _CM_STEPS if s * 10 * frame.per_mm <= room), default=_CM_STEPS[0])
    inch = max((s for s in _INCH_STEPS if s * 25.4 * frame.per_mm <= room), default=_INCH_STEPS[0])
    at = frame.height + 6
    return Scale(
        left=str(MARGIN),
        cm_right=f"{MARGIN + cm * 10 * frame.per_mm:.1f}",
        cm=f"{cm:g}",
        inch_right=f"{MARGIN + inch * 25.4 * frame.per_mm:.1f}",
        inch={0.25: "¼", 0.5: "½"}.get(inch, f"{inch:g}"),
        cm_y=f"{at:.1f}",
        inch_y=f"{at + 20:.1f}",
        cm_text_y=f"{at + 5:.1f}",
        inch_text_y=f"{at + 25:.1f}",
    )


# --------------------------------------------------------------------------------- side, section


@dataclass(frozen=True, slots=True)
class _Rim:
    """The edge of a round: distance from the axis and how far down it is drawn."""

    radius: float
    down: float


def _rims(profile: Profile, *, upside_down: bool) -> list[tuple[_Rim, _Rim, Station]]:
    """Lower and upper edge of each round, with y going down the page."""
    sign = 1.0 if upside_down else -1.0
    pairs: list[tuple[_Rim, _Rim, Station]] = []
    before = _Rim(profile.first_radius, 0.0)
    for station in profile.stations:
        here = _Rim(station.radius, sign * station.height)
        start = _Rim(here.radius, here.down - sign * station.level.height) if station.after_gap else before
        pairs.append((start, here, station))
        before = here
    return pairs


def side_drawing(profile: Profile, colours: Mapping[str, str], *, upside_down: bool) -> Drawing:
    """The body from the front, an oval from its long side; a band for each round."""
    half = profile.straight_mm / 2
    pairs = _rims(profile, upside_down=upside_down)
    reach = [
        (sign * (rim.radius + half), rim.down) for a, b, _ in pairs for rim in (a, b) for sign in (-1, 1)
    ]
    thick = max(2.0, 0.02 * max(profile.length, profile.height))
    frame = _frame([*reach, (reach[0][0], reach[0][1] + thick)])
    bands = _coloured((station.level for _, _, station in pairs), colours)
    drawn = [
        Band(frame.points(_belt(a, b, half)), fill, station.level.number)
        for (a, b, station), fill in zip(pairs, bands, strict=True)
    ]
    return _drawing(frame, drawn, _side_gaps(frame, pairs, half))


def _belt(a: _Rim, b: _Rim, half: float) -> list[tuple[float, float]]:
    left, right = a.radius + half, b.radius + half
    return [(-left, a.down), (left, a.down), (right, b.down), (-right, b.down)]


def _side_gaps(frame: _Frame, pairs: Sequence[tuple[_Rim, _Rim, Station]], half: float) -> Iterator[str]:
    for (_, below, _), (above, _, station) in pairwise(pairs):
        if station.after_gap:
            yield frame.points(_belt(below, above, half))


def section_drawing(profile: Profile, *, upside_down: bool) -> Drawing:
    """The cut through the middle: both walls as lines, the axis between them."""
    half = profile.straight_mm / 2
    pairs = _rims(profile, upside_down=upside_down)
    reach = [
        (sign * (rim.radius + half), rim.down) for a, b, _ in pairs for rim in (a, b) for sign in (-1, 1)
    ]
    frame = _frame([*reach, (0.0, 0.0)])
    bands = [
        Band(frame.points(_wall(run, sign, half, profile)), "", None, "wall")
        for run in _runs(pairs)
        for sign in (-1, 1)
    ]
    down = [y for _, y in reach]
    axis = (frame.x(0), frame.y(min(down)), frame.y(max(down)))
    return _drawing(frame, bands, _side_gaps(frame, pairs, half), axis)


def _runs(pairs: Sequence[tuple[_Rim, _Rim, Station]]) -> Iterator[list[tuple[_Rim, _Rim, Station]]]:
    """Rounds that follow one another without a gap."""
    run: list[tuple[_Rim, _Rim, Station]] = []
    for pair in pairs:
        if pair[2].after_gap and run:
            yield run
            run = []
        run.append(pair)
    yield run


def _wall(
    run: Sequence[tuple[_Rim, _Rim, Station]], sign: int, half: float, profile: Profile
) -> list[tuple[float, float]]:
    rims = [run[0][0], *(upper for _, upper, _ in run)]
    places = [(sign * (rim.radius + half), rim.down) for rim in rims]
    if half and rims[0].radius == 0:
        places.insert(0, (0.0, rims[0].down))
    if profile.closed and run[-1][2] is profile.stations[-1]:
        places.append((0.0, rims[-1].down))
    return places


# ------------------------------------------------------------------------------------ from above


def top_drawing(profile: Profile, colours: Mapping[str, str]) -> Drawing:
    """From above, the outermost round first so that each lies on the ones outside it."""
    stations = [each for each in profile.stations if not each.after_gap or each is profile.stations[0]]
    rounds = sorted(stations, key=lambda each: -each.radius)
    fills = dict(
        zip((s.level.key for s in stations), _coloured((s.level for s in stations), colours), strict=True)
    )
    outline = [_around(profile, each.radius) for each in rounds]
    frame = _frame([place for places in outline for place in places])
    bands = [
        Band(frame.points(places), fills[station.level.key], station.level.number)
        for station, places in zip(rounds, outline, strict=True)
    ]
    return _drawing(frame, bands)


def _around(profile: Profile, radius: float) -> list[tuple[float, float]]:
    sides, half = profile.part.sides, profile.straight_mm / 2
    if sides:
        corner = radius / math.cos(math.pi / sides)
        turns = [math.pi / sides + math.pi / 2 + 2 * math.pi * at / sides for at in range(sides)]
        return [(corner * math.cos(turn), corner * math.sin(turn)) for turn in turns]
    turns = [2 * math.pi * at / 72 for at in range(72)]
    return [
        (radius * math.cos(turn) + math.copysign(half, math.cos(turn)), radius * math.sin(turn))
        for turn in turns
    ]


def rows_drawing(part: PartLevels, colours: Mapping[str, str]) -> Drawing:
    """A piece in rows laid flat, the first row below, each row as wide as it is."""
    down, belts, levels, gaps = 0.0, [], [], []
    for level in part.levels:
        if level.gap:
            high = part.gauge.row_mm
            gaps.append([(-20.0, down), (20.0, down), (20.0, down - high), (-20.0, down - high)])
        else:
            high = level.height or part.gauge.row_mm
            half = level.around / 2
            belts.append([(-half, down), (half, down), (half, down - high), (-half, down - high)])
            levels.append(level)
        down -= high
    frame = _frame([place for belt in [*belts, *gaps] for place in belt])
    fills = _coloured(levels, colours)
    bands = [
        Band(frame.points(belt), fill, level.number)
        for belt, level, fill in zip(belts, levels, fills, strict=True)
    ]
    return _drawing(frame, bands, [frame.points(gap) for gap in gaps])


def _coloured(levels: Iterable[Level], colours: Mapping[str, str]) -> list[str]:
    """The colour of each round: that of its own label, else of the round before, else the first yarn."""
    fills: list[str] = []
    last = colours.get("", "")
    for level in levels:
        own = next((colours[label] for label in level.colours if label in colours), None)
        last = own if own is not None else last
        fills.append(last)
    return fills
