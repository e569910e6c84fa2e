"""Landmarks of a round: corners, spaces, groups; where the next one lies, and how to go into it."""

from __future__ import annotations

from collections.abc import Callable

from craft.fabric.edge import OPEN, SPACE, TURNING, Match, Node, node_of, sizes_of, take_matching
from craft.fabric.kinds import is_any_stitch, is_group, is_space, is_turning_chain, match_kind, match_space
from craft.fabric.model import Block, Cells, EdgeItem

__all__ = ["count_groups", "has_group", "stitches_before", "take_groups", "take_in_group"]

GroupPlace = Callable[[Block], "int | None"]
"""Stitches of a group in front of the place named, or None where the group has no such place."""


def stitches_before(node: Node, until: str, chains: int | None, spaces: int = 0) -> int | None:  # noqa: PLR0911 - a list of cases
    """Places in front of the next landmark (`spaces` as in `Node.places`); None where the round below has no
    such landmark.
    """
    if node is OPEN:
        return None
    if is_space(until):
        found = _find(node, match_space(chains), _nowhere, spaces)
        return (
            found if found is not None or chains is None else _find(node, match_space(None), _nowhere, spaces)
        )
    if until == "corner":
        return _corner(node, spaces)
    if is_turning_chain(until):
        return _find(node, lambda cells: cells.tag == TURNING, _nowhere, spaces)
    if is_group(until):
        return _find(node, _never, lambda _: 0, spaces)
    if is_any_stitch(until) or until in {"marker", "same"}:
        return None
    if has_group(node, until):
        return _find(node, _never, lambda group: 0 if group.name == until else None, spaces)
    return _find(node, match_kind(until), _nowhere, spaces)


def _nowhere(_: Block) -> None:
    return None


def _never(_: Cells) -> bool:
    return False


def _corner(node: Node, spaces: int) -> int | None:
    inside = _find(node, _never, _first_space, spaces)
    if inside is not None:
        return inside
    if node.spaces:
        longest = _longest_space(node)
        return _find(node, lambda cells: cells.name == SPACE and cells.chains == longest, _nowhere, spaces)
    return _find(node, _never, _middle_stitch, spaces)


def _first_space(group: Block) -> int | None:
    if not group.spaces:
        return None
    before = 0
    for item in group.items:
        if item.name == SPACE:
            return before
        before += item.count
    return before


def _middle_stitch(group: Block) -> int | None:
    return (group.stitches - 1) // 2 if group.stitches >= 3 else None


def _longest_space(node: Node) -> int:
    longest = 0
    while node.item is not None:
        longest = max(longest, _longest(node.item))
        node = node.next
    return longest


def _longest(item: EdgeItem) -> int:
    if type(item) is Block:
        return max((_longest(inner) for inner in item.items), default=0)
    return item.chains if item.name == SPACE else 0


def _find(node: Node, match: Match, in_group: GroupPlace, spaces: int) -> int | None:
    before = 0
    while node.item is not None:
        found = _find_in(node.item, match, in_group, spaces)
        if found is not None:
            return before + found
        before += _places(node.item, spaces)
        node = node.next
    return None


def _places(item: EdgeItem, spaces: int) -> int:
    sums = sizes_of(item)
    return sums[0] + (sums[spaces] if spaces else 0)


def _find_in(item: EdgeItem, match: Match, in_group: GroupPlace, spaces: int) -> int | None:
    if type(item) is not Block:
        return 0 if match(item) else None  # type: ignore[arg-type]  # Cells, by the test above
    if item.group:
        found = in_group(item)
        if found is not None:
            return found
    before = 0
    for inner in item.items:
        found = _find_in(inner, match, in_group, spaces)
        if found is not None:
            return before + found
        before += _places(inner, spaces)
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
