"""What the designer sees of the reviews of one pattern: who, which sizes, what was said, the numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from patterns.checking import check
from patterns.freezing.facts import frozen_sizes
from patterns.models import Pattern
from patterns.reviews.copies import size_label
from patterns.reviews.figures import ReportFigures, SizeFigures, figures_of, size_figures
from patterns.reviews.models import ReaderRemark, RemarkState, Review
from patterns.reviews.places import LinePlace, line_places
from patterns.revisions import SizeInfo
from patterns.selectors import source_of
from patterns.sheet import draft_number

__all__ = [
    "Board",
    "LineRemarks",
    "PersonRow",
    "SizeRow",
    "board_of",
    "late_reviews",
    "open_by_line",
    "open_remarks",
    "sizes_now",
]

SHOWS: Final[Mapping[str, tuple[RemarkState, ...]]] = {
    "open": (RemarkState.OPEN,),
    "answered": (RemarkState.ANSWERED, RemarkState.ASIDE, RemarkState.TAKEN),
    "all": tuple(RemarkState),
}


@dataclass(frozen=True, slots=True)
class PersonRow:
    """One reviewer. `state`: "closed", "withdrawn", "done", "late", "reading" or "invited"."""

    review: Review
    state: str
    size_label: str
    days_late: int
    remarks: int
    open_remarks: int
    has_report: bool


@dataclass(frozen=True, slots=True)
class SizeRow:
    """How far a size is tested. `state`: "covered" (somebody reported), "waiting" or "nobody"."""

    label: str
    testers: tuple[str, ...]
    reports: int
    state: str


@dataclass(frozen=True, slots=True)
class RemarkRow:
    """A remark and where its line stands today."""

    remark: ReaderRemark
    place: LinePlace
    size_label: str


@dataclass(frozen=True, slots=True)
class LineRemarks:
    """All that was said of one line. `line` 0: of the whole; `gone`: the line is not there any more.

    `readers`: how many people; from two on the trade rewrites the line.
    """

    line: int
    words: str
    gone: bool
    rows: tuple[RemarkRow, ...]
    readers: int


@dataclass(frozen=True, slots=True)
class Board:
    """The whole page. `show`: which remarks, "open", "answered" or "all"."""

    pattern: Pattern
    draft: str
    people: tuple[PersonRow, ...]
    sizes: tuple[SizeRow, ...]
    lines: tuple[LineRemarks, ...]
    show: str
    counts: Mapping[str, int]
    figures: tuple[ReportFigures, ...]
    by_size: tuple[SizeFigures, ...]

    @property
    def late(self) -> int:
        return sum(row.state == "late" for row in self.people)

    @property
    def uncovered(self) -> tuple[SizeRow, ...]:
        return tuple(row for row in self.sizes if row.state != "covered")

    @property
    def anybody_open(self) -> bool:
        return any(row.state not in {"closed", "withdrawn"} for row in self.people)


def board_of(pattern: Pattern, *, today: date, show: str = "open", done: int | None = None) -> Board:
    """`done`: a remark that was just acted on and stays in sight whatever the filter."""
    show = show if show in SHOWS else "open"
    reviews = list(_reviews(pattern))
    remarks = [remark for review in reviews for remark in review.remarks.all() if not remark.withdrawn_at]
    shown = [remark for remark in remarks if remark.state in SHOWS[show] or remark.pk == done]
    figures = figures_of(reviews)
    return Board(
        pattern=pattern,
        draft=draft_number(pattern),
        people=tuple(_person(review, today) for review in reviews),
        sizes=tuple(_size(size, reviews) for size in sizes_now(pattern)),
        lines=_by_line(pattern, shown),
        show=show,
        counts={name: sum(remark.state in states for remark in remarks) for name, states in SHOWS.items()},
        figures=figures,
        by_size=size_figures(figures),
    )


def sizes_now(pattern: Pattern) -> tuple[SizeInfo, ...]:
    """The sizes of the pattern as it stands: of its fields, else as the text is read."""
    read: tuple[str, ...] = ()
    if not pattern.sizes.exists():
        read = check(source_of(pattern), pattern.terms).sizes
    return tuple(SizeInfo(**size) for size in frozen_sizes(pattern, read))


def open_by_line(pattern: Pattern) -> list[tuple[int, int]]:
    """(line of today, number of open remarks); 0 for the whole and for lines that are gone."""
    remarks = ReaderRemark.objects.filter(
        review__pattern=pattern, state=RemarkState.OPEN, withdrawn_at=None
    ).select_related("copy", "review")
    numbers: dict[int, int] = {}
    for group in _by_line(pattern, list(remarks)):
        numbers[group.line] = numbers.get(group.line, 0) + len(group.rows)
    return list(numbers.items())


def late_reviews(today: date) -> list[Review]:
    """Everybody who should have been done and is not, of all patterns, the longest first."""
    return list(
        Review.objects.filter(due_on__lt=today, finished_at=None, closed_at=None)
        .exclude(link_digest=None)
        .select_related("pattern")
        .order_by("due_on", "pk")
    )


def open_remarks() -> tuple[int, ReaderRemark | None]:
    """How many remarks wait for an answer, of all patterns, and the newest of them."""
    waiting = ReaderRemark.objects.filter(state=RemarkState.OPEN, withdrawn_at=None)
    newest = waiting.select_related("review__pattern").order_by("-written_at", "-pk").first()
    return waiting.count(), newest


def _reviews(pattern: Pattern) -> Iterable[Review]:
    return pattern.reviews.select_related("copy", "report").prefetch_related(
        "remarks__copy", "remarks__answered_by", "report__yarns"
    )


def _person(review: Review, today: date) -> PersonRow:
    late = bool(review.due_on and review.due_on < today and not review.finished_at)
    remarks = [remark for remark in review.remarks.all() if not remark.withdrawn_at]
    return PersonRow(
        review=review,
        state=_state(review, late=late),
        size_label=size_label(review.copy, review.size_key),
        days_late=(today - review.due_on).days if late and review.due_on else 0,
        remarks=len(remarks),
        open_remarks=sum(remark.state == RemarkState.OPEN for remark in remarks),
        has_report=bool(getattr(review, "report", None) and review.report.sent_at),
    )


def _state(review: Review, *, late: bool) -> str:
    if review.closed_at:
        return "closed"
    if review.link_digest is None:
        return "withdrawn"
    if review.finished_at:
        return "done"
    if late:
        return "late"
    return "reading" if review.opened_at else "invited"


def _size(size: SizeInfo, reviews: Sequence[Review]) -> SizeRow:
    reports = [
        review
        for review in reviews
        if (report := getattr(review, "report", None)) and report.sent_at and report.size_key == size.key
    ]
    waiting = [
        review
        for review in reviews
        if review.is_tester and review.is_open and review.size_key == size.key and not review.finished_at
    ]
    state = "covered" if reports else "waiting" if waiting else "nobody"
    names = dict.fromkeys(review.name for review in (*reports, *waiting))
    return SizeRow(size.label, tuple(names), len(reports), state)


def _by_line(pattern: Pattern, remarks: Sequence[ReaderRemark]) -> tuple[LineRemarks, ...]:
    """Remarks in the order of today's text, those on the whole and on lost lines behind."""
    maps: dict[int, dict[int, LinePlace]] = {}
    groups: dict[int, list[RemarkRow]] = {}
    for remark in remarks:
        if remark.copy_id not in maps:
            maps[remark.copy_id] = line_places(remark.copy.text, pattern.text)
        place = maps[remark.copy_id].get(remark.line, LinePlace(None, "", same=False))
        row = RemarkRow(remark, place, size_label(remark.copy, remark.review.size_key))
        groups.setdefault(place.line or (0 if not remark.line else -1), []).append(row)
    ordered = sorted(groups, key=lambda line: (line <= 0, -line if line <= 0 else line))
    return tuple(_group(line, groups[line]) for line in ordered)


def _group(line: int, rows: list[RemarkRow]) -> LineRemarks:
    rows.sort(key=lambda row: (row.remark.written_at, row.remark.pk))
    return LineRemarks(
        line=max(line, 0),
        words=rows[0].place.words if line > 0 else "",
        gone=line < 0,
        rows=tuple(rows),
        readers=len({row.remark.review_id for row in rows}),
    )
