"""Yarn lines: "A: Gull DK (100% wool; 50 g / 120 m / 131 yd), 2 (3, 3) balls in grey"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Span
from craft.standards.fibres import fibre
from craft.techedit.facts.model import Fibre, YarnFact
from craft.techedit.quantities import Amount, amounts, number

__all__ = ["WEIGHT_NAMES", "read_yarns"]

# Country names of the weight classes: Craft Yarn Council's names with their UK and Australian
# fellows, trade usage (shop tables of US, UK and Australian weights). A name in two classes holds both.
WEIGHT_NAMES: dict[str, frozenset[int]] = {
    "cobweb": frozenset({0}), "lace": frozenset({0}), "light fingering": frozenset({0, 1}),
    "super fine": frozenset({1}), "fingering": frozenset({0, 1}), "sock": frozenset({1}),
    "fine": frozenset({2}), "sport": frozenset({2}), "baby": frozenset({1, 2}),
    "light worsted": frozenset({3}), "double knitting": frozenset({3}), "dk": frozenset({3}),
    "worsted": frozenset({4}), "aran": frozenset({4}), "afghan": frozenset({4}),
    "medium": frozenset({4}), "chunky": frozenset({5}), "bulky": frozenset({5}),
    "super bulky": frozenset({6}), "super chunky": frozenset({6}), "roving": frozenset({6, 7}),
    "jumbo": frozenset({7}), "2 ply": frozenset({0}), "3 ply": frozenset({1}),
    "4 ply": frozenset({1, 2}), "5 ply": frozenset({2}), "8 ply": frozenset({3}),
    "10 ply": frozenset({4}), "12 ply": frozenset({5}), "14 ply": frozenset({5}),
    "16 ply": frozenset({6}),
}  # fmt: skip
_WEIGHT = re.compile(
    r"(?<![\w-])(" + "|".join(sorted(WEIGHT_NAMES, key=len, reverse=True)) + r")(?![\w-])",
    re.IGNORECASE,
)
_CLASS = re.compile(
    r"\b(?:class|category|cat\.|weight|cyc)\s*(?:no\.?\s*|#\s*"
    r"|number\s*)?[(\[]?(?P<number>[0-7])\b(?!\s*(?:m|g|%|\.))"
    r"|#(?P<mark>[0-7])\b|[(\[](?P<lone>[0-7])[)\]]",
    re.IGNORECASE,
)
_FIBRE = re.compile(
    r"(?<![\d.])(?P<percent>\d{1,3}(?:\.\d{1,2})?)\s?(?:%|per ?cent)\s{0,4}"
    r"(?P<name>[A-Za-z]+(?:[ -][a-z]+)?)"
)
_LABEL = re.compile(
    r"(?:(?<=[\n;:,.])|(?<=and ))\s{0,9}[(\[]?(?P<label>(?i:colou?r |yarn )?[A-H]|MC|CC\d?|C\d)[)\]]?\s{0,4}"
    r"(?:[:=–—-]|\()\s*"
)
_BALLS = re.compile(
    r"(?<!\d)(?P<numbers>\d{1,4}(?:\s?[(\[][\d\s,–;-]{1,99}[)\]]){0,9})\s{0,4}(?:x\s{0,4})?(?:\d{1,4}\s?g(?:ram)?s?\s{0,4})?"
    r"(?:balls?|skeins?|hanks?|cones?)\b",
    re.IGNORECASE,
)
_COLOUR = re.compile(
    r"\b(?:in|colou?r(?:way)?|shade|balls?|skeins?)\s+(?:of |in )?(?P<colour>[a-z]+)\b"
    r"|[(](?P<bracket>[a-z]+)[)]"
)
_NOT_COLOURS = frozenset({"each", "total", "all", "size", "weight", "balls", "skeins", "order", "approx"})
_NEED = re.compile(
    r"\b(?:needs?|needed|requires?|uses?|used|takes?|about|approx|approximately|total|amount)\b",
    re.IGNORECASE,
)


def read_yarns(text: str, span: Span) -> Iterator[YarnFact]:
    """Each yarn of a materials line: one for each label, or one for the whole line."""
    # From one place before, so that a label right behind the line's own name is seen.
    marks = list(_LABEL.finditer(text, max(0, span.start - 1), span.end))
    if not marks:
        yield _read_one(text, span, None)
        return
    # What stands before the first label (the yarn's name and make-up) belongs to every colour.
    head = Span(span.start, marks[0].start())
    ends = [mark.start() for mark in marks[1:]] + [span.end]
    for mark, end in zip(marks, ends, strict=True):
        own = _read_one(text, Span(mark.end(), end), mark["label"].split()[-1])
        yield _filled(own, _read_one(text, head, None))


def _filled(own: YarnFact, shared: YarnFact) -> YarnFact:
    """A colour's own facts, with those of the line above it where it is silent."""
    return YarnFact(
        own.span,
        own.label,
        own.colour,
        shared.weight_class if own.weight_class is None else own.weight_class,
        own.weight_names or shared.weight_names,
        own.fibres or shared.fibres,
        own.grams or shared.grams,
        own.ounces or shared.ounces,
        own.metres or shared.metres,
        own.yards or shared.yards,
        own.balls,
        own.needed,
    )


def _read_one(text: str, span: Span, label: str | None) -> YarnFact:
    words = text[span.start : span.end]
    found = list(amounts(text, span))
    needed = _needed(text, found)
    ball = [amount for amount in found if amount is not needed and len(amount.values) == 1]
    colour = next((m for m in _COLOUR.finditer(words) if (m[1] or m[2]) not in _NOT_COLOURS), None)
    balls = _BALLS.search(words)
    return YarnFact(
        span,
        label,
        (colour["colour"] or colour["bracket"]) if colour else None,
        _class_of(words),
        tuple(match[1].lower() for match in _WEIGHT.finditer(words)),
        tuple(_fibres(words)),
        _first(ball, "g"),
        _first(ball, "oz"),
        _first(ball, "m"),
        _first(ball, "yd"),
        tuple(number(word) for word in re.findall(r"\d+", balls["numbers"])) if balls else (),
        needed,
    )


def _fibres(words: str) -> Iterator[Fibre]:
    """Shares of fibres; "10 % to spare" is none."""
    for match in _FIBRE.finditer(words):
        name = match["name"].lower()
        known = next((word for word in (name, *name.split()) if fibre(word)), None)
        if known:
            yield Fibre(known, float(match["percent"]))


def _class_of(words: str) -> int | None:
    match = _CLASS.search(words)
    return int(match["number"] or match["mark"] or match["lone"]) if match else None


def _first(found: list[Amount], unit: str) -> float | None:
    return next((amount.values[0] for amount in found if amount.unit == unit), None)


def _needed(text: str, found: list[Amount]) -> Amount | None:
    """The amount that the piece takes: a list by size, or a length after a word such as "about"."""
    lengths = [amount for amount in found if amount.unit in {"m", "yd"}]
    by_size = [amount for amount in lengths if len(amount.values) > 1]
    if by_size:
        return by_size[0]
    for amount in lengths:
        if _NEED.search(text, max(0, amount.span.start - 16), amount.span.start):
            return amount
    return None
