"""Looking for the one small change that makes a line fit; what is found is worked before it is offered."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from craft.notation.tree import Counted, How, Numbers, Repeat, Span, Work
from craft.techedit.case import Case
from craft.techedit.finding import Suggestion
from craft.techedit.misfits import Slip

__all__ = ["count_corrected", "refitted"]

_DIGITS = re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class _Passes:
    """A way to fill the round: `times` passes of `uses` stitches each."""

    times: int
    uses: int


def refitted(case: Case, slip: Slip) -> Suggestion | None:
    """A rewrite of the repeat at fault that uses the round below exactly and gives the printed count."""
    step, misfit = slip.step, slip.misfit
    if not isinstance(step, Repeat) or misfit.passes is None or not misfit.repeat_uses:
        return None
    for passes in _candidates(slip):
        change = _rewrite(case, step, passes, misfit.repeat_uses, misfit.passes)
        if change is not None and case.reworker.mends(slip.worked, change):
            return change
    return None


def _candidates(slip: Slip) -> Iterator[_Passes]:
    """Numbers of passes and widths that fill the round; those that give the printed count first."""
    misfit, printed = slip.misfit, slip.printed
    uses, makes, passes = misfit.repeat_uses or 0, misfit.repeat_makes or 0, misfit.passes or 0
    room = misfit.available - (misfit.used - passes * uses)
    gain = makes - uses
    found: list[_Passes] = []
    if printed is not None and misfit.made is not None and gain:
        wanted = printed - (misfit.made - passes * makes)
        times, rest = divmod(wanted - room, gain)
        if rest == 0 and times > 0 and room % times == 0:
            found.append(_Passes(times, room // times))
    elif room > 0 and passes:
        found += [_Passes(room // uses, uses)] if room % uses == 0 else []
        found += [_Passes(passes, room // passes)] if room % passes == 0 else []
    yield from (each for each in found if each != _Passes(passes, uses))


def _rewrite(case: Case, step: Repeat, wanted: _Passes, uses: int, passes: int) -> Suggestion | None:
    """The text of the repeat with its plain number and its number of times changed."""
    changes: list[Suggestion] = []
    if wanted.uses != uses:
        plain = _plain_number(case, step, wanted.uses - uses)
        if plain is None:
            return None
        changes.append(plain)
    if wanted.times != passes:
        times = _times_number(case, step, wanted.times - passes)
        if times is None:
            return None
        changes += [times] if times.text else []
    return _joined(case, changes)


def _plain_number(case: Case, step: Repeat, by: int) -> Suggestion | None:
    """The number of the first run of plain stitches, changed."""
    for inner in step.steps:
        if not isinstance(inner, Work) or inner.stitch.uses != 1 or inner.stitch.makes != 1:
            continue
        number = inner.place.number
        if inner.place.how in {How.BARE, How.NEXT} and number and len(number) == 1 and number[0]:
            digits = _digits(case, inner.span, number[0])
            new = number[0] + by
            return Suggestion(digits, str(new)) if digits and new > 0 else None
    return None


def _times_number(case: Case, step: Repeat, by: int) -> Suggestion | None:
    """The number of times changed; an empty change where the repeat runs to the end anyway."""
    number = step.times.number
    if number is None:
        return Suggestion(step.span, "") if step.times.to_end else None
    if len(number) != 1 or number[0] is None or number[0] + by <= 0:
        return None
    digits = _digits(case, step.span, number[0], last=True)
    return Suggestion(digits, str(number[0] + by)) if digits else None


def _digits(case: Case, span: Span, value: int, *, last: bool = False) -> Span | None:
    """Where a number stands in a stretch of text: the first place, or the last."""
    found = [m for m in _DIGITS.finditer(case.text, *span) if m[0] == str(value)]
    if not found:
        return None
    match = found[-1 if last else 0]
    return Span(match.start(), match.end())


def _joined(case: Case, changes: list[Suggestion]) -> Suggestion | None:
    """Several changes as one rewrite of the stretch that holds them."""
    if not changes:
        return None
    changes.sort(key=lambda change: change.span)
    start, end = changes[0].span.start, changes[-1].span.end
    text, at = "", start
    for change in changes:
        text += case.text[at : change.span.start] + change.text
        at = change.span.end
    return Suggestion(Span(start, end), text + case.text[at:end])


def count_corrected(case: Case, item: Counted, size: int, right: int) -> Suggestion | None:
    """The printed number of one size changed to what was worked out."""
    value = _value(item.number, size)
    found = list(_DIGITS.finditer(case.text, *item.span))
    at = min(size, len(item.number) - 1) if len(item.number) > 1 else 0
    if at >= len(found) or found[at][0] != str(value):
        return None
    return Suggestion(Span(found[at].start(), found[at].end()), str(right))


def _value(numbers: Numbers, size: int) -> int | None:
    return numbers[size] if len(numbers) > 1 else numbers[0]
