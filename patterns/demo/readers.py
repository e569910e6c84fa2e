"""The demo's testers: three invented people on the cowl, one of them late, and nobody on the largest size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final
from uuid import uuid4

from django.utils import timezone

from patterns.models import Pattern
from patterns.reviews.answers import remark_answer
from patterns.reviews.asking import Invitation, review_invite
from patterns.reviews.links import bind
from patterns.reviews.models import ReaderRemark, Review, ReviewRole, TesterReport
from patterns.reviews.reading import Said, remark_write, report_send
from patterns.reviews.report_form import ReportForm
from workroom.demo import Cast

__all__ = ["ask_readers"]

SHAPING: Final = (
    "Rnd 17: Ch 1, [hdc in next 5 (6, 7) sts, hdc2tog over next 2 sts] 12 times, join with sl st in first "
    "hdc. (72 (84, 96) sts)"
)


@dataclass(frozen=True, slots=True)
class Tester:
    """One of the demo's testers. Days count from the day of the demo; `remarks`: (line, what is said)."""

    name: str
    size: str
    due_in: int
    contact: str
    remarks: tuple[tuple[int, Said], ...] = ()
    report: Mapping[str, str] | None = None


TESTERS: Final = (
    Tester(
        "Nell Quayle", "s", -3, "the testers' group",
        remarks=((5, Said("unclear", "Decrease over which stitches? I took the next two.", SHAPING)),),
        report={
            "size": "s", "hook": "4.5", "swatch_stitches": "15", "swatch_rows": "11", "swatch_washed": "true",
            "hours": "4", "minutes": "20", "yarn-MC-name": "Lane DK, Damson", "yarn-MC-before": "150",
            "yarn-MC-after": "76.5", "yarn-CC-name": "Lane DK, Oat", "yarn-CC-before": "50",
            "yarn-CC-after": "46", "measure-1-name": "at the neck", "measure-1-length": "48.5",
            "measure-2-name": "below", "measure-2-length": "56", "measured_blocked": "true",
            "liked": "Quick, and the join hardly shows.",
        },
    ),
    Tester(
        "Priya Dell", "m", -3, "priya@testers.example",
        remarks=(
            (5, Said("unclear", "“hdc2tog” is not said to be over two stitches.")),
            (0, Said("other", "A photo of the join would help somebody who has never joined a round.")),
        ),
        report={
            "size": "m", "hook": "4", "swatch_stitches": "16", "swatch_rows": "11.5", "swatch_washed": "true",
            "hours": "5", "minutes": "5", "yarn-MC-name": "a DK wool of my own", "yarn-MC-before": "200",
            "yarn-MC-after": "118", "yarn-CC-name": "the same", "yarn-CC-before": "25",
            "yarn-CC-after": "20.5",
            "measure-1-name": "at the neck", "measure-1-length": "20¾ in",
            "would_change": "One round more at the top.",
        },
    ),
    Tester(
        "Bram Oakes", "m", -4, "07700 900123",
        remarks=((2, Said("other", "Does the ring have to be chained loosely?")),),
    ),
)  # fmt: skip


def ask_readers(pattern: Pattern, cast: Cast) -> None:
    """Invite the testers, and let them have said and sent what they would by today."""
    for tester in TESTERS:
        wanted = Invitation(
            ReviewRole.TESTER, tester.name, size_key=tester.size, contact=tester.contact,
            due_on=cast.today + timedelta(days=tester.due_in),
        )  # fmt: skip
        review, _token = review_invite(pattern, wanted, by=cast.designer)
        bind(review)
        review.refresh_from_db()
        for line, said in tester.remarks:
            remark_write(review, form_key=uuid4(), line=line, said=said)
        if tester.report is not None:
            form = ReportForm(dict(tester.report), review=review)
            form.full_clean()
            report_send(review, form.typed(), form.findings())
        _dated(review, tester, cast)
    remark = ReaderRemark.objects.filter(review__pattern=pattern, line=2).get()
    remark_answer(remark, answer="Not loosely: with the hook of the gauge. I'll say so.", by=cast.designer)


def _dated(review: Review, tester: Tester, cast: Cast) -> None:
    """Three weeks in all: asked, opened the day after, reported the day before it was due."""
    due = cast.today + timedelta(days=tester.due_in)
    times = {
        "invited_at": _noon(due - timedelta(days=18)),
        "link_made_at": _noon(due - timedelta(days=18)),
        "opened_at": _noon(due - timedelta(days=17)),
        "seen_at": _noon(due - timedelta(days=1)),
        "finished_at": _noon(due - timedelta(days=1)) if tester.report is not None else None,
    }
    Review.objects.filter(pk=review.pk).update(**times)
    TesterReport.objects.filter(review=review).update(sent_at=times["finished_at"])
    review.remarks.update(written_at=times["seen_at"])


def _noon(day: date) -> datetime:
    return timezone.make_aware(datetime.combine(day, time(12)))
