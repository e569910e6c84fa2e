"""What is asked of the writer beyond other words: one size, the house's forms, no repeats."""

from __future__ import annotations

from dataclasses import dataclass, replace

from craft.notation.tree import Line, Section
from craft.notation.writing.expand import expanded
from craft.notation.writing.of_size import line_of_size
from craft.notation.writing.restyle import restyled
from craft.notation.writing.style import HouseStyle

__all__ = ["Changes"]


@dataclass(frozen=True, slots=True)
class Changes:
    """`position`: the size that is written for, None for all; `expanded`: without repeats."""

    style: HouseStyle
    position: int | None = None
    expanded: bool = False

    @property
    def keeps_the_tree(self) -> bool:
        """Whether what is written has to read back as the draft that it was."""
        kept = self.style.repeats == self.style.increases == "keep"
        return kept and self.position is None and not self.expanded

    def wanted(self, line: Line) -> list[tuple[Line, ...]]:
        """What may stand for the line, the most changed first; [()] where the size has no such line."""
        sized = line if self.position is None else line_of_size(line, self.position)
        if sized is None:
            return [()]
        styled = restyled(sized, self.style)
        forms: list[tuple[Line, ...]] = [(sized,)]
        if styled != sized:
            forms.insert(0, (styled,))
        if self.expanded:
            forms.insert(0, expanded(styled))
        return forms

    def of_section(self, section: Section) -> Section:
        """The section with every line changed as far as may be."""
        lines = tuple(
            one
            for line in section.lines
            for one in (self.wanted(line)[0] if isinstance(line, Line) else (line,))
        )
        return replace(section, lines=lines)
