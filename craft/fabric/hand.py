"""The hook at work on one line of one size: where it stands, what it has made, what it could not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any, NamedTuple, TypeAlias

from craft.fabric.edge import END, OPEN, Node, lay, sizes_of
from craft.fabric.model import Edge, EdgeItem, Fault, Misfit, Passes, Stroke, Wrought
from craft.notation.tree import Counting, Kind, Numbers, Place, Span, Step

__all__ = [
    "NOTHING",
    "NO_ROUND_BELOW",
    "Below",
    "CannotCount",
    "Hand",
    "OutOfPlaces",
    "Question",
    "Rest",
    "Setting",
    "pick",
]

Question: TypeAlias = tuple[str, int]
"""What a reading answers: ("chain", 3) does a starting ch 3 count, ("skipped", 3) do the 3 ch skipped
at the start of a first row, ("more", 0) is "N times" N more,
("swap", 0) is "dc 3 in next" 3 places, ("kind", 0) does "each sc" pass other stitches over, ("inner", n) is a
ch-n space entered by "each st" (0 no, 1 once, 2 chain by chain), ("kept", 0) does "each st"
leave what the steps behind it need, ("gap", 0) how many stitches lie from gap to gap."""
VALUES: dict[str, tuple[int, ...]] = {"inner": (0, 1, 2), "gap": (1, 2, 3)}
"""The answers that a question has, where it is no yes or no."""

NO_ROUND_BELOW = "the count of the round below is not known"
STEP_BUDGET = 6_000  # far above any written line; a guard against texts made to run long


class CannotCount(Exception):  # noqa: N818 - it is an answer, not a failure
    """The line cannot be worked out; `why` says so in the trade's words."""

    def __init__(self, why: str, span: Span | None = None) -> None:
        super().__init__(why)
        self.why = why
        self.span = span


class OutOfPlaces(Exception):  # noqa: N818 - ends a partial pass, never leaves the package
    """The last pass of a repeat has reached the end of the round below."""


class Below(NamedTuple):
    """What a line is worked into.

    `edge` as it was made, before any turn. `ring`: takes any number. `chain`: chains of a foundation
    not yet worked into. `carried`: chains made at the end of the row before. `underside`: chains whose
    other side is free. `known`: False where the number of places is not known. `turned`: the row
    before ended with a turn. `moved`: slip
    stitches behind its join. `guessed`: the count comes from the print. `closed`: a round made
    it, not a row.
    """

    edge: Edge = ()
    ring: bool = False
    chain: int = 0
    chain_counts: bool | None = None
    carried: int = 0
    underside: int = 0
    known: bool = True
    carried_counts: bool | None = None
    turned: bool | None = None
    moved: Place | None = None
    guessed: bool = False
    colour: str = ""
    closed: bool = False


NOTHING = Below(known=False)


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for all lines of a section. `rules`: chain length -> counts (0: all turning chains);
    `hints`: the same, as the places named in the lines show it. `stands_for`: what a chain of that
    length counts as, where the pattern has said it once for all.
    """

    rules: Mapping[int, bool] = field(default_factory=dict)
    hints: Mapping[int, bool] = field(default_factory=dict)
    joined: bool | None = None
    stands_for: Mapping[int, tuple[tuple[str, int], ...]] = field(default_factory=dict)


Rest: TypeAlias = "tuple[Sequence[Step], int, Rest | None] | None"
"""The steps of which one is being worked, its index, and the same for the steps around them."""


_SAVED = (
    "node", "lacking", "lack_span", "lack_repeat", "used_stitches", "used_spaces", "wants",
    "at_place", "standing", "standing_at", "start", "spare", "tolerated", "underside", "available",
    "closing", "colour", "spike", "chains_entered", "floating", "rest", "fresh_chain", "skipped",
    "just_skipped", "hook_chain", "joined", "ends", "unworked",
)  # fmt: skip


_saved = attrgetter(*_SAVED)


class Hand:
    """Mutable state while one line is worked. Nothing outside the package sees it."""

    __slots__ = (
        "answers",
        "asked",
        "at_left",
        "at_place",
        "available",
        "behind",
        "below",
        "beyond",
        "budget",
        "carried",
        "carried_counts",
        "chains_entered",
        "closed_chain",
        "closing",
        "colour",
        "counting",
        "cut",
        "cut_state",
        "depth",
        "doubts",
        "ends",
        "fixed",
        "floating",
        "foundation",
        "free_loops",
        "fresh_chain",
        "hook_chain",
        "hook_counts",
        "in_place",
        "in_the_air",
        "join_chain",
        "join_hint",
        "joined",
        "just_skipped",
        "kind",
        "lack_repeat",
        "lack_span",
        "lacking",
        "limit",
        "misfits",
        "moved",
        "node",
        "notes",
        "older",
        "on_foundation",
        "out",
        "recoloured",
        "rest",
        "ring",
        "setting",
        "size",
        "skipped",
        "spare",
        "spike",
        "standing",
        "standing_at",
        "start",
        "steps",
        "strokes",
        "tolerated",
        "turn_at_end",
        "underside",
        "unworked",
        "used_spaces",
        "used_stitches",
        "wants",
    )

    def __init__(  # noqa: PLR0915 - the state of one line has these parts
        self,
        setting: Setting,
        answers: Mapping[Question, int],
        size: int,
        kind: Kind,
        below: Below,
        node: Node,
        steps: Sequence[Step],
    ) -> None:
        self.steps = steps
        self.setting = setting
        self.answers = answers
        self.asked: dict[Question, int] = {}
        self.size = size
        self.kind = kind
        self.below = below
        self.node = node
        self.available = node.stitches
        self.out: list[EdgeItem] = []
        self.strokes: list[Stroke | Passes] = []
        self.start = True  # nothing made yet
        self.standing = False  # the hook stands in a place that a slip stitch took and nothing else has
        self.standing_at: Node | None = None  # the same with that place in front
        self.at_place = False  # some place has been worked into
        self.in_the_air = False  # it is not known what lies below
        self.in_place = 0  # inside a group worked into one place
        self.rest: Rest = None
        self.fixed = True  # all numbers stand in the line itself; none comes from the round below
        self.misfits: list[Misfit] = []
        self.doubts: list[str] = []
        self.notes: list[str] = []
        self.used_stitches = self.used_spaces = False
        self.wants: str | None = None  # kind of stitch that the line goes by, passing others over
        self.tolerated = 0  # stitches that may stay unworked (slipped over, an end chain)
        self.spare = 0  # places that may be used once more (an end chain)
        self.floating: tuple[str, int] | None = None  # takes what an unplaced landmark leaves
        self.underside = below.underside
        self.carried = 0
        self.carried_counts: bool | None = None
        self.hook_chain = 0  # chains just made that the next stitch works back along
        self.hook_counts: bool | None = None
        self.foundation = 0
        self.beyond = False  # the line goes on along another piece
        self.on_foundation = False  # the line itself works along the foundation chain
        self.behind: Node | None = None  # what lies behind a chain worked back along at the start
        self.ring = below.ring
        self.closed_chain = False
        self.joined = False
        self.moved: Place | None = None  # where slip stitches behind the join bring the hook
        self.join_hint: bool | None = None
        self.join_chain = 0  # the chain of the starting chain that the round is joined to, if told
        self.turn_at_end: bool | None = None
        self.unworked = False
        self.ends = False
        self.closing: EdgeItem | None = None
        self.spike = 0
        self.skipped = 0  # places passed over and not taken up yet
        self.just_skipped = False
        self.chains_entered = 0
        self.cut = False
        self.cut_state: tuple[Node, Edge, Wrought] | None = None
        self.depth = 0
        self.lacking = 0
        self.lack_span: Span | None = None
        self.lack_repeat: tuple[int, int, int] | None = None
        self.limit = 0
        self.colour = below.colour
        self.recoloured = False
        self.counting = next((step for step in steps if type(step) is Counting), None)
        self.free_loops = ""
        self.fresh_chain = False  # only a starting chain that counts has been made
        self.budget = STEP_BUDGET
        self.older: Mapping[int, Edge] = {}
        self.at_left = False  # the line begins on stitches left unworked before

    # ------------------------------------------------------------------------------ readings

    def ask(self, question: Question, default: int) -> int:
        """The section's answer to a question that the text leaves open."""
        answer = self.answers.get(question, default)
        self.asked[question] = answer
        return answer

    def doubt(self, why: str) -> None:
        if why not in self.doubts:
            self.doubts.append(why)

    def note(self, reading: str) -> None:
        if reading not in self.notes:
            self.notes.append(reading)

    def misfit(self, fault: Fault, left: int, span: Span, **more: int) -> None:
        """Record that the line and the round below do not fit; `left` below zero is short."""
        sure = not (self.doubts or self.below.guessed or self.node is OPEN or self.used_spaces)
        self.misfits.append(
            Misfit(fault, self.size, self.available, self.available - left, left, span, sure=sure, **more)
        )

    def lack(self, number: int, span: Span) -> None:
        """The line asks for `number` places more than the round below has."""
        self.lacking += number
        self.lack_span = self.lack_span or span

    def save(self) -> tuple[Any, ...]:
        """The state that a trial pass may change; what has been laid is kept apart."""
        return (len(self.misfits), len(self.doubts), *_saved(self))

    def restore(self, saved: tuple[Any, ...]) -> None:
        misfits, doubts, *values = saved
        for name, value in zip(_SAVED, values, strict=True):
            setattr(self, name, value)
        del self.misfits[misfits:]
        del self.doubts[doubts:]

    def spend(self) -> None:
        self.budget -= 1
        if self.budget < 0:
            raise CannotCount("the line is too long to follow")

    # ------------------------------------------------------------------------------ watching

    def onto(self, what: str, number: int = 0, start: int = 0) -> None:
        """The hook goes on along another edge than that of the round below: told for the stitch graph."""

    def wrapped(self, places: int) -> None:
        """So many places that the hook has passed are met again at the end of the round: the same."""

    # ------------------------------------------------------------------------------ making

    def made(self) -> int:
        """Stitches made so far in this line."""
        return sum(sizes_of(item)[0] for item in self.out)

    def lay(self, item: EdgeItem) -> None:
        lay(self.out, item)

    def stroke(self, name: str, uses: int, makes: int, count: int) -> None:
        if count > 0:
            strokes = self.strokes
            if strokes:
                last = strokes[-1]
                if last[0] == name and last[1:3] == (uses, makes):
                    strokes[-1] = Stroke(name, uses, makes, last[3] + count)
                    return
            strokes.append(Stroke(name, uses, makes, count))

    @property
    def short(self) -> bool:
        return self.node is END


def pick(numbers: Numbers, size: int) -> int | None:
    """The number of one size; None where that size leaves the step out.

    Raises CannotCount where the list is shorter than the sizes.
    """
    if len(numbers) == 1:
        return numbers[0]
    if size < len(numbers):
        return numbers[size]
    raise CannotCount(f"the list has {len(numbers)} numbers, fewer than there are sizes")
