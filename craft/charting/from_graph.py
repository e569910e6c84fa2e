"""Signs from the stitch graph: which stitch is worked into which, said as a chart needs it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from craft.charting.model import Course, Into, Piece, Role, Sign, Start
from craft.fabric.graph import Flag, GraphRound, StitchGraph
from craft.fabric.graph import Into as Worked

__all__ = ["piece_of"]

MOST_STANDING: Final = 8

_INTO: Final = {
    Worked.TOP: Into.STITCH,
    Worked.POST: Into.STITCH,
    Worked.SPIKE: Into.STITCH,
    Worked.UNDERSIDE: Into.STITCH,
    Worked.SIDE: Into.STITCH,
    Worked.SPACE: Into.SPACE,
    Worked.RING: Into.RING,
    Worked.UNKNOWN: Into.NOTHING,
}


def piece_of(graph: StitchGraph, title: str = "", parts: tuple[int, ...] = ()) -> Piece:
    """One part in one size. `parts`: the sections of the text that the graph is of."""
    signs = _signs(graph)
    courses = _courses(graph, signs)
    return Piece(title, _start(signs, courses), _stood_up(signs, courses), courses, parts)


def _signs(graph: StitchGraph) -> tuple[Sign, ...]:
    feet: list[list[int]] = [[] for _ in range(graph.size)]
    ways: list[Worked] = [Worked.UNKNOWN] * graph.size
    for (child, parent), kind in zip(graph.into.tolist(), graph.into_kind.tolist(), strict=True):
        ways[child] = Worked(kind)
        if parent >= 0:
            feet[child].append(parent)
    names = [graph.names[kind] for kind in graph.kind.tolist()]
    colours = [graph.colours[colour] for colour in graph.colour.tolist()]
    flags = graph.flags.tolist()
    sharing = _sharing(graph, feet, ways)
    repeats, passes = graph.repeat.tolist(), graph.pass_number.tolist()
    return tuple(
        _sign(names[i], flags[i], ways[i], feet[i], colours[i], sharing[i], (repeats[i], passes[i]))
        for i in range(graph.size)
    )


def _sharing(graph: StitchGraph, feet: Sequence[Sequence[int]], ways: Sequence[Worked]) -> list[int]:
    """How many stitches of its round go into the very same stitch."""
    rounds = graph.round_index.tolist()
    counted: Counter[tuple[int, int]] = Counter()
    for i, below in enumerate(feet):
        if len(below) == 1 and ways[i] is not Worked.SPACE:
            counted[rounds[i], below[0]] += 1
    return [counted.get((rounds[i], below[0]), 1) if len(below) == 1 else 1 for i, below in enumerate(feet)]


def _sign(
    name: str, flags: int, way: Worked, feet: list[int], colour: str, shared: int, place: tuple[int, int]
) -> Sign:
    role = _role(name, flags)
    if role is Role.TRAVEL:
        return Sign(name, role, Into.STITCH if feet else Into.NOTHING, tuple(feet), colour=colour)
    if role is not Role.STITCH:
        return Sign(name, role, colour=colour, repeat=place[0], passing=place[1])
    post = "front" if flags & Flag.FRONT_POST else "back" if flags & Flag.BACK_POST else ""
    loops = "front" if flags & Flag.FRONT_LOOP else "back" if flags & Flag.BACK_LOOP else ""
    loops = "other side" if way is Worked.UNDERSIDE else loops
    into = _INTO[way] if feet or way is Worked.RING else Into.NOTHING
    return Sign(name, role, into, tuple(feet), loops, post, colour, shared, *place)


def _role(name: str, flags: int) -> Role:
    if flags & Flag.JOIN:
        return Role.JOIN
    if name == "sl st" and not flags & Flag.TOP:
        return Role.TRAVEL
    if name != "ch":
        return Role.STITCH
    if flags & Flag.FOUNDATION:
        return Role.FOUNDATION
    return Role.STANDING if flags & Flag.TURNING else Role.CHAIN


def _courses(graph: StitchGraph, signs: Sequence[Sign]) -> tuple[Course, ...]:
    courses: list[Course] = []
    direction, colour = 1, ""
    for each in graph.rounds:
        turned = bool(courses) and each.direction != direction
        begin = _after_foundation(signs, each)
        if each.start < begin < each.stop:
            courses.append(Course(f"{each.key}-0", "row", None, each.start, begin))
        else:
            begin = each.start
        used = [signs[i].colour for i in range(begin, each.stop)]
        first = next((label for label in used if label), colour)
        courses.append(
            Course(
                key=each.key, kind="round" if each.kind == "round" else "row", number=each.number,
                start=begin, stop=each.stop, turned=turned, total=None if each.gap else len(each.tops),
                gap=(each.why or "?") if each.gap else "",
                label="" if each.number is None else str(each.number),
                colour=first if first != colour else "",
            )
        )  # fmt: skip
        direction, colour = each.direction, next((label for label in reversed(used) if label), colour)
    return tuple(courses)


def _after_foundation(signs: Sequence[Sign], each: GraphRound) -> int:
    """Where the work begins that is done into a foundation chain made in the same line."""
    begin = each.start
    while begin < each.stop and signs[begin].role is Role.FOUNDATION:
        begin += 1
    while each.start < begin < each.stop and signs[begin].role is Role.JOIN:
        begin += 1
    return begin


def _stood_up(signs: tuple[Sign, ...], courses: Sequence[Course]) -> tuple[Sign, ...]:
    """The last chains of a foundation, which are skipped and stand for the first stitch, stand upright."""
    used = {foot for sign in signs for foot in sign.feet}
    chain = next((c for c in courses if c.start < c.stop and signs[c.start].role is Role.FOUNDATION), None)
    if chain is None:
        return signs
    ends = [i for i in range(chain.start, chain.stop) if signs[i].role is Role.FOUNDATION]
    worked = [i for i in ends if i in used and _is_first_into(signs, chain, i)]
    if not worked or not 0 < ends[-1] - worked[-1] <= MOST_STANDING:
        return signs
    up = range(worked[-1] + 1, ends[-1] + 1)
    return tuple(s._replace(role=Role.STANDING) if i in up else s for i, s in enumerate(signs))


def _is_first_into(signs: Sequence[Sign], chain: Course, foot: int) -> bool:
    """Whether a stitch goes into the chain; the top of a standing chain is taken by the row after."""
    first = next((sign for sign in signs[chain.stop :] if sign.role is Role.STITCH), None)
    return first is not None and first.feet[:1] == (foot,)


def _start(signs: Sequence[Sign], courses: Sequence[Course]) -> Start:
    worked = [c for c in courses if any(s.role is Role.STITCH for s in signs[c.start : c.stop])]
    first = worked[0] if worked else next((c for c in courses if c.start < c.stop), None)
    if first is None or first.kind != "round":
        return Start.LINE
    inside = signs[first.start : first.stop]
    if any(sign.loops == "other side" for sign in inside):
        return Start.OVAL
    chains = any(sign.role is Role.FOUNDATION for sign in signs[: first.stop])
    return Start.CHAIN_RING if chains else Start.RING
