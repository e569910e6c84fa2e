"""Steps in words, one function a kind of step."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from craft.notation.tree import (
    ONE,
    AsRound,
    Chain,
    Colour,
    Counting,
    Evenly,
    FastenOff,
    Group,
    How,
    Join,
    Loops,
    Marker,
    OnlySizes,
    Place,
    Remark,
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
from craft.notation.tree import Repeat as RepeatStep
from craft.notation.writing.pen import Pen, numbers, plural
from craft.notation.writing.places import how_far, in_place, place_words
from craft.notation.writing.repeats import repeat_words
from craft.notation.writing.set_over import is_trade_name, set_over

__all__ = ["in_words", "phrase", "sets_loops"]

_MOVES = re.compile(r"\b(?:yoh?|yrh|woh|insert|draw|pull|thread)\b", re.IGNORECASE)
_SETS = re.compile(
    r"\b(?:(?P<back>back\W+l(?:oo)?ps?|blo?)|(?P<front>front\W+l(?:oo)?ps?|flo?))\b", re.IGNORECASE
)
_JOINS = re.compile(r"\b(?:re-?)?(?:join|jn|sl|slst|ss|slip|close)", re.IGNORECASE)
_AROUND = re.compile(r"around|over|under|through|across", re.IGNORECASE)
_KEPT_KINDS = (Remark, Unread, Marker, Colour, Rotate, Unworked, AsRound, Evenly, Counting)
_SENTENCES = (Remark, Unread, Marker, AsRound, Rotate)
_BEGIN_LARGE = (Remark, Marker, Rotate)
_ALSO_BEFORE = (Join, FastenOff, Unworked)


def in_words(pen: Pen, steps: Sequence[Step], marks: dict[int, str] | None = None) -> str:
    """The steps as one run of words. `marks`: words to set before the step of that index."""
    parts: list[str] = []
    before: Step | None = None
    for index, step in enumerate(steps):
        mark = (marks or {}).get(index, "")
        if before is not None and _said_with(pen, before, step):
            continue
        words = _joining(pen, step, steps[index + 1 :]) or phrase(pen, step)
        if not words:
            continue
        if parts:
            link = _link(pen, before, step, words)
            parts.append(link)
            if link == ". " and (isinstance(step, _BEGIN_LARGE) or not _keeps_words(pen, step)):
                words = words[0].upper() + words[1:]
        parts += (mark, words)
        pen = _after(pen, step)
        before = step
    return "".join(parts)


def _said_with(pen: Pen, before: Step, step: Step) -> bool:
    """Whether the words of the step before said this one too: "join A with sl st to first sc"."""
    if isinstance(before, Colour) and isinstance(step, Join | Work):
        return pen.has_own(step.span) and before.span.start == step.span.start
    return step.span == before.span and _keeps_words(pen, step)


def _joining(pen: Pen, step: Step, behind: Sequence[Step]) -> str:
    """Yarn and the stitch that takes it up, said in one: the words of the longer of the two."""
    if not isinstance(step, Colour) or not behind or not _said_with(pen, step, behind[0]):
        return ""
    longest = max(step.span, behind[0].span)
    return pen.own(longest).rstrip(" .;,")


def _link(pen: Pen, before: Step | None, step: Step, words: str) -> str:
    if words[0] == "(" and isinstance(step, Remark | Counting) and not isinstance(before, _SENTENCES):
        return " "
    full = "; " if pen.depth else ". "
    if isinstance(before, _SENTENCES) or isinstance(step, _SENTENCES):
        return _link_as_written(pen, before, step) or full
    return full if isinstance(step, _ALSO_BEFORE) else ", "


def _link_as_written(pen: Pen, before: Step | None, step: Step) -> str:
    """The maker's own mark before or behind a remark, where it is a comma or none."""
    if before is None or not pen.has_own(before.span) or not pen.has_own(step.span):
        return ""
    between = pen.text[before.span.end : step.span.start].strip()
    return {"": " ", ",": ", "}.get(between, "") if before.span.end <= step.span.start else ""


def _after(pen: Pen, step: Step) -> Pen:
    """The pen behind a step: a remark may have set the loops for what follows."""
    if isinstance(step, Remark) and pen.has_own(step.span):
        loops = sets_loops(pen.text[step.span.start : step.span.end])
        return pen if loops is None else replace(pen, loops=loops)
    return pen


def sets_loops(words: str) -> Loops | None:
    """The loops that words such as "working in back loops only" set for the rest of the line."""
    found = _SETS.search(words)
    if found is None:
        return None
    return Loops.BACK if found["back"] else Loops.FRONT


def _keeps_words(pen: Pen, step: Step) -> bool:
    """Whether a step stays in the maker's own words."""
    if not pen.has_own(step.span):
        return False
    if isinstance(step, _KEPT_KINDS) or step.span in pen.kept:
        return True
    if isinstance(step, Join):
        return _JOINS.search(pen.text, *step.span) is None or _is_any(step.place)
    return isinstance(step, Work) and (_MOVES.search(step.written) is not None or _is_any(step.place))


def _is_any(place: Place | None) -> bool:
    """Whether a place has more words than its tree: "any st", "lower right corner"."""
    return place is not None and place.of == "any"


def _whole(pen: Pen, step: Step) -> Span:
    """The span of a step with the star that opens it, or the brackets round it."""
    start, end = step.span
    if isinstance(step, RepeatStep) and step.fence[0] in "*o":
        while start and pen.text[start - 1] in "* ":
            start -= 1
    if isinstance(step, Remark) and pen.text[start - 1 : start] == "(" and pen.text[end : end + 1] == ")":
        return Span(start - 1, end + 1)
    return Span(start, end)


def phrase(pen: Pen, step: Step) -> str:
    """One step in words."""
    if _keeps_words(pen, step):
        return pen.own(_whole(pen, step)).rstrip(" .;,")
    if isinstance(step, RepeatStep):
        return repeat_words(pen, step, in_words)
    write: Callable[[Pen, Any], str] = _WRITERS[type(step)]
    return write(pen, step)


# ---------------------------------------------------------------------------------- stitches


def _work(pen: Pen, step: Work) -> str:
    name, place = _name(pen, step), step.place
    if step.stitch.name == "in pattern":
        return f"work in pattern {how_far(pen, place.keep, place.until)}"
    if place.how is How.BARE:
        return _bare_work(pen, step, name)
    if step.ambiguous:
        return f"{name} {numbers(step.each)} {in_place(pen, place)}"
    many = "" if step.each == ONE else f"{numbers(step.each)} "
    return f"{many}{name} {in_place(pen, place, _preposition(pen, step))}"


def _name(pen: Pen, step: Work) -> str:
    """The stitch's name; the maker's own spelling for a stitch that is not the trade's: "3-dc Cl"."""
    name = step.stitch.name
    if is_trade_name(name) or name == "rsc" or not step.written:
        return pen.name(name)
    number = step.each if step.each != ONE else step.place.number or ONE
    words = " ".join(step.written.split())
    if number[0] is not None:
        words = re.sub(rf"^{number[0]}(?=[\sx]) ?x? ?", "", words)
    return set_over(words, of=pen.spoken, to=pen.terms)


def _preposition(pen: Pen, step: Work) -> str:
    if step.stitch.post is not None:
        return "around"
    if pen.has_own(step.place.span):
        found = _AROUND.match(pen.text, *step.place.span)
        if found is not None and not is_trade_name(step.stitch.name):
            return found[0].lower()
    several = step.stitch.uses > 1 and step.place.how in {How.NEXT, How.FIRST, How.LAST}
    return "over" if several and step.place.number != ONE else "in"


def _bare_work(pen: Pen, step: Work, name: str) -> str:
    number = step.place.number or ONE
    where = ""
    if step.each != ONE:
        number = step.each
    if step.place.loops is not pen.loops:
        if number == ONE or step.each != ONE:
            where = f" in {place_words(pen, step.place)}"
        else:
            name += {Loops.BACK: "blo", Loops.FRONT: "flo"}.get(step.place.loops, "")
    if number == ONE:
        return f"{name}{where}"
    behind = (
        f"{name} {numbers(number)}"
        if name[-1:].isalpha() and name != "inc"
        else f"{name} x {numbers(number)}"
    )
    return (behind if pen.style.numbers == "after" else f"{numbers(number)} {name}") + where


def _group(pen: Pen, step: Group) -> str:
    inside = pen.inside()
    only = step.steps[0] if len(step.steps) == 1 else None
    if isinstance(only, RepeatStep):
        return f"{phrase(inside, only)} {in_place(pen, step.place)}"
    return f"({in_words(inside, step.steps)}) {in_place(pen, step.place)}"


# ---------------------------------------------------------------------------- chains and joins


def _chain(pen: Pen, step: Chain) -> str:
    return f"ch {numbers(step.number)}{_counts(pen, step.counts, step.counts_as)}"


def _counts(pen: Pen, counts: bool | None, counts_as: tuple[tuple[str, int], ...]) -> str:
    if counts is None:
        return ""
    if not counts:
        return " (does not count as st)"
    kinds = [_counted_as(pen, name, number) for name, number in counts_as]
    return f" (counts as {' and '.join(kinds)})" if kinds else " (counts)"


def _counted_as(pen: Pen, name: str, number: int) -> str:
    if name == "ch-sp":
        return f"ch-{number} sp"
    words = name if name == "st" else pen.name(name)
    return words if number == 1 else f"{number} {words}"


def _counting(pen: Pen, step: Counting) -> str:
    if not step.counts:
        return "(skipped ch does not count as st)"
    return f"(skipped ch{_counts(pen, counts=True, counts_as=step.counts_as).replace(' (', ' ')}"


def _join(pen: Pen, step: Join) -> str:
    if step.place is None:
        return "join"
    slip = pen.name("sl st")
    if pen.style.spelled_joins:
        return f"join with {slip} to {place_words(pen, step.place)}"
    return f"{slip} {in_place(pen, step.place)}"


def _ring(pen: Pen, step: Ring) -> str:
    if step.chains is None:
        return "make a magic ring"
    return f"ch {numbers(step.chains)}, join with {pen.name('sl st')} in first ch to form a ring"


def _skip(pen: Pen, step: Skip) -> str:
    return f"{pen.skip} {place_words(replace(pen, loops=step.place.loops), step.place)}"


# ---------------------------------------------------------------------------------- the rest


def _turn(pen: Pen, step: Turn) -> str:
    return "turn" if step.turn else "do not turn"


def _fasten_off(pen: Pen, step: FastenOff) -> str:
    return "fasten off"


def _colour(pen: Pen, step: Colour) -> str:
    if step.act == "change":
        return f"change to {step.label}"
    return f"{step.act} {step.label}".strip()


def _marker(pen: Pen, step: Marker) -> str:
    return f"{step.act} marker"


def _evenly(pen: Pen, step: Evenly) -> str:
    name = pen.name(step.stitch.name) if step.stitch is not None else "st"
    if step.total is not None:
        return f"{numbers(step.total)} {name} in next {numbers(step.total)} sts evenly"
    if step.change is None:
        return f"{name} evenly {pen.along}"
    fewer = any(value is not None and value < 0 for value in step.change)
    amount = tuple(value and abs(value) for value in step.change)
    return f"{'dec' if fewer else 'inc'} {numbers(amount)} evenly {pen.along}"


def _as_round(pen: Pen, step: AsRound) -> str:
    word = "Row" if pen.kind.value == "row" else "Rnd"
    if step.numbers:
        words = f"rep {_rounds(word, step.numbers)}"
    elif step.last:
        last = step.last_by_size or (step.last,)
        words = f"rep last {word.lower()}" if last == ONE else f"rep last {numbers(last)} {word.lower()}s"
    else:
        words = "work in pattern"
    if step.times is not None and step.times.number is not None:
        more = {True: " more times", False: " times in all", None: " times"}[step.times.more]
        words += f" {numbers(step.times.number)}{more}"
    return words if step.until is None else f"{words} {step.until}"


def _rounds(word: str, named: tuple[int, ...]) -> str:
    first, last = named[0], named[-1]
    if len(named) == 1:
        return f"{word} {first}"
    if named == tuple(range(first, last + 1)):
        return f"{word}s {first}-{last}"
    return f"{word}s {', '.join(map(str, named[:-1]))} and {last}"


def _unworked(pen: Pen, step: Unworked) -> str:
    if step.number is None:
        return "leave rem sts unworked"
    return f"leave last {numbers(step.number)} {plural('st', step.number)} unworked"


def _rotate(pen: Pen, step: Rotate) -> str:
    return "working along other side of ch"


def _only_sizes(pen: Pen, step: OnlySizes) -> str:
    return in_words(pen, step.steps)


def _nothing(pen: Pen, step: Step) -> str:
    return ""  # a remark that has no text behind it


_WRITERS: dict[type, Callable[[Pen, Any], str]] = {
    Work: _work,
    Group: _group,
    Chain: _chain,
    Counting: _counting,
    Skip: _skip,
    Join: _join,
    Ring: _ring,
    Turn: _turn,
    FastenOff: _fasten_off,
    Colour: _colour,
    Marker: _marker,
    Evenly: _evenly,
    AsRound: _as_round,
    Unworked: _unworked,
    Rotate: _rotate,
    OnlySizes: _only_sizes,
    Remark: _nothing,
    Unread: _nothing,
}
