"""Numbers that stand for several sizes: `5 (6-7)`, `(20-25-30)`, `45 (48) 51`, `8 (-, 10)`.

What the brackets mean is known from the number of sizes, not from the separator: a dash inside size
brackets is a list, in a label it is a range.
"""

from __future__ import annotations

from collections import Counter

from craft.notation.tokens import Raw
from craft.notation.tree import Numbers
from craft.notation.words import wordset

__all__ = ["commonest_length", "list_lengths", "size_list"]

_OPEN = {"(": ")", "[": "]", "{": "}"}
_BETWEEN = frozenset((",", "-", "/", ";", ":", "_", "\n", "and"))
_MOST_SIZES = 16
MAX_NUMBER = 10**9


def size_list(words: list[str], at: int, end: int) -> tuple[Numbers, int] | None:
    """Read a list of numbers from a number, a leading dash or an opening bracket at `at`.

    Returns the values and the index after the list, or None when there is no list of two or more.
    """
    values: list[int | None] = []
    i = at
    if words[i].isdecimal():
        values.append(int(words[i]))
        i += 1
    elif words[i] == "-" and i + 1 < end and words[i + 1] in _OPEN:
        values.append(None)  # the first size leaves it out
        i += 1
    elif words[i] not in _OPEN:
        return None
    groups = 0
    while i < end and words[i] in _OPEN and groups < 4:
        # "x 4 (12 (14, 16))" is a number of times and a count by size, not one list.
        inner = _inside(words, i, end, nested=not values)
        if inner is None:
            break
        values.extend(inner[0])
        i = inner[1]
        groups += 1
    return (tuple(values), i) if groups and 2 <= len(values) <= _MOST_SIZES else None


def _inside(words: list[str], at: int, end: int, *, nested: bool) -> tuple[list[int | None], int] | None:
    """The numbers inside one bracket, if it holds nothing else."""
    close = _OPEN[words[at]]
    values: list[int | None] = []
    fresh = True  # a number, not a separator, is due
    i = at + 1
    limit = min(end, at + 2 * _MOST_SIZES + 4)
    while i < limit:
        word = words[i]
        if word.isdecimal():
            values.append(int(word))
            fresh = False
        elif word == close:
            return (values, i + 1) if values else None
        elif word in _BETWEEN:
            if word == "-" and fresh and i + 1 < limit and words[i + 1] in {",", close}:
                values.append(None)  # a printed dash: this size leaves it out
            fresh = word != "\n" or fresh
        elif word in _OPEN and values and nested:
            inner = _inside(words, i, end, nested=True)
            if inner is None:
                return None
            values.extend(inner[0])
            i = inner[1] - 1
        else:
            return None
        i += 1
    return None


def commonest_length(raw: Raw, *, told: bool = False) -> tuple[int, int]:
    """How many sizes the lists of a text speak for, and how many lists say so; (1, 0) without lists.

    `told`: the text says that it is for several sizes, so fewer lists are proof.
    """
    lengths = list_lengths(raw, told=told)
    if not lengths:
        return 1, 0
    length, times = max(lengths.items(), key=lambda item: (item[1], item[0]))
    return (length, times) if times >= (1 if told else 3) else (1, 0)


def list_lengths(raw: Raw, *, told: bool = False) -> Counter[int]:
    """How many lists of each length a text has; pairs only where they are surely lists."""
    words, end = raw.words, len(raw)
    lengths: Counter[int] = Counter()
    i = 0
    while i < end:
        if words[i] in _OPEN and i and words[i - 1].isdecimal():
            found = size_list(words, i - 1, end)
            if found is not None:
                values, after = found
                if len(values) > 2 or told or (after < end and words[after] in _AFTER_A_PAIR):
                    lengths[len(values)] += 1
                i = after
                continue
        i += 1
    return lengths


_AFTER_A_PAIR = wordset("st sts sc hdc dc tr htr ch chs rows rnds rounds times row rnd stitches sps ch-sp")
