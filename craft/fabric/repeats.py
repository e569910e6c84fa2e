"""Repeats: so many passes, to the end, to the last n, with a stop or an ending of their own.

A pass is worked once; where the edge below goes on as it was, the rest is arithmetic.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from craft.fabric.demand import Demand, demand_after, demand_of
from craft.fabric.edge import END, OPEN, Node, after_passes, block, lay, lay_all, sizes_of, steps_between
from craft.fabric.hand import NO_ROUND_BELOW, CannotCount, Hand, OutOfPlaces, pick
from craft.fabric.landmarks import places, places_before
from craft.fabric.model import Edge, EdgeItem, Fault, Passes, Stroke, Wrought
from craft.fabric.using import go_to_other_side
from craft.fabric.walk import run, run_inline
from craft.notation.tree import Group, Kind, Repeat, Step, Work

__all__ = ["work_repeat"]

MANY = 1 << 60


class Made(NamedTuple):
    """What passes of a repeat left: (items, strokes, times), equal neighbours joined."""

    items: tuple[EdgeItem, ...]
    strokes: tuple[Stroke | Passes, ...]
    times: int


class Goal(NamedTuple):
    """How far a repeat goes: what it leaves below, and the steps of its cut last pass or its ending."""

    limit: Demand
    tail: Sequence[Step] = ()
    leaves: int = 0  # stitches that the cut pass would have passed over


def work_repeat(hand: Hand, step: Repeat) -> None:
    if not step.steps:
        return
    times = step.times
    if times.number is not None:
        number = pick(times.number, hand.size)
        if number is not None:
            _so_many(hand, step, _in_all(hand, step, number))
        return
    if hand.in_place:
        raise CannotCount("a repeat to the end cannot go into one place", step.span)
    if hand.node is OPEN:
        raise CannotCount(
            "a ring has no number of stitches" if hand.ring else NO_ROUND_BELOW,
            step.span,
        )
    hand.fixed = False
    _to_goal(hand, step)


def _in_all(hand: Hand, step: Repeat, number: int) -> int:
    times = step.times
    more = times.more
    if more is None:
        more = bool(hand.ask(("more", 0), 1 if step.fence in {"*", "**", "words", "none"} else 0))
    return number + 1 if more else number


# -------------------------------------------------------------------------- so many passes


def _so_many(hand: Hand, step: Repeat, number: int) -> None:
    made: list[Made] = []
    lacking, at = hand.lacking, hand.node
    full = number
    if step.stop is not None and not step.partial and number > 0:
        full = number - 1
    tail = _tail_of_many(hand, step, full)
    if tail and tail[0] == "cut":
        full -= 1
    _passes(hand, step.steps, full, made)
    if step.stop is not None:
        _passes(hand, step.steps[: step.stop], step.partial or (1 if number > 0 else 0), made)
    if hand.lacking > lacking and hand.lack_repeat is None and made:
        hand.lack_repeat = _pass_sizes(made[0], at, full)
    _lay_made(hand, made)
    if tail:
        run_inline(hand, tail[1])


def _tail_of_many(hand: Hand, step: Repeat, number: int) -> tuple[str, Sequence[Step]] | None:
    """The ending of a counted repeat: behind the last pass, or in place of its last steps."""
    if not step.ending:
        return None
    each, end = demand_of(hand, step.steps), demand_of(hand, step.ending)
    left = hand.node.stitches - each.stitches * number
    if number and end.stitches and left < end.stitches and hand.node is not OPEN:
        for cut in range(len(step.steps) - 1, -1, -1):
            kept = demand_of(hand, step.steps[:cut])
            if kept.stitches + end.stitches == each.stitches + max(left, 0):
                return "cut", (*step.steps[:cut], *step.ending)
    return "behind", step.ending


def _pass_sizes(made: Made, before: Node, times: int) -> tuple[int, int, int]:
    """(uses, makes, passes) of the repeat at fault, for the finding."""
    uses = sum(stroke[1] * stroke[3] for stroke in made.strokes if isinstance(stroke, Stroke))
    return uses, sum(sizes_of(item)[0] for item in made.items), times


def _passes(hand: Hand, steps: Sequence[Step], number: int, made: list[Made]) -> None:
    """Work `number` passes, the repeating ones by arithmetic."""
    done = 0
    while done < number:
        before, lacking, colour = hand.node, hand.lacking, hand.colour
        entered = hand.chains_entered
        _one_pass(hand, steps, 1, made)
        done += 1
        if done == number or hand.colour != colour:
            continue
        more = number - done
        if hand.node is not before:
            found = steps_between(before, hand.node)
            if found is None:
                continue
            more = min(more, found[1])
            if more <= 0:
                continue
            hand.node = after_passes(hand.node, before, more)
        hand.lacking += more * (hand.lacking - lacking)
        hand.chains_entered += more * (hand.chains_entered - entered)
        made[-1] = made[-1]._replace(times=made[-1].times + more)
        done += more


def _one_pass(hand: Hand, steps: Sequence[Step], times: int, made: list[Made]) -> None:
    out, strokes = hand.out, hand.strokes
    hand.out, hand.strokes = [], []
    hand.depth += 1
    try:
        run(hand, steps)
        _add(made, Made(tuple(hand.out), tuple(hand.strokes), times))
    finally:
        hand.out, hand.strokes = out, strokes
        hand.depth -= 1


def _add(made: list[Made], new: Made) -> None:
    if made and made[-1][:2] == new[:2]:
        made[-1] = made[-1]._replace(times=made[-1].times + new.times)
    else:
        made.append(new)


def _lay_made(hand: Hand, made: list[Made]) -> None:
    for items, strokes, times in made:
        if times == 1:
            lay_all(hand.out, items)
            hand.strokes.extend(strokes)
            continue
        if items:
            lay(hand.out, block(items, times))
        if len(strokes) == 1 and isinstance(strokes[0], Stroke):
            only = strokes[0]
            hand.stroke(only.name, only.uses, only.makes, only.count * times)
        elif strokes:
            hand.strokes.append(Passes(strokes, times))


# ------------------------------------------------------------------------------ to the end


def _to_goal(hand: Hand, step: Repeat) -> None:
    """Try the ends that the words allow; the first that uses the round below exactly is taken."""
    if not hand.node.stitches and not hand.node.spaces and hand.underside:
        go_to_other_side(hand)
    if hand.standing and hand.standing_at is not None:
        hand.node, hand.standing = hand.standing_at, False  # the place of the join is worked as well
    goals = _goals(hand, step)
    first: tuple[object, ...] | None = None
    for number, goal in enumerate(goals):
        kept = hand.save()
        exact = _fill(hand, step, goal, last=number == len(goals) - 1 and first is None)
        if exact:
            return
        if len(goals) == 1:
            return
        if first is None:
            first = kept
        hand.restore(kept)
    _fill(hand, step, goals[0], last=True)


def _goals(hand: Hand, step: Repeat) -> list[Goal]:
    times = step.times
    after = demand_after(hand)
    limits = [after]
    if times.until_left is not None:
        keep = pick(times.until_left, hand.size) or 0
        # "to last 3" may mean stitches, spaces, or what the steps behind it need
        limits = [Demand(keep, after.spaces)]
        if hand.node.spaces:
            limits.append(Demand(after.stitches, keep))
        if after.whole and any(after[:2]) and all(after[:2] != one[:2] for one in limits):
            limits.append(after)
    elif times.until_what is not None:
        before = places_before(hand.node, times.until_what, places(0), hand.below.edge)
        if before is None:
            raise CannotCount(f"where the {times.until_what} lies is not known", step.span)
        limits = [Demand(hand.node.stitches - before, 0)]
    if step.ending:
        tails = [step.ending] + [
            (*step.steps[:cut], *step.ending) for cut in range(len(step.steps) - 1, 0, -1)
        ]
        return [Goal(limit, tail) for limit in limits for tail in tails[:8]]
    if step.stop is not None:
        return _goals_with_stop(hand, step, limits)
    return [Goal(limit) for limit in limits]


def _goals_with_stop(hand: Hand, step: Repeat, limits: list[Demand]) -> list[Goal]:
    """The last pass ends at the stop; places that the rest of it would only pass over may stay."""
    tail, rest = step.steps[: step.stop], step.steps[step.stop :]
    goals = [Goal(limit, tail) for limit in limits]
    if not any(isinstance(one, (Work, Group, Repeat)) for one in rest):
        passed = demand_of(hand, rest)
        goals += [
            Goal(
                Demand(limit.stitches + passed.stitches, limit.spaces + passed.spaces), tail, passed.stitches
            )
            for limit in limits
        ]
    return [*goals, *(Goal(limit) for limit in limits)]


def _fill(hand: Hand, step: Repeat, goal: Goal, *, last: bool) -> bool:
    """Work passes until the goal is left; -> whether it is met exactly.

    `last`: no other goal is tried, so what remains is worked as far as it goes and the misfit is kept.
    """
    tail = demand_of(hand, goal.tail) if goal.tail else Demand()
    stitches, spaces = goal.limit.stitches + tail.stitches, goal.limit.spaces + tail.spaces
    flags = hand.used_stitches, hand.used_spaces
    hand.used_stitches = hand.used_spaces = False
    made: list[Made] = []
    start = hand.node.stitches
    _run_out(hand, step, stitches, spaces, made)
    over_stitches = hand.node.stitches - stitches if hand.used_stitches else 0
    over_spaces = hand.node.spaces - spaces if hand.used_spaces else 0
    if not hand.used_stitches and not hand.used_spaces:
        over_stitches, over_spaces = hand.node.stitches - stitches, 0
    over = over_stitches - hand.tolerated if over_stitches > 0 else over_stitches
    if 0 < over <= _passed_in_silence(start - hand.node.stitches, made):
        hand.tolerated += over  # as many as each pass leaves on its way lie in front of the first place
        over = 0
    exact = over <= 0 and (over_stitches >= 0 or not hand.used_stitches) and over_spaces == 0
    if not exact and last:
        _partial(hand, step, stitches, over_stitches or over_spaces, made)
    hand.used_stitches |= flags[0]
    hand.used_spaces |= flags[1]
    if exact or last:
        _lay_made(hand, made)
        run_inline(hand, goal.tail)
        hand.tolerated += goal.leaves
    return exact


def _passed_in_silence(consumed: int, made: Sequence[Made]) -> int:
    """Stitches that each pass went over without a word on its way to a place of the kind named."""
    passes = sum(one.times for one in made)
    if not passes or any(isinstance(stroke, Passes) for one in made for stroke in one.strokes):
        return 0
    single = [(one.times, stroke) for one in made for stroke in one.strokes if not isinstance(stroke, Passes)]
    named = sum(times * stroke[1] * stroke[3] for times, stroke in single)
    return max(-(-(consumed - named) // passes), 0)  # the first may have begun at such a place


def _run_out(hand: Hand, step: Repeat, stitches: int, spaces: int, made: list[Made]) -> None:
    """Whole passes while the round below has more than `stitches` and `spaces` left."""
    first = True
    while first or _left(hand, stitches, spaces):
        if first and hand.node.stitches <= stitches and hand.node.spaces <= spaces:
            return
        kept = hand.save()
        before = hand.node
        lacking, colour, misfits = hand.lacking, hand.colour, len(hand.misfits)
        count = len(made)
        times = made[-1].times if made else 0
        _one_pass(hand, step.steps, 1, made)
        went_over = hand.used_stitches and hand.node.stitches < stitches
        went_over |= hand.used_spaces and not hand.used_stitches and hand.node.spaces < spaces
        if hand.lacking > lacking or went_over or _new_misfits(hand, misfits):
            hand.restore(kept)
            if len(made) > count:
                made.pop()
            else:
                made[-1] = made[-1]._replace(times=times)
            return
        if hand.node is before:
            raise CannotCount("the repeat uses no stitch of the round below", step.span)
        first = False
        if hand.colour == colour:
            _leap(hand, before, stitches, spaces, made)


def _new_misfits(hand: Hand, known: int) -> bool:
    """Whether a pass has gone wrong; a place of another kind than named does not end the repeat."""
    return any(one.fault is not Fault.MISSING_PLACE for one in hand.misfits[known:])


def _left(hand: Hand, stitches: int, spaces: int) -> bool:
    return (hand.used_stitches and hand.node.stitches > stitches) or (
        hand.used_spaces and hand.node.spaces > spaces
    )


def _leap(hand: Hand, before: Node, stitches: int, spaces: int, made: list[Made]) -> None:
    """All further passes of the same kind at once."""
    after = hand.node
    if after is END:
        return
    found = steps_between(before, after)
    if found is None:
        return
    more = found[1]
    each = before.stitches - after.stitches
    if each and (hand.used_stitches or not hand.used_spaces):
        more = min(more, max(after.stitches - stitches, 0) // each)
    each = before.spaces - after.spaces
    if each and hand.used_spaces:
        more = min(more, max(after.spaces - spaces, 0) // each)
    if more > 0:
        hand.node = after_passes(after, before, more)
        made[-1] = made[-1]._replace(times=made[-1].times + more)


def _partial(hand: Hand, step: Repeat, stitches: int, over: int, made: list[Made]) -> None:
    """The last pass as far as the round below goes; the misfit is recorded."""
    at, passes = hand.node, sum(one.times for one in made)
    uses, makes, _ = _pass_sizes(made[0], at, passes) if made else (0, 0, 0)
    if not made:
        needs = demand_of(hand, step.steps)
        uses = needs.stitches if needs.whole else 0
    count = len(hand.misfits)
    # a round that is a whole number of repeats closes in the middle of one when it began in the middle of one
    closes = bool(uses) and not hand.depth and hand.available % uses == 0 and hand.kind is Kind.ROUND
    if not closes:
        hand.misfit(Fault.REPEAT_MISFIT, over, step.span, repeat_uses=uses, repeat_makes=makes, passes=passes)
        count += 1
    if over <= 0:
        return
    kept, rest = hand.save(), hand.rest
    out, strokes = hand.out, hand.strokes
    hand.out, hand.strokes = [], []
    hand.cut, hand.limit = True, stitches
    hand.cut_state = None
    hand.depth += 1
    try:
        run(hand, step.steps)
    except OutOfPlaces:
        pass
    finally:
        hand.out, hand.strokes = out, strokes
        hand.cut, hand.limit = False, 0
        hand.depth -= 1
    del hand.misfits[count:]
    reached = _reached(hand)
    if reached is None:
        hand.restore(kept)
    else:
        hand.node = reached[0]
        made.append(Made(reached[1], reached[2], 1))
        hand.rest = rest
    if closes:
        hand.tolerated = max(hand.tolerated, hand.node.stitches)


def _reached(hand: Hand) -> tuple[Node, Edge, Wrought] | None:
    """Where the last stitch of a partial pass left the hook, and what it had made by then."""
    return hand.cut_state
