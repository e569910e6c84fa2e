"""Raw words to tokens with a kind: phrases joined, size lists made one number, articles dropped."""

from __future__ import annotations

from craft.notation.numbers import size_list
from craft.notation.stitches import Named, together
from craft.notation.tokens import Lexicon, Raw, Tokens
from craft.notation.tree import Loops, Numbers

__all__ = ["tag"]

_OPEN = {"(": ")", "[": "]", "{": "}"}
_CLOSE = frozenset(")]}")
_OWN = frozenset(("num", "ord", "word", "*", "(", ")", ","))
_ARTICLES = frozenset(("the", "an", "very", "loosely", "your", "a"))
_MARKS = {
    ",": ",",
    ";": ";",
    ".": ".",
    ":": ":",
    "-": "-",
    "=": "=",
    "+": "+",
    "/": "/",
    "|": "|",
    "&": "and",
    '"': '"',
    "\u2020": "*",
    "\u2021": "*",
    "#": "#",
}


def tag(
    raw: Raw,
    start: int,
    stop: int,
    lexicon: Lexicon,
    sizes: int,
    only: tuple[int, ...] = (),
) -> Tokens:
    """Give the raw tokens from `start` to `stop` a kind and a value; line ends are passed over.

    `sizes` is the number of sizes of the pattern; `only` the positions of those that this statement
    is for: a shorter list is spread over them, and None stands for the others.
    """
    kinds: list[str] = []
    values: list[object] = []
    starts: list[int] = []
    ends: list[int] = []
    match: dict[int, int] = {}
    tokens = Tokens(raw.text, kinds, values, starts, ends, match)
    words, raw_starts, raw_ends, ordinal = (
        raw.words[start:stop],
        raw.starts[start:stop],
        raw.ends[start:stop],
        raw.ordinal[start:stop],
    )
    if "\n" in words:
        kept = [i for i, word in enumerate(words) if word != "\n"]
        words = [words[i] for i in kept]
        raw_starts = [raw_starts[i] for i in kept]
        raw_ends = [raw_ends[i] for i in kept]
        ordinal = [ordinal[i] for i in kept]
    end = len(words)
    opened: list[tuple[str, int]] = []
    look_up = lexicon.look_up
    i = 0
    while i < end:
        word = words[i]
        first = i
        if word.isdecimal():
            if ordinal[i]:
                kind, value = "ord", int(word)
                i += 1
            else:
                found = (
                    size_list(words, i, end) if sizes > 1 and i + 1 < end and words[i + 1] in _OPEN else None
                )
                kind = "num"
                if found is None:
                    value = (int(word),)
                    i += 1
                else:
                    value, i = found
                    if len(found[0]) == len(only) != sizes:
                        value = _spread(found[0], only, sizes)
        elif word in _OPEN:
            found = size_list(words, i, end) if sizes > 1 else None
            if found is not None and len(found[0]) == sizes:
                kind, (value, i) = "num", found
            elif found is not None and len(found[0]) == len(only):
                kind, (value, i) = "num", (_spread(found[0], only, sizes), found[1])
            else:
                kind, value = "(", word
                opened.append((_OPEN[word], len(kinds)))
                i += 1
        elif word in _CLOSE:
            i += 1
            if len(kinds) > 2 and kinds[-2] == "(" and kinds[-1] == kinds[-3] and kinds[-1] not in _OWN:
                del kinds[-2:], values[-2:], starts[-2:], ends[-2:]  # "single crochet (sc)"
                if opened:
                    opened.pop()
                continue
            kind, value = ")", word
            _close(word, opened, match, len(kinds))
        elif (
            word == "-"
            and sizes > 1
            and (found := size_list(words, i, end)) is not None
            and len(found[0]) == sizes
        ):
            kind, (value, i) = "num", found
        elif word in _MARKS:
            kind, value = _MARKS[word], word
            if kind == "-" and _parts(raw.text, raw_starts, raw_ends, i):
                kind = "--"
            i += 1
            if kind == "--" and i < end and words[i] == "-":
                i += 1
        elif word[0] == "*":
            kind, value = "*", word
            i += 1
        else:
            if word in _ARTICLES and raw.text[raw_starts[i]].islower():
                i += 1
                continue
            meaning, size = look_up(words, i)
            i += size
            kind, value = meaning if meaning is not None else ("word", word)
            if kind == "omit":
                continue
            if kind == "stitch" and i + 1 < end and words[i].isdecimal() and words[i + 1] in _TOGETHER:
                kind, value, i = _together(value, words, i)
        kinds.append(kind)
        values.append(value)
        starts.append(raw_starts[first])
        ends.append(raw_ends[i - 1])
    kinds.extend(_PAST_THE_END)
    values.extend(_PAST_THE_END)
    return tokens


def _spread(values: Numbers, only: tuple[int, ...], sizes: int) -> Numbers:
    """A list for some sizes as a list for all."""
    at = dict(zip(only, values, strict=True))
    return tuple(at.get(position) for position in range(sizes))


# so that looking a few tokens ahead needs no check
_PAST_THE_END = ("",) * 8


def _parts(text: str, starts: list[int], ends: list[int], at: int) -> bool:
    """Whether a dash parts two phrases (" - ", an em dash, "--") or joins two words ("ch-3")."""
    if text[starts[at]] in "\u2014\u2015":
        return True
    return at > 0 and starts[at] > ends[at - 1]


_TOGETHER = {"tog": "", "together": "", "togbl": "bl", "togfl": "fl", "togblo": "bl", "togflo": "fl"}


def _together(value: object, words: list[str], at: int) -> tuple[str, object, int]:
    """Such as "dc2tog" and its kin: the stitch, a number, "tog"."""
    assert isinstance(value, Named)
    number = min(int(words[at]), 999)
    loops = {"": value.loops, "bl": Loops.BACK, "fl": Loops.FRONT}[_TOGETHER[words[at + 1]]]
    stitch = together(value.stitch.name, number).stitch
    return "stitch", Named(stitch, loops), at + 2


def _close(word: str, opened: list[tuple[str, int]], match: dict[int, int], at: int) -> None:
    """Pair a closing bracket with the nearest one of its kind that is still open."""
    for depth in range(len(opened) - 1, max(-1, len(opened) - 9), -1):
        if opened[depth][0] == word:
            match[opened[depth][1]] = at
            del opened[depth:]
            return
