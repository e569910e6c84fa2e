"""Gauge lines: "22 sc and 24 rows = 4 in [10 cm]", "16 sts x 18 rows to 10 cm in dc, blocked"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Span
from craft.standards.terms import UnknownTermError, stitch, uk_stitch
from craft.techedit.facts.model import Gauge
from craft.techedit.quantities import Amount, amounts, number

__all__ = ["read_gauges"]

_NAME = (
    r"(?:single|half double|double|treble|half treble)(?: crochets?)?|"
    r"sc|hdc|dc|tr|dtr|htr|esc|ss|sl st|fpdc|bpdc"
)
_COUNT = re.compile(
    r"(?:(?P<range>(?:rows|rounds|rnds)\s{1,4}1\s?(?:-|–|to)\s?(?P<last>\d{1,4}))\b|"
    rf"(?<![\d.])(?P<number>\d{{1,5}}(?:\.\d{{1,3}})?(?:\s?[½¼¾]| 1/2)?)\s{{0,4}}"
    rf"(?:(?P<rows>(?:(?:sc|hdc|dc|tr|htr)\s{{1,4}})?(?:rows?|rounds?|rnds?)\b)"
    rf"|(?P<repeats>(?:pattern |pat )?(?:repeats?|reps?|shells?|clusters?|v-sts?|motifs?|squares?)\b"
    rf"(?:\s{{0,4}}(?:of\s{{1,4}}|\()(?P<each>\d{{1,3}})\s{{0,4}}sts?\b)?)"
    rf"|(?P<stitch>{_NAME})\b(?:\s{{0,4}}(?:sts?|stitches)\b)?"
    rf"|(?P<sts>sts?\b|stitches\b)))",
    re.IGNORECASE,
)
_SPAN_CM = re.compile(r"=|\bto\b|\bin\b|\bover\b|\bper\b|\bmeasures?\b", re.IGNORECASE)
_IN_STITCH = re.compile(rf"\b(?:in|of)\s+(?P<stitch>{_NAME})\b", re.IGNORECASE)
_FABRIC = re.compile(
    r"\bin (?P<fabric>(?:the )?(?:[a-z][\w'-]* ){0,3}"
    r"(?:pat(?:tern|t)?|st|stitch|mesh|ribbing|rib|filet|lace)\b)",
    re.IGNORECASE,
)
_ROUND = re.compile(r"\bin (?:the )?(?:round|rnd)s?\b|\bin rnds\b", re.IGNORECASE)
_FLAT = re.compile(r"\bin rows\b|\bflat\b|\bback and forth\b", re.IGNORECASE)
_UNBLOCKED = re.compile(r"\b(?:un|not |before )block", re.IGNORECASE)
_BLOCKED = re.compile(r"\bblock(?:ed|ing)\b", re.IGNORECASE)
_PART = re.compile(r"\.\s+(?=\d|[A-Z])|\n")
_NOT_CRITICAL = re.compile(r"\bnot (?:critical|important|essential|crucial)", re.IGNORECASE)


def read_gauges(text: str, span: Span, terms: str | None) -> Iterator[Gauge]:
    """Every gauge that stands in a stretch of text, sentence by sentence."""
    start = span.start
    for part in [*_PART.finditer(text, span.start, span.end), None]:
        end = part.start() if part else span.end
        gauge = _read_one(text, Span(start, end), terms)
        if gauge is not None:
            yield gauge
        start = part.end() if part else end


def _read_one(text: str, span: Span, terms: str | None) -> Gauge | None:
    words = text[span.start : span.end]
    counts = list(_COUNT.finditer(words))
    lengths = [amount for amount in amounts(text, span) if amount.unit in {"cm", "in", "mm"}]
    lengths = [amount for amount in lengths if not (amount.unit == "mm" and amount.values[0] < 20)]
    if not counts or not lengths:
        return None
    found: dict[str, float | str | None] = {}
    for count in counts:
        length = _length_after(lengths, span.start + count.end()) or lengths[-1]
        _take(count, length, terms, found)
    named = _IN_STITCH.search(words)
    if "stitch" not in found and named:
        found["stitch"] = us_name(named["stitch"], terms)
    fabric = _FABRIC.search(words)
    return Gauge(
        span,
        _float(found, "stitches"),
        _float(found, "rows"),
        _float(found, "width_cm"),
        _float(found, "height_cm"),
        str(found["stitch"]) if found.get("stitch") else None,
        _float(found, "repeats"),
        _float(found, "each"),
        _hook_mm(text, span),
        True if _ROUND.search(words) else False if _FLAT.search(words) else None,
        False if _UNBLOCKED.search(words) else True if _BLOCKED.search(words) else None,
        fabric["fabric"] if fabric else None,
    )


def _float(found: dict[str, float | str | None], name: str) -> float | None:
    value = found.get(name)
    return value if isinstance(value, float) else None


def _take(
    count: re.Match[str],
    length: Amount,
    terms: str | None,
    found: dict[str, float | str | None],
) -> None:
    """Put one counted number into what is found; the first of each kind stands."""
    cm = length.cm[0]
    value = number(count["last"] or count["number"])
    if count["rows"] or count["range"]:
        if "rows" not in found:
            found |= {"rows": value, "height_cm": cm}
    elif count["repeats"]:
        if "repeats" not in found:
            each = float(count["each"]) if count["each"] else None
            found |= {"repeats": value, "each": each}
            found.setdefault("width_cm", cm)
    elif "stitches" not in found:
        found |= {"stitches": value, "width_cm": cm}
        if count["stitch"]:
            found["stitch"] = us_name(count["stitch"], terms)


def _length_after(lengths: list[Amount], offset: int) -> Amount | None:
    """The first length printed after a count is the one it is measured over."""
    return next((length for length in lengths if length.span.start >= offset), None)


def _hook_mm(text: str, span: Span) -> float | None:
    mm = [amount.values[0] for amount in amounts(text, span) if amount.unit == "mm"]
    return next((value for value in mm if value <= 30), None)


def us_name(words: str, terms: str | None) -> str | None:
    """The US short name of a stitch written short or in full, singular or plural."""
    name = re.sub(r"\s+", " ", words.lower()).removesuffix("s") if len(words) > 4 else words.lower()
    for form in (name, f"{name} crochet"):
        try:
            return (uk_stitch(form) if terms == "uk" else stitch(form)).us
        except UnknownTermError:
            continue
    return None
