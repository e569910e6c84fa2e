"""Every round of a checked text as a row: for the sheet of the edit and for the chart.

The editor's page has one count a line; here a line for five rounds gives five rows.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from craft.fabric.model import Verdict, WorkedRound
from craft.techedit.report import counts_words
from patterns.checking import Checked

__all__ = ["RoundRow", "round_rows"]

_CSS: Final = {
    Verdict.AGREES: "agrees",
    Verdict.DIFFERS: "differs",
    Verdict.UNSTATED: "unstated",
    Verdict.NOT_CHECKED: "unchecked",
}


@dataclass(frozen=True, slots=True)
class RoundRow:
    """One round. `totals` per size, None where not worked out or where that size lacks it.

    `line` in the instructions, from 1. `printed`: the count that the pattern prints, "" for none.
    """

    section_index: int
    section: str
    line: int
    is_row: bool
    number: int | None
    totals: tuple[int | None, ...]
    printed: str
    css: str
    why: str
    reading: str

    @property
    def is_unknown(self) -> bool:
        """Whether it was worked out for no size at all."""
        return all(total is None for total in self.totals)

    @property
    def cells(self) -> tuple[str, ...]:
        """One text per size."""
        return tuple("–" if total is None else str(total) for total in self.totals)


def round_rows(checked: Checked) -> tuple[RoundRow, ...]:
    """All rounds in the order worked; none for a text that could not be checked."""
    if checked.fabric is None:
        return ()
    fabric = checked.fabric
    return tuple(
        _row(worked, fabric.sections[worked.section_index].section.title, checked) for worked in fabric.rounds
    )


def _row(worked: WorkedRound, title: str, checked: Checked) -> RoundRow:
    stated = (
        counts_words(counts) if what == "total" else f"{counts_words(counts)} {what}"
        for what, counts in worked.stated
    )
    return RoundRow(
        section_index=worked.section_index,
        section=title,
        line=max(1, worked.line.line_number - checked.source.head_lines),
        is_row=worked.kind == "row",
        number=worked.number,
        totals=tuple(sized.total if sized else None for sized in worked.per_size),
        printed=", ".join(stated),
        css=_CSS[worked.verdict],
        why=worked.why or "",
        reading=worked.reading or "",
    )
