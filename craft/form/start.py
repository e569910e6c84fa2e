"""Where the knots begin: on the exact profile where a part has one, else row on row or round beyond round."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from craft.fabric.graph import Flag, Into
from craft.fabric.levels import Start
from craft.fabric.profile import Profile
from craft.form.net import Curve, Net

__all__ = ["lies_flat", "start_of"]

Floats = NDArray[np.float64]
SHARING_PASSES = 12
FANS_OUT = 1.25  # times longer than its place
WAVES = 7  # of a round that is too long for its distance, to begin with


@dataclass(frozen=True, slots=True)
class _Station:
    """A round of a profile as a closed curve in a plane: a circle, a stadium or a polygon."""

    radius: float
    height: float
    over: float
    straight: float
    sides: int
    loop: float = 0.0  # how high loops of chain stand over the stitches between them

    def points(self, turns: Floats) -> Floats:
        """Points at these parts of the way around, counter-clockwise from the near end of a straight side."""
        plane = (
            _stadium(turns, self.radius, self.straight)
            if self.sides < 3
            else _polygon(turns, self.radius, self.sides)
        )
        out = np.column_stack((plane, np.full(len(turns), self.height)))
        if self.over > 1.15:
            swing = 2 * math.sqrt(self.over - 1) * self.radius / WAVES
            out[:, 2] += swing * np.sin(2 * np.pi * WAVES * turns)
        return out

    def turn_at(self, x: float, *, far: bool) -> float:
        """The part of the way around at which a straight side passes x."""
        around = 2 * self.straight + 2 * math.pi * self.radius
        half = self.straight / 2
        if far:
            return (self.straight + math.pi * self.radius + half - x) / around
        return (x + half) / around


def start_of(net: Net, profiles: Iterable[Profile]) -> Floats:
    """First positions (K, 3) in mm of all knots. `profiles`: those of the parts that have one."""
    return _Layout(net, profiles).lay()


def _smoothed(profile: Profile) -> list[tuple[float, float]]:
    """Radius and height of each round. Where a round is longer than the fabric reaches, as in a yoke that
    gains many stitches at once, the rounds beside it share the excess: each within 8 in 100 of its own
    length.
    """
    stations = profile.stations
    strained = any(station.over > 1.02 for station in stations)
    odd = any(station.after_gap or station.level.loose for station in stations)
    if odd or not strained or stations[-1].over > 1.1:
        return [(station.radius, station.height) for station in stations]
    own = np.array(
        [max(s.level.around - 2 * profile.straight_mm, 0.0) / profile.factor for s in stations], float
    )
    radii = own.copy()
    for _ in range(SHARING_PASSES):
        wide = np.concatenate(([profile.first_radius], radii, radii[-1:]))
        radii = np.clip((wide[:-2] + 2 * wide[1:-1] + wide[2:]) / 4, own * 0.92, own * 1.08)
    steps = np.diff(np.concatenate(([profile.first_radius], radii)))
    tall = np.array([station.level.height for station in stations])
    rises = np.sqrt(np.maximum(tall**2 - steps**2, (0.2 * tall) ** 2))
    return list(zip(radii.tolist(), np.cumsum(rises).tolist(), strict=True))


def lies_flat(profile: Profile) -> bool:
    """Whether the fabric's own give lets it lie flat: from round 3 on no round has less than 0.9 of the room
    that it would have in a plane (the bands of `tech_editing` 3.3, ours), and none waves.
    """
    if profile.part.start not in {Start.RING, Start.OVAL}:
        return False
    reached = profile.first_radius
    for number, station in enumerate(profile.stations, 1):
        reached += station.level.height
        if station.over > (1.15 if profile.part.sides < 3 else 1.3) or station.after_gap:
            return False
        if number >= 3 and station.radius < (0.9 if profile.part.sides < 3 else 0.7) * reached:
            return False
    return len(profile.stations) >= 2


class _Layout:
    def __init__(self, net: Net, profiles: Iterable[Profile]) -> None:
        self.net, self.graph = net, net.graph
        self.position = np.zeros((net.size, 3))
        self.away = np.zeros((net.size, 3))  # from what a knot stands on
        self.turns = np.full(net.size, np.nan)
        self.laid = net.stitch < 0
        self.stations: dict[str, _Station] = {}
        self.floor = 0.0
        self.profiles = {profile.part.section_index: profile for profile in profiles}
        self.sections: set[int] = set()
        self.signs: dict[int, float] = {}

    def lay(self) -> Floats:
        for curve in self.net.curves:
            self._curve(curve)
        return self.position

    def _curve(self, curve: Curve) -> None:
        one = self.graph.rounds[curve.round_index]
        if one.section not in self.sections:
            self._enter(one.section)
        station = self.stations.get(one.key)
        knots = curve.knots
        hung = self.net.below[knots] >= 0
        founded = bool(self.graph.flags[self.net.stitch[knots[0]]] & Flag.FOUNDATION)
        if founded and not hung.any():
            self._foundation(curve)
        elif station is not None and curve.closed:
            self._on_station(curve, station)
        elif one.kind == "row" and (hung.any() or not self.laid[knots].any()):
            self._row(curve)
        else:
            self._beyond(curve)
        self.laid[knots] = True

    def _enter(self, section: int) -> None:
        self.sections.add(section)
        profile = self.profiles.get(section)
        if profile is None:
            return
        floor = (
            self.position[self.laid, 2].max() if self.laid.any() and self.position[self.laid].any() else 0.0
        )
        flat = lies_flat(profile)
        waves = profile.stations[-1].over > 1.15  # and does not come to rest again
        reached = profile.first_radius
        for station, (even, rise) in zip(profile.stations, _smoothed(profile), strict=True):
            if station.level.handles:
                break
            reached += station.level.height
            radius = (even + reached) / 2 if flat else even
            height = 0.0 if flat else rise
            self.stations[station.level.key] = _Station(
                radius, floor + height, station.over if waves else 1.0, profile.straight_mm,
                profile.part.sides,
                station.level.height if station.level.loose else 0.0,
            )  # fmt: skip

    # --------------------------------------------------------------------------- foundations

    def _foundation(self, curve: Curve) -> None:
        """A chain along x, from its last chain to its first, in the middle of what is worked round it."""
        number = len(curve.knots)
        width = self.net.gauge.stitch_mm
        if self.graph.rounds[curve.round_index].joined and number > 3:
            turns = np.arange(number) / number
            radius = number * width / (2 * math.pi)
            self.position[curve.knots, :2] = _stadium(turns, radius, 0.0)
            self.turns[curve.knots] = turns
            return
        along = (np.arange(number) - (number - 1) / 2) * width
        self.position[curve.knots, 0] = -along
        self.signs[id(curve)] = -1.0

    # ------------------------------------------------------------------------------ profiles

    def _on_station(self, curve: Curve, station: _Station) -> None:
        number = len(curve.knots)
        even = (np.arange(number) + 0.5) / number
        turns = even + self._phase(curve, even, station)
        self.turns[curve.knots] = turns
        self.position[curve.knots] = station.points(np.mod(turns, 1.0))
        if station.loop:
            self.position[curve.knots, 2] -= self._sag(curve, station.loop)
        self._set_away(curve)

    def _sag(self, curve: Curve, loop: float) -> Floats:
        """How far below the tops of its loops each knot of a round lies."""
        hung = self.net.below[curve.knots] >= 0
        anchors = np.flatnonzero(hung)
        if not len(anchors):
            return np.zeros(len(curve.knots))
        low = max(loop - float(self.net.height[curve.knots[anchors]].max()), 0.0)
        number = len(hung)
        at = np.arange(number)
        ends = np.concatenate((anchors - number, anchors, anchors + number))
        after = np.searchsorted(ends, at, side="right")
        start, stop = ends[after - 1], ends[after]
        found: Floats = low * (1 - np.sin(np.pi * (at - start) / (stop - start)))
        return found

    def _phase(self, curve: Curve, even: Floats, station: _Station) -> float:
        """How far a round is turned so that stitches stand over their places, or corners at corners."""
        if station.sides >= 3:
            corners = self._corners(curve)
            if corners.any():
                phase = -_mean_turn(even[corners] * station.sides) / station.sides
                below = self._turns_below(curve, station)
                known = ~np.isnan(below)
                apart = _mean_turn(below[known] - even[known] - phase) if known.any() else 0.0
                return phase + round(apart * station.sides) / station.sides
        wanted = self._turns_below(curve, station)
        known = ~np.isnan(wanted)
        return _mean_turn(wanted[known] - even[known]) if known.any() else 0.0

    def _corners(self, curve: Curve) -> NDArray[np.bool_]:
        stitch = self.net.stitch[curve.knots]
        space = self.graph.space[stitch]
        if (space >= 0).any():
            length = np.bincount(space[space >= 0])[np.maximum(space, 0)]
            found: NDArray[np.bool_] = (space >= 0) & (length == length[space >= 0].max())
            return found
        group = self.graph.group[stitch]
        many = (
            np.bincount(group[group >= 0], minlength=1)[np.maximum(group, 0)] if (group >= 0).any() else group
        )
        corner: NDArray[np.bool_] = (group >= 0) & (many >= 3)
        return corner

    def _turns_below(self, curve: Curve, station: _Station) -> Floats:
        """For each knot, the part of the way around at which its place lies."""
        knots = curve.knots
        out = np.full(len(knots), np.nan)
        below = self.net.below[knots]
        for number in np.unique(below[below >= 0]).tolist():
            under = self.net.curves[number]
            here = below == number
            at = self.net.at[knots[here]]
            known = self.turns[under.knots]
            if not np.isnan(known).any():
                out[here] = _along(np.unwrap(known, period=1.0), at, closed=under.closed)
            else:
                out[here] = self._turns_on_chain(knots[here], under, at, station)
        return out

    def _turns_on_chain(
        self, knots: NDArray[np.int32], under: Curve, at: Floats, station: _Station
    ) -> Floats:
        x = np.interp(at, np.arange(len(under.knots)), self.position[under.knots, 0])
        far = self._goes_under(knots)
        return np.array([station.turn_at(float(a), far=bool(b)) for a, b in zip(x, far, strict=True)])

    def _goes_under(self, knots: NDArray[np.int32]) -> NDArray[np.bool_]:
        rows = self.graph.into_kind == Into.UNDERSIDE
        under = np.zeros(self.graph.size, bool)
        under[self.graph.into[rows, 0]] = True
        found: NDArray[np.bool_] = under[self.net.stitch[knots]]
        return found

    # ---------------------------------------------------------------------------------- rows

    def _row(self, curve: Curve) -> None:
        """A row as long as it is, over the middle of the places that it is worked into."""
        knots = curve.knots
        number, width = len(knots), self.net.gauge.stitch_mm
        hung = self.net.below[knots] >= 0
        along = (np.arange(number) - (number - 1) / 2) * width
        place = self._places(curve)
        if hung.any():
            x = place[hung, 0]
            sign = (
                1.0
                if hung.sum() < 2
                else np.sign(np.dot(along[hung] - along[hung].mean(), x - x.mean())) or 1
            )
            along = sign * along
            along += (x - along[hung]).mean()
            base = place[hung, 1].max()
            reach = max(float(np.ptp(x)) + width, width)
        else:
            base, reach = self.position[self.laid, 1].max() if self.laid.any() else 0.0, number * width
        height = self.net.height[knots][hung].max() if hung.any() else self.net.gauge.row_mm
        self.position[knots] = np.column_stack((along, np.full(number, base + height), np.zeros(number)))
        if number * width > FANS_OUT * reach and number > 3:
            self._fan(curve)
            return
        self.signs[id(curve)] = float(sign) if hung.any() else 1.0
        self._set_away(curve)

    def _fan(self, curve: Curve) -> None:
        """A row much longer than what it stands on: each stitch the way that the fabric goes there, those in
        one place spread like a hand.
        """
        knots = curve.knots
        place = self._places(curve)
        hung = ~np.isnan(place[:, 0])
        direction = self._directions(curve, place, hung)
        sign = self._sign(curve, hung)
        self.signs[id(curve)] = sign
        group = self.graph.group[self.net.stitch[knots]]
        for number in np.unique(group[(group >= 0) & hung]).tolist():
            members = np.flatnonzero(group == number)
            spread = min(
                len(members) * self.net.gauge.stitch_mm / self.net.height[knots[hung]].max(), math.pi
            )
            if len(np.unique(place[hung], axis=0)) > 2:  # the edge below fans out already
                spread = 0.0 if (self.graph.space[self.net.stitch[knots[members]]] >= 0).any() else spread / 2
            angles = sign * spread * (0.5 - (np.arange(len(members)) + 0.5) / len(members))
            if len(members) >= 3:
                direction[members] = _rotated(direction[members], angles)
        self.position[knots[hung]] = place[hung] + direction[hung] * self.net.height[knots[hung], None]
        self.away[knots[hung]] = direction[hung]
        self._loops(curve, hung)

    def _sign(self, curve: Curve, hung: NDArray[np.bool_]) -> float:
        """1 where a row goes to the right as seen with its free edge up, -1 where it goes to the left."""
        below = self.net.below[curve.knots[hung]]
        under = self.net.curves[int(np.bincount(below).argmax())]
        steps = np.sign(np.diff(self.net.at[curve.knots[hung]])).sum()
        places = np.unique(self.net.at[curve.knots[hung]].round())
        if len(places) < 2:
            return 1.0
        return self.signs.get(id(under), 1.0) * (1.0 if steps >= 0 else -1.0)

    def _places(self, curve: Curve) -> Floats:
        """Where each knot's place lies."""
        out = np.full((len(curve.knots), 3), np.nan)
        below = self.net.below[curve.knots]
        for number in np.unique(below[below >= 0]).tolist():
            under = self.net.curves[number]
            here = below == number
            at = self.net.at[curve.knots[here]]
            for axis in range(3):
                out[here, axis] = _along(
                    self.position[under.knots, axis], at, closed=under.closed, period=0.0
                )
        return out

    def _set_away(self, curve: Curve) -> None:
        place = self._places(curve)
        known = ~np.isnan(place[:, 0])
        away = self.position[curve.knots[known]] - place[known]
        length = np.linalg.norm(away, axis=1, keepdims=True)
        self.away[curve.knots[known]] = away / np.maximum(length, 1e-9)

    # -------------------------------------------------------------------------------- beyond

    def _beyond(self, curve: Curve) -> None:
        """Each knot one height beyond its place, the way that the fabric goes there; loops between them."""
        knots = curve.knots
        place = self._places(curve)
        hung = ~np.isnan(place[:, 0])
        if not hung.any():
            self._in_the_air(curve)
            return
        direction = self._directions(curve, place, hung)
        self.position[knots[hung]] = place[hung] + direction[hung] * self.net.height[knots[hung], None]
        self.away[knots[hung]] = direction[hung]
        self._loops(curve, hung)

    def _directions(self, curve: Curve, place: Floats, hung: NDArray[np.bool_]) -> Floats:
        out = np.zeros((len(curve.knots), 3))
        below = self.net.below[curve.knots]
        middle = self.position[self.laid].mean(axis=0)
        for number in np.unique(below[hung]).tolist():
            under = self.net.curves[number]
            here = hung & (below == number)
            at = self.net.at[curve.knots[here]]
            for axis in range(3):
                out[here, axis] = _along(self.away[under.knots, axis], at, closed=under.closed, period=0.0)
        lost = hung & (np.linalg.norm(out, axis=1) < 0.2)
        flat = curve.closed or len(np.unique(place[hung], axis=0)) > 2
        out[lost] = place[lost] - middle if flat else (0.0, 1.0, 0.0)
        length = np.linalg.norm(out, axis=1, keepdims=True)
        found: Floats = out / np.maximum(length, 1e-9)
        return found

    def _loops(self, curve: Curve, hung: NDArray[np.bool_]) -> None:
        """Runs of chains between two stitches bow out as far as their length allows."""
        knots, width = curve.knots, self.net.gauge.stitch_mm
        anchors = np.flatnonzero(hung)
        stops = [*anchors[1:].tolist(), *([anchors[0] + len(knots)] if curve.closed else [])]
        for start, stop in zip(anchors.tolist(), stops, strict=False):
            free = stop - start - 1
            if not free:
                continue
            one, two = knots[start], knots[stop % len(knots)]
            way = np.arange(1, free + 1) / (free + 1)
            chord = float(np.linalg.norm(self.position[two] - self.position[one]))
            length = (free + 1) * width
            bow = math.sqrt(max(length**2 - chord**2, 0.0)) / 2 * 0.8
            up = self.away[one] + self.away[two]
            up = up / max(float(np.linalg.norm(up)), 1e-9)
            inner = knots[np.arange(start + 1, stop) % len(knots)]
            line = self.position[one] + way[:, None] * (self.position[two] - self.position[one])
            self.position[inner] = line + (bow * np.sin(np.pi * way))[:, None] * up
            self.away[inner] = up

    def _in_the_air(self, curve: Curve) -> None:
        """What stands on nothing known: a round of its own above the rest, or a row beside it."""
        number, width = len(curve.knots), self.net.gauge.stitch_mm
        top = self.position[self.laid].max(axis=0) if self.laid.any() else np.zeros(3)
        if curve.closed:
            turns = np.arange(number) / number
            circle = (
                np.column_stack((np.cos(2 * np.pi * turns), np.sin(2 * np.pi * turns)))
                * number
                * width
                / (2 * np.pi)
            )
            self.position[curve.knots, :2] = circle
            self.position[curve.knots, 2] = top[2] + 2 * self.net.gauge.row_mm
            self.turns[curve.knots] = turns
            self.away[curve.knots] = (0.0, 0.0, 1.0)
            return
        self.position[curve.knots, 0] = (np.arange(number) - number / 2) * width
        self.position[curve.knots, 1] = top[1] + 2 * self.net.gauge.row_mm
        self.away[curve.knots] = (0.0, 1.0, 0.0)


def _along(values: Floats, at: Floats, *, closed: bool, period: float = 1.0) -> Floats:
    """Values between those of a curve; a closed curve goes on from its end, `period` higher."""
    number = len(values)
    if closed:
        turn = np.floor(at / number)
        at = at - turn * number
        ends = np.concatenate((values, [values[0] + (period or 0.0)]))
        return np.interp(at, np.arange(number + 1), ends) + turn * period
    return np.interp(at, np.arange(number), values)


def _rotated(vectors: Floats, angles: Floats) -> Floats:
    """Vectors turned in the plane of x and y."""
    cos, sin = np.cos(angles), np.sin(angles)
    x, y = vectors[:, 0], vectors[:, 1]
    return np.column_stack((cos * x - sin * y, sin * x + cos * y, vectors[:, 2]))


def _mean_turn(turns: Floats) -> float:
    """The mean of parts of a way around."""
    angle = 2 * np.pi * turns
    return math.atan2(float(np.sin(angle).mean()), float(np.cos(angle).mean())) / (2 * math.pi)


def _stadium(turns: Floats, radius: float, straight: float) -> Floats:
    """A circle, or two half circles with straight sides between; from (-straight / 2, -radius)."""
    around = 2 * straight + 2 * math.pi * radius
    way = turns * around
    half, arc = straight / 2, math.pi * radius
    out = np.empty((len(turns), 2))
    first = way < straight
    out[first] = np.column_stack((way[first] - half, np.full(first.sum(), -radius)))
    second = (way >= straight) & (way < straight + arc)
    angle = (way[second] - straight) / max(radius, 1e-9) - math.pi / 2
    out[second] = np.column_stack((half + radius * np.cos(angle), radius * np.sin(angle)))
    third = (way >= straight + arc) & (way < 2 * straight + arc)
    out[third] = np.column_stack((half - (way[third] - straight - arc), np.full(third.sum(), radius)))
    fourth = way >= 2 * straight + arc
    angle = (way[fourth] - 2 * straight - arc) / max(radius, 1e-9) + math.pi / 2
    out[fourth] = np.column_stack((-half + radius * np.cos(angle), radius * np.sin(angle)))
    return out


def _polygon(turns: Floats, radius: float, sides: int) -> Floats:
    """A polygon whose sides are `radius` from the middle; it begins at a corner."""
    corner = radius / math.cos(math.pi / sides)
    side = np.floor(turns * sides)
    part = (turns * sides - side)[:, None]
    angles = 2 * np.pi * side / sides
    one = np.column_stack((np.cos(angles), np.sin(angles))) * corner
    two = np.column_stack((np.cos(angles + 2 * np.pi / sides), np.sin(angles + 2 * np.pi / sides))) * corner
    found: Floats = one + part * (two - one)
    return found
