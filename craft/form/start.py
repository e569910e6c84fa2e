"""Where the knots begin: on the exact profile where a part has one, else row on row or round beyond round."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from craft.fabric.graph import Flag, Into
from craft.fabric.profile import Profile
from craft.form.net import Curve, Net

__all__ = ["start_of"]

Floats = NDArray[np.float64]
WAVES = 7  # of a round that is too long for its distance, to begin with


@dataclass(frozen=True, slots=True)
class _Station:
    """A round of a profile as a closed curve in a plane: a circle, a stadium or a polygon."""

    radius: float
    height: float
    over: float
    straight: float
    sides: int

    def points(self, turns: Floats) -> Floats:
        """Points at these parts of the way around, counter-clockwise from the near end of a straight side."""
        plane = _stadium(turns, self.radius, self.straight) if self.sides < 3 else _polygon(turns, self.radius, self.sides)
        out = np.column_stack((plane, np.full(len(turns), self.height)))
        if self.over > 1.02:
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
    """First positions (K, 3) in mm of all knots. `profiles`: those of the parts in the graph that have one."""
    return _Layout(net, profiles).lay()


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
        self.flat_row = 0.0

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
        floor = self.position[self.laid, 2].max() if self.laid.any() and self.position[self.laid].any() else 0.0
        for station in profile.stations:
            if station.level.handles:
                break
            self.stations[station.level.key] = _Station(
                station.radius, floor + station.height, station.over, profile.straight_mm, profile.part.sides
            )

    # --------------------------------------------------------------------------- foundations

    def _foundation(self, curve: Curve) -> None:
        """A chain along x, from its last chain to its first, in the middle of what is worked round it."""
        number = len(curve.knots)
        width = self.net.gauge.stitch_mm
        if self.graph.rounds[curve.round_index].joined and number > 3:
            turns = np.arange(number) / number
            radius = number * width / (2 * math.pi)
            self.position[curve.knots, :2] = np.column_stack((np.cos(2 * np.pi * turns), np.sin(2 * np.pi * turns))) * radius
            self.turns[curve.knots] = turns
            return
        along = (np.arange(number) - (number - 1) / 2) * width
        self.position[curve.knots, 0] = -along
        self.position[curve.knots, 1] = self.flat_row

    # ------------------------------------------------------------------------------ profiles

    def _on_station(self, curve: Curve, station: _Station) -> None:
        number = len(curve.knots)
        even = (np.arange(number) + 0.5) / number
        turns = even + self._phase(curve, even, station)
        self.turns[curve.knots] = turns
        self.position[curve.knots] = station.points(np.mod(turns, 1.0))
        self._set_away(curve)

    def _phase(self, curve: Curve, even: Floats, station: _Station) -> float:
        """How far a round is turned so that its stitches stand over their places, or its corners at corners."""
        if station.sides >= 3:
            corners = self._corners(curve)
            if corners.any():
                return -_mean_turn(even[corners] * station.sides) / station.sides
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
        many = np.bincount(group[group >= 0], minlength=1)[np.maximum(group, 0)] if (group >= 0).any() else group
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

    def _turns_on_chain(self, knots: NDArray[np.int32], under: Curve, at: Floats, station: _Station) -> Floats:
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
            sign = 1.0 if hung.sum() < 2 else np.sign(np.dot(along[hung] - along[hung].mean(), x - x.mean())) or 1.0
            along = sign * along
            along += (x - along[hung]).mean()
            base = place[hung, 1].max()
            reach = max(float(np.ptp(x)) + width, width)
        else:
            base, reach = self.position[self.laid, 1].max() if self.laid.any() else 0.0, number * width
        height = self.net.height[knots][hung].max() if hung.any() else self.net.gauge.row_mm
        self.position[knots] = np.column_stack((along, np.full(number, base + height), np.zeros(number)))
        over = number * width / reach
        if over > 1.1 and number > 6:
            self.position[knots, 0] = (along - along.mean()) / over + along.mean()
            waves = max(2.0, reach / (6 * width))
            swing = math.sqrt(over - 1) * reach / (math.pi * waves)
            self.position[knots, 2] = swing * np.sin(np.linspace(0, 2 * np.pi * waves, number))
        self._set_away(curve)

    def _places(self, curve: Curve) -> Floats:
        """Where each knot's place lies."""
        out = np.full((len(curve.knots), 3), np.nan)
        below = self.net.below[curve.knots]
        for number in np.unique(below[below >= 0]).tolist():
            under = self.net.curves[number]
            here = below == number
            at = self.net.at[curve.knots[here]]
            for axis in range(3):
                out[here, axis] = _along(self.position[under.knots, axis], at, closed=under.closed, period=0.0)
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
        out[lost] = place[lost] - middle
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
            circle = np.column_stack((np.cos(2 * np.pi * turns), np.sin(2 * np.pi * turns))) * number * width / (2 * np.pi)
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
        ends = np.concatenate((values, [values[0] + (period if period else 0.0)]))
        return np.interp(at, np.arange(number + 1), ends) + turn * period
    return np.interp(at, np.arange(number), values)


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
