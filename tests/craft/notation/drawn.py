"""Patterns drawn by chance: as text in all the forms that print has, and as trees built from values."""

from __future__ import annotations

from hypothesis import strategies as st

from craft.notation.stitches import increase, of_one, post, together
from craft.notation.tree import (
    NOWHERE,
    ONE,
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
    Place,
    Repeat,
    Section,
    Skip,
    StatedCount,
    Step,
    Times,
    Turn,
    Work,
)

SIZES = ("S", "M", "L")

# --------------------------------------------------------------------------------------- texts

_small = st.integers(1, 9)


def _number(sizes: int) -> st.SearchStrategy[str]:
    """A number, or one per size in brackets."""
    plain = _small.map(str)
    if sizes < 2:
        return plain
    listed = st.tuples(_small, _small, _small).map(lambda n: f"{n[0]} ({n[1]}, {n[2]})")
    return st.one_of(plain, plain, listed)


_apart = st.sampled_from(["sc", "hdc", "dc", "tr", "dtr", "fpdc", "bpdc", "bobble", "puff st", "popcorn"])
_together = st.sampled_from(["sc2tog", "dc3tog"])
_stitch = st.one_of(_apart, _apart, _together)
_kind = st.sampled_from(["st", "st", "sc", "dc", "ch-2 sp", "ch", "sp"])
_end = st.sampled_from(["around", "across", "to last 2 sts", "to last st", "to end of row", "to next corner"])
_loops = st.sampled_from(["", "", "", "back loop of ", "front loop of "])


def _plural(number: str, kind: str) -> str:
    return kind if number == "1" else kind if kind in {"sc", "dc", "ch"} else f"{kind}s"


def _placed(sizes: int) -> st.SearchStrategy[str]:
    number = _number(sizes)
    several = st.tuples(number, _kind).map(lambda n: f"in next {n[0]} {_plural(n[0], n[1])}")
    each = st.tuples(number, _kind).map(lambda n: f"in each of next {n[0]} {_plural(n[0], n[1])}")
    one = st.tuples(_loops, st.sampled_from(["next", "first", "last", "same"]), _kind).map(
        lambda n: f"in {n[0]}{n[1]} {n[2]}"
    )
    every = st.tuples(_kind, _end).map(lambda n: f"in each {n[0]} {n[1]}")
    odd = st.sampled_from(
        ["in ring", "in 2nd ch from hook", "in next st 2 rows below", "in marked st", "in corner"]
    )
    return st.one_of(several, each, one, every, odd)


def _single(sizes: int) -> st.SearchStrategy[str]:
    """One step that needs no brackets."""
    number = _number(sizes)
    bare = st.tuples(number, _stitch).map(lambda n: f"{n[0]} {n[1]}")
    behind = st.tuples(_stitch, number).map(lambda n: f"{n[0]} {n[1]}")
    many = st.sampled_from(["", "2 ", "5 "])
    apart = st.tuples(many, _apart, _placed(sizes))
    together = st.tuples(many, _together, _placed(1))  # over how many places does not go by the size
    placed = st.one_of(apart, together).map(lambda n: f"{n[0]}{n[1]} {n[2]}")
    chain = number.map(lambda n: f"ch {n}")
    skip = st.tuples(number, _kind).map(lambda n: f"skip next {n[0]} {_plural(n[0], n[1])}")
    shaping = st.sampled_from(["inc", "dec", "inc x 3", "2 sc in next st", "dc inc"])
    group = st.tuples(_stitch, _small, st.sampled_from(["next ch-2 sp", "next st", "same sp"])).map(
        lambda n: f"(2 {n[0]}, ch {n[1]}, 2 {n[0]}) in {n[2]}"
    )
    return st.one_of(bare, behind, placed, placed, chain, skip, shaping, group)


def _repeat(steps: st.SearchStrategy[str], sizes: int) -> st.SearchStrategy[str]:
    number = _number(sizes)
    times = st.one_of(number.map(lambda n: f"x {n}"), number.map(lambda n: f"{n} times"), _end)
    bracket = st.tuples(st.sampled_from(["()", "[]"]), steps, steps, times).map(
        lambda n: f"{n[0][0]}{n[1]}, {n[2]}{n[0][1]} {n[3]}"
    )
    often = st.one_of(number.map(lambda n: f"{n} times more"), number.map(lambda n: f"{n} times"), _end)
    star = st.tuples(steps, steps, often).map(lambda n: f"*{n[0]}, {n[1]}; rep from * {n[2]}")
    stop = st.tuples(steps, steps, _end).map(
        lambda n: f"*{n[0]}, **{n[1]}; rep from * {n[2]}, ending last rep at **"
    )
    return st.one_of(bracket, bracket, star, stop)


_extra = st.sampled_from(
    [
        "join with sl st to first sc",
        "turn",
        "ch 1, turn",
        "fasten off",
        "stuff lightly",
        "with A",
        "change to B",
    ]
)
_count = st.one_of(
    st.just(""),
    _small.map(lambda n: f" ({n * 6})"),
    _small.map(lambda n: f" ({n * 6} sc, {n} ch-2 sps)"),
    _small.map(lambda n: f" \u2014 {n * 6} sts."),
)


@st.composite
def texts(draw: st.DrawFn, *, sizes: int = 1) -> str:
    """A pattern of some rounds or rows, for one size or for three."""
    word = draw(st.sampled_from(["Rnd", "Row", "Round"]))
    single = _single(sizes)
    steps = st.one_of(single, single, _repeat(single, sizes))
    lines = ["Sizes: S (M, L)", "", "Body"] if sizes > 1 else ["Body"]
    lines.append(f"{word} 1: Ch {draw(_number(sizes))}, sc in 2nd ch from hook, sc in each ch across.")
    number = 2
    for _ in range(draw(st.integers(1, 4))):
        said = ", ".join(draw(st.lists(steps, min_size=1, max_size=4)))
        behind = f". {draw(_extra).capitalize()}" if draw(st.booleans()) else ""
        last = number + draw(st.sampled_from([0, 0, 0, 3]))
        label = f"{word} {number}" if last == number else f"{word}s {number}-{last}"
        lines.append(f"{label}: {said}{behind}.{draw(_count)}")
        number = last + 1
    if draw(st.booleans()):
        lines.append(f"Rep {word} 2 {draw(_small) + 1} times more.")
    return "\n".join(lines) + "\n"


@st.composite
def fitting(draw: st.DrawFn) -> str:
    """A piece in rounds of six wedges, each of which uses the round below to the last stitch."""
    wedge, number = 2, 3
    lines = ["Rnd 1: 6 sc in magic ring. (6)", "Rnd 2: 2 sc in each st around. (12)"]
    for _ in range(draw(st.integers(1, 5))):
        up, down = wedge - 1, wedge - 2
        grown = [f"(sc {up}, inc) x 6", f"*sc in next {up} sts, 2 sc in next st; rep from * around"]
        grown.append(f"[sc in next {up} sts, inc] 3 times, *{up} sc, inc; rep from * 2 times more")
        plain = ["sc in each st around", "ch 1, dc in each st around, join with sl st to first dc"]
        lost = [f"(sc {down}, dec) around", f"*sc in next {down} sts, sc2tog; rep from * 5 times more"]
        said = draw(st.sampled_from(grown + plain + (lost if down else [])))
        wedge += 1 if said in grown else -1 if said in lost else 0
        last = number + (draw(st.sampled_from([0, 2])) if said in plain else 0)
        label = f"Rnd {number}" if last == number else f"Rnds {number}-{last}"
        lines.append(f"{label}: {said}. ({wedge * 6})")
        number = last + 1
    return "\n".join(lines) + "\n"


# --------------------------------------------------------------------------------------- trees

_named = st.sampled_from(
    [
        of_one("sc"),
        of_one("hdc"),
        of_one("dc"),
        of_one("tr"),
        post("dc", "front"),
        together("sc", 2),
        increase("sc"),
    ]
).map(lambda named: named.stitch)


def _numbers() -> st.SearchStrategy[tuple[int, ...]]:
    return st.one_of(_small.map(lambda n: (n,)), st.tuples(_small, _small, _small))


def _in_next() -> st.SearchStrategy[Step]:
    stitches = st.sampled_from([of_one("sc").stitch, of_one("dc").stitch, of_one("hdc").stitch])
    return st.builds(
        lambda stitch, each, number: Work(stitch, each, Place(How.NEXT, number), NOWHERE),
        stitches,
        _numbers(),
        _numbers(),
    )


def _built_single() -> st.SearchStrategy[Step]:
    bare = st.builds(
        lambda stitch, number: Work(stitch, ONE, Place(How.BARE, number), NOWHERE), _named, _numbers()
    )
    chain = st.builds(lambda number: Chain(number, NOWHERE), _numbers())
    skip = st.builds(lambda number: Skip(Place(How.NEXT, number), NOWHERE), _numbers())
    return st.one_of(bare, bare, chain, skip, _in_next())


_steps = st.lists(_built_single(), min_size=1, max_size=3).map(tuple)
_group = st.builds(
    lambda steps: Group(steps, Place(How.NEXT, ONE, what="ch-sp", chains=2), NOWHERE),
    st.just((Work(of_one("dc").stitch, ONE, Place(How.BARE, (2,)), NOWHERE), Chain((2,), NOWHERE))),
)
_times = st.one_of(
    _numbers().map(lambda n: Times(n, more=False)),
    st.just(Times(to_end=True)),
    st.just(Times(until_left=(3,))),
)


def _built_repeat(inner: st.SearchStrategy[tuple[Step, ...]]) -> st.SearchStrategy[Step]:
    return st.builds(
        lambda steps, times, fence: Repeat(steps, times, NOWHERE, fence),
        inner,
        _times,
        st.sampled_from(["(", "[", "*"]),
    )


@st.composite
def drafts(draw: st.DrawFn) -> Draft:
    """A draft built from values, with no text."""
    lines = []
    for number in range(1, draw(st.integers(2, 5))):
        steps: tuple[Step, ...] = draw(_steps)
        steps += draw(st.sampled_from([(), (draw(_group),), (draw(_built_repeat(_steps)),)]))
        endings: list[tuple[Step, ...]] = [(), (Turn(NOWHERE),), (Join(NOWHERE, Place(How.FIRST, ONE)),)]
        ending = draw(st.sampled_from(endings))
        stated = draw(st.one_of(st.none(), _numbers()))
        count = None if stated is None else StatedCount((Counted("total", stated, NOWHERE),), NOWHERE)
        lines.append(Line(Label(Kind.ROW, NOWHERE, (number,)), (*steps, *ending), NOWHERE, 1, count))
    section = Section("", NOWHERE, 1, tuple(lines))
    return Draft("", SIZES, None, "default", (), (), (), HouseRules(), (section,), ())
