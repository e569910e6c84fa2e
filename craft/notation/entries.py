"""Lists of abbreviations and stitch explanations cut into entries: "name = meaning"."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from craft.notation.tokens import Raw

__all__ = ["Entry", "entries", "spellings"]

_LONGEST_NAME = 9
_LONGEST_SPELLING = 40
_IN_NAMES = frozenset("()-/,.*&")
_BREAKS = frozenset(("\n", ";", "\u2022"))
_MARKS_BEFORE = frozenset((".", "\u2022", "*", "-"))
_NEVER = frozenset(
    [
        "in",
        "and",
        "to",
        "st",
        "sts",
        "ch",
        "sp",
        "a",
        "b",
        "c",
        "d",
        "e",
        "f",
        "g",
        "the",
        "x",
        "rep",
        "beg",
        "rnd",
        "row",
        "rs",
        "ws",
        "mc",
        "cc",
        "m",
    ]
)


@dataclass(frozen=True, slots=True)
class Entry:
    """Raw ranges: name [start, sep), meaning (sep, end). `strict`: from a list, not from running text."""

    start: int
    sep: int
    end: int
    strict: bool


def entries(raw: Raw, start: int, end: int, *, strict: bool) -> list[Entry]:
    """The entries in the raw tokens from `start` to `end`."""
    sign = _separator(raw, start, end)
    found: list[tuple[int, int]] = []
    fresh = True
    i = start
    while i < end:
        word = raw.words[i]
        if fresh and word not in {"\n", ";"}:
            sep = _name_end(raw, i, end, sign)
            if sep is not None:
                found.append((i, sep))
                i = sep + 1
                fresh = False
                continue
        fresh = word in _BREAKS or (strict and sign == "=" and word in {",", "."})
        i += 1
    stops = [*(a for a, _ in found), end][1:]
    return [_entry(raw, a, sep, stop, strict=strict) for (a, sep), stop in zip(found, stops, strict=True)]


def _entry(raw: Raw, start: int, sep: int, stop: int, *, strict: bool) -> Entry:
    words = raw.words
    while stop > sep + 1 and (words[stop - 1] in _BREAKS or words[stop - 1] == ","):
        stop -= 1
    for i in range(start, sep - 1):  # past bullets and the sentence before: "Fasten off. Dc2tog = ..."
        if words[i] in _MARKS_BEFORE and raw.starts[i + 1] > raw.ends[i]:
            start = i + 1
    return Entry(start, sep, stop, strict)


def _separator(raw: Raw, start: int, end: int) -> str:
    """The mark between names and meanings in this list."""
    tally = Counter(word for word in raw.words[start:end] if word in {"=", ":"})
    if tally["="]:
        return "="
    dashes = sum(
        1
        for i in range(start + 1, min(end, len(raw) - 1))
        if raw.words[i] == "-" and raw.starts[i] > raw.ends[i - 1]
    )
    return "-" if dashes > tally[":"] else ":"


def _name_end(raw: Raw, at: int, end: int, sign: str) -> int | None:
    """The index of the separator if a name stands at `at`."""
    for i in range(at, min(end, at + _LONGEST_NAME + 1)):
        word = raw.words[i]
        parts = word == sign or (word in {":", "="} and sign != "=")
        if parts and i > at and not (word == "-" and raw.starts[i] == raw.ends[i - 1]):
            return i
        if not (word.isalnum() or word in _IN_NAMES or "'" in word):
            return None
    return None


def spellings(name: str) -> list[str]:
    """The ways a defined name is written: "Shell (sh)" -> "shell", "shells", "sh", "shs"."""
    name = name.strip().strip(".,").lower()
    head, bracket, tail = name.partition("(")
    forms = [name]
    if bracket:
        head, inner = head.strip(), tail.split(")")[0].strip()
        forms = [head, head + inner] if inner in {"s", "es"} else [head, inner]
    found: list[str] = []
    for form in forms:
        if not form or len(form) > _LONGEST_SPELLING:
            continue
        found.append(form)
        if not form.endswith("s"):
            found.append(form + "s")
        if form.endswith(" st"):
            found += [form + "itch", form[:-3]]
        elif form.endswith(" stitch"):
            found += [form[:-7], form[:-4], form + "es"]
    return [form for form in found if not form.isdigit() and form not in _NEVER]
