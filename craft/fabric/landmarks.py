"""Landmarks of a round: corners, spaces, groups; where the next one lies, and how to go into it."""

from __future__ import annotations

import re
from collections.abc import Callable

from craft.fabric.edge import (
    OPEN,
    SPACE,
    TURNING,
    Match,
    Node,
    count_in,
    edge_of,
    node_of,
    sizes_of,
    take_matching,
)
from craft.fabric.kinds import is_any_stitch, is_group, is_space, is_turning_chain, match_kind, match_space
from craft.fabric.model import Block, Cells, Edge, EdgeItem

__all__ = [
    "count_groups",
    "has_group",
    "is_landmark_space",
    "of_kind",
    "places",
    "places_before",
    "take_groups",
    "take_in_group",
]

Measure = Callable[[EdgeItem], int]
"""How many places of an item count."""
GroupPlace = Callable[[Block, Measure], "int | None"]
"""Places of a group in front of the one named, or None where the group has no such place."""
_LENGTH = re.compile(r"^ch-(\d+) sp$")


def places(spaces: int) -> Measure:
    """Counts stitches, and spaces as in `Node.places`."""
    if spaces == 0:
        return lambda item: sizes_of(item)[0]
    return lambda item: sizes_of(item)[0] + sizes_of(item)[spaces]


def of_kind(match: Match) -> Measure:
    """Counts the places of a kind."""
    return lambda item: count_in(item, match)


def is_landmark_space(until: str) -> bool:
    return is_space(until) or _LENGTH.match(until) is not None


def places_before(  # noqa: PLR0911 - a list of cases
    node: Node, until: str, measure: Measure, whole: Edge = ()
) -> int | None:
    """Places in front of the next landmark; None where no such landmark lies ahead. `whole`: the round below
    from its start, which shows what its corners are.
    """
    if node is OPEN:
        return None
    length = _LENGTH.match(until)
    if length is not None:
        found = _find(node, match_space(int(length.group(1))), _nowhere, measure)
        if found is not None or _longest_in(whole) >= int(length.group(1)):
            return found
        return _find(node, match_space(None), _nowhere, measure)
    if is_space(until):
        return _find(node, match_space(None), _nowhere, measure)
    if until == "corner":
        return _corner(node, measure, max(_longest_in(edge_of(node)), _longest_in(whole)))
    if is_turning_chain(until):
        return _find(node, lambda cells: cells.tag == TURNING, _nowhere, measure)
    if is_group(until):
        return _find(node, _never, _at_once, measure)
    if is_any_stitch(until) or until in {"marker", "same"}:
        return None
    if has_group(node, until):
        return _find(node, _never, lambda group, _: 0 if group.name == until else None, measure)
    return _find(node, match_kind(until), _nowhere, measure)


def _nowhere(_group: Block, _measure: Measure) -> None:
    return None


def _at_once(_group: Block, _measure: Measure) -> int:
    return 0


def _never(_: Cells) -> bool:
    return False


def _corner(node: Node, measure: Measure, longest: int) -> int | None:
    """The corner space is the longest of the round, in a group with stitches on both sides of it where there
    is one; with no spaces, the middle of a group of three stitches or more.
    """
    if not longest:
        return _find(node, _never, _middle_stitch, measure)
    inside = _find(node, _never, lambda group, how: _inner_space(group, longest, how), measure)
    if inside is not None:
        return inside
    return _find(node, lambda cells: cells.name == SPACE and cells.chains == longest, _nowhere, measure)


def _inner_space(group: Block, chains: int, measure: Measure) -> int | None:
    before = stitches = 0
    for item in group.items:
        if type(item) is Cells and item.name == SPACE and item.chains == chains:
            return before if 0 < stitches < group.stitches else None
        before += measure(item)
        stitches += sizes_of(item)[0]
    return None


def _middle_stitch(group: Block, measure: Measure) -> int | None:
    if group.stitches < 3:
        return None
    return max(sum(measure(item) for item in group.items) - 1, 0) // 2


def _longest_in(edge: Edge) -> int:
    return max((_longest(item) for item in edge), default=0)


def _longest(item: EdgeItem) -> int:
    if type(item) is Block:
        return max((_longest(inner) for inner in item.items), default=0)
    return item.chains if item.name == SPACE else 0


def _find(node: Node, match: Match, in_group: GroupPlace, measure: Measure) -> int | None:
    before = 0
    while node.item is not None:
        found = _find_in(node.item, match, in_group, measure)
        if found is not None:
            return before + found
        before += measure(node.item)
        node = node.next
    return None


def _find_in(item: EdgeItem, match: Match, in_group: GroupPlace, measure: Measure) -> int | None:
    if type(item) is not Block:
        return 0 if match(item) else None  # type: ignore[arg-type]  # Cells, by the test above
    if item.group:
        found = in_group(item, measure)
        if found is not None:
            return found
    before = 0
    for inner in item.items:
        found = _find_in(inner, match, in_group, measure)
        if found is not None:
            return before + found
        before += measure(inner)
    return None


def has_group(node: Node, name: str) -> bool:
    """Whether a group of that name lies ahead."""
    while node.item is not None:
        if _has_named(node.item, name):
            return True
        node = node.next
    return False


def count_groups(node: Node, name: str) -> int:
    """Groups of that name from here to the end."""
    total = 0
    while node.item is not None:
        total += _count_named(node.item, name)
        node = node.next
    return total


def _count_named(item: EdgeItem, name: str) -> int:
    if type(item) is not Block:
        return 0
    if item.group and item.name == name:
        return item.count
    return item.count * sum(_count_named(inner, name) for inner in item.items)


def _has_named(item: EdgeItem, name: str) -> bool:
    if type(item) is not Block:
        return False
    return item.name == name or any(_has_named(inner, name) for inner in item.items)


def take_in_group(node: Node, name: str, what: str | None, ordinal: int | None) -> Node | None:
    """Go to the next group of that name (any group where none is named so) and into one of its
    places; -> the place after, or None where there is no group.

    Without `what` the whole group is used. With it, the `ordinal`-th such place; the places of the group
    behind it stay.
    """
    if node is OPEN:
        return None
    return _into(node, name, what, ordinal) or _into(node, "", what, ordinal)


def take_groups(node: Node, name: str) -> Node:
    """Use all groups of that name: to behind the last item that has one."""
    while node.item is not None and has_group(node, name):
        node = node.next
    return node


def _into(node: Node, name: str, what: str | None, ordinal: int | None) -> Node | None:
    while node.item is not None:
        item = node.item
        if type(item) is Block:
            rest = Node(item._replace(count=item.count - 1), node.next) if item.count > 1 else node.next
            if item.group and name in {"", item.name}:
                return _in_one(item, rest, what, ordinal)
            node = node_of(item.items, rest) if _has_group(item) else node.next
        elif name and item.name == name:
            return Node(item._replace(count=item.count - 1), node.next) if item.count > 1 else node.next
        else:
            node = node.next
    return None


def _has_group(item: EdgeItem) -> bool:
    return type(item) is Block and (item.group or any(_has_group(inner) for inner in item.items))


def _in_one(group: Block, rest: Node, what: str | None, ordinal: int | None) -> Node:
    if what is None:
        return rest
    inside = node_of(group.items, rest)
    match = match_space(None) if is_space(what) else match_kind(what) if not is_any_stitch(what) else _stitch
    after, lacking, _ = take_matching(inside, ordinal or 1, match)
    return rest if lacking or after.stitches < rest.stitches else after


def _stitch(cells: Cells) -> bool:
    return cells.name != SPACE
