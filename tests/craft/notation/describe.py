"""Drafts in few words, so that a test can say in one line what a line should read as.

A stitch is "each name @ where": "1 sc @ next 5 st", "2 dc @ each ch-sp2 keep 3", "1 sc @ bare 3".
"""

from __future__ import annotations

from craft.notation import read
from craft.notation.tree import (
    AsRound,
    Chain,
    Colour,
    Counting,
    Draft,
    Evenly,
    FastenOff,
    Group,
    Join,
    Line,
    Loops,
    Marker,
    Numbers,
    Place,
    Remark,
    Repeat,
    Ring,
    Rotate,
    Section,
    Skip,
    StatedCount,
    Step,
    Times,
    Turn,
    Unread,
    Unworked,
    Work,
)

SILENT = (Remark, Marker)


def numbers(values: Numbers | None) -> str:
    if values is None:
        return "all"
    return "/".join("-" if value is None else str(value) for value in values)


def place(found: Place) -> str:
    words = [found.how.value, numbers(found.number), found.what + (str(found.chains) if found.chains else "")]
    if found.keep != (0,):
        words += ["keep", numbers(found.keep)]
    for name in ("ordinal", "of", "until", "round_number"):
        value = getattr(found, name)
        if value is not None:
            words += [name, str(value)]
    if found.below:
        words += ["below", str(found.below)]
    if found.every != 1:
        words += ["every", str(found.every)]
    if found.loops is not Loops.BOTH:
        words += [found.loops.value]
    return " ".join(words)


def times(found: Times) -> str:
    if found.number is not None:
        return f"x{numbers(found.number)}" + {True: " more", False: "", None: "?"}[found.more]
    if found.until_left is not None:
        return f"to last {numbers(found.until_left)}"
    return "to end" if found.to_end else f"to {found.until_what}"


def step(found: Step) -> str:  # noqa: C901, PLR0911, PLR0912 - one line a kind of step
    match found:
        case Work():
            stitch = found.stitch.name + ("" if found.stitch.known else "?")
            return f"{numbers(found.each)} {stitch} @ {place(found.place)}" + "~" * found.ambiguous
        case Group():
            return "{" + ", ".join(steps(found.steps)) + "} @ " + place(found.place)
        case Chain():
            counts = {None: "", True: " counts", False: " counts not"}[found.counts]
            return f"ch {numbers(found.number)}" + counts + "".join(f" {n} {k}" for k, n in found.counts_as)
        case Counting():
            return f"counts {found.counts}" + "".join(f" {n} {k}" for k, n in found.counts_as)
        case Skip():
            return f"skip {place(found.place)}"
        case Join():
            return "join" if found.place is None else f"join {place(found.place)}"
        case Ring():
            return "ring" if found.chains is None else f"ring of ch {numbers(found.chains)}"
        case Turn():
            return "turn" if found.turn else "no turn"
        case FastenOff():
            return "fasten off"
        case Colour():
            return f"{found.act} {found.label}"
        case Repeat():
            return _repeat(found)
        case Evenly():
            stitch = f" {found.stitch.name}" if found.stitch else ""
            return f"evenly {numbers(found.change)} total {numbers(found.total)}{stitch}"
        case AsRound():
            return _as_round(found)
        case Unworked():
            return f"leave {numbers(found.number)}"
        case Rotate():
            return "rotate"
        case Unread():
            return "UNREAD"
        case _:
            return type(found).__name__.lower()


def _repeat(found: Repeat) -> str:
    text = f"{found.fence}[{', '.join(steps(found.steps))}] {times(found.times)}"
    if found.stop is not None:
        text += f" stop {found.stop}"
    if found.partial:
        text += f" partial {found.partial}"
    return text + (f" ending [{', '.join(steps(found.ending))}]" if found.ending else "")


def _as_round(found: AsRound) -> str:
    text = "as " + ("-".join(map(str, found.numbers)) or (f"last {found.last}" if found.last else "set"))
    if found.times is not None:
        text += f" {times(found.times)}"
    if found.until is not None:
        text += f" {found.until!r}"
    return text + (f" of {found.part}" if found.part else "")


def steps(found: tuple[Step, ...]) -> list[str]:
    """The steps in few words; remarks and markers left out."""
    return [step(one) for one in found if not isinstance(one, SILENT)]


def count(found: StatedCount | None) -> str:
    if found is None:
        return ""
    return ", ".join(f"{numbers(item.number)} {item.what}" for item in found.items)


def lines(draft: Draft) -> list[Line]:
    return [line for section in draft.sections for line in section.lines if isinstance(line, Line)]


def sections(draft: Draft) -> list[Section]:
    return list(draft.sections)


def one(text: str) -> Line:
    """The only line of work in a text; a label is put in front where it has none."""
    found = lines(read(text))
    assert len(found) == 1, [line.label for line in found]
    return found[0]


def working(text: str) -> list[str]:
    """What the words of one row read as."""
    return steps(one(f"Row 4: {text}").steps)
