"""Edges: what a round leaves for the next, run-length encoded, and the hook's way along one.

An edge is a tuple of `Cells` (equal places) and `Block`s (items that come several times over). The
hook walks it as a chain of `Node`s, made from the far end, so that a place can be kept and gone back
to at no cost and a block is opened one time at a time only where the hook stops inside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeAlias

from craft.fabric.model import Block, Cells, Edge, EdgeItem

__all__ = [
    "CHAIN",
    "CLOSING",
    "END",
    "OPEN",
    "SPACE",
    "TURNING",
    "Match",
    "Node",
    "block",
    "count_in",
    "count_matching",
    "edge_of",
    "head",
    "lay",
    "lay_all",
    "node_of",
    "reverse",
    "sizes_of",
    "steps_between",
    "take",
    "take_last",
    "take_matching",
]

SPACE = "ch-sp"
CHAIN = "ch"
TURNING = "turning chain"
CLOSING = "closing"

Match: TypeAlias = Callable[[Cells], bool]


class Node:
    """One item of an edge and all that lie behind it, with their sums.

    `stitches`, `spaces`, `chains`: places from here to the end; `chains` counts the chains of the
    spaces one by one. `start` of an edge of unknown length is `OPEN`.
    """

    __slots__ = ("chains", "item", "next", "spaces", "stitches")

    def __init__(self, item: EdgeItem | None, next_node: Node | None) -> None:
        self.item = item
        self.next: Node = next_node if next_node is not None else self
        if item is None or next_node is None:
            self.stitches = self.spaces = self.chains = 0
            return
        if type(item) is Cells:
            if item.name == SPACE:
                self.stitches = next_node.stitches
                self.spaces = next_node.spaces + item.count
                self.chains = next_node.chains + item.count * item.chains
                return
            self.stitches = next_node.stitches + item.count
            self.spaces = next_node.spaces
            self.chains = next_node.chains
            return
        stitches, spaces, chains = sizes_of(item)
        self.stitches = next_node.stitches + stitches
        self.spaces = next_node.spaces + spaces
        self.chains = next_node.chains + chains

    def places(self, spaces: int) -> int:
        """Places from here to the end; `spaces`: 0 passes chain spaces over, 1 counts each as one
        place, 2 counts their chains one by one.
        """
        return self.stitches + (0, self.spaces, self.chains)[spaces]


END = Node(None, None)
OPEN = Node(None, None)


def sizes_of(item: EdgeItem) -> tuple[int, int, int]:
    """Stitches, spaces and chains of spaces in one item."""
    if type(item) is Block:
        return item.stitches * item.count, item.spaces * item.count, item.chains * item.count
    if item.name == SPACE:
        return 0, item.count, item.count * item.chains
    return item.count, 0, 0


def block(items: Edge, count: int, name: str = "", *, group: bool = False) -> EdgeItem:
    """Items that come `count` times; a lone run is multiplied instead, unless it is a group."""
    if not group and len(items) == 1:
        only = items[0]
        if type(only) is Block or not only.tag:  # type: ignore[union-attr]
            return only._replace(count=only.count * count)
    sums = [sizes_of(item) for item in items]
    return Block(
        items, count, sum(s[0] for s in sums), sum(s[1] for s in sums), sum(s[2] for s in sums), group, name
    )


def lay(out: list[EdgeItem], item: EdgeItem) -> None:
    """Add an item at the end of an edge in the making, joined to its equal neighbour."""
    if item.count <= 0:
        return
    if out:
        last = out[-1]
        if type(last) is Cells:
            if last.name == item.name and type(item) is Cells and last[2:] == item[2:] and not item.tag:
                out[-1] = Cells(last.name, last.count + item.count, last.chains)
                return
        elif type(item) is Block and last.items == item.items and last[5:] == item[5:]:  # type: ignore[union-attr]
            out[-1] = last._replace(count=last.count + item.count)
            return
    out.append(item)


def lay_all(out: list[EdgeItem], items: Iterable[EdgeItem]) -> None:
    for item in items:
        lay(out, item)


def reverse(edge: Edge) -> Edge:
    """The edge as the hook meets it after a turn."""
    if len(edge) == 1 and type(edge[0]) is Cells:
        return edge
    return tuple(
        item._replace(items=reverse(item.items)) if type(item) is Block else item for item in reversed(edge)
    )


def node_of(edge: Edge, after: Node = END) -> Node:
    """The chain of nodes over an edge, followed by `after`."""
    node = after
    for item in reversed(edge):
        node = Node(item, node)
    return node


def edge_of(node: Node) -> Edge:
    """The items from a node to the end."""
    items: list[EdgeItem] = []
    while node.item is not None:
        lay(items, node.item)
        node = node.next
    return tuple(items)


def head(node: Node, after: Node) -> Edge:
    """The items from one place to another further on, the spaces between them included."""
    number, spaces = node.stitches - after.stitches, node.spaces - after.spaces
    items: list[EdgeItem] = []
    while node.item is not None and (number > 0 or spaces > 0):
        item = node.item
        stitches, holes, _ = sizes_of(item)
        if stitches <= number and holes <= spaces:
            lay(items, item)
            number, spaces, node = number - stitches, spaces - holes, node.next
        elif type(item) is Block:
            node = _open_block(item, node.next)
        else:
            lay(items, item._replace(count=max(number if item.name != SPACE else spaces, 0)))
            break
    return tuple(items)


def _open_block(item: Block, after: Node) -> Node:
    """One time of a block laid out, the other times behind it."""
    rest = Node(item._replace(count=item.count - 1), after) if item.count > 1 else after
    return node_of(item.items, rest)


def take(node: Node, number: int, spaces: int = 0) -> tuple[Node, int]:  # noqa: C901 - a list of cases
    """Use `number` places from here; -> (the place after, how many were lacking).

    `spaces` as in `Node.places`. Spaces in front of a place taken are passed; those behind the last
    stay.
    """
    if node is OPEN:
        return node, 0
    while number > 0:
        item = node.item
        if item is None:
            return node, number
        if type(item) is Block:
            each = item.stitches + (0, item.spaces, item.chains)[spaces]
            if not each:
                node = node.next
                continue
            # with spaces in it, the time that holds the last place is opened: spaces behind that stay
            whole = min(item.count, (number - 1 if item.spaces else number) // each)
            number -= whole * each
            if whole == item.count:
                node = node.next
            elif whole:
                node = Node(item._replace(count=item.count - whole), node.next)
            else:
                node = _open_block(item, node.next)
        elif item.name == SPACE and spaces != 1:
            if spaces == 0:
                node = node.next
                continue
            node = _open_space(item, node.next)  # type: ignore[arg-type]
        elif item.count > number:
            return Node(item._replace(count=item.count - number), node.next), 0
        else:
            number -= item.count
            node = node.next
    return node, 0


def _open_space(item: Cells, after: Node) -> Node:
    """One space as its chains, one by one; the other spaces behind it."""
    rest = Node(item._replace(count=item.count - 1), after) if item.count > 1 else after
    return Node(Cells(CHAIN, item.chains), rest) if item.chains else rest


def has(item: EdgeItem, match: Match) -> bool:
    """Whether a place of this kind lies anywhere in the item."""
    if type(item) is Block:
        return any(has(inner, match) for inner in item.items)
    return match(item)  # type: ignore[arg-type]


def count_in(item: EdgeItem, match: Match) -> int:
    if type(item) is Block:
        return item.count * sum(count_in(inner, match) for inner in item.items)
    return item.count if match(item) else 0  # type: ignore[arg-type]


def count_matching(node: Node, match: Match) -> int:
    """How many places of a kind lie between here and the end."""
    total = 0
    while node.item is not None:
        total += count_in(node.item, match)
        node = node.next
    return total


def take_matching(node: Node, number: int, match: Match) -> tuple[Node, int, int]:
    """Use the next `number` places of a kind; -> (the place after, how many were lacking, stitches
    passed over on the way).

    Places of other kinds in front of them are passed.
    """
    passed = 0
    if node is OPEN:
        return node, 0, 0
    while number > 0:
        item = node.item
        if item is None:
            return node, number, passed
        if type(item) is Block:
            each = sum(count_in(inner, match) for inner in item.items)
            if not each:
                passed += item.stitches * item.count
                node = node.next
                continue
            # the time that holds the last one wanted is opened: what lies behind it is not passed
            whole = min(item.count, (number - 1) // each)
            if whole:
                number -= whole * each
                passed += whole * (item.stitches - each)
                node = (
                    Node(item._replace(count=item.count - whole), node.next)
                    if whole < item.count
                    else node.next
                )
            else:
                node = _open_block(item, node.next)
        elif match(item):  # type: ignore[arg-type]
            if item.count > number:
                return Node(item._replace(count=item.count - number), node.next), 0, passed
            number -= item.count
            node = node.next
        else:
            if item.name != SPACE:
                passed += item.count
            node = node.next
    return node, 0, max(0, passed)


def take_last(node: Node, number: int, spaces: int = 0) -> tuple[Node, int, int]:
    """Go to the last `number` places; -> (that place, stitches left behind, how many were lacking)."""
    if node is OPEN:
        return node, 0, 0
    over = node.places(spaces) - number
    if over < 0:
        return node, 0, -over
    at, _ = take(node, over, spaces)
    return at, over, 0


def steps_between(before: Node, after: Node) -> tuple[Node, int] | None:
    """Where a pass that went from `before` to `after` could be gone on with as it was.

    -> (a node of one pass less, how many further passes of the same kind the run still holds), or
    None where the edge does not repeat itself. Only the run or block at the head changes from pass to
    pass: everything around it is the same.
    """
    if before is after:
        return None
    for _ in range(24):
        one, two = before.item, after.item
        if one is None or two is None or type(one) is not type(two):
            return None
        if before.next is after.next:
            if one[0] != two[0] or one[2:] != two[2:]:
                return None
            each = one.count - two.count
            return (after, two.count // each) if each > 0 else None
        if one != two:
            return None
        before, after = before.next, after.next
    return None


def after_passes(after: Node, before: Node, passes: int) -> Node:
    """The place reached when `passes` more passes like that from `before` to `after` are worked."""
    kept: list[EdgeItem] = []
    while before.next is not after.next:
        kept.append(after.item)  # type: ignore[arg-type]  # steps_between saw an item here
        before, after = before.next, after.next
    one, two = before.item, after.item
    left = two.count - passes * (one.count - two.count)  # type: ignore[union-attr]
    node = Node(two._replace(count=left), after.next) if left else after.next  # type: ignore[union-attr]
    return node_of(tuple(kept), node)
