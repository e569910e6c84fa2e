"""What a reader writes: remarks, the report, that the reading is done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final
from uuid import UUID

from django.db import IntegrityError, transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from patterns.reviews.models import (
    ReaderRemark,
    RemarkState,
    ReportMeasure,
    ReportPhoto,
    ReportYarn,
    Review,
    TesterReport,
)
from workroom.media import StoredPhoto

__all__ = [
    "MOST_PHOTOS",
    "MOST_REMARKS",
    "Findings",
    "ReadingError",
    "Said",
    "own_remarks",
    "remark_change",
    "remark_withdraw",
    "remark_write",
    "report_keep",
    "report_of",
    "report_photo_add",
    "report_photo_remove",
    "report_send",
    "review_finish",
    "review_seen",
]

MOST_REMARKS: Final = 500
MOST_PHOTOS: Final = 8


class ReadingError(RuntimeError):
    """A refusal; the text is a sentence for the reader."""


@dataclass(frozen=True, slots=True)
class Said:
    """A remark as it was written. `wording`: how the line should read, "" for none."""

    kind: str
    says: str
    wording: str = ""


@dataclass(frozen=True, slots=True)
class Findings:
    """What a report says, in the units of the rows. `yarns` and `measures` are rows without a report."""

    values: Mapping[str, Any]
    yarns: Sequence[ReportYarn] = field(default=())
    measures: Sequence[ReportMeasure] = field(default=())


def own_remarks(review: Review) -> QuerySet[ReaderRemark]:
    """What the reader wrote and did not withdraw, by line."""
    return review.remarks.filter(withdrawn_at=None).select_related("copy", "answered_by")


def remark_write(review: Review, *, form_key: UUID, line: int, said: Said) -> ReaderRemark:
    """Write a remark on a line of the reader's copy, 0 for the whole. The same form again counts once."""
    lines = review.copy.text.split("\n")
    if line > len(lines):
        raise ReadingError(_("This draft has no line %s. Choose the line again.") % line)
    if review.remarks.count() >= MOST_REMARKS:
        raise ReadingError(_("That is more remarks than one review can hold. Write to the designer."))
    try:
        with transaction.atomic():
            return ReaderRemark.objects.create(
                review=review, copy=review.copy, form_key=form_key, line=line,
                words=lines[line - 1] if line else "", kind=said.kind, says=said.says,
                wording=said.wording if line else "",
            )  # fmt: skip
    except IntegrityError:
        return review.remarks.get(form_key=form_key)


def remark_change(remark: ReaderRemark, said: Said) -> None:
    """Change one's own remark while the designer has not answered it."""
    changed = _untouched(remark).update(
        kind=said.kind, says=said.says, wording=said.wording if remark.line else "", changed_at=timezone.now()
    )
    if not changed:
        raise ReadingError(_("This remark has been answered in the meantime. Write a new one."))


def remark_withdraw(remark: ReaderRemark) -> None:
    """Take one's own remark back while it is open."""
    if not _untouched(remark).update(withdrawn_at=timezone.now()):
        raise ReadingError(_("This remark has been answered in the meantime, so it stays."))


def _untouched(remark: ReaderRemark) -> QuerySet[ReaderRemark]:
    return ReaderRemark.objects.filter(pk=remark.pk, state=RemarkState.OPEN, withdrawn_at=None)


def report_of(review: Review) -> TesterReport:
    """The tester's report, begun when it is first asked for."""
    return TesterReport.objects.get_or_create(review=review)[0]


def report_keep(review: Review, typed: Mapping[str, str]) -> None:
    """Keep what was typed so far, whatever it is."""
    report = report_of(review)
    report.typed = dict(typed)
    report.save(update_fields=["typed", "kept_at"])


def report_send(review: Review, typed: Mapping[str, str], findings: Findings) -> None:
    """Send the report: its numbers take the place of what was sent before."""
    with transaction.atomic():
        report = TesterReport.objects.select_for_update().get(pk=report_of(review).pk)
        TesterReport.objects.filter(pk=report.pk).update(
            typed=dict(typed), sent_at=timezone.now(), kept_at=timezone.now(), **findings.values
        )
        report.yarns.all().delete()
        report.measures.all().delete()
        for yarn in findings.yarns:
            yarn.report = report
        for measure in findings.measures:
            measure.report = report
        ReportYarn.objects.bulk_create(findings.yarns)
        ReportMeasure.objects.bulk_create(findings.measures)
        review_finish(review)


def review_finish(review: Review) -> None:
    """The reader is done; the first time counts."""
    Review.objects.filter(pk=review.pk, finished_at=None).update(finished_at=timezone.now())


def review_seen(review: Review) -> None:
    Review.objects.filter(pk=review.pk).update(seen_at=timezone.now())


def report_photo_add(review: Review, stored: StoredPhoto) -> None:
    report = report_of(review)
    if report.photos.count() >= MOST_PHOTOS:
        raise ReadingError(_("%s photos are enough. Take one away before you add another.") % MOST_PHOTOS)
    ReportPhoto.objects.get_or_create(
        report=report, digest=stored.digest, defaults={"width": stored.width, "height": stored.height}
    )


def report_photo_remove(review: Review, photo_id: int) -> None:
    ReportPhoto.objects.filter(report__review=review, pk=photo_id).delete()
