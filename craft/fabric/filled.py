"""What filling makes of a closed part: the roundest body that its rounds and their heights allow.

Filling presses outwards as far as the fabric lets it. So the body is the one of greatest volume whose
rounds are no longer than they were worked and lie no farther apart along the fabric. The fabric's own
stretch is left out (it adds some per cent), and a round shorter than it could be lies in small folds. Flat
ends become domes by this; a ball worked to the formula stays the ball that it is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from craft.fabric.levels import PartLevels
from craft.fabric.profile import Profile, Station, evened, profile_of

__all__ = ["MOST_ROUNDS", "filled", "filled_profile_of"]

MOST_ROUNDS = 160
"""Longer parts are left as they are: their ends hardly matter."""

_SHORTEST = 0.02
"""A round rises by at least this part of its height, so that the slope stays finite."""


def filled(profile: Profile) -> Profile:
    """The profile as filling rounds it. Parts that are open, oval or square, have gaps or are very long
    come back as they were.
    """
    stations = profile.stations
    plain = profile.closed and not profile.straight_mm and not profile.part.sides and not profile.part.gaps
    if not plain or not 3 <= len(stations) <= MOST_ROUNDS:
        return profile
    spans = np.array([max(station.level.height, 1e-6) for station in stations])
    longest = np.array(evened(profile.part.levels)) / profile.factor
    radii = _roundest(profile.first_radius, spans, longest)
    return replace(profile, stations=tuple(_risen(profile, radii.tolist(), spans.tolist())), filled=True)


def filled_profile_of(part: PartLevels) -> Profile | None:
    """The profile of a part, rounded by filling where it is closed; a `shape` for `craft.fabric.measure`."""
    profile = profile_of(part)
    return None if profile is None else filled(profile)


def _roundest(first: float, spans: NDArray[np.float64], longest: NDArray[np.float64]) -> NDArray[np.float64]:
    start = _reachable(first, spans, longest)
    scale = float(longest.max()) ** 3
    found = minimize(
        lambda radii: _less_volume(first, radii, spans, scale),
        start,
        jac=True,
        method="L-BFGS-B",
        bounds=[(0.0, float(most)) for most in longest],
        options={"maxiter": 400, "ftol": 1e-10},
    )
    radii: NDArray[np.float64] = found.x
    return radii


def _reachable(first: float, spans: NDArray[np.float64], longest: NDArray[np.float64]) -> NDArray[np.float64]:
    """Radii to start from: no more than nine tenths of a row height from one round to the next."""
    radii = longest.copy()
    for at in range(len(radii)):
        before = radii[at - 1] if at else first
        radii[at] = min(radii[at], before + 0.9 * spans[at])
    for at in range(len(radii) - 2, -1, -1):
        radii[at] = min(radii[at], radii[at + 1] + 0.9 * spans[at + 1])
    return radii


def _less_volume(
    first: float, radii: NDArray[np.float64], spans: NDArray[np.float64], scale: float
) -> tuple[float, NDArray[np.float64]]:
    """Minus the volume of the frusta, with its slope by radius. Where neighbours lie farther apart than the
    fabric reaches a steep penalty takes the place of the rise.
    """
    before = np.concatenate(([first], radii[:-1]))
    step = radii - before
    room = spans**2 - step**2
    least = (_SHORTEST * spans) ** 2
    rise = np.sqrt(np.maximum(room, least))
    ring = (before**2 + before * radii + radii**2) / 3
    slope_rise = np.where(room > least, -step / rise, 0.0)
    torn = np.maximum(np.abs(step) - spans * math.sqrt(1 - _SHORTEST**2), 0.0)
    weight = 50.0 * (float(radii.max()) + 1.0)
    by_radius = (before + 2 * radii) / 3 * rise + ring * slope_rise
    by_before = (2 * before + radii) / 3 * rise - ring * slope_rise
    value = -(ring * rise).sum() + weight * (torn**2).sum()
    by_radius = -by_radius + 2 * weight * torn * np.sign(step)
    by_before = -by_before - 2 * weight * torn * np.sign(step)
    slope = by_radius
    slope[:-1] += by_before[1:]
    return float(value) / scale, slope / scale


def _risen(profile: Profile, radii: Sequence[float], spans: Sequence[float]) -> list[Station]:
    stations, before, height = [], profile.first_radius, 0.0
    for station, radius, span in zip(profile.stations, radii, spans, strict=True):
        height += math.sqrt(max(span**2 - (radius - before) ** 2, 0.0))
        most = station.level.around / (profile.factor * radius) if radius > 0 else 1.0
        stations.append(Station(station.level, float(radius), height, over=max(1.0, most)))
        before = radius
    return stations
