"""Words that the sentences of many checks share: how a round is called, how sizes are listed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from craft.fabric.model import Counts, WorkedRound
from craft.notation.tree import Kind, Line
from craft.techedit.case import Case

__all__ = ["counts_words", "line_name", "listed", "quoted", "round_name", "size_words", "steps_words"]

_SHORT = {Kind.ROUND: "Rnd", Kind.ROW: "Row"}


def round_name(worked: WorkedRound) -> str:
    """Such as "Rnd 7", "Row 4", or "this row" where it has no number."""
    if worked.number is None:
        return f"this {worked.kind}"
    return f"{'Rnd' if worked.kind == Kind.ROUND else 'Row'} {worked.number}"


def line_name(line: Line) -> str:
    """Such as "Rnd 7", "Rows 5-9", or "this row"."""
    numbers = line.label.numbers
    short = _SHORT[line.label.kind]
    if not numbers:
        return f"this {line.label.kind.value}"
    return f"{short} {numbers[0]}" if len(numbers) == 1 else f"{short}s {numbers[0]}-{numbers[-1]}"


def listed(words: Iterable[str]) -> str:
    """Such as "S", "S and L", "S, M and L"."""
    parts = list(words)
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1]))) if parts else ""


def size_words(case: Case, sizes: Sequence[int]) -> str:
    """Such as "size M", "sizes S and L"; the position where the pattern names no sizes."""
    names = [case.draft.sizes[at] if at < len(case.draft.sizes) else str(at + 1) for at in sizes]
    return f"{'size' if len(names) == 1 else 'sizes'} {listed(names)}"


def counts_words(counts: Counts) -> str:
    """18 for one size, "18 (20, 24)" for several; a dash where a size lacks the round."""
    words = ["-" if count is None else str(count) for count in counts]
    if len(set(words)) == 1:
        return words[0]
    return f"{words[0]} ({', '.join(words[1:])})"


def quoted(case: Case, start: int, end: int, longest: int = 60) -> str:
    """The text of a stretch on one line, cut with dots where it is long."""
    words = " ".join(case.text[start:end].split())
    return words if len(words) <= longest else f"{words[: longest - 1].rstrip()}…"


def steps_words(case: Case, line: Line) -> str:
    """The steps of a line without its label and count."""
    end = line.stated.span.start if line.stated else line.span.end
    return quoted(case, line.label.span.end, end).lstrip(" :.-–—=").rstrip(" .-–—=([")
