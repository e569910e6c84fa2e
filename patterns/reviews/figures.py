"""The testers' numbers against the draft's own: yarn used, gauge, time. Nothing here writes.

- Gauge is met within half a stitch or 2 %, whichever is larger: the tolerance that technical editors use
  for widths (trade/tech_editing, check E3; common practice, no source).
- Yarn is brought to the pattern's gauge by the ratio of the stitches across: the same counts at 17
  instead of 16 stitches use about 6 % less, length a stitch taken proportional to its width (derived).
- What to print is the largest use at the pattern's gauge and a tenth more (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from statistics import median
from typing import Any, Final

from django.utils.translation import gettext as _

from craft.standards.hooks import hook_label
from patterns.reviews.copies import size_label
from patterns.reviews.models import DraftCopy, Review, TesterReport
from workroom.spreadsheet import Cell

__all__ = [
    "ReportFigures",
    "SizeFigures",
    "YarnUse",
    "csv_rows",
    "figures_of",
    "gauge_verdict",
    "size_figures",
]

HALF_A_STITCH: Final = Decimal(5)
"""In tenths."""
TWO_IN_A_HUNDRED: Final = Decimal("0.02")
MARGIN: Final = Decimal("1.1")


@dataclass(frozen=True, slots=True)
class YarnUse:
    """Yarn of one letter. Masses in mg, None where not known; `at_gauge_mg`: what the pattern's gauge uses.

    `verdict`: "within" the estimate's range, "below", "above", or "" where it can't be said.
    """

    key: str
    name: str
    before_mg: int | None
    after_mg: int | None
    used_mg: int | None
    at_gauge_mg: int | None
    low_mg: int | None
    likely_mg: int | None
    safe_mg: int | None

    @property
    def verdict(self) -> str:
        if self.at_gauge_mg is None or self.low_mg is None or self.safe_mg is None:
            return ""
        if self.at_gauge_mg < self.low_mg:
            return "below"
        return "above" if self.at_gauge_mg > self.safe_mg else "within"


@dataclass(frozen=True, slots=True)
class ReportFigures:
    """One report. `gauge`, `row_gauge`: "met", "more" (stitches than asked: tighter), "fewer", "" unsaid."""

    review: Review
    report: TesterReport
    size_label: str
    hook: str
    stitches: str
    rows: str
    gauge: str
    row_gauge: str
    minutes: int | None
    estimated_minutes: int | None
    uses: tuple[YarnUse, ...]
    sent_at: datetime


@dataclass(frozen=True, slots=True)
class SizeFigures:
    """One size and yarn over its reports. `most_mg`: at the pattern's gauge; `print_mg`: a tenth more."""

    size_label: str
    key: str
    reports: int
    most_mg: int
    print_mg: int
    likely_mg: int | None
    safe_mg: int | None
    minutes: int | None


def figures_of(reviews: Iterable[Review]) -> tuple[ReportFigures, ...]:
    """Every report that was sent, in the order of the invitations."""
    return tuple(
        _figures(review, report, report.sent_at)
        for review in reviews
        if (report := getattr(review, "report", None)) is not None and report.sent_at is not None
    )


def size_figures(figures: Sequence[ReportFigures]) -> tuple[SizeFigures, ...]:
    """What the reports say together, by size and yarn."""
    return tuple(_sizes(figures))


def gauge_verdict(asked_tenths: Decimal | None, found_tenths: int | None) -> str:
    """Whether a swatch met the gauge; both per 100 mm in tenths."""
    if not asked_tenths or not found_tenths:
        return ""
    off = found_tenths - asked_tenths
    if abs(off) <= max(HALF_A_STITCH, asked_tenths * TWO_IN_A_HUNDRED):
        return "met"
    return "more" if off > 0 else "fewer"


def csv_rows(figures: Sequence[ReportFigures]) -> Iterator[list[Cell]]:
    """One row for each report and yarn, under a head."""
    yield [
        _("Tester"), _("Size"), _("Hook, mm"), _("Stitches to 10 cm"), _("Rows to 10 cm"), _("Minutes"),
        _("Minutes estimated"), _("Yarn"), _("Yarn used"), _("Grams before"), _("Grams after"),
        _("Grams used"), _("Grams at the pattern's gauge"), _("Grams likely"), _("Grams safe"), _("Sent"),
    ]  # fmt: skip
    for row in figures:
        report = row.report
        head: list[Cell] = [
            row.review.name, row.size_label, _parts(report.hook_um, 1000),
            _parts(report.swatch_stitches_tenths, 10), _parts(report.swatch_rows_tenths, 10), row.minutes,
            row.estimated_minutes,
        ]  # fmt: skip
        for use in row.uses or (YarnUse("", "", None, None, None, None, None, None, None),):
            masses = (
                use.before_mg, use.after_mg, use.used_mg, use.at_gauge_mg, use.likely_mg, use.safe_mg,
            )  # fmt: skip
            grams = [_parts(mass, 1000) for mass in masses]
            yield [*head, use.key, use.name, *grams, row.sent_at.date().isoformat()]


def _figures(review: Review, report: TesterReport, sent_at: datetime) -> ReportFigures:
    copy, gauge = review.copy, _gauge(review.copy)
    return ReportFigures(
        review=review,
        report=report,
        size_label=size_label(copy, report.size_key),
        hook=hook_label(Decimal(report.hook_um) / 1000) if report.hook_um else "",
        stitches=_said(report.swatch_stitches_tenths),
        rows=_said(report.swatch_rows_tenths),
        gauge=gauge_verdict(gauge[0], report.swatch_stitches_tenths),
        row_gauge=gauge_verdict(gauge[1], report.swatch_rows_tenths),
        minutes=report.minutes,
        estimated_minutes=copy.estimate["minutes"].get(report.size_key) or None,
        uses=tuple(_uses(copy, report, gauge[0])),
        sent_at=sent_at,
    )


def _gauge(copy: DraftCopy) -> tuple[Decimal | None, Decimal | None]:
    """Stitches and rows of the draft in tenths to 100 mm."""
    gauge = copy.facts["gauge"]
    if gauge is None:
        return None, None
    over = Decimal(gauge["over_mm"]) / 100
    rows = gauge["rows_tenths"]
    return gauge["stitches_tenths"] / over, rows / over if rows else None


def _uses(copy: DraftCopy, report: TesterReport, asked_tenths: Decimal | None) -> Iterator[YarnUse]:
    estimated = {each["key"]: each for each in copy.estimate["yarn"].get(report.size_key, ())}
    for yarn in report.yarns.all():
        entry = estimated.get(yarn.key, {})
        yield YarnUse(
            key=yarn.key,
            name=yarn.name,
            before_mg=yarn.before_mg,
            after_mg=yarn.after_mg,
            used_mg=yarn.used_mg,
            at_gauge_mg=_at_gauge(yarn.used_mg, report.swatch_stitches_tenths, asked_tenths),
            low_mg=_low(entry),
            likely_mg=entry.get("likely_mg"),
            safe_mg=entry.get("safe_mg"),
        )


def _at_gauge(used_mg: int | None, found_tenths: int | None, asked_tenths: Decimal | None) -> int | None:
    """What the same piece would have used at the pattern's gauge; as used where a gauge is not known."""
    if used_mg is None or not found_tenths or not asked_tenths:
        return used_mg
    at_gauge = Decimal(used_mg) * found_tenths / asked_tenths
    return round(at_gauge)


def _low(entry: Mapping[str, Any]) -> int | None:
    """The lower end of the estimate as a mass: the estimate's lengths and masses are in one ratio."""
    if not entry.get("likely_mm"):
        return None
    low_mg = Decimal(int(entry["likely_mg"])) * int(entry["low_mm"]) / int(entry["likely_mm"])
    return round(low_mg)


def _sizes(figures: Sequence[ReportFigures]) -> Iterator[SizeFigures]:
    groups: dict[tuple[str, str], list[tuple[ReportFigures, YarnUse, int]]] = {}
    for row in figures:
        for use in row.uses:
            if use.at_gauge_mg is not None:
                group = groups.setdefault((row.size_label, use.key), [])
                group.append((row, use, use.at_gauge_mg))
    for (label, key), members in groups.items():
        most = max(mass for _row, _use, mass in members)
        minutes = [row.minutes for row, _use, _mass in members if row.minutes is not None]
        latest = members[-1][1]
        yield SizeFigures(
            size_label=label,
            key=key,
            reports=len(members),
            most_mg=most,
            print_mg=round(most * MARGIN),
            likely_mg=latest.likely_mg,
            safe_mg=latest.safe_mg,
            minutes=round(median(minutes)) if minutes else None,
        )


def _said(tenths: int | None) -> str:
    return "" if tenths is None else f"{Decimal(tenths) / 10:f}".removesuffix(".0")


def _parts(number: int | None, parts: int) -> Decimal | None:
    return None if number is None else Decimal(number) / parts
