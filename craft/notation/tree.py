"""The draft: a written pattern as a tree in which every node knows its place in the text.

The reader (`craft.notation.read`) builds it, `craft.fabric.work` works it, `craft.notation.write`
turns it back into text. Stitch names are US names whatever the terms of the text; `written` keeps
the maker's own word. Nothing here is computed from the round below: a node says what is written,
not what it comes to. Where the trade's writing allows several readings, the node says so
(`Times.unsaid`, `TurningChain.counts is None`, `Place.how == "bare"`), and the fabric tries them.

Numbers
    A number that may differ by size is a `Numbers` tuple: one value serves all sizes, otherwise one
    value per size in the order of `Draft.sizes`; `None` where a size leaves the step out (a printed
    dash; a printed 0 stays 0).

Spans
    `Span(start, end)` are code points in `Draft.text`, end exclusive. A span may cross line ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple, TypeAlias

Numbers: TypeAlias = tuple[int | None, ...]
ONE: Numbers = (1,)
NONE_KEPT: Numbers = (0,)


class Span(NamedTuple):
    """A half-open stretch of the text, in code points."""

    start: int
    end: int


NOWHERE = Span(0, 0)


# ---------------------------------------------------------------------------------- stitches


@dataclass(frozen=True, slots=True)
class Stitch:
    """What one stitch is: what it uses up of the edge below and what it leaves for the next.

    `name` is the canonical US name ("sc", "hdc", "dc2tog", "fpdc", "bobble", "inc").
    `uses`: places of the edge below that one such stitch takes up.
    `makes`: tops that it leaves for the next round.
    `tally`: what is counted for it, as (US name, how many): an `inc` in sc is (("sc", 2),).
    `body`: for a named group (shell, V-stitch) the steps worked into its one place; `makes` is then
    the sum of the body and spaces in it are places of their own.
    `post`: "front" or "back" for post stitches. `known`: False when the pattern uses a name whose
    width neither the trade nor the pattern defines.
    """

    name: str
    uses: int = 1
    makes: int = 1
    tally: tuple[tuple[str, int], ...] = ()
    body: tuple[Step, ...] = ()
    post: str | None = None
    known: bool = True


# ------------------------------------------------------------------------------------- places


class How(StrEnum):
    """How the text names the places that a stitch is worked into."""

    BARE = "bare"  # "3 sc", "sc 3": one place each, nothing said
    NEXT = "next"  # "in next st", "in next 5 sts", "in each of next 5 sts", "over next 2 sts"
    EACH = "each"  # "in each st around/across/to last 3": all that remain but `keep`
    FIRST = "first"  # "in first st", "in each of first 5 sts"
    LAST = "last"  # "in last st", "in each of last 5 sts"
    SAME = "same"  # "in same st/sp (as join, as last sc)": uses no new place
    RING = "ring"  # into a ring of any kind
    HOOK = "hook"  # "in 2nd ch from hook": `ordinal` is the chain's number
    NAMED = "named"  # a place named by marker, corner, petal...; `what` has the maker's words
    ENDS = "ends"  # row ends, edge, side, "evenly along": count given, places not


class Loops(StrEnum):
    """Which part of the place takes the hook."""

    BOTH = "both"
    FRONT = "front"  # front loop only; the back loop stays free
    BACK = "back"  # back loop only; the front loop stays free
    UNWORKED = "unworked"  # the loops left free in an earlier round (see `Place.round_number`)
    OTHER_SIDE = "other side"  # the underside of the foundation chain
    THIRD = "third"  # the hump behind a half double


@dataclass(frozen=True, slots=True)
class Place:
    """Where the hook goes.

    `number`: how many places ("next 5" -> (5,)); None with EACH means all that remain.
    `keep`: places left at the end ("to last 3 sts" -> (3,)).
    `what`: the kind named: "st" (any), "sc", "dc", "ch", "ch-sp", "sp", "loop", "ring", "shell"...
    `chains`: for a chain space the n of "ch-n sp", for a gap the n of "between n-dc groups", when given.
    `ordinal`: "2nd ch from hook" -> 2; "3rd dc of next shell" -> 3 with `of` = "shell".
    `of`: the group that it is part of; or, with a NAMED or plain place, how it is marked out:
    "skipped" (passed over before: uses no new place), "marked", "center", "corner", "any".
    `below`: 0 = the round just below; 1 = one further down ("st 2 rows below" -> 1 further down is
    2 rows below, so below = 2; plain "in the row below" for a spike -> 1 below that = 1).
    `round_number`: when an older round is named ("front loops of Rnd 3").
    `until`: a landmark where EACH stops: "corner", "marker", "shell", "ch-sp", "ch-3 sp" ("to next ch-3 sp");
    with `keep`, that many places before it ("to 1 st before marker").
    `every`: 1 normally; 2 for "in every other st".
    """

    how: How
    number: Numbers | None = ONE
    keep: Numbers = NONE_KEPT
    what: str = "st"
    chains: int | None = None
    ordinal: int | None = None
    of: str | None = None
    loops: Loops = Loops.BOTH
    below: int = 0
    round_number: int | None = None
    until: str | None = None
    every: int = 1
    span: Span = NOWHERE


# -------------------------------------------------------------------------------------- steps


@dataclass(frozen=True, slots=True)
class Work:
    """Stitches into places: `each` stitches in every place of `place`.

    "2 sc in next st": each=(2,), place NEXT (1,). "sc in next 5": each=(1,), NEXT (5,).
    "3 sc": each=(1,), BARE (3,). "6 sc in ring": each=(6,), RING.
    `inc`, `sc2tog`, a bobble are stitches of their own: "inc x 3" is each=(1,), BARE (3,).
    `ambiguous`: "dc 3 in next" and the like, where number and place may be swapped.
    `also`: further places of one stitch over several: "dc2tog over next dc and next ch-1 sp".
    """

    stitch: Stitch
    each: Numbers
    place: Place
    span: Span
    written: str = ""
    ambiguous: bool = False
    also: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Steps worked into one place: "(3 dc, ch 2, 3 dc) in next ch-2 sp"; with `place.number` > 1
    or EACH the whole group goes into each place.
    """

    steps: tuple[Step, ...]
    place: Place
    span: Span
    name: str | None = None


@dataclass(frozen=True, slots=True)
class Chain:
    """Chains made here. Whether they count, bridge or make a space is for the fabric to settle.

    `counts`: True / False when the line says so ("ch 3 (counts as dc)"), else None.
    `counts_as`: e.g. (("dc", 1), ("ch-sp", 2)) for "counts as dc and ch 2"; chains for "ch-sp".
    """

    number: Numbers
    span: Span
    counts: bool | None = None
    counts_as: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Counting:
    """What a chain counts for, said apart from it: "Dc in 4th ch from hook (skipped 3 ch count as dc)".

    It speaks of the chain skipped at the start of a first row, else of the chain that began the line.
    `counts` and `counts_as` are as in `Chain`.
    """

    counts: bool
    span: Span
    counts_as: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Skip:
    """Places passed over."""

    place: Place
    span: Span


@dataclass(frozen=True, slots=True)
class Join:
    """Join the round: slip stitch into `place` (usually the first stitch or the top of the chain).
    `stitch` is None for plain "join". Uses and makes nothing.
    """

    span: Span
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring to work into: made by a loop of yarn, or by joining a chain (`chains` given)."""

    span: Span
    chains: Numbers | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    span: Span
    turn: bool = True  # False for "do not turn"


@dataclass(frozen=True, slots=True)
class FastenOff:
    span: Span


@dataclass(frozen=True, slots=True)
class Colour:
    """Yarn taken up or changed to: `label` as written ("A", "MC", "white"); `act` is "with",
    "join", "change", "break", "drop", "carry".
    """

    label: str
    act: str
    span: Span


@dataclass(frozen=True, slots=True)
class Marker:
    span: Span
    act: str = "place"  # place, move, remove


@dataclass(frozen=True, slots=True)
class Times:
    """How a repeat ends.

    Exactly one of `number`, `to_end`, `until_left` speaks:
    `number` passes in all when `more` is False, after the first when True, either when None
    (`unsaid`); `to_end`: around / across / to end; `until_left`: "to last 3 sts" keeps (3,) back.
    `until_what`: a landmark instead ("to next corner").
    """

    number: Numbers | None = None
    more: bool | None = False
    to_end: bool = False
    until_left: Numbers | None = None
    until_what: str | None = None

    @property
    def unsaid(self) -> bool:
        """True where "N times" may mean N in all or N more."""
        return self.number is not None and self.more is None


@dataclass(frozen=True, slots=True)
class Repeat:
    """Steps done several times.

    `fence`: "(", "[", "{", "*", "**", "words" (repeat with no mark), "none" (start lost).
    `stop`: index in `steps` before which the last pass ends ("ending last rep at **"), or None.
    `partial`: number of extra passes that end at `stop` ("then from * to ** once more" -> 1).
    `ending`: steps that replace or follow the last pass ("ending with 2 dc"), when given.
    `steps` may hold further repeats.
    """

    steps: tuple[Step, ...]
    times: Times
    span: Span
    fence: str = "*"
    stop: int | None = None
    partial: int = 0
    ending: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Evenly:
    """Such as "Increase 6 evenly around", "dec 1 st each end": the total is certain, the places are not.
    `change`: stitches gained (negative: lost) in this round; `total`: "sc 36 evenly around" gives
    the resulting count instead; `stitch`: worked meanwhile, when named.
    """

    change: Numbers | None
    span: Span
    total: Numbers | None = None
    stitch: Stitch | None = None


@dataclass(frozen=True, slots=True)
class AsRound:
    """Such as "Rep rnd 3", "as 2nd row", "rep rows 2-5 four times more", "as established".

    `numbers`: rounds named, in order; empty with `last` = n means "rep last n rows"; empty with
    `last` = 0 means "in pattern / as established".
    `last_by_size`: where "rep last 4 (5-6) rows" depends on the size (then `last` is the first of them).
    `copies`: for "as given for Back", the stretch of text whose lines are worked again, when found.
    `times`: passes over the set (None: once). `until`: "until it measures 10 cm", as written.
    `odd_even`: "alt" forms are in the label, not here. `part`: another part's name when named.
    """

    numbers: tuple[int, ...]
    span: Span
    last: int = 0
    times: Times | None = None
    until: str | None = None
    part: str | None = None
    last_by_size: Numbers | None = None
    copies: Span | None = None


@dataclass(frozen=True, slots=True)
class Unworked:
    """Such as "Leave last 4 sts unworked", "leave rem sts unworked" (number None)."""

    number: Numbers | None
    span: Span


@dataclass(frozen=True, slots=True)
class Rotate:
    """Such as "Rotate / turn to work along the other side (of the chain)"."""

    span: Span
    what: str = "other side"


@dataclass(frozen=True, slots=True)
class OnlySizes:
    """Steps for some sizes only ("size L only: ..."); `sizes` are positions in `Draft.sizes`."""

    sizes: tuple[int, ...]
    steps: tuple[Step, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Remark:
    """Words that change no count: stuffing, "leave a long tail", comments in brackets."""

    span: Span


@dataclass(frozen=True, slots=True)
class Unread:
    """Words that may change the count and were not understood."""

    span: Span


Step: TypeAlias = (
    Work
    | Group
    | Chain
    | Counting
    | Skip
    | Join
    | Ring
    | Turn
    | FastenOff
    | Colour
    | Marker
    | Repeat
    | Evenly
    | AsRound
    | Unworked
    | Rotate
    | OnlySizes
    | Remark
    | Unread
)


# -------------------------------------------------------------------------------------- lines


class Kind(StrEnum):
    ROUND = "round"
    ROW = "row"


@dataclass(frozen=True, slots=True)
class Label:
    """The head of a line: which rounds it stands for.

    `numbers`: all round numbers it covers in order (Rnds 5-9 -> 5..9); empty for "Next rnd" and
    unlabelled work. `stated_number_of_rounds`: "(5 rnds)" when printed. `side`: "RS" / "WS".
    `every`: (start, step) for "2nd and every alt row" -> (2, 2), a rule for rows not given otherwise.
    `open_ended`: "Rounds 9+". `sizes`: positions in `Draft.sizes` the line is for, () = all.
    `per_size_last`: last number per size when a range depends on size ("Rows 2-4 (6, 9)").
    `word`: "next", "last", "set-up", "foundation"... for lines without a number.
    """

    kind: Kind
    span: Span
    numbers: tuple[int, ...] = ()
    stated_number_of_rounds: Numbers | None = None
    side: str | None = None
    every: tuple[int, int] | None = None
    open_ended: bool = False
    sizes: tuple[int, ...] = ()
    per_size_last: Numbers | None = None
    word: str | None = None


@dataclass(frozen=True, slots=True)
class Counted:
    """One number of a printed count: what is counted ("total", "sc", "ch-1 sp", "shell", "sts")."""

    what: str
    number: Numbers
    span: Span


@dataclass(frozen=True, slots=True)
class StatedCount:
    """The count printed with a line: "(24 sc, 6 ch-1 sps)", "24 sts.", "= 24".

    `items` in the order printed; a bare number or "sts" has what = "total".
    `chain_included`: True / False when printed ("counting turning ch"), else None.
    `change`: "(+6)" printed beside it. `round_number`: the round that it is for, when the line stands
    for several and says so ("25 sc at end of Row 37"); 0 for "at end of last row".
    """

    items: tuple[Counted, ...]
    span: Span
    chain_included: bool | None = None
    change: int | None = None
    round_number: int | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One labelled (or recognised unlabelled) line of work.

    `line_number`: where the label stands, from 1. `steps` in order. `stated` is the final printed
    count; `inner` are counts met before the end ("(19 sts so far)").
    """

    label: Label
    steps: tuple[Step, ...]
    span: Span
    line_number: int
    stated: StatedCount | None = None
    inner: tuple[StatedCount, ...] = ()


@dataclass(frozen=True, slots=True)
class Prose:
    """A note, a heading's remark, materials or any other text that is no work."""

    span: Span
    line_number: int
    topic: str = "note"  # note, materials, abbreviations, gauge, finishing, ...


@dataclass(frozen=True, slots=True)
class HouseRules:
    """What the pattern states once for many lines; None where it says nothing.

    `chain_counts`: by chain length, e.g. {3: True, 1: False}; key 0 speaks for all turning chains.
    """

    chain_counts: tuple[tuple[int, bool], ...] = ()
    joined: bool | None = None  # rounds joined / worked in a spiral (False)
    terms: str | None = None
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Definition:
    """A special stitch as the pattern defines it."""

    name: str
    stitch: Stitch
    span: Span
    written: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """One part ("Crown", "Ear (make 2)"): numbering and the running edge start anew.

    `make`: how many. `lines` hold the work and the prose between in order of the text.
    `continues`: True where a heading goes on with the piece before it ("Shape top", "Edging").
    """

    title: str
    span: Span
    line_number: int
    lines: tuple[Line | Prose | Unread, ...]
    make: Numbers = ONE
    rules: HouseRules = field(default_factory=HouseRules)
    continues: bool = False


@dataclass(frozen=True, slots=True)
class Fact:
    """A header line: "Gauge: 18 sc = 10 cm". `value` is what stands after the colon."""

    name: str  # "gauge", "sizes", "hook", "abbreviations", "terms", "notes", "yarn", ...
    value: str
    span: Span
    line_number: int


@dataclass(frozen=True, slots=True)
class Abbreviation:
    short: str
    meaning: str
    span: Span


@dataclass(frozen=True, slots=True)
class Draft:
    """A whole pattern as read. `sizes` is () for one size. `terms` is "us", "uk" or None (unknown;
    worked as US); `terms_from` says how it is known: "stated", "asked", "words", "default".
    """

    text: str
    sizes: tuple[str, ...]
    terms: str | None
    terms_from: str
    facts: tuple[Fact, ...]
    abbreviations: tuple[Abbreviation, ...]
    definitions: tuple[Definition, ...]
    rules: HouseRules
    sections: tuple[Section, ...]
    unread: tuple[Unread, ...]
