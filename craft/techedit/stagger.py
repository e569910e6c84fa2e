"""Rounds with stacked increases written anew: every other round begins with half its plain stitches.

With k plain stitches before each increase and n increases, a round becomes floor(k / 2) plain, an increase,
the group n - 1 times, and the rest plain: the same counts without corners (zhaya.de/offset.html,
monkeyhousefull.blogspot.com 2010/03; trade notes section 3.4).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from craft.fabric.increases import FIRST_ROUND, stacks_of
from craft.fabric.model import Fabric, WorkedRound
from craft.notation.tree import Repeat, Span, Work
from craft.techedit.case import Case
from craft.techedit.finding import Suggestion

__all__ = ["staggered", "whole_lines"]

_NUMBER = re.compile(r"\d+")
_ONE_PLACE = re.compile(r"\b(?:each of )?(?:the )?next 1 st(?:itche)?s?\b", re.IGNORECASE)
_AROUND = re.compile(r"\b(?:around|to (?:the )?end)\b", re.IGNORECASE)


def staggered(case: Case, rounds: Sequence[WorkedRound]) -> Suggestion | None:
    """One rewrite of every other of these rounds, worked before it is offered: the same counts, no misfit,
    and no stack left in that part. None where the words can't be taken apart so.
    """
    high = [r for r in rounds if r.number is not None and r.number >= FIRST_ROUND]
    changes = [_rewritten(case, worked) for worked in high[::2]]
    made = [change for change in changes if change is not None]
    if len(made) < len(changes) or not made:
        return None
    offer = _joined(case, made)
    after = case.reworker.rework([offer])
    return offer if after is not None and _holds(case.fabric, after, rounds[0].section_index) else None


def whole_lines(text: str, offer: Suggestion) -> str:
    """The lines that an offer changes as they would stand, from the start of the first to the end of the
    last.
    """
    start = text.rfind("\n", 0, offer.span.start) + 1
    end = text.find("\n", offer.span.end)
    return text[start : offer.span.start] + offer.text + text[offer.span.end : end if end >= 0 else len(text)]


def _holds(before: Fabric, after: Fabric, section_index: int) -> bool:
    if section_index >= len(after.sections):
        return False
    old, new = before.sections[section_index].rounds, after.sections[section_index].rounds
    counts = [[s and s.total for s in r.per_size] for r in old] == [
        [s and s.total for s in r.per_size] for r in new
    ]
    return counts and not any(r.misfits for r in new) and not stacks_of(new)


def _joined(case: Case, changes: Sequence[Suggestion]) -> Suggestion:
    """Several rewrites as one, with the lines between them as they stand."""
    ordered = sorted(changes, key=lambda change: change.span)
    start, end = ordered[0].span.start, ordered[-1].span.end
    text, at = "", start
    for change in ordered:
        text += case.text[at : change.span.start] + change.text
        at = change.span.end
    return Suggestion(Span(start, end), text)


def _rewritten(case: Case, worked: WorkedRound) -> Suggestion | None:
    line = worked.line
    repeat = next((step for step in line.steps if isinstance(step, Repeat)), None)
    if repeat is None or worked.source is not None or len(line.label.numbers) != 1 or len(repeat.steps) != 2:
        return None
    plain, increase = repeat.steps
    if not isinstance(plain, Work) or not isinstance(increase, Work):
        return None
    number, times = _single(plain.place.number), _times(worked, plain, repeat)
    if number is None or number < 2 or times is None or times < 3:
        return None
    words, doubled = case.words_at(plain.span), case.words_at(increase.span)
    span = _with_star(case, repeat)
    group = _fewer(case.words_at(span), repeat, span, times)
    if group is None or str(number) not in words:
        return None
    first, last = _with_number(words, number, number // 2), _with_number(words, number, number - number // 2)
    return Suggestion(span, f"{first}, {doubled}, {_lowered(group, words)}, {_lower_first(last)}")


def _single(numbers: Sequence[int | None] | None) -> int | None:
    return numbers[0] if numbers and len(numbers) == 1 else None


def _times(worked: WorkedRound, plain: Work, repeat: Repeat) -> int | None:
    """How many times over the group comes in all."""
    said = _single(repeat.times.number)
    sized = worked.per_size[0]
    each = (_single(plain.place.number) or 0) + 1
    if sized is None or sized.used % each:
        return None
    times = sized.used // each
    return times if repeat.times.to_end or said in {times, times - 1} else None


def _with_star(case: Case, repeat: Repeat) -> Span:
    """Where the repeat stands, the star that it goes back to included."""
    before = case.text[: repeat.span.start].rstrip()
    star = repeat.fence.startswith("*") and before.endswith(repeat.fence)
    return Span(len(before) - len(repeat.fence), repeat.span.end) if star else repeat.span


def _fewer(group: str, repeat: Repeat, span: Span, times: int) -> str | None:
    """The words of the repeat with one pass less."""
    behind = repeat.steps[-1].span.end - span.start
    head, tail = group[:behind], group[behind:]
    if repeat.times.to_end:
        said = f"{times - 2} more times" if repeat.fence.startswith("*") else f"{times - 1} times"
        return head + _AROUND.sub(said, tail, count=1) if _AROUND.search(tail) else None
    said_number = _single(repeat.times.number)
    found = list(_NUMBER.finditer(tail))
    match = next((m for m in found if said_number is not None and m[0] == str(said_number)), None)
    if match is None or said_number is None:
        return None
    return head + tail[: match.start()] + str(said_number - 1) + tail[match.end() :]


def _with_number(words: str, old: int, new: int) -> str:
    """The plain stitches with another number: "sc in next 5 sts" -> "sc in next 2 sts"."""
    changed = re.sub(rf"\b{old}\b", str(new), words, count=1)
    if new == 1:
        changed = _ONE_PLACE.sub("next st", changed)
    return changed


def _lowered(group: str, words: str) -> str:
    """The group behind other words: its first stitch no longer begins the sentence."""
    return group.replace(words, _lower_first(words), 1)


def _lower_first(words: str) -> str:
    return words[:1].lower() + words[1:]
