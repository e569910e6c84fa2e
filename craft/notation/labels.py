"""Line labels: `Rnd 3:`, `R3`, `3.`, `3rd rnd:`, `Rows 5-9 (5 rows)`, `2nd and alt rows`, `Next row:`.

A label decides where a round ends; full stops do not. `2nd ch from hook` and `3rd rnd below` are no
labels: row or rnd and a mark after it are needed, except where a line of the text begins.
"""

from __future__ import annotations

from dataclasses import dataclass

from craft.notation.lexicon import NUMBER_WORDS, ORDINAL_WORDS
from craft.notation.numbers import size_list
from craft.notation.tokens import Raw
from craft.notation.tree import Kind, Numbers
from craft.notation.words import wordset

__all__ = ["KIND_WORDS", "RawLabel", "match_label"]

KIND_WORDS: dict[str, Kind] = {
    **dict.fromkeys(("row", "rows", "rw", "rws"), Kind.ROW),
    **dict.fromkeys(("rnd", "rnds", "round", "rounds", "rd", "rds", "r", "rs"), Kind.ROUND),
}
_LONG_KIND = {word: kind for word, kind in KIND_WORDS.items() if len(word) > 2 or word in {"rw", "rd"}}
_ORDINALS = {"first": 1, **ORDINAL_WORDS}
_TO = frozenset(("-", "to", "through", "thru", "till", "until"))
_AND = frozenset((",", "and", "&", "+"))
_MARKS = frozenset((":", "-", ".", ";", ")", ",", "=", "]"))
_NAMED = wordset(
    "next last foundation set setup joining decrease increase dec inc edging eyelet final "
    "starting beginning pattern pat dividing turning base border ruffle picot shell first "
    "buttonhole ribbing rib ridge loop mesh cluster"
)
_NEVER_BEFORE = wordset(
    "of rep repeat in to as from until and for at or through this each every end on per "
    "between work follow marked after before last same into with over sew by than see"
)
_WORK_STARTS = wordset(
    "ch chain sc hdc dc tr htr dtr sl slip ss inc dec mr mc ka work join with turn sk "
    "skip miss in using magic make begin beg ( [ { * ** repeat rep as fpdc bpdc blo flo "
    "working bo bob puff change same ch1 ch2 ch3 crochet fasten first knit hold holding"
)


@dataclass(frozen=True, slots=True)
class RawLabel:
    """A label as printed, before the sizes of the pattern are settled; `end` is a raw index."""

    kind: Kind
    start: int
    end: int
    numbers: tuple[int, ...] = ()
    stated: Numbers | None = None
    side: str | None = None
    every: tuple[int, int] | None = None
    open_ended: bool = False
    last_by_size: Numbers | None = None
    word: str | None = None
    bare: bool = False


def match_label(raw: Raw, at: int, end: int, *, line_start: bool) -> RawLabel | None:
    """The label that begins at raw index `at`, if one does."""
    words = raw.words
    word = words[at]
    if word in KIND_WORDS:
        return _kind_first(raw, at, end, line_start=line_start)
    if raw.ordinal[at] or word in _ORDINALS:
        found = _ordinal_first(raw, at, end, line_start=line_start)
        if found is not None:
            return found
    if word.isdecimal() and not raw.ordinal[at]:
        if at + 2 < end and words[at + 1] in _LONG_KIND and words[at + 2] == ":":
            return _finish(
                raw, at, at + 2, end, _LONG_KIND[words[at + 1]], (int(word),), {}, line_start=line_start
            )
        return _bare_number(raw, at, end) if line_start else None
    return _named(raw, at, end, line_start=line_start) if word.isalpha() else None


def _kind_first(raw: Raw, at: int, end: int, *, line_start: bool) -> RawLabel | None:
    words = raw.words
    kind = KIND_WORDS[words[at]]
    i = at + 1
    if i < end and words[i] == ".":  # "Rnd. 3"
        i += 1
    if i < end and words[i] == "#":
        i += 1
    if i >= end or not _is_number(raw, i):
        return None
    if words[at] in {"r", "rs"} and (raw.starts[i] != raw.ends[at] or words[at] == "rs"):
        return None
    numbers, i, extra = _numbers(raw, i, end)
    return _finish(raw, at, i, end, kind, numbers, extra, line_start=line_start)


def _ordinal_first(raw: Raw, at: int, end: int, *, line_start: bool) -> RawLabel | None:
    words = raw.words
    numbers, i, extra = _numbers(raw, at, end)
    every: tuple[int, int] | None = None
    if i + 1 < end and words[i] in _AND:
        every, i = _every(raw, i, end, numbers)
    if i < end and words[i] in _LONG_KIND:
        kind = _LONG_KIND[words[i]]
        i += 1
        if every is None and i + 2 < end and words[i] in _AND and words[i + 1] in {"every", "all", "each"}:
            every, i = _every(raw, i, end, numbers)
            if i < end and words[i] in _LONG_KIND:
                i += 1
        return _finish(raw, at, i, end, kind, numbers, {**extra, "every": every}, line_start=line_start)
    return None


def _every(raw: Raw, at: int, end: int, numbers: tuple[int, ...]) -> tuple[tuple[int, int] | None, int]:
    """Such as "... and alt (rows)", "... and every foll 4th (row)", "... and all even"."""
    words = raw.words
    i = at + 1
    step = 0
    while i < end and words[i] in {
        "every",
        "all",
        "each",
        "foll",
        "following",
        "other",
        "alt",
        "alternate",
        "even",
        "odd",
        "-",
        "numbered",
        "ws",
        "rs",
        "rem",
        "remaining",
    }:
        if words[i] in {"alt", "alternate", "other", "even", "odd", "ws", "rs"}:
            step = 2
        i += 1
    if i < end and raw.ordinal[i] and i > at + 1:
        step = int(words[i])
        i += 1
    if i == at + 1 or not step or not numbers:
        return None, at
    return (numbers[-1], step), i


def _bare_number(raw: Raw, at: int, end: int) -> RawLabel | None:
    """Such as "5." "5)" "5-8)" at the start of a line, with work behind it."""
    words = raw.words
    numbers, i, extra = _numbers(raw, at, end)
    if i < end and words[i] in _LONG_KIND and len(numbers) > 1 and words[i].endswith("s"):
        return _finish(raw, at, i + 1, end, _LONG_KIND[words[i]], numbers, extra, line_start=True)
    if i + 1 >= end or words[i] not in {".", ":", ")"} or raw.starts[i] != raw.ends[i - 1]:
        return None
    nxt = words[i + 1]
    if nxt in KIND_WORDS or (raw.ordinal[i + 1] and i + 2 < end and words[i + 2] in _LONG_KIND):
        return match_label(raw, i + 1, end, line_start=True)  # the list number fights the label
    if not (nxt in _WORK_STARTS or nxt[0].isdigit() or nxt in _SHORT_STITCHES):
        return None
    if nxt in {
        "with",
        "work",
        "in",
        "make",
        "using",
        "join",
        "begin",
        "working",
        "same",
        "first",
        "hold",
        "holding",
    } and not _digit_soon(raw, i + 2, end):
        return None
    return RawLabel(Kind.ROUND, at, i + 1, numbers, bare=True)


_SHORT_STITCHES = wordset("invdec sc2tog dc2tog increase decrease single double half tr st sts")


def _digit_soon(raw: Raw, at: int, end: int) -> bool:
    return any(word.isdecimal() for word in raw.words[at : min(end, at + 5)])


def _named(raw: Raw, at: int, end: int, *, line_start: bool) -> RawLabel | None:
    """Such as "Next row:", "Set-up rnd:", "Joining Round 2:", "Center Back Joining Row:"."""
    words = raw.words
    limit = min(end, at + 6)
    i = at
    if words[at] in {"next", "last"} and at + 2 < end and words[at + 1].isdecimal():
        found = size_list(words, at + 1, end) if words[at + 2] in "([" else None
        if found is not None:
            return _next_by_size(raw, at, found, end, line_start=line_start)
    while i < limit and words[i] not in _LONG_KIND:
        if not (words[i].isalpha() or words[i] == "-" or (words[i].isdecimal() and i > at)):
            return None
        i += 1
    if i >= limit or i == at:
        return None
    name = words[at:i]
    kind = _LONG_KIND[words[i]]
    i += 1
    stated: Numbers | None = None
    if len(name) > 1 and name[-1].isdecimal():  # "Next 4 rows"
        stated = (int(name[-1]),)
    elif words[i - 1].endswith("s") and name[0] in {"next", "last"}:
        found = size_list(words, i, end) if i < end else None
        if found is not None:
            return None
    numbers: tuple[int, ...] = ()
    extra: dict[str, object] = {}
    if i < end and words[i].isdecimal() and not raw.ordinal[i]:
        numbers, i, extra = _numbers(raw, i, end)
    if not (name[0] in _NAMED or raw.text[raw.starts[at]].isupper()) or name[0] in _NEVER_NAMED:
        return None
    label = _finish(
        raw, at, i, end, kind, numbers, extra, line_start=line_start and name[0] in _NAMED, strict=True
    )
    if label is None:
        return None
    word = "next" if name[0] == "next" else "last" if name[0] in {"last", "final"} else " ".join(name)
    if stated is not None:
        label = RawLabel(label.kind, label.start, label.end, label.numbers, stated, label.side, word=word)
        return label
    return RawLabel(label.kind, label.start, label.end, label.numbers, label.stated, label.side, word=word)


def _next_by_size(
    raw: Raw, at: int, found: tuple[Numbers, int], end: int, *, line_start: bool
) -> RawLabel | None:
    """Such as "Next 3 (3, 2, 2) rows:"."""
    values, i = found
    if i >= end or raw.words[i] not in _LONG_KIND:
        return None
    kind = _LONG_KIND[raw.words[i]]
    label = _finish(raw, at, i + 1, end, kind, (), {}, line_start=line_start, strict=True)
    if label is None:
        return None
    return RawLabel(kind, at, label.end, (), values, label.side, word=raw.words[at])


_NEVER_NAMED = wordset(
    "rep repeat note notes size sizes all both end work cont continue as these this each at for in to beg"
)


def _is_number(raw: Raw, at: int) -> bool:
    return raw.words[at].isdecimal() or (raw.words[at] in NUMBER_WORDS and raw.words[at] != "zero")


def _value(raw: Raw, at: int) -> int | None:
    word = raw.words[at]
    if word.isdecimal():
        return int(word)
    return _ORDINALS.get(word) or NUMBER_WORDS.get(word)


def _numbers(raw: Raw, at: int, end: int) -> tuple[tuple[int, ...], int, dict[str, object]]:
    """Such as "5", "5-9", "5 to 9", "5, 7 and 9", "2-4 (6, 9)", "9+"; numbers, next index, extras."""
    words = raw.words
    values: list[int] = []
    extra: dict[str, object] = {}
    i = at
    joiner = ""
    while i < end:
        value = _value(raw, i)
        if value is None:
            break
        if joiner in _TO and values and values[-1] < value <= values[-1] + 5000:
            values.extend(range(values[-1] + 1, value + 1))
        else:
            values.append(value)
        i += 1
        by_size = size_list(words, i - 1, end) if i < end and words[i] in "([" else None
        if by_size is not None and not raw.ordinal[i - 1]:
            extra["last_by_size"] = _range_ends(values, by_size[0])
            i = by_size[1]
        if i >= end:
            break
        j = i
        if words[j] in KIND_WORDS and j + 1 < end and words[j + 1] in _TO | _AND and len(words[j]) > 1:
            j += 1  # "Rnd 5 rnd to": the kind said twice
        if words[j] == ",":
            joiner = ","
            j += 1
            if j < end and words[j] in {"and", "&"}:
                j += 1
        elif words[j] in _TO or words[j] in _AND:
            joiner = words[j]
            j += 1
        else:
            break
        if j < end and words[j] in KIND_WORDS:
            j += 1
        if j < end and words[j] == "#":
            j += 1
        if (
            j >= end
            or _value(raw, j) is None
            or (joiner == "," and raw.ordinal[j - 1] is False and not _list_goes_on(raw, j, end))
        ):
            break
        i = j
    if i < end and words[i] == "+":
        extra["open_ended"] = True
        i += 1
    return tuple(values), i, extra


def _range_ends(values: list[int], listed: Numbers) -> Numbers:
    """Such as "Rows 2-12 (2-12, 2-16)": the ends alone, (12, 12, 16)."""
    starts, ends = listed[1::2], listed[0::2]
    if len(listed) > 2 and len(ends) == len(starts) + 1 and set(starts) == {values[0]}:
        return ends
    return listed


def _list_goes_on(raw: Raw, at: int, end: int) -> bool:
    """After "Row 4, 19 ...": a further label number, or the work of row 4?"""
    return at + 1 < end and raw.words[at + 1] in _TO | _AND | {":", "."} | set(KIND_WORDS)


_SIDES = {"rs": "RS", "ws": "WS"}


def _finish(
    raw: Raw,
    at: int,
    i: int,
    end: int,
    kind: Kind,
    numbers: tuple[int, ...],
    extra: dict[str, object],
    *,
    line_start: bool,
    strict: bool = False,
) -> RawLabel | None:
    """Read side, remarks and mark after the numbers; None if this turns out to be no label."""
    words = raw.words
    side: str | None = None
    stated: Numbers | None = None
    brackets = 0
    while i < end and words[i] in "([" and brackets < 3:
        close = _bracket_end(words, i, end)
        if close is None:
            break
        inside = words[i + 1 : close]
        side = side or _side(inside)
        count = _rounds_stated(inside)
        if count is not None:
            stated = count
        elif (
            _side(inside) is None
            and not (close + 1 < end and words[close + 1] in _MARKS)
            and not _is_remark(inside)
        ):
            break
        i = close + 1
        brackets += 1
    if i + 1 < end and words[i] in {"rs", "ws"}:
        side = _SIDES[words[i]]
        i += 1
    if i + 1 < end and words[i] == "and" and words[i + 1] in {"up", "on"}:
        extra["open_ended"] = True
        i += 2
    marked = i < end and words[i] in _MARKS
    if not marked:
        if strict or not line_start or i >= end or not _works(raw, i):
            return None
    elif (
        (
            words[i] != ":"
            and not line_start
            and not (words[i] == "-" or (words[i] == "." and i + 1 < end and _works(raw, i + 1)))
        )
        or (
            words[i] in {".", ","}
            and line_start
            and not (i + 1 >= end or _works(raw, i + 1) or words[i + 1] == "\n")
        )
        or (strict and words[i] in {",", ".", ")", ";", "]"})
    ):
        return None
    if marked:
        i += 1
        if i < end and words[i] in {"-", ":"}:
            i += 1
    i, side = _side_sentence(raw, i, end, side)
    return RawLabel(
        kind,
        at,
        i,
        numbers,
        stated,
        side,
        extra.get("every"),  # type: ignore[arg-type]  # set by _ordinal_first only
        bool(extra.get("open_ended")),
        extra.get("last_by_size"),  # type: ignore[arg-type]  # set by _numbers only
    )


def _side_sentence(raw: Raw, i: int, end: int, side: str | None) -> tuple[int, str | None]:
    """Such as "1st row: (RS). Ch 1": the side as a sentence of its own."""
    words = raw.words
    if i < end and words[i] == "(":
        close = _bracket_end(words, i, end)
        found = _side(words[i + 1 : close]) if close is not None and close - i <= 8 else None
        if close is not None and found is not None:
            i = close + 1
            if i < end and words[i] in {".", ":", ","}:
                i += 1
            return i, side or found
    return i, side


def _works(raw: Raw, at: int) -> bool:
    word = raw.words[at]
    return word in _WORK_STARTS or word[0].isdigit() or word in _SHORT_STITCHES or word[0] == "*"


def _bracket_end(words: list[str], at: int, end: int) -> int | None:
    close = ")" if words[at] == "(" else "]"
    for i in range(at + 1, min(end, at + 14)):
        if words[i] == close:
            return i
    return None


def _side(inside: list[str]) -> str | None:
    joined = " ".join(inside[:3])
    for name, side in (
        ("rs", "RS"),
        ("ws", "WS"),
        ("right side", "RS"),
        ("wrong side", "WS"),
        ("right - side", "RS"),
        ("wrong - side", "WS"),
    ):
        if joined == name or joined.startswith(name + " "):
            return side
    return _side(inside[-2:]) if len(inside) > 3 else None


def _rounds_stated(inside: list[str]) -> Numbers | None:
    """Such as "(5 rnds)", "(8 rounds total)"."""
    if len(inside) >= 2 and inside[0].isdecimal() and inside[1] in _LONG_KIND:
        return (int(inside[0]),)
    return None


def _is_remark(inside: list[str]) -> bool:
    return (
        bool(inside)
        and all(word.isalpha() or word in "-'," for word in inside)
        and (
            inside[-1] in _LONG_KIND or inside[0] in {"increase", "decrease", "inc", "dec", "cont", "cont'd"}
        )
    )
