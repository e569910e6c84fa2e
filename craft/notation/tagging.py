"""Raw words to tokens with a kind: phrases joined, size lists made one number, articles dropped."""

from __future__ import annotations

from craft.notation.numbers import size_list
from craft.notation.stitches import Named, together
from craft.notation.tokens import Lexicon, Raw, Tokens
from craft.notation.tree import Loops, Numbers

__all__ = ["tag"]

_OPEN = {"(": ")", "[": "]", "{": "}"}
_OWN = frozenset(("num", "ord", "word", "*", "(", ")", ","))
_PARTING_DASHES = "\u2014\u2015"
_TOGETHER = {
    "tog": None,
    "together": None,
    "togbl": Loops.BACK,
    "togblo": Loops.BACK,
    "togfl": Loops.FRONT,
    "togflo": Loops.FRONT,
}
_PAST_THE_END = ("",) * 8
"""Put behind the tokens, so that looking a few ahead needs no check."""
_NEAREST = 9
"""How many open brackets a closing one looks through for its own kind."""


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
    return _Tagger(raw, start, stop, sizes, only).run(lexicon)


class _Tagger:
    __slots__ = ("ends", "match", "only", "opened", "ordinal", "out", "sizes", "starts", "text", "words")

    def __init__(self, raw: Raw, start: int, stop: int, sizes: int, only: tuple[int, ...]) -> None:
        words = raw.words[start:stop]
        starts, ends = raw.starts[start:stop], raw.ends[start:stop]
        ordinal = raw.ordinal[start:stop]
        if "\n" in words:
            kept = [i for i, word in enumerate(words) if word != "\n"]
            words, starts, ends, ordinal = (
                [words[i] for i in kept],
                [starts[i] for i in kept],
                [ends[i] for i in kept],
                [ordinal[i] for i in kept],
            )
        self.words, self.starts, self.ends, self.ordinal = words, starts, ends, ordinal
        self.text = raw.text
        self.sizes = sizes
        self.only = only
        self.match: dict[int, int] = {}
        self.out = Tokens(raw.text, [], [], [], [], self.match, sizes)
        self.opened: list[tuple[str, int]] = []

    def run(self, lexicon: Lexicon) -> Tokens:
        words, starts, ends = self.words, self.starts, self.ends
        out = self.out
        kinds, values, token_starts, token_ends = out.kinds, out.values, out.starts, out.ends
        phrases, single = lexicon.phrases, lexicon.singles
        end = len(words)
        i = 0
        while i < end:
            word = words[i]
            size = 1
            if word in phrases:
                meaning, size = lexicon.look_up(words, i)
            else:
                meaning = single.get(word)
            if meaning is None:
                i = self._odd(word, i)
                continue
            kind, value = meaning
            first = i
            i += size
            if kind == "omit":
                continue
            if kind == "total" and word == "in" and self._names_places(lexicon, i):
                kind, value = "in", "in"  # "sc in all 7 sts": not "7 in all"
                i = first + 1
            if kind == "stitch" and i + 1 < end and words[i + 1] in _TOGETHER and words[i].isdecimal():
                value = _worked_together(value, int(words[i]), words[i + 1])
                i += 2
            kinds.append(kind)
            values.append(value)
            token_starts.append(starts[first])
            token_ends.append(ends[i - 1])
        kinds.extend(_PAST_THE_END)
        values.extend(_PAST_THE_END)
        return out

    def _names_places(self, lexicon: Lexicon, i: int) -> bool:
        """Whether a number of places or a kind of them stands at `i`."""
        if i >= len(self.words):
            return False
        word = self.words[i]
        return word.isdecimal() or lexicon.singles.get(word, ("", ""))[0] in {"noun", "stitch"}

    def _put(self, kind: str, value: object, first: int, after: int) -> int:
        """Add a token made of the words from `first` to `after`; return `after`."""
        out = self.out
        out.kinds.append(kind)
        out.values.append(value)
        out.starts.append(self.starts[first])
        out.ends.append(self.ends[after - 1])
        return after

    def _odd(self, word: str, i: int) -> int:
        """A word that no lexicon holds: numbers, brackets, dashes, names. Returns the next index."""
        if word.isdecimal():
            ordinal = self.ordinal[i]
            return self._put("ord", int(word), i, i + 1) if ordinal else self._number(int(word), i)
        if word in _OPEN:
            return self._open(word, i)
        if word in ")]}":
            return self._close(word, i)
        if word == "-":
            return self._dash(i)
        article = word == "a" and self.text[self.starts[i]].islower()  # a capital A may be a colour
        return i + 1 if article else self._put("*" if word[0] == "*" else "word", word, i, i + 1)

    def _number(self, value: int, i: int) -> int:
        words = self.words
        if self.sizes > 1 and i + 1 < len(words) and words[i + 1] in _OPEN:
            found = size_list(words, i, len(words))
            if found is not None and not self._count_follows(found[0], i + 1):
                return self._put("num", self._spread(found[0]), i, found[1])
        elif self.sizes > 1 and i + 2 < len(words) and words[i + 1] == "," and words[i + 2] in _OPEN:
            found = size_list(words, i + 2, len(words))  # "53, (56, 58, 61)"
            if found is not None and len(found[0]) + 1 in {self.sizes, len(self.only)}:
                return self._put("num", self._spread((value, *found[0])), i, found[1])
        return self._put("num", (value,), i, i + 1)

    def _count_follows(self, values: Numbers, i: int) -> bool:
        """Whether the bracket at `i` is a count of its own: "x 6 (18 (20, 22))", or "x 6 (18)" for
        three sizes or more.
        """
        if len(values) in {self.sizes, len(self.only)}:
            return False
        inner = size_list(self.words, i + 1, len(self.words)) if i + 1 < len(self.words) else None
        return len(values) == 2 or (inner is not None and len(inner[0]) == self.sizes)

    def _open(self, word: str, i: int) -> int:
        holds_list = self.words[i + 2 : i + 3] and self.words[i + 2] in _OPEN  # a count: "(18 (20, 22))"
        if self.sizes > 1 and not holds_list:
            found = size_list(self.words, i, len(self.words))
            if found is not None and len(found[0]) in {self.sizes, len(self.only)}:
                return self._put("num", self._spread(found[0]), i, found[1])
        self.opened.append((_OPEN[word], len(self.out.kinds)))
        return self._put("(", word, i, i + 1)

    def _spread(self, values: Numbers) -> Numbers:
        """A list for some sizes as a list for all."""
        if len(values) != len(self.only) or len(values) == self.sizes:
            return values
        at = dict(zip(self.only, values, strict=True))
        return tuple(at.get(position) for position in range(self.sizes))

    def _close(self, word: str, i: int) -> int:
        """Pair a closing bracket with the nearest one of its kind; drop "single crochet (sc)"."""
        kinds, opened = self.out.kinds, self.opened
        if len(kinds) > 2 and kinds[-2] == "(" and kinds[-1] == kinds[-3] and kinds[-1] not in _OWN:
            out = self.out
            del kinds[-2:], out.values[-2:], out.starts[-2:], out.ends[-2:]
            if opened:
                opened.pop()
            return i + 1
        for depth in range(len(opened) - 1, max(-1, len(opened) - _NEAREST), -1):
            if opened[depth][0] == word:
                self.match[opened[depth][1]] = len(kinds)
                del opened[depth:]
                break
        return self._put(")", word, i, i + 1)

    def _dash(self, i: int) -> int:
        """A dash parts two phrases (" - ", an em dash, "--") or joins two words ("ch-3")."""
        starts, ends, words = self.starts, self.ends, self.words
        if self.sizes > 1 and (found := size_list(words, i, len(words))) and len(found[0]) == self.sizes:
            return self._put("num", found[0], i, found[1])  # "- (4, 8)": the first size leaves it out
        parts = self.text[starts[i]] in _PARTING_DASHES or (i > 0 and starts[i] > ends[i - 1])
        if not parts:
            return self._put("-", "-", i, i + 1)
        double = i + 1 < len(words) and words[i + 1] == "-"
        return self._put("--", "-", i, i + (2 if double else 1))


def _worked_together(value: object, number: int, word: str) -> object:
    """Such as "dc2tog" and its kin: the stitch, a number, "tog"."""
    if not isinstance(value, Named):
        return value
    loops = _TOGETHER[word] or value.loops
    return Named(together(value.stitch.name, min(number, 999)).stitch, loops)
