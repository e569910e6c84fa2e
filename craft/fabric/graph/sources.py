"""The edge that a line is worked into, place by place, and which of its places a stitch takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from craft.fabric.edge import CHAIN, CLOSING, SPACE
from craft.fabric.graph.values import Into
from craft.fabric.kinds import is_any_stitch, is_group, is_plain, is_space, match_kind, match_space
from craft.fabric.model import Cells, Edge
from craft.notation.tree import How, Place

__all__ = ["Cell", "Source", "cells_of", "choose"]


class Cell(NamedTuple):
    """One place of an edge. `chains`: of a space, else 0. `group`: number of its group there, -1 none."""

    name: str
    chains: int
    group: int
    tag: str


def cells_of(edge: Edge) -> list[Cell]:
    """Every place of an edge, in order."""
    out: list[Cell] = []
    _add(edge, out, -1)
    return out


def _add(edge: Edge, out: list[Cell], group: int) -> None:
    for item in edge:
        if type(item) is Cells:
            chains = item.chains if item.name == SPACE or item.tag else 0
            out.extend([Cell(item.name, chains, group, item.tag)] * item.count)
            continue
        for _ in range(item.count):
            _add(item.items, out, len(out) if item.group and group < 0 else group)  # type: ignore[union-attr]


@dataclass(slots=True)
class Source:
    """Places in the order in which the hook meets them, and the stitch that each one is (-1 not known).

    `into`: how stitches hang on them. `closed`: after the last place the first comes again. `chains`: the
    stitches of each chain space, by its place. `at_unit`: the place of each unit (see the recorder), None
    where every place is one unit.
    """

    nodes: list[int]
    cells: list[Cell]
    closed: bool = False
    into: Into = Into.TOP
    exact: bool = True
    chains: dict[int, list[int]] = field(default_factory=dict)
    at_unit: list[int] | None = None
    starts: list[int] = field(default_factory=list)
    units: int = 0

    def __post_init__(self) -> None:
        if not any(cell.name == SPACE for cell in self.cells):
            self.units = len(self.cells)
            return
        self.at_unit = []
        for index, cell in enumerate(self.cells):
            self.starts.append(len(self.at_unit))
            self.at_unit.extend([index] * (cell.chains if cell.name == SPACE else 1))
        self.units = len(self.at_unit)

    def turned(self) -> Source:
        """The same places as met from the other end."""
        last = len(self.nodes) - 1
        chains = {last - place: chains[::-1] for place, chains in self.chains.items()}
        return Source(self.nodes[::-1], self.cells[::-1], self.closed, self.into, self.exact, chains)

    def turned_round(self) -> Source:
        """A joined round as met after a turn: the stitch that the hook stands over, then the other way."""
        turned = self.turned()
        if not turned.nodes or turned.is_space(len(turned.nodes) - 1):
            return turned
        chains = {place + 1: chains for place, chains in turned.chains.items()}
        nodes, cells = turned.nodes, turned.cells
        return Source(
            [nodes[-1], *nodes[:-1]], [cells[-1], *cells[:-1]], self.closed, self.into, self.exact, chains
        )

    def joined(self, other: Source, start: int) -> Source:
        """These places, then those of another source from a unit on."""
        first = other.place_at(start) if start < other.units else len(other.nodes)
        shift = len(self.nodes) - first
        chains = {place + shift: chains for place, chains in other.chains.items() if place >= first}
        cells = self.cells + other.cells[first:]
        return Source(self.nodes + other.nodes[first:], cells, exact=other.exact, chains=chains)

    def is_space(self, place: int) -> bool:
        return place < len(self.cells) and self.cells[place].name == SPACE

    def node(self, place: int) -> int:
        """The stitch of a place; of a single chain of a space, where `place` is one from `single`."""
        if place < len(self.nodes):
            return self.nodes[place]
        unit = place - len(self.nodes)
        space = self.place_at(unit)
        chains = self.chains.get(space)
        return chains[min(unit - self.starts[space], len(chains) - 1)] if chains else self.nodes[space]

    def single(self, unit: int) -> int:
        """The place of one unit, a chain of a space for itself."""
        place = self.place_at(unit)
        return len(self.nodes) + unit % self.units if self.is_space(place) else place

    def place_at(self, unit: int) -> int:
        """The place that holds a unit, going round or stopping at the ends."""
        unit = unit % self.units if self.closed else min(max(unit, 0), self.units - 1)
        return unit if self.at_unit is None else self.at_unit[unit]

    def between(self, start: int, stop: int) -> list[int]:
        """The places with a unit from `start` up to `stop`."""
        if not self.units or stop <= start:
            return []
        if self.at_unit is None and start >= 0 and stop <= self.units:
            return list(range(start, stop))
        found: list[int] = []
        for unit in range(start, min(stop, start + self.units)):
            place = self.place_at(unit)
            if not found or found[-1] != place:
                found.append(place)
        return found


def choose(  # noqa: C901, PLR0911 - a list of cases
    source: Source, start: int, stop: int, wanted: int, place: Place
) -> list[int]:
    """The `wanted` places that a stitch takes between two units; the last are taken where more were passed.

    Always so many: where the edge has fewer they are shared.
    """
    if not source.units or wanted <= 0:
        return [-1] * max(wanted, 0)
    if place.how is How.SAME or stop <= start:
        return _without_moving(source, start, stop, wanted, place)
    if source.at_unit is not None and place.what == CHAIN and stop - start >= wanted:
        return [source.single(unit) for unit in range(stop - wanted, stop)]
    if source.into is Into.UNDERSIDE and stop - start < wanted:
        start = max(stop - wanted, 0)  # the end chain takes one more, or had not been used at all
    found = source.between(start, stop)
    if len(found) == wanted and (source.at_unit is None or not is_any_stitch(place.what)):
        return found
    if source.at_unit is not None:
        found = _of_kind(source, found, start, stop, wanted, place)
    if place.every > 1 and wanted < len(found):
        return [found[min(i * place.every, len(found) - 1)] for i in range(wanted)]
    if len(found) > wanted and (is_group(place.what) or not is_plain(place.what)):
        return _middles(source, found, wanted)
    if len(found) > wanted:
        return _matching(source, found, wanted, place)
    if len(found) < wanted and found:
        return [found[i * len(found) // wanted] for i in range(wanted)]
    return found or [source.place_at(stop - 1)] * wanted


def _without_moving(source: Source, start: int, stop: int, wanted: int, place: Place) -> list[int]:
    if place.how in {How.SAME, How.FIRST} or wanted == 1:
        return [source.place_at(stop - 1 if place.how is How.SAME else start)] * wanted
    return [source.place_at(start + i) for i in range(wanted)]


def _of_kind(  # noqa: PLR0911 - a list of cases
    source: Source, found: list[int], start: int, stop: int, wanted: int, place: Place
) -> list[int]:
    """With spaces among them: the stitches, the spaces, both, or chain by chain, as the number shows."""
    stitches = [p for p in found if not source.is_space(p)]
    spaces = [p for p in found if source.is_space(p)]
    if is_space(place.what) or place.what == "corner":
        match = match_space(place.chains)
        exact = [p for p in spaces if match(_as_cells(source.cells[p]))]
        return exact if len(exact) >= wanted else spaces or found
    if len(stitches) == wanted:
        return stitches
    if len(found) == wanted and not is_any_stitch(place.what):
        return found
    if stop - start == wanted:
        return [source.single(unit) for unit in range(start, stop)]
    if len(found) == wanted:
        return found
    if wanted == 1:
        return found[-1:]
    return stitches if len(stitches) >= wanted else found


def _as_cells(cell: Cell) -> Cells:
    return Cells(cell.name, 1, cell.chains, cell.tag if cell.tag == CLOSING else "")


def _matching(source: Source, found: list[int], wanted: int, place: Place) -> list[int]:
    if not is_any_stitch(place.what) and not is_space(place.what):
        match = match_kind(place.what)
        kept = [p for p in found if match(_as_cells(source.cells[p]))]
        if len(kept) >= wanted:
            return kept[-wanted:]
    return found[-wanted:]


def _middles(source: Source, found: Sequence[int], wanted: int) -> list[int]:
    """The middle of each of the last groups."""
    groups: list[list[int]] = []
    for place in found:
        group = source.cells[place].group
        if groups and group >= 0 and source.cells[groups[-1][-1]].group == group:
            groups[-1].append(place)
        elif group >= 0:
            groups.append([place])
    if len(groups) < wanted:
        return [found[-1 - (wanted - 1 - i) * len(found) // max(wanted, 1)] for i in range(wanted)]
    return [group[len(group) // 2] for group in groups[-wanted:]]
