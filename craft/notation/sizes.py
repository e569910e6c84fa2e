"""Which sizes a pattern is written for, and which of them a line is meant for."""

from __future__ import annotations

import itertools
import re

from craft.notation.numbers import commonest_length, list_lengths
from craft.notation.tokens import Raw

__all__ = ["find_sizes", "positions_named", "size_names"]

_PROOF = 3  # lists as long as the sizes named
_LADDER = ("xxs", "xs", "s", "m", "l", "xl", "2xl", "3xl", "4xl", "5xl", "6xl")
_ALIASES = {
    "extra small": "xs",
    "extra-small": "xs",
    "extra-large": "xl",
    "x-small": "xs",
    "xsmall": "xs",
    "small": "s",
    "sm": "s",
    "medium": "m",
    "med": "m",
    "large": "l",
    "lg": "l",
    "extra large": "xl",
    "x-large": "xl",
    "xlarge": "xl",
    "1x": "xl",
    "1xl": "xl",
    "xxl": "2xl",
    "2x": "2xl",
    "2x-large": "2xl",
    "3x": "3xl",
    "xxxl": "3xl",
    "4x": "4xl",
    "5x": "5xl",
    "6x": "6xl",
    "xx-large": "2xl",
    "xx-small": "xxs",
}
_TOLD = re.compile(
    r"(?:instructions|directions|pattern)[^.\n]{0,40}\b(?:written|given|are)\b[^.\n]{0,30}\bfor\b",
    re.IGNORECASE,
)
_THUS = re.compile(
    r"\b(?:written|given)\b(?:\s+thus)?[\s:]+((?!for\b|thus\b|in\b)[^.()\n]{1,24}\([^()\n]{1,90}\))",
    re.IGNORECASE,
)
_ONE = re.compile(r"\bone size\b|\b1 size\b", re.IGNORECASE)


def find_sizes(raw: Raw, fact: str | None) -> tuple[str, ...]:
    """The names of the sizes; () for one size.

    `fact` is what stands behind "Sizes:". Else a sentence such as "instructions are written for ..." is
    asked, else the commonest list of numbers in the text.
    """
    names = size_names(fact) if fact is not None else ()
    told = False
    if len(names) < 2:
        match = _TOLD.search(raw.text)
        if match is not None:
            told = "one size" not in raw.text[match.start() : match.end() + 20].lower()
            thus = _THUS.search(raw.text, match.start(), match.start() + 600)
            names = size_names(thus[1]) if thus is not None else ()
    listed, times = commonest_length(raw, told=told)
    if len(names) >= 2 and (len(names) == listed or times < 5 or listed < 2):
        return names
    if listed < 2:
        return ()
    if len(names) > listed and list_lengths(raw)[len(names)] >= _PROOF:
        return names  # shorter lists are for some of the sizes
    return _from_marks(raw, listed) or tuple(str(n + 1) for n in range(listed))


def size_names(text: str) -> tuple[str, ...]:
    """Such as "S (M, L, XL)", "XS/S (M-L/XL-2/3XL)", "Small, Medium, Large" -> the names."""
    text = text.strip().split("\n")[0]
    if _ONE.search(text):
        return ()
    text = re.split(r"\.\s|;|\bto fit\b|\bshown\b|\bfinished\b", text, maxsplit=1, flags=re.IGNORECASE)[0]
    text = re.sub(
        r"\b(?:sizes?|for|women's|men's|child's|adults?:|womens|thus|written)\b:?",
        " ",
        text,
        flags=re.IGNORECASE,
    )
    head, bracket, tail = text.partition("(")
    if not bracket:
        head, bracket, tail = text.partition("[")
    if not bracket:
        parts = _cut(head)
        return tuple(parts) if 2 <= len(parts) <= 16 and all(len(p) <= 16 for p in parts) else ()
    inner = re.split(r"[)\]]", tail)
    names = [part for part in _cut(head, only_commas=True) if part]
    for group in tail.replace("[", "(").split("("):
        names += _cut(re.split(r"[)\]]", group)[0])
    rest = inner[1].strip(" .,") if len(inner) == 2 else ""
    if (
        rest
        and len(rest) <= 8
        and len(names) == 2
        and rest[0].isalnum()
        and rest.lower() not in {"mos", "yrs", "months", "years", "cm"}
    ):
        names.append(rest)  # "S (M) L"
    names = [name.strip(" .:,") for name in names if name.strip(" .:,")]
    return tuple(names) if 2 <= len(names) <= 16 and all(len(name) <= 24 for name in names) else ()


def _cut(text: str, *, only_commas: bool = False) -> list[str]:
    """A list of size names; a dash parts them only where no comma does."""
    text = text.replace("\u2013", "-").replace("\u2014", "-")
    if "," in text:
        parts = re.split(r",|\band\b", text)
    elif only_commas:
        parts = [text]
    elif " - " in text:
        parts = text.split(" - ")
    elif "-" in text:
        parts = text.split("-")
    elif re.search(r"\band\b", text):
        parts = re.split(r"\band\b", text)
    else:
        parts = text.split("/") if text.count("/") > 1 else [text]
    return [part.strip() for part in parts if part.strip()]


_UNIT = re.compile(r" ?\b(?:mos?|months?|yrs?|years?|old)\b\.?")


def _plain(name: str) -> str:
    """A size name as it is compared: "2 / 3 XL" -> "2/3xl", "Large" -> "l", "12 mos" -> "12"."""
    name = _UNIT.sub("", re.sub(r" ?/ ?", "/", " ".join(name.lower().split())))
    name = " ".join(name.split()).strip(" .:,'\"")
    return _ALIASES.get(name, name)


_WIDE_LADDER = ("xs/s", "m", "l", "xl", "2/3xl", "4/5xl")
_ONLY = re.compile(r"\bsizes? ([^\n:.]{1,60}?)\s*only\b")


def _rank(name: str) -> int:
    """Where a size stands on the ladder; "2/3xl" stands where 2xl does."""
    first = name.split("/", maxsplit=1)[0]
    if first.isdigit() and name.endswith("xl"):
        first += "xl"
    elif first in {"1", "2", "3", "4", "5"} and name.endswith("x"):
        first += "x"
    plain = _plain(first)
    return _LADDER.index(plain) if plain in _LADDER else -1


def _from_marks(raw: Raw, count: int) -> tuple[str, ...]:  # noqa: PLR0911 - a list of cases
    """Names from "Sizes 2X and 3X only" marks: all of them, or steps of the usual ladder."""
    lists = [
        [plain for part in re.split(r",|\band\b|&", match[1]) if (plain := _plain(part))]
        for match in _ONLY.finditer(raw.folded)
    ]
    ordered = _merged(lists)
    if not ordered:
        return ()
    if len(ordered) == count:
        return tuple(name.upper() if _rank(name) >= 0 else name for name in ordered)
    ranks = [_rank(name) for name in ordered]
    if min(ranks) < 0:
        return ()
    in_a_row = all(later - rank == 1 for rank, later in itertools.pairwise(ranks))
    if count - len(ordered) == 1 and in_a_row and ranks[-1] >= _LADDER.index("2xl"):
        return ("1", *(name.upper() for name in ordered))  # only the first is never named
    if any("/" in name for name in ordered):
        wide = _WIDE_LADDER[:count]
        known = len(wide) == count and set(ordered) <= set(wide)
        return tuple(name.upper() for name in wide) if known else ()
    first = max(ranks) + 1 - count
    if first < 1 or max(ranks) - min(ranks) >= count:
        return ()
    return tuple(name.upper() for name in _LADDER[first : first + count])


def _merged(lists: list[list[str]]) -> list[str]:
    """All names in one order that keeps the order of every list; lists name sizes small to large."""
    after: dict[str, set[str]] = {}
    for names in lists:
        for index, name in enumerate(names):
            after.setdefault(name, set()).update(names[index + 1 :])
    ordered: list[str] = []
    left = dict.fromkeys(after)
    while left:
        free = [name for name in left if not any(name in after[other] for other in left if other != name)]
        if not free:
            return []
        name = min(free, key=_size_order)
        ordered.append(name)
        del left[name]
    return ordered


def _size_order(name: str) -> tuple[int, int, str]:
    """Ladder names by the ladder, numbers by value."""
    rank = _rank(name)
    number = re.match(r"\d+", name)
    return (rank if rank >= 0 else 50, int(number[0]) if number else 10**6, name)


_ORDINAL = re.compile(r"\b(\d+)(?:st|nd|rd|th)\b|\b(first|second|third|fourth|fifth|sixth)\b")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


def positions_named(mark: str, sizes: tuple[str, ...]) -> tuple[int, ...]:
    """Such as "Sizes M and L only:": positions in `sizes`; () for all, or where nothing is understood."""
    text = " ".join(mark.lower().replace("\u2013", "-").replace("\u2014", "-").split()).strip(" :.-")
    if re.match(r"(?:for )?(?:all|both)\b", text) or not sizes:
        return ()
    text = re.sub(r"\b(?:for|sizes?|only|the)\b|[()\[\]:]", " ", text)
    plain = [_plain(name) for name in sizes]
    found: set[int] = set()
    for part in _split_names(text, plain):
        if part in plain:
            found.add(plain.index(part))
        elif (ordinal := _ORDINAL.fullmatch(part)) is not None:
            position = int(ordinal[1]) - 1 if ordinal[1] else _ORDINALS.index(ordinal[2])
            if position < len(sizes):
                found.add(position)
        elif part in {"larger", "largest"} and len(sizes) >= 2:
            found.add(len(sizes) - 1)
        elif part in {"smaller", "smallest"}:
            found.add(0)
        else:
            found.update(_range(part, plain))
    return tuple(sorted(found)) or _likely(text, len(sizes))


def _likely(text: str, count: int) -> tuple[int, ...]:
    """Where the names are not those of the sizes: the first or the last ones, by where they stand on
    the usual ladder.
    """
    parts = [_plain("".join(part.split())) for part in re.split(r",|\band\b|&", text) if part.strip()]
    ranks = [_rank(part) for part in parts]
    if not parts or len(parts) >= count or min(ranks) < 0:
        return ()
    if min(ranks) <= _LADDER.index("s"):
        return tuple(range(len(parts)))
    return tuple(range(count - len(parts), count))


def _split_names(text: str, plain: list[str]) -> list[str]:
    parts = [_plain(part) for part in re.split(r",|\band\b|&|\+", text)]
    out: list[str] = []
    for part in parts:
        if part in plain or "/" not in part:
            out.append(part)
        else:
            pieces = [_plain(piece) for piece in part.split("/")]
            out += pieces if all(piece in plain for piece in pieces) else [part]
    return [part for part in out if part]


def _range(part: str, plain: list[str]) -> set[int]:
    """Such as "m-xl", "m to xl", "l-xl-2xl"."""
    ends = [_plain(piece) for piece in re.split(r"\s*-\s*|\bto\b|\bthrough\b", part)]
    if len(ends) == 2 and all(end in plain for end in ends):
        first, last = plain.index(ends[0]), plain.index(ends[1])
        return set(range(first, last + 1))
    if len(ends) > 2 and all(end in plain for end in ends):
        return {plain.index(end) for end in ends}
    words = part.split()
    return {plain.index(_plain(word)) for word in words if _plain(word) in plain}
