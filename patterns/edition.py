"""A revision made ready to show: one value from which the page and the paper are drawn.

`edition(revision, size_key)` reads the frozen JSON alone. With a size chosen, every group of sizes in
the words is reduced to it. Sentences are in the language in force.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from math import ceil
from typing import Any, Final

from django.utils.translation import gettext as _

from craft.notation.writing.sizes_in_words import for_size
from craft.standards.hooks import hook_label
from craft.standards.units import metres_to_yards
from patterns import revisions
from patterns.models import Level, Revision, RevisionChart
from patterns.published_chart import published_chart
from patterns.revisions import SizeInfo
from patterns.symbol_chart import SymbolChart
from workroom.media import widths_for
from workroom.models import Terms

__all__ = ["Amount", "Edition", "Item", "Part", "Picture", "YarnRow", "edition"]


_MAKE: Final = re.compile(r"[\s,:–-]*[(\[]?\bmake \w+[)\]]?\s*$", re.IGNORECASE)
"""What a heading says of the number to make; it is printed from the number that was read."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo: its name in the store, pixels of the largest copy, and what it shows."""

    digest: str
    width: int
    height: int
    alt: str

    @property
    def widths(self) -> tuple[int, ...]:
        return widths_for(self.width)

    @property
    def middle(self) -> int:
        """Width of the copy for a browser that chooses none."""
        return self.widths[min(1, len(self.widths) - 1)]


@dataclass(frozen=True, slots=True)
class Amount:
    """Yarn of one size: lengths in whole metres and yards, mass in whole grams, balls to buy."""

    size: SizeInfo
    likely_m: int
    safe_m: int
    likely_yd: int
    safe_yd: int
    safe_g: int | None
    balls: int | None


@dataclass(frozen=True, slots=True)
class YarnRow:
    """One yarn of the list; `band`: what the ball band says; `amounts` empty where not estimated."""

    key: str
    name: str
    colour: str
    band: str
    strands: int
    alternatives: str
    amounts: tuple[Amount, ...]


@dataclass(frozen=True, slots=True)
class Item:
    """A line of the instructions. `what`: "round" or "note". `count` "" where none is known."""

    what: str
    body: str
    label: str = ""
    count: str = ""
    key: str = ""

    @property
    def paper_css(self) -> str:
        """How much room label and count take on paper: beside the words, wide, or below them."""
        words = []
        if len(self.label) > 12:
            words.append("wide-label")
        if len(self.count) > 11:
            words.append("long" if len(self.count) <= 28 else "below")
        return " ".join(words)


@dataclass(frozen=True, slots=True)
class Part:
    """One part with its lines. `make` is a word such as "make 2", "" for one."""

    key: str
    title: str
    make: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Edition:
    """All that is printed of a pattern. `size` None: all sizes."""

    title: str
    introduction: tuple[str, ...]
    level: str
    skills: str
    terms: str
    sizes: tuple[SizeInfo, ...]
    size: SizeInfo | None
    hook: str
    gauge: str
    yarns: tuple[YarnRow, ...]
    notions: tuple[str, ...]
    abbreviations: tuple[tuple[str, str], ...]
    special_stitches: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    parts: tuple[Part, ...]
    finishing: tuple[str, ...]
    care: tuple[str, ...]
    cautions: tuple[str, ...]
    licence: tuple[str, ...]
    photos: tuple[Picture, ...]
    version: str
    published_at: datetime | None
    minutes: int
    chart: SymbolChart | None = None

    @property
    def shown_sizes(self) -> tuple[SizeInfo, ...]:
        """The sizes that this edition is for."""
        return self.sizes if self.size is None else (self.size,)

    @property
    def licence_line(self) -> str:
        """The first words of the licence, for the foot of a page."""
        first = self.licence[0] if self.licence else ""
        return re.split(r"[.;:]", first)[0].strip()

    @property
    def several_sizes(self) -> bool:
        return len(self.sizes) > 1

    @property
    def measured(self) -> bool:
        """Whether any size has words on its fit or its measurements."""
        return any(size.to_fit or size.finished for size in self.sizes)


def edition(revision: Revision, size_key: str | None = None, charts: Sequence[RevisionChart] = ()) -> Edition:
    """Make a revision ready to show. `charts`: those of one that is not kept yet.

    Raises revisions.UnknownSizeError.
    """
    facts = revision.facts
    sizes = revisions.sizes(revision)
    size = revisions.size_info(revision, size_key) if size_key else None
    words = _Words(sizes, size)
    shown = (size,) if size else sizes
    return Edition(
        title=facts["title"],
        introduction=words.paragraphs(facts["introduction"]),
        level=str(Level(facts["level"]).label) if facts["level"] else "",
        skills=facts["skills"],
        terms=str(Terms(facts["terms"]).label),
        sizes=sizes,
        size=size,
        hook=hook_label(Decimal(facts["hook_um"]) / 1000) if facts["hook_um"] else "",
        gauge=gauge_sentence(facts["gauge"]),
        yarns=_yarns(revision, shown),
        notions=tuple(_notion(each) for each in facts["notions"]),
        abbreviations=tuple((each["short"], each["meaning"]) for each in facts["abbreviations"]),
        special_stitches=tuple((each["name"], each["how"]) for each in facts["special_stitches"]),
        notes=words.paragraphs(facts["notes"]),
        parts=tuple(words.part(section) for section in revision.rounds["sections"]),
        finishing=words.paragraphs(facts["finishing"]),
        care=words.paragraphs(facts["care"]),
        cautions=_cautions(facts),
        licence=words.paragraphs(facts["licence"]),
        photos=tuple(Picture(**photo) for photo in facts["photos"]),
        version=revision.version,
        published_at=revision.published_at,
        minutes=max((revisions.estimated_minutes(revision, each.key) for each in shown), default=0),
        chart=published_chart(revision, size.key if size else None, charts),
    )


class _Words:
    """Words for the sizes shown."""

    def __init__(self, sizes: Sequence[SizeInfo], size: SizeInfo | None) -> None:
        self.sizes = len(sizes)
        self.position = None if size is None else list(sizes).index(size)

    def of(self, words: str) -> str:
        if self.position is None:
            return words
        return for_size(words, self.position, self.sizes)

    def paragraphs(self, words: str) -> tuple[str, ...]:
        """A line of the field is a paragraph."""
        return tuple(self.of(line.strip()) for line in words.splitlines() if line.strip())

    def part(self, section: Mapping[str, Any]) -> Part:
        make = [number for number in section["make"] if number is not None]
        number = make[min(self.position or 0, len(make) - 1)] if make else 1
        return Part(
            key=section["key"],
            title=_MAKE.sub("", section["title"]).strip(),
            make=_("make %(number)s") % {"number": number} if number > 1 else "",
            items=tuple(self.item(item) for item in section["items"] if self.has(item)),
        )

    def has(self, item: Mapping[str, Any]) -> bool:
        """Whether the size shown works this line: a line that only other sizes work is left out."""
        totals = item.get("totals")
        if self.position is None or not totals or self.sizes < 2:
            return True
        worked = [counts[self.position] for counts in totals if self.position < len(counts)]
        others = any(count is not None for counts in totals for count in counts)
        return not others or any(count is not None for count in worked)

    def item(self, item: Mapping[str, Any]) -> Item:
        if item["what"] == "note":
            return Item("note", self.of(item["text"]))
        return Item(
            "round", self.of(item["body"]), self.of(item["label"]), self.of(item["count"]), item["key"]
        )


def gauge_sentence(gauge: Mapping[str, Any] | None) -> str:
    """As in: 14 sts and 16 rounds of sc to 10 cm (4 in), worked in the round, after washing."""
    if gauge is None:
        return ""
    stitches, rows = _tenths(gauge["stitches_tenths"]), gauge["rows_tenths"]
    across = f"{_tenths(gauge['over_mm'])} cm ({_inches(gauge['over_mm'])} in)"
    of = _(" of %(stitch)s") % {"stitch": gauge["stitch"]} if gauge["stitch"] else ""
    counted = _rows_word(_tenths(rows), in_round=gauge["in_round"]) if rows else ""
    sentence = _("%(stitches)s sts%(counted)s%(of)s to %(across)s") % {
        "stitches": stitches, "counted": counted, "of": of, "across": across,
    }  # fmt: skip
    return sentence + _worked(gauge)


def _rows_word(rows: str, *, in_round: bool | None) -> str:
    if in_round:
        return _(" and %(rows)s rounds") % {"rows": rows}
    return _(" and %(rows)s rows") % {"rows": rows}


def _worked(gauge: Mapping[str, Any]) -> str:
    how = {True: _(", worked in the round"), False: _(", worked flat"), None: ""}
    washed = {True: _(", after washing"), False: _(", before washing"), None: ""}
    return how[gauge["in_round"]] + washed[gauge["after_washing"]]


def _tenths(number: int) -> str:
    return f"{Decimal(number) / 10:f}".removesuffix(".0")


def _inches(length_mm: int) -> str:
    """Inches as the trade says them: 10 cm are 4 in, to the nearest quarter."""
    quarters = round(Decimal(length_mm) / Decimal("25.4") * 4)
    return f"{Decimal(quarters) / 4:f}".rstrip("0").rstrip(".")


def _notion(notion: Mapping[str, Any]) -> str:
    quantity = notion["quantity"]
    return notion["text"] if quantity == 1 else f"{quantity} × {notion['text']}"


def _cautions(facts: Mapping[str, Any]) -> tuple[str, ...]:
    cautions = [each["text"] for each in facts["cautions"]]
    if facts["load_tested_g"]:
        held = _("It held %(load)s kg hung overnight when we tried it; more may stretch or tear it.")
        cautions.insert(0, held % {"load": f"{Decimal(facts['load_tested_g']) / 1000:f}"})
    own = [line.strip() for line in facts["own_cautions"].splitlines() if line.strip()]
    return (*own, *cautions)


def _yarns(revision: Revision, shown: Sequence[SizeInfo]) -> tuple[YarnRow, ...]:
    needs = {size.key: revisions.materials(revision, size.key) for size in shown}
    rows = []
    for place, yarn in enumerate(revision.facts["yarns"]):
        amounts = [(size, needs[size.key][place]) for size in shown]
        rows.append(
            YarnRow(
                key=yarn["key"],
                name=revisions.yarn_name(yarn),
                colour=yarn["colour"],
                band=_band(yarn),
                strands=yarn["strands"],
                alternatives=yarn["alternatives"],
                amounts=tuple(_amount(size, need) for size, need in amounts if need.known),
            )
        )
    return tuple(rows)


def _amount(size: SizeInfo, need: revisions.YarnNeed) -> Amount:
    return Amount(
        size=size,
        likely_m=need.likely_m,
        safe_m=need.safe_m,
        likely_yd=ceil(metres_to_yards(Decimal(need.likely_m))),
        safe_yd=ceil(metres_to_yards(Decimal(need.safe_m))),
        safe_g=None if need.safe_mg is None else ceil(need.safe_mg / 1000),
        balls=need.balls,
    )


def _band(yarn: Mapping[str, Any]) -> str:
    """As in: Medium (4); 80% wool, 20% nylon; 100 g = 190 m (208 yd) a ball."""
    band = yarn["yarn"]
    if band is None:
        return ""
    weight = f"{band['weight']} ({band['weight_category']})" if band["weight"] else ""
    fibres = ", ".join(f"{_tenths(share)}% {name}" for name, share in band["fibres"])
    return "; ".join(part for part in (weight, fibres, _put_up(band)) if part)


def _put_up(band: Mapping[str, Any]) -> str:
    mass_mg, length_mm = band["ball_mass_mg"], band["ball_length_mm"]
    if not mass_mg or not length_mm:
        return ""
    length_m = Decimal(length_mm) / 1000
    return _("%(mass)s g = %(metres)s m (%(yards)s yd) a ball") % {
        "mass": f"{Decimal(mass_mg) / 1000:.0f}",
        "metres": f"{length_m:.0f}",
        "yards": f"{metres_to_yards(length_m):.0f}",
    }
