"""One line of one size, worked into what lies below it."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from craft.fabric.chains import chain, ring, start_carried
from craft.fabric.edge import CHAIN, OPEN, SPACE, Node, count_matching, edge_of, node_of, reverse
from craft.fabric.ends import join, rotate, skip, turn, unworked
from craft.fabric.hand import Below, CannotCount, Hand, Question, Setting
from craft.fabric.kinds import is_turning_chain, match_kind
from craft.fabric.model import Block, Cells, Edge, Fault, Misfit, SizedRound
from craft.fabric.places import FREE, turn_to_loops
from craft.fabric.repeats import work_repeat
from craft.fabric.shaping import evenly
from craft.fabric.starts import seek_start
from craft.fabric.steps import as_round, colour, group, nothing, only_sizes, unread, work
from craft.fabric.tally import by_colour, by_kind, tally
from craft.fabric.walk import WAYS, first_stitch_ahead, run
from craft.notation.tree import (
    AsRound,
    Chain,
    Colour,
    Evenly,
    FastenOff,
    Group,
    How,
    Join,
    Kind,
    Loops,
    Marker,
    OnlySizes,
    Remark,
    Repeat,
    Ring,
    Rotate,
    Skip,
    Span,
    Step,
    Turn,
    Unread,
    Unworked,
    Work,
)

__all__ = ["LEFT", "Origin", "Outcome", "is_turned", "join_hint", "joins_at_left", "work_again", "work_steps"]

WatcherT = TypeVar("WatcherT", bound=Hand)
LEFT = -2  # key of what an earlier row left unworked, in the older edges

WAYS.update(
    {
        Work: work,
        Group: group,
        Chain: chain,
        Skip: skip,
        Join: join,
        Ring: ring,
        Turn: turn,
        FastenOff: nothing,
        Colour: colour,
        Marker: nothing,
        Repeat: work_repeat,
        Evenly: evenly,
        AsRound: as_round,
        Unworked: unworked,
        Rotate: rotate,
        OnlySizes: only_sizes,
        Remark: nothing,
        Unread: unread,
    }
)


class Origin(NamedTuple):
    """What a line was worked from, for working it again: see `work_again`. `free` and `left`: what the older
    edges held under those keys then.
    """

    setting: Setting
    answers: Mapping[Question, int]
    size: int
    kind: Kind
    steps: Sequence[Step]
    below: Below
    older: Mapping[int, Edge]
    free: Edge | None
    left: Edge | None
    hint: tuple[bool | None, int]
    at_left: bool


@dataclass(frozen=True, slots=True)
class Outcome:
    """A line of one size as worked. `sized` is None where it could not be; `why` says so.

    `made`: whether any stitch was made at all; a line that only cuts the yarn leaves the round below as
    it was. `fits`: the round below is used exactly. `entered`: chains of the round below that were worked
    into one by one. `asked`: the questions that the line raised, with the answers used. `left`: what the line
    leaves unworked, for a later one that joins there. `fixed`: all numbers stand in the line itself.
    """

    sized: SizedRound | None
    below: Below
    fits: bool
    made: bool = True
    why: str | None = None
    misfits: tuple[Misfit, ...] = ()
    doubts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    asked: tuple[tuple[Question, int], ...] = ()
    entered: int = 0
    left: Edge = ()
    fixed: bool = False


def work_steps(  # noqa: PLR0913 - a line is worked from these
    setting: Setting,
    answers: Mapping[Question, int],
    size: int,
    kind: Kind,
    steps: Sequence[Step],
    below: Below,
    older: Mapping[int, Edge],
    *,
    hint: tuple[bool | None, int] = (None, 0),
    at_left: bool = False,
) -> Outcome:
    """Work the steps of one line. Never raises on any tree.

    `hint`: what the join of the line shows of the starting chain (see `join_hint`). `at_left`: the line
    begins on stitches left unworked before.
    """
    hand = Hand(setting, answers, size, kind, below, _start_node(kind, steps, below), steps)
    hand.join_hint, hand.join_chain = hint
    hand.older, hand.at_left = older, at_left
    return _worked(hand)


def work_again(origin: Origin, watcher: type[WatcherT]) -> tuple[WatcherT, Outcome]:
    """Work a line once more as it was, under the eyes of a `Hand` that keeps what each stitch goes into."""
    kind, steps, below = origin.kind, origin.steps, origin.below
    node = _start_node(kind, steps, below)
    hand = watcher(origin.setting, origin.answers, origin.size, kind, below, node, steps)
    hand.join_hint, hand.join_chain = origin.hint
    hand.at_left = origin.at_left
    kept = {key: edge for key, edge in ((FREE, origin.free), (LEFT, origin.left)) if edge is not None}
    hand.older = ChainMap(kept, dict(origin.older)) if origin.older else kept
    return hand, _worked(hand)


def _worked(hand: Hand) -> Outcome:
    below, older, steps = hand.below, hand.older, hand.steps
    if LEFT in older and hand.at_left:
        hand.node = node_of(older[LEFT])
        hand.onto("left")
        hand.available = hand.node.stitches
    if hand.node is OPEN and not below.ring:
        hand.in_the_air = True
    try:
        if below.moved is not None:
            seek_start(hand, below.moved)
        found = first_stitch_ahead(steps)
        if found is not None and found[1].loops is Loops.UNWORKED:
            turn_to_loops(hand, found[1])
        if below.carried and _no_chain_first(steps):
            start_carried(hand, below.carried, below.carried_counts)
        run(hand, steps)
        _share_out(hand)
    except CannotCount as reason:
        return _not_worked(hand, reason.why)
    except RecursionError:
        return _not_worked(hand, "the line is nested too deep to follow")
    return _outcome(hand)


def _start_node(kind: Kind, steps: Sequence[Step], below: Below) -> Node:
    if below.chain:
        return Node(Cells(CHAIN, below.chain), node_of(()))
    if not below.known or (below.ring and not below.edge):
        return OPEN
    if not is_turned(kind, steps, below):
        return node_of(below.edge)
    round_on_round = kind is Kind.ROUND and below.closed
    return node_of(_turned_round(below.edge) if round_on_round else reverse(below.edge))


def _turned_round(edge: Edge) -> Edge:
    """A joined round when the work is turned: the hook stands over its first stitch, then the others follow
    the other way.
    """
    opened = edge
    while opened and type(opened[0]) is Block:
        first = opened[0]
        again = (first._replace(count=first.count - 1),) if first.count > 1 else ()
        opened = (*first.items, *again, *opened[1:])
    if not opened or opened[0].name == SPACE:
        return reverse(edge)
    head = opened[0]
    left = (head._replace(count=head.count - 1),) if head.count > 1 else ()
    return (head._replace(count=1), *reverse((*left, *opened[1:])))


def is_turned(kind: Kind, steps: Sequence[Step], below: Below) -> bool:
    """Rows are turned unless the words say not; rounds only where they say so."""
    if below.turned is not None:
        return below.turned
    for step in steps:
        if type(step) is Turn:
            return step.turn
        if isinstance(step, (Work, Group, Repeat, Skip)):
            break
    return kind is Kind.ROW


def joins_at_left(steps: Sequence[Step]) -> bool:
    """Whether the line begins by joining yarn to stitches left unworked: "skip next 3 sc, join A in next"."""
    skipped = False
    for step in steps:
        if isinstance(step, Skip):
            skipped = True
        elif isinstance(step, Join):
            place = step.place
            if place is None:
                return False
            return (
                place.how is How.NEXT
                or place.of in {"unworked", "skipped"}
                or (skipped and place.how is How.FIRST)
            )
        elif isinstance(step, (Work, Group, Repeat, Chain)):
            return False
    return False


def _no_chain_first(steps: Sequence[Step]) -> bool:
    for step in steps:
        if isinstance(step, Chain):
            return False
        if isinstance(step, (Work, Group, Repeat, Skip)):
            return True
    return False


def join_hint(steps: Sequence[Step]) -> tuple[bool | None, int]:
    """Whether the join shows that the starting chain counts (joined to its top it does, to the first dc it
    does not), and to which of its chains, 0 where that is not told.
    """
    for step in reversed(steps):
        if isinstance(step, Join) and step.place is not None:
            if is_turning_chain(step.place.what):
                return True, step.place.ordinal or 0
            if step.place.how is How.FIRST and step.place.what not in {"st", "ch"}:
                return False, 0
            return None, 0
        if isinstance(step, (Work, Group, Repeat)):
            return None, 0
    return None, 0


def _share_out(hand: Hand) -> None:
    """Stitches up to a landmark whose place is not known: the total is certain, so they are laid last."""
    if hand.floating is None or hand.node is OPEN or not hand.node.stitches:
        return
    name, tops = hand.floating
    number = hand.node.stitches - hand.tolerated
    if name and number > 0:
        hand.lay(Cells(name, number * tops))
        hand.stroke(name, 1, tops, number)
        hand.used_stitches = True
        hand.node = node_of(())


# ------------------------------------------------------------------------------- the result


def _not_worked(hand: Hand, why: str) -> Outcome:
    return Outcome(
        None,
        Below(known=False),
        fits=False,
        why=why,
        notes=tuple(hand.notes),
        asked=tuple(hand.asked.items()),
    )


def _outcome(hand: Hand) -> Outcome:
    begun = hand.out or hand.closing or hand.foundation or hand.closed_chain or hand.ring or hand.carried
    if not begun and any(question == "unread" for question, _at in hand.asked):
        return _not_worked(hand, "some words of this line were not understood")  # a gap, not a rest
    if (not hand.out and not hand.closing) or _only_closes(hand):
        return _nothing_made(hand)
    if hand.in_the_air and not hand.ring and not hand.on_foundation and not hand.closed_chain:
        hand.doubt("what lies below this line is not known")
    if hand.available >= 20 and hand.made() > 3 * hand.available:
        hand.doubt("the line makes more than three times the stitches below it")
    if hand.ends:
        hand.doubt("stitches along an edge are taken as the line gives them")
    available = hand.available
    if hand.lacking > 0:
        _too_few(hand)
    left = _left_over(hand)
    edge: Edge = tuple(hand.out) if hand.closing is None else (hand.closing, *hand.out)
    strokes = tuple(hand.strokes)
    kinds = by_kind(edge)
    made = tally(strokes)
    coloured, colour_now = by_colour(strokes, hand.below.colour, made if not hand.recoloured else None)
    used = max(available - (hand.node.stitches if hand.node is not OPEN else 0) + hand.lacking, 0)
    sized = SizedRound(
        total=hand.made(),
        by_kind=kinds,
        tally=made,
        used=used,
        available=available,
        edge=edge,
        by_colour=coloured,
        wrought=strokes,
        origin=_origin(hand),
    )
    below = Below(
        edge,
        carried=hand.carried,
        carried_counts=hand.carried_counts,
        underside=hand.underside,
        turned=hand.turn_at_end,
        moved=hand.moved,
        colour=colour_now,
        closed=hand.kind is Kind.ROUND,
    )
    return Outcome(
        sized,
        below,
        fits=not hand.misfits and not left and "unread" not in {q for q, _ in hand.asked},
        misfits=tuple(hand.misfits),
        doubts=tuple(hand.doubts),
        notes=tuple(hand.notes),
        asked=tuple(hand.asked.items()),
        entered=hand.chains_entered,
        fixed=hand.fixed,
        left=edge_of(hand.node) if hand.unworked and hand.node is not OPEN else (),
    )


def _origin(hand: Hand) -> Origin:
    older = hand.older
    hint = hand.join_hint, hand.join_chain
    free, left = older.get(FREE), older.get(LEFT)
    return Origin(
        hand.setting, dict(hand.asked), hand.size, hand.kind, hand.steps, hand.below, older, free, left, hint,
        hand.at_left,
    )  # fmt: skip


def _only_closes(hand: Hand) -> bool:
    """As in "Sl st in next st. Fasten off.": no round of its own, the round below stays as it was."""
    if hand.made() > 2 or hand.node is OPEN or not hand.node.stitches:
        return False
    return all(type(item) is Cells and item.name == "sl st" for item in hand.out)


def _nothing_made(hand: Hand) -> Outcome:
    """A foundation chain, a ring, or a line that only turns, joins or cuts."""
    below = hand.below
    strokes = tuple(hand.strokes)
    asked = tuple(hand.asked.items())
    if hand.foundation or hand.closed_chain:
        number = hand.foundation or hand.available
        below = Below(chain=number, chain_counts=hand.hook_counts, ring=hand.ring, colour=hand.colour)
        edge = (Cells(CHAIN, number),)
        sized = SizedRound(
            number, (("ch", number),), tally(strokes), 0, 0, edge, wrought=strokes, origin=_origin(hand)
        )
        return Outcome(sized, below, fits=True, asked=asked)
    if hand.ring and not below.chain:
        below = below._replace(ring=True, known=True, edge=())
    elif hand.ring:
        below = below._replace(ring=True)
    if hand.carried:
        below = below._replace(carried=hand.carried, carried_counts=hand.carried_counts)
    if hand.turn_at_end is not None:
        below = below._replace(turned=hand.turn_at_end)
    moves = None
    if strokes:
        moves = SizedRound(0, (), tally(strokes), 0, 0, (), wrought=strokes, origin=_origin(hand))
    return Outcome(moves, below, fits=True, made=False, asked=asked)


def _too_few(hand: Hand) -> None:
    span = hand.lack_span or Span(0, 0)
    more = {}
    if hand.lack_repeat is not None:
        uses, makes, passes = hand.lack_repeat
        more = {"repeat_uses": uses, "repeat_makes": makes, "passes": passes}
    left = -hand.lacking
    hand.misfit(Fault.TOO_FEW, left, span, **more)


def _left_over(hand: Hand) -> bool:
    """Record places of the round below that the line leaves; whether there are any."""
    node = hand.node
    if node is hand.behind:
        return False  # the chain is a piece of its own
    if (
        node is OPEN
        or hand.ends
        or hand.unworked
        or hand.ring
        or any(one.fault in {Fault.REPEAT_MISFIT, Fault.LEFT_OVER} for one in hand.misfits)
    ):
        return False
    stitches = node.stitches - hand.tolerated
    if hand.wants is not None:
        stitches = count_matching(node, match_kind(hand.wants))
    if hand.used_spaces:
        spaces = node.spaces
        if spaces:
            hand.misfit(Fault.LEFT_OVER, spaces, _last_span(hand))
            return True
        if stitches <= 6:  # behind the last space a few stitches are passed in silence
            return False
    if stitches > 0 and (hand.used_stitches or hand.used_spaces):
        hand.misfit(Fault.LEFT_OVER, stitches, _last_span(hand))
        return True
    return False


def _last_span(hand: Hand) -> Span:
    """The last step that makes stitches: what would have to go further."""
    for step in reversed(hand.steps):
        if isinstance(step, (Repeat, Work, Group)):
            return step.span
    return hand.steps[-1].span if hand.steps else Span(0, 0)
