"""What a pattern states once for many lines: what the turning chain counts for, joined or spiral."""

from __future__ import annotations

from dataclasses import replace

from craft.notation.tokens import Raw
from craft.notation.tree import HouseRules, Span

__all__ = ["merge", "rules_in"]

_COUNT = frozenset(("count", "counts", "counted", "counting"))
_STOP = frozenset((".", "\n", "\u2022", ";"))
_NOT = frozenset(("not", "never", "doesn't", "don't", "isn't", "n't"))
_CHAIN = frozenset(("ch", "chain", "chains", "chs"))
_SPIRAL = frozenset(("spiral", "continuous", "continuously"))


def rules_in(raw: Raw, start: int, end: int) -> HouseRules:
    """The rules that the raw tokens from `start` to `end` state; empty when there are none."""
    words = raw.words
    counts: list[tuple[int, bool]] = []
    joined: bool | None = None
    span: Span | None = None
    for i in range(start, end):
        word = words[i]
        if word in _COUNT:
            found = _chain_rule(words, start, i)
            if found:
                counts += [pair for pair in found if pair not in counts]
                span = span or Span(raw.starts[_sentence(words, start, i)], raw.ends[i])
        elif word in _SPIRAL:
            joined = False
        elif word == "join" and i + 1 < end:
            joined = _joined(words, i, end, joined)
    return HouseRules(tuple(counts), joined, None, span)


def _sentence(words: list[str], start: int, at: int) -> int:
    """Where the sentence that holds `at` begins."""
    i = at
    while i > start and at - i < 30 and words[i - 1] not in _STOP:
        i -= 1
    return i


def _chain_rule(words: list[str], start: int, at: int) -> list[tuple[int, bool]]:
    """Such as "Ch 3 at beg of row counts as dc", "turning ch does not count as a st"."""
    first = _sentence(words, start, at)
    before = words[first:at]
    after = words[at + 1 : at + 6]
    counts = not (_NOT & set(before)) and not (_NOT & set(after[:2]))
    lengths: list[int] = []
    chains = False
    for i, word in enumerate(before):
        if word in _CHAIN:
            chains = True
            lengths += _lengths(before, i + 1)
    if not chains:
        return []
    if lengths:
        return [(length, counts) for length in lengths]
    general = {"turning", "beg", "beginning", "starting", "start", "t", "initial", "first"} & set(before)
    return [(0, counts)] if general else []


def _lengths(before: list[str], at: int) -> list[int]:
    """Such as "-3", "2", "3 or 4" behind "ch"."""
    found: list[int] = []
    i = at
    while i < len(before) and i < at + 8:
        word = before[i]
        if word.isdecimal() and int(word) < 20:
            found.append(int(word))
        elif word not in {"-", "or", "and", ",", "/", "ch", "("}:
            break
        i += 1
    return found


def _joined(words: list[str], at: int, end: int, joined: bool | None) -> bool | None:
    """Such as "Join all rnds with sl st", "Do not join at end of rnd"."""
    near = words[at + 1 : min(end, at + 8)]
    every = {"all", "each", "every", "rnds", "rounds"} & set(near)
    if at >= 1 and words[at - 1] in _NOT:
        return False if every or {"rnd", "round", "rounds", "unless"} & set(near) else joined
    return True if every and {"rnd", "rnds", "round", "rounds"} & set(near) else joined


def merge(older: HouseRules, newer: HouseRules) -> HouseRules:
    """Rules with later ones taking the place of earlier ones on the same matter."""
    if newer == HouseRules():
        return older
    counts = dict(older.chain_counts)
    counts.update(newer.chain_counts)
    return replace(
        older,
        chain_counts=tuple(sorted(counts.items())),
        joined=older.joined if newer.joined is None else newer.joined,
        terms=newer.terms or older.terms,
        span=older.span or newer.span,
    )
