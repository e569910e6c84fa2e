"""Sums over edges and strokes: stitches by kind, every stitch made, stitches by colour."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from craft.fabric.edge import SPACE, TURNING
from craft.fabric.model import Edge, Passes, Stroke, Wrought

__all__ = ["Pairs", "add_tally", "as_pairs", "by_colour", "by_kind", "tally"]

Pairs = tuple[tuple[str, int], ...]
_NOT_MADE = frozenset(("skip", TURNING))


def as_pairs(sums: Mapping[str, int]) -> Pairs:
    return tuple(sums.items())


def by_kind(edge: Edge) -> Pairs:
    """Stitches of an edge by US name, spaces as "ch-2 sp", named groups by their name."""
    sums: dict[str, int] = {}
    _add_kinds(edge, 1, sums)
    return tuple(sums.items())


def _add_kinds(edge: Edge, times: int, sums: dict[str, int]) -> None:
    for item in edge:
        if len(item) == 4:  # Cells
            name = f"ch-{item.chains} sp" if item.name == SPACE else item.name
            sums[name] = sums.get(name, 0) + item.count * times
            continue
        _add_kinds(item.items, times * item.count, sums)
        if item.name:
            sums[item.name] = sums.get(item.name, 0) + item.count * times


def tally(strokes: Wrought) -> Pairs:
    """Every stitch made: chains as "ch", joins as "sl st"; places passed over are no stitches."""
    sums: dict[str, int] = {}
    _add_strokes(strokes, 1, sums)
    return tuple(sums.items())


def _add_strokes(strokes: Iterable[Stroke | Passes], times: int, sums: dict[str, int]) -> None:
    for stroke in strokes:
        if len(stroke) == 2:  # Passes
            _add_strokes(stroke[0], times * stroke[1], sums)
            continue
        name, _, makes, count = stroke
        if name in _NOT_MADE or not count:
            continue
        sums[name] = sums.get(name, 0) + count * times * (max(1, makes))


def by_colour(
    strokes: Wrought, colour: str, made: Pairs | None = None
) -> tuple[tuple[tuple[str, Pairs], ...], str]:
    """Stitches made by colour, beginning in `colour`; -> (the tally of each, the colour at the end).

    `made`: the tally of all, where the colour never changes.
    """
    if made is not None:
        return ((colour, made),), colour
    sums: dict[str, dict[str, int]] = {}
    end = _add_coloured(strokes, 1, colour, sums)
    return tuple((label, as_pairs(made)) for label, made in sums.items()), end


def _add_coloured(strokes: Wrought, times: int, colour: str, sums: dict[str, dict[str, int]]) -> str:
    for stroke in strokes:
        if len(stroke) == 2:
            colour = _add_passes(stroke, times, colour, sums)
        elif stroke[0].startswith("colour "):
            colour = stroke[0][7:]
        elif stroke[3] and stroke[0] not in _NOT_MADE:
            made = sums.setdefault(colour, {})
            many = max(1, stroke[2])
            made[stroke[0]] = made.get(stroke[0], 0) + stroke[3] * times * many
    return colour


def _add_passes(passes: Passes, times: int, colour: str, sums: dict[str, dict[str, int]]) -> str:
    """The first pass may begin in another colour than the rest."""
    strokes, count = passes
    after = _add_coloured(strokes, times, colour, sums)
    if count > 1:
        after = _add_coloured(strokes, times * (count - 1), after, sums)
    return after


def add_tally(total: dict[str, int], pairs: Pairs, times: int = 1) -> None:
    for name, count in pairs:
        total[name] = total.get(name, 0) + count * times
