"""Small hand-built drafts: the tree of a pattern without its text."""

from __future__ import annotations

from collections.abc import Sequence

from craft.notation.tree import (
    Chain,
    Counted,
    Draft,
    Group,
    HouseRules,
    How,
    Join,
    Kind,
    Label,
    Line,
    Numbers,
    Place,
    Repeat,
    Ring,
    Section,
    Skip,
    Span,
    StatedCount,
    Step,
    Stitch,
    Times,
    Turn,
    Work,
)

NOWHERE = Span(0, 0)


def numbers(value: int | Sequence[int]) -> Numbers:
    return (value,) if isinstance(value, int) else tuple(value)


def stitch(name: str, uses: int = 1, makes: int = 1) -> Stitch:
    return Stitch(name, uses=uses, makes=makes, tally=((name, 1),))


INC = Stitch("inc", makes=2, tally=(("sc", 2),))
SC2TOG = stitch("sc2tog", uses=2)


def bare(number: int | Sequence[int], name: str = "sc") -> Work:
    """As in "3 sc"."""
    return Work(stitch(name), (1,), Place(How.BARE, numbers(number), span=NOWHERE), NOWHERE)


def inc(number: int | Sequence[int] = 1) -> Work:
    return Work(INC, (1,), Place(How.BARE, numbers(number)), NOWHERE)


def dec(number: int | Sequence[int] = 1) -> Work:
    return Work(SC2TOG, (1,), Place(How.BARE, numbers(number)), NOWHERE)


def into(
    name: str,
    how: How,
    number: int | Sequence[int] | None = 1,
    each: int | Sequence[int] = 1,
    **place: object,
) -> Work:
    """A stitch into a place: "dc", How.NEXT, 3 is "dc in next 3 sts"."""
    where = Place(how, None if number is None else numbers(number), span=NOWHERE, **place)  # type: ignore[arg-type]
    return Work(stitch(name), numbers(each), where, NOWHERE)


def every(name: str = "sc", each: int = 1, **place: object) -> Work:
    """As in "Sc in each st around"."""
    return into(name, How.EACH, None, each, **place)


def ring(name: str, number: int | Sequence[int]) -> Work:
    """As in "6 sc in ring"."""
    return into(name, How.RING, 1, number, what="ring")


def skip(number: int = 1, **place: object) -> Skip:
    return Skip(Place(How.NEXT, (number,), **place), NOWHERE)  # type: ignore[arg-type]


def ch(
    number: int | Sequence[int], counts: bool | None = None, counts_as: tuple[tuple[str, int], ...] = ()
) -> Chain:
    return Chain(numbers(number), NOWHERE, counts, counts_as)


def group(*steps: Step, how: How = How.NEXT, name: str | None = None, **place: object) -> Group:
    return Group(steps, Place(how, (1,), **place), NOWHERE, name)  # type: ignore[arg-type]


def times(number: int | Sequence[int], *steps: Step, more: bool | None = False, fence: str = "(") -> Repeat:
    """As in "(...) 6 times"."""
    return Repeat(steps, Times(numbers(number), more), NOWHERE, fence)


def around(*steps: Step, stop: int | None = None, ending: tuple[Step, ...] = ()) -> Repeat:
    """As in "*...; rep from * around"."""
    return Repeat(steps, Times(to_end=True), NOWHERE, stop=stop, ending=ending)


def to_last(keep: int, *steps: Step) -> Repeat:
    """As in "*...; rep from * to last n sts"."""
    return Repeat(steps, Times(until_left=(keep,)), NOWHERE)


def join(what: str = "st", how: How = How.FIRST) -> Join:
    return Join(NOWHERE, Place(how, what=what))


MAGIC_RING = Ring(NOWHERE)
TURN = Turn(NOWHERE)


def counted(total: int | Sequence[int] | None = None, **kinds: int | Sequence[int]) -> StatedCount:
    """A printed count: 24 for a total, sc=12 and dc=4 for kinds."""
    items = [] if total is None else [Counted("total", numbers(total), NOWHERE)]
    items += [Counted(name.replace("_", " "), numbers(number), NOWHERE) for name, number in kinds.items()]
    return StatedCount(tuple(items), NOWHERE)


def line(
    number: int | tuple[int, ...] | None,
    *steps: Step,
    stated: StatedCount | int | None = None,
    kind: Kind = Kind.ROUND,
    at: int = 0,
    **label: object,
) -> Line:
    """One printed line; `at`: its line number, the round number by default."""
    covered = () if number is None else (number,) if isinstance(number, int) else number
    first = covered[0] if covered else 0
    heading = Label(kind, NOWHERE, covered, **label)  # type: ignore[arg-type]
    count = counted(stated) if isinstance(stated, int) else stated
    return Line(heading, steps, NOWHERE, at or first, count)


def row(
    number: int | tuple[int, ...] | None,
    *steps: Step,
    stated: StatedCount | int | None = None,
    **label: object,
) -> Line:
    return line(number, *steps, stated=stated, kind=Kind.ROW, **label)


def section(*lines: Line, title: str = "", make: int = 1, rules: dict[int, bool] | None = None) -> Section:
    house = HouseRules(tuple((rules or {}).items()))
    return Section(title, NOWHERE, 1, lines, (make,), house)


def draft(*parts: Line | Section, sizes: tuple[str, ...] = ()) -> Draft:
    """A draft of one section of lines, or of the sections given."""
    sections = tuple(part for part in parts if isinstance(part, Section))
    if not sections:
        sections = (section(*(part for part in parts if isinstance(part, Line))),)
    return Draft("", sizes, "us", "stated", (), (), (), HouseRules(), sections, ())
