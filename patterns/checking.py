"""The one door from this room to the technical edit: a pattern's text in, remarks and counts out.

`check(source, terms)` never raises on a maker's text: what is not understood is listed as not read,
and should the edit itself break, the answer says that nothing was checked and the text is kept.
"""

from __future__ import annotations

import hashlib
import logging
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from craft.fabric.model import Fabric, Verdict, WorkedRound
from craft.notation.tree import Draft
from craft.techedit.facts import Facts
from craft.techedit.finding import Finding, Level
from patterns.edited import edited
from patterns.source import Place, Source

__all__ = ["Checked", "Remark", "Rewrite", "RoundCount", "check", "line_words"]

READER_VERSION: Final = "1"
"""Kept with each revision; raised when the reader changes what it makes of a text."""

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Rewrite:
    """A suggested change: the code points from `start` to `end` of the instructions become `text`."""

    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Remark:
    """One finding as the editor's page shows it.

    `key`: stays the same while check and line stay the same. `line`, `column` from 1 in the field;
    `start`, `end` code points of the field; `words` the text of the line it stands in. `sizes`:
    labels of the sizes concerned. `aside`: the reason for which it was set aside, None while it counts.
    """

    key: str
    check: str
    level: Level
    says: str
    field: str
    line: int
    column: int
    start: int
    end: int
    words: str
    round_number: int | None = None
    sizes: tuple[str, ...] = ()
    rewrite: Rewrite | None = None
    aside: str | None = None

    @property
    def blocks(self) -> bool:
        """Whether this keeps the pattern from being published."""
        return self.level is Level.ERROR and self.aside is None


@dataclass(frozen=True, slots=True)
class RoundCount:
    """The count of one round beside its line. `totals` per size: None where that size lacks it."""

    line: int
    section: str
    kind: str
    number: int | None
    totals: tuple[int | None, ...]
    verdict: Verdict
    why: str | None
    reading: str | None
    last_number: int | None = None

    @property
    def shown(self) -> str:
        """Counts as written beside the line: "18", or "18 · 21 · 24"; "?" where not worked out."""
        if not any(total is not None for total in self.totals):
            return "?"
        if len(set(self.totals)) == 1:
            return str(self.totals[0])
        return " · ".join("–" if total is None else str(total) for total in self.totals)


@dataclass(frozen=True, slots=True)
class Checked:
    """A text with everything that was found in it. `draft`, `fabric` and `facts` are None when it broke."""

    source: Source
    draft: Draft | None
    fabric: Fabric | None
    facts: Facts | None = None
    remarks: tuple[Remark, ...] = ()
    rounds: tuple[RoundCount, ...] = ()
    unread: tuple[Place, ...] = ()

    @property
    def broken(self) -> bool:
        return self.fabric is None

    @property
    def sizes(self) -> tuple[str, ...]:
        return self.draft.sizes if self.draft else ()

    @property
    def open_remarks(self) -> tuple[Remark, ...]:
        return tuple(remark for remark in self.remarks if remark.aside is None)

    @property
    def set_aside(self) -> tuple[Remark, ...]:
        return tuple(remark for remark in self.remarks if remark.aside is not None)

    @property
    def blocking(self) -> tuple[Remark, ...]:
        return tuple(remark for remark in self.remarks if remark.blocks)

    @property
    def agreeing(self) -> int:
        return sum(r.verdict is Verdict.AGREES for r in self.rounds)

    @property
    def not_checked(self) -> int:
        return sum(r.verdict is Verdict.NOT_CHECKED for r in self.rounds)


def check(source: Source, terms: str, reasons: Iterable[tuple[str, str, str]] = ()) -> Checked:
    """Read, work and check a text. `reasons`: (check, words of the line, reason) of what is set aside."""
    try:
        return _checked(source, terms, reasons)
    except Exception:
        logger.exception("The technical edit broke on a text of %d characters", len(source.text))
        return Checked(source, None, None)


def line_words(line: str) -> str:
    """A line as it is compared: spaces evened out, so that only a real change counts."""
    return " ".join(line.split())


def _checked(source: Source, terms: str, reasons: Iterable[tuple[str, str, str]]) -> Checked:
    edit = edited(source, terms)
    draft, fabric = edit.draft, edit.fabric
    lines = _Lines(source)
    aside = {(check_slug, words): reason for check_slug, words, reason in reasons}
    remarks = _told_apart(
        _set_aside(_remark(finding, source, lines, draft.sizes), aside) for finding in edit.findings
    )
    return Checked(
        source=source,
        draft=draft,
        fabric=fabric,
        facts=edit.facts,
        remarks=remarks,
        rounds=_by_line(_count(worked, source, fabric) for worked in fabric.rounds),
        unread=tuple(source.place(unread.span) for unread in draft.unread),
    )


class _Lines:
    """Lines and columns in the instructions."""

    def __init__(self, source: Source) -> None:
        self.whole = source.whole
        self.lines = source.text.split("\n")
        self.starts = [0]
        for line in self.lines[:-1]:
            self.starts.append(self.starts[-1] + len(line) + 1)

    def at(self, place: Place, offset: int) -> tuple[int, int, str]:
        """Line and column from 1, and the words of the line. `offset`: where it is in the whole text."""
        if place.field != "text":
            start = self.whole.rfind("\n", 0, offset) + 1
            end = self.whole.find("\n", offset)
            return 1, place.start + 1, line_words(self.whole[start : end if end >= 0 else None])
        index = bisect_right(self.starts, place.start) - 1
        return index + 1, place.start - self.starts[index] + 1, line_words(self.lines[index])


def _remark(finding: Finding, source: Source, lines: _Lines, sizes: Sequence[str]) -> Remark:
    place = source.place(finding.span)
    line, column, words = lines.at(place, finding.span.start)
    digest = hashlib.sha256(f"{finding.check}\0{words}\0{finding.says}".encode()).hexdigest()
    concerned = finding.sizes if finding.sizes and len(finding.sizes) < len(sizes) else ()
    return Remark(
        key=digest[:12],
        check=finding.check,
        level=finding.level,
        says=finding.says,
        field=place.field,
        line=line,
        column=column,
        start=place.start,
        end=place.end,
        words=words,
        round_number=finding.round_number,
        sizes=tuple(sizes[position] for position in concerned if position < len(sizes)),
        rewrite=_rewrite(finding, source),
    )


def _rewrite(finding: Finding, source: Source) -> Rewrite | None:
    """The suggestion, where it concerns the instructions (fields are mended on their own page)."""
    if finding.suggestion is None:
        return None
    place = source.place(finding.suggestion.span)
    if place.field != "text":
        return None
    return Rewrite(place.start, place.end, finding.suggestion.text)


def _set_aside(remark: Remark, aside: dict[tuple[str, str], str]) -> Remark:
    reason = aside.get((remark.check, remark.words))
    return remark if reason is None else replace(remark, aside=reason)


def _told_apart(remarks: Iterable[Remark]) -> tuple[Remark, ...]:
    """Two remarks alike in two lines alike get keys of their own."""
    seen: dict[str, int] = {}
    apart = []
    for remark in remarks:
        times = seen[remark.key] = seen.get(remark.key, 0) + 1
        apart.append(remark if times == 1 else replace(remark, key=f"{remark.key}-{times}"))
    return tuple(apart)


def _count(worked: WorkedRound, source: Source, fabric: Fabric) -> RoundCount:
    return RoundCount(
        line=max(1, worked.line.line_number - source.head_lines),
        section=fabric.sections[worked.section_index].section.title,
        kind=worked.kind,
        number=worked.number,
        totals=tuple(sized.total if sized else None for sized in worked.per_size),
        verdict=worked.verdict,
        why=worked.why,
        reading=worked.reading,
    )


def _by_line(counts: Iterable[RoundCount]) -> tuple[RoundCount, ...]:
    """One count a line: a line for several rounds shows the count of the last of them."""
    kept: dict[int, RoundCount] = {}
    for count in counts:
        first = kept.get(count.line)
        if first is None:
            kept[count.line] = count
        else:
            worst = max(first.verdict, count.verdict, key=_gravity)
            kept[count.line] = replace(
                first,
                totals=tuple(
                    before if now is None else now
                    for before, now in zip(first.totals, count.totals, strict=True)
                ),
                last_number=count.number,
                verdict=worst,
                why=first.why or count.why,
                reading=first.reading or count.reading,
            )
    return tuple(kept.values())


def _gravity(verdict: Verdict) -> int:
    order = (Verdict.UNSTATED, Verdict.AGREES, Verdict.NOT_CHECKED, Verdict.DIFFERS)
    return order.index(verdict)
