"""One line of work in words: label, steps, printed count."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from craft.notation.tree import (
    NOWHERE,
    AsRound,
    Chain,
    Counted,
    Evenly,
    Group,
    Kind,
    Label,
    Line,
    Repeat,
    Ring,
    StatedCount,
    Step,
    Work,
)
from craft.notation.words import wordset
from craft.notation.writing.pen import Pen, noun, numbers, plural
from craft.notation.writing.steps import in_words

__all__ = ["line_words"]

_MORE_WORK = (Work, Group, Repeat, Chain, Ring, AsRound, Evenly)
_LONG = re.compile(r"[a-z]{3,}", re.IGNORECASE)
_LABEL_WORDS = wordset(
    "rnd rnds round rounds row rows and to through thru side right wrong the next last final first second "
    "third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth"
)


def line_words(pen: Pen, line: Line) -> str:
    """A line of work as one line of text."""
    pen = replace(pen, kind=line.label.kind)
    label = _label(pen, line.label)
    body = _body(pen, line)
    words = f"{label} {body}" if label else body
    if line.stated is None or _stands_inside(line, line.stated):
        return words
    return f"{words}{_stated(pen, line.stated)}"


def _stands_inside(line: Line, count: StatedCount) -> bool:
    """Whether more work follows the line's count: it stays where it is then."""
    behind = line.steps[_steps_before(line.steps, count) :] if count.span != NOWHERE else ()
    return any(isinstance(step, _MORE_WORK) for step in behind)


def _body(pen: Pen, line: Line) -> str:
    """The steps as sentences, with counts met on the way between them."""
    parts: list[str] = []
    start = 0
    inside = line.stated is not None and _stands_inside(line, line.stated)
    for count in (*line.inner, line.stated) if line.stated is not None and inside else line.inner:
        after = _steps_before(line.steps, count)
        parts.append(_sentence(pen, line.steps[start:after]))
        parts.append(_stated(pen, count).strip())
        start = max(start, after)
    parts.append(_sentence(pen, line.steps[start:]))
    return " ".join(part for part in parts if part)


def _steps_before(steps: Sequence[Step], count: StatedCount) -> int:
    return sum(1 for step in steps if step.span.end <= count.span.start)


def _sentence(pen: Pen, steps: Sequence[Step]) -> str:
    words = in_words(pen, steps)
    if not words:
        return ""
    words = words[0].upper() + words[1:] if words[:5] != "from " else f"Work {words}"
    return words if words[-1] in ".!?" else f"{words}."


# ------------------------------------------------------------------------------------- labels


def _label(pen: Pen, label: Label) -> str:
    if _keeps_label(pen, label):
        own = pen.own(label.span)
        return own if own[-1:] in ":.)-" else f"{own}:"
    if not label.numbers and label.word is None:
        return ""
    return f"{_label_name(pen, label)}{_behind_name(label)}:"


def _keeps_label(pen: Pen, label: Label) -> bool:
    """Whether a label says more than its numbers: "Dividing row:", "Rnd 5 (decrease round):"."""
    if not pen.has_own(label.span):
        return False
    if label.every is not None or label.word not in {None, "next", "last"}:
        return True
    words = pen.text[label.span.start : label.span.end].lower()
    return any(word not in _LABEL_WORDS for word in _LONG.findall(words))


def _label_name(pen: Pen, label: Label) -> str:
    word = pen.style.row_word if label.kind is Kind.ROW else pen.style.round_word
    named = label.numbers
    if label.every is not None:
        start, step = label.every
        return f"{_nth(start)} and every foll {_nth(step)} {word.lower()}"
    if label.word is not None:
        many = label.stated_number_of_rounds
        behind = word.lower() if many is None else f"{numbers(many)} {word.lower()}s"
        return f"{label.word.capitalize()} {behind}"
    first, last = named[0], named[-1]
    if label.per_size_last is not None:
        return f"{word}s {first}-{numbers(label.per_size_last)}"
    if len(named) == 1:
        return f"{word}{'' if word == 'R' else ' '}{first}{'+' if label.open_ended else ''}"
    if named == tuple(range(first, last + 1)):
        return f"{word}s {first}-{last}"
    return f"{word}s {', '.join(map(str, named[:-1]))} and {last}"


def _nth(number: int) -> str:
    ending = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def _behind_name(label: Label) -> str:
    words = f" ({label.side})" if label.side else ""
    stated = label.stated_number_of_rounds
    if stated is not None and len(stated) == 1 and len(label.numbers) > 1:
        unit = "rows" if label.kind is Kind.ROW else "rnds"
        words += f" ({stated[0]} {unit})"
    return words


# ------------------------------------------------------------------------------------- counts


def _stated(pen: Pen, count: StatedCount) -> str:
    if count.chain_included is not None or count.round_number is not None or count.change is not None:
        words = pen.own(count.span).strip(" .,;-=")
        return f" {words}" if words[:1] == "(" else f" ({words})"
    items = ", ".join(_item(pen, item) for item in count.items)
    return f" ({items})" if pen.style.counts == "brackets" else f" \u2014 {items}."


def _item(pen: Pen, item: Counted) -> str:
    number = numbers(item.number)
    if item.what == "total":
        bare = pen.style.bare_total and pen.style.counts == "brackets"
        return number if bare else f"{number} {plural('st', item.number)}"
    if item.what.startswith("ch-") and item.what.endswith(" sp"):
        return f"{number} {plural(item.what, item.number)}"
    return f"{number} {noun(pen, item.what, None, item.number)}"
