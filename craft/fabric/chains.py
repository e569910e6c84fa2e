"""Chains: foundations, starting and turning chains, spaces, bridges, and chains worked back along."""

from __future__ import annotations

from craft.fabric.edge import CHAIN, END, OPEN, SPACE, TURNING, Node, take
from craft.fabric.hand import Hand, pick
from craft.fabric.kinds import family, height_in_chains, is_space
from craft.fabric.model import Cells
from craft.fabric.places import claim
from craft.fabric.walk import ahead, first_stitch_ahead, hooks_back, next_making, nothing_follows
from craft.notation.tree import (
    Chain,
    Group,
    How,
    Join,
    Kind,
    OnlySizes,
    Place,
    Repeat,
    Ring,
    Skip,
    Step,
    Stitch,
    Work,
)

__all__ = ["chain", "hook_work", "ring", "start_carried", "starting_chain_in_group"]

BY_LENGTH = {1: "sc", 2: "hdc", 3: "dc", 4: "tr", 5: "dtr", 6: "trtr", 7: "quadtr"}


def chain(hand: Hand, step: Chain) -> None:
    number = pick(step.number, hand.size)
    if not number:
        return
    hand.stroke(CHAIN, 0, 0, number)
    if hand.in_place:
        _in_place(hand, step, number)
        return
    following = next_making(hand)
    if hooks_back(following) and number >= _hook_ordinal(following):
        hand.hook_chain = number
        hand.hook_counts = step.counts
    elif hand.start and not hand.out and not hand.depth:
        _at_start(hand, step, number)
    elif step.counts is False:
        return
    elif nothing_follows(hand) and (hand.joined or hand.kind is Kind.ROW):
        hand.carried = number
        hand.carried_counts = step.counts
    else:
        hand.lay(Cells(SPACE, 1, number))


def _hook_ordinal(step: Step | None) -> int:
    """From which chain of the hook a step begins; a shorter chain in front of it is a turning chain."""
    if isinstance(step, (Work, Skip, Group)):
        return step.place.ordinal or 2
    if isinstance(step, Repeat) and step.steps:
        return _hook_ordinal(step.steps[0])
    return 2


def _in_place(hand: Hand, step: Chain, number: int) -> None:
    if hand.start and not hand.out:
        _start(hand, step, number, takes_place=False)
    elif step.counts is not False:
        hand.lay(Cells(SPACE, 1, number))


def _at_start(hand: Hand, step: Chain, number: int) -> None:
    following = next_making(hand)
    fresh = not hand.below.known and not hand.below.ring and not hand.below.chain and hand.node is OPEN
    if following is None and (hand.below.known or hand.below.chain) and hand.depth == 0:
        _alone(hand, step, number)
        return
    if fresh and not hand.standing and not hand.ring:
        if following is None:
            hand.foundation = number
            hand.hook_counts = step.counts
            hand.node = Node(Cells(CHAIN, number), END)
            return
        if isinstance(following, Ring) or any(isinstance(one, Join) for one in _before_making(hand)):
            hand.node = Node(Cells(CHAIN, number), END)
            hand.onto("closed chain", number)
            hand.available = number
            hand.ring = hand.closed_chain = True
            return
    _start(hand, step, number, takes_place=True)


def _alone(hand: Hand, step: Chain, number: int) -> None:
    """A chain that is all of a line: a new foundation if it is long, else the next row's turning chain."""
    if number >= 6:
        hand.foundation = number
        hand.hook_counts = step.counts
    else:
        hand.carried = number
        hand.carried_counts = step.counts


def _before_making(hand: Hand) -> list[object]:
    """The steps between this one and the next that makes something."""
    found: list[object] = []
    for step in ahead(hand):
        if isinstance(step, (Work, Group, Chain, Repeat, Skip, OnlySizes)):
            break
        found.append(step)
    return found


def start_carried(hand: Hand, number: int, counts: bool | None) -> None:
    """A turning chain written at the end of the row before."""
    hand.rest = (hand.steps, -1, None)
    if hooks_back(next_making(hand)):
        hand.hook_chain = number
        hand.hook_counts = counts
    elif not isinstance(next_making(hand), Chain):
        _start(hand, Chain((number,), hand.steps[0].span, counts), number, takes_place=True)
    hand.rest = None


# ------------------------------------------------------------------------- starting chains


def _start(hand: Hand, step: Chain, number: int, *, takes_place: bool) -> None:
    """A starting or turning chain: a stitch, a loop, or nothing."""
    if takes_place and _slips_follow(hand):
        return  # "ch 1, sl st in first 4 sts, ...": the stitches slipped over are taken off
    found = first_stitch_ahead(list(ahead(hand)))
    stitch, place = found if found is not None else (None, None)
    if takes_place and (_is_loop(hand, step, number, stitch, place) or _is_bridge(hand, step, number)):
        hand.lay(Cells(SPACE, 1, number))
        hand.start = False
        return
    if hand.counting is not None and any(name.endswith("tog") for name, _ in hand.counting.counts_as):
        if takes_place:
            _take_first(hand)  # "ch 2, dc in next st (counts as dc2tog)": both are one stitch
        return
    if not settle(hand, number, step, stitch):
        return
    name, extra, times = _stands_for(hand, step, number, stitch)
    uses = _take_first(hand) if takes_place else 0
    hand.stroke(TURNING, uses, 1, times)
    hand.lay(Cells(name, times, number - extra, TURNING))
    if extra:
        hand.lay(Cells(SPACE, 1, extra))
    hand.start = False
    hand.fresh_chain = True


def _slips_follow(hand: Hand) -> bool:
    """Whether a row slips over two stitches or more right behind the chain."""
    following = next_making(hand)
    if hand.kind is not Kind.ROW or not isinstance(following, Work) or following.stitch.name != "sl st":
        return False
    number = following.place.number
    return number is not None and max((n for n in number if n is not None), default=0) >= 2


def _is_loop(hand: Hand, step: Chain, number: int, stitch: Stitch | None, place: Place | None) -> bool:
    """Whether the chain is the first loop of a round of loops: "ch 5, sc in next ch-5 sp"."""
    if step.counts is not None or step.counts_as or number < 3 or hand.counting is not None:
        return False
    if stitch is None or place is None or family(stitch.name) not in {"sc", "sl st"}:
        return False
    return number >= 5 or is_space(place.what)


def _is_bridge(hand: Hand, step: Chain, number: int) -> bool:
    """As in "Ch 3, skip next 3 sts, sc in next": a chain over stitches passed over, below short stitches."""
    if step.counts is not None or step.counts_as or hand.counting is not None or number < 2:
        return False
    following = next_making(hand)
    if (
        not isinstance(following, Skip)
        or following.place.how is not How.NEXT
        or is_space(following.place.what)
    ):
        return False
    skipped = pick(following.place.number or (1,), hand.size) or 0
    found = first_stitch_ahead(list(ahead(hand)))
    return skipped >= 2 and found is not None and family(found[0].name) in {"sc", "sl st"}


def _take_first(hand: Hand) -> int:
    """The chain stands on the first place of the round; 0 where a slip stitch has taken it."""
    hand.at_place = True
    if hand.standing:
        hand.standing = False
        return 0
    if hand.node is OPEN:
        return 0
    hand.used_stitches = True
    hand.node, _ = take(hand.node, 1)
    return 1


def settle(  # noqa: PLR0911 - a list of cases
    hand: Hand, number: int, step: Chain | None, stitch: Stitch | None, *, asks: str = "chain"
) -> bool:
    """Whether a starting chain counts as a stitch: what the line says, what the pattern says, then
    the section's reading. Ch 1 never does unless the pattern says so. `asks`: "skipped" for the chains
    skipped at the foundation, which may be otherwise than turning chains.
    """
    if step is not None and (step.counts is not None or step.counts_as):
        return bool(step.counts_as) if step.counts is None else step.counts
    if hand.counting is not None:
        return hand.counting.counts
    rules = hand.setting.rules
    height = height_in_chains(stitch.name) if stitch is not None else 3
    if number in rules:
        if hand.join_hint is not None and hand.join_hint is not rules[number]:
            return bool(hand.ask(("chain", number), int(rules[number])))  # the rule and the join disagree
        return rules[number]
    if number <= 1:
        return False
    if number > height > 1 and height in rules:
        return rules[height]
    if 0 in rules:
        return rules[0]
    return bool(hand.ask((asks, number), int(_usual(hand, number, height, stitch))))


def _usual(hand: Hand, number: int, height: int, stitch: Stitch | None) -> bool:
    """What the places named elsewhere show, else common practice: three chains and more count where
    they are as tall as the stitch (CGOA lessons; half doubles are unsettled).
    """
    if hand.join_hint is not None:
        return hand.join_hint
    hints = hand.setting.hints
    hint = hints.get(number, hints.get(0))
    if hint is not None:
        return hint
    return number >= 3 and number >= height


def _stands_for(hand: Hand, step: Chain, number: int, stitch: Stitch | None) -> tuple[str, int, int]:  # noqa: PLR0911 - a list of cases
    """(stitch name, chains that remain as a space, how many stitches)."""
    counts_as = step.counts_as or (hand.counting.counts_as if hand.counting is not None else ())
    if not counts_as and step.counts is None and number in hand.setting.rules:
        counts_as = hand.setting.stands_for.get(number, ())
    if counts_as:
        name = next((what for what, _ in counts_as if not is_space(what)), "dc")
        times = next((many for what, many in step.counts_as if not is_space(what)), 1)
        extra = sum(many for what, many in counts_as if is_space(what))
        return name, extra, max(times, 1)
    name = family(stitch.name) if stitch is not None else ""
    height = height_in_chains(name) if name else 0
    if 1 < number < height and number in BY_LENGTH and number in hand.setting.rules:
        return BY_LENGTH[number], 0, 1
    if name in {"sc", "sl st", ""} or name not in BY_LENGTH.values():
        return BY_LENGTH.get(number, "dc"), 0, 1
    if hand.join_chain and hand.join_chain < number:
        return BY_LENGTH.get(hand.join_chain, name), number - hand.join_chain, 1
    if number > height >= 3:
        return name, number - height, 1
    if number > height and height == 2 and number > 3:
        return name, number - height, 1
    return name, 0, 1


def starting_chain_in_group(hand: Hand, step: Group) -> int:
    """As in "(Ch 3, 2 dc, ch 2, 3 dc) in first sp" at the start of a round; -> 1, or 0 for another group."""
    if not hand.start or hand.out or not step.steps or not isinstance(step.steps[0], Chain):
        return 0
    return max(claim(hand, step.place), 1)


# --------------------------------------------------------------------- foundations and rings


def hook_work(hand: Hand, place: Place, stitch: Stitch, each: int) -> int:
    """As in "In 2nd ch from hook": work into a chain just made, the chains before that one skipped."""
    ordinal = place.ordinal or 2
    inner = hand.hook_chain and (bool(hand.out) or hand.below.known)
    number = hand.hook_chain or hand.below.chain or hand.foundation
    hand.at_place = hand.used_stitches = True
    hand.on_foundation = True
    if not number:
        hand.node = OPEN
        hand.doubt("the length of the foundation chain is not known")
        return 1
    skipped = ordinal - 1
    if number < ordinal:
        hand.available = number
        hand.lack(ordinal - number, place.span)
    counts = not hand.out and _skipped_chains_count(hand, skipped, stitch)
    behind = hand.node if inner else END
    hand.behind = behind if inner and not hand.out else None
    left = max(number - ordinal, 0)
    hand.node = Node(Cells(CHAIN, left), behind) if left else behind
    hand.onto("row below from the chain" if inner else "chain", number, skipped)
    if stitch.uses > 1:
        hand.node, _ = take(hand.node, stitch.uses - 1)
    if inner:
        hand.available += left + 1
    else:
        hand.available = left + 1 + counts
        hand.underside = max(number - skipped, 0)
    hand.hook_chain = 0
    return 1


def _skipped_chains_count(hand: Hand, skipped: int, stitch: Stitch) -> bool:
    """As in "Dc in 4th ch from hook": the three skipped chains usually stand for a dc."""
    said = hand.hook_counts if hand.hook_counts is not None else hand.below.chain_counts
    step = Chain((skipped,), (0, 0), said) if said is not None else None  # type: ignore[arg-type]  # the span is not used
    name = family(stitch.name)
    height = height_in_chains(name)
    if skipped < 2 or (skipped < height and step is None and hand.counting is None):
        return False  # too short to stand for the stitch
    counts = settle(hand, skipped, step, stitch)
    if ("chain", skipped) in hand.asked:  # chains skipped at the start may count where turning chains do not
        counts = bool(hand.ask(("skipped", skipped), int(counts)))
    if not counts:
        return False
    if name not in BY_LENGTH.values() or name == "sc":
        name, height = BY_LENGTH.get(skipped, "dc"), skipped
    extra = (skipped - height + 1) // 2 if skipped - height >= 2 else 0
    hand.stroke(TURNING, 1, 1, 1)
    hand.lay(Cells(name, 1, skipped, TURNING))
    if extra:
        hand.lay(Cells(SPACE, 1, extra))
    return True


def ring(hand: Hand, step: Ring) -> None:
    hand.ring = True
    number = pick(step.chains, hand.size) if step.chains else None
    if number:
        hand.node = Node(Cells(CHAIN, number), END)
        hand.onto("closed chain", number)
        hand.available = number
        hand.closed_chain = True
        hand.stroke(CHAIN, 0, 0, number)
        hand.stroke("sl st", 0, 0, 1)
    elif not hand.closed_chain and not hand.below.chain:
        hand.node = OPEN
