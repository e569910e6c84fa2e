"""What the page of measurements shows, as values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from craft.fabric.measure import PartSize
from craft.techedit.finished import main_parts
from patterns.measures.drawings import Drawing
from patterns.measures.finished import finished_words
from patterns.measures.flat_drawing import FlatDrawing

__all__ = [
    "Cell",
    "FlatView",
    "FormView",
    "MeasuresPage",
    "Offer",
    "PartView",
    "Row",
    "Stated",
    "StatedCell",
]


@dataclass(frozen=True, slots=True)
class Cell:
    """A length as printed, the range of an estimate ("" for none); `at_least`: part of it is not known."""

    length: str
    spread: str
    at_least: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One measurement of a part, a cell for each size; None where a size has none."""

    name: str
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True, slots=True)
class FlatView:
    """The judgement in words with its picture. `css` names the band."""

    verdict: str
    css: str
    says: str
    why_open: str
    drawing: FlatDrawing


@dataclass(frozen=True, slots=True)
class FormView:
    """The drawings of one part: side and section (None for a flat piece), from above or laid flat (None for a
    body). `says` stands for the drawings to those who can't see them.
    """

    side: Drawing | None
    section: Drawing | None
    top: Drawing | None
    rows: Drawing | None
    says: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartView:
    """One part: its table over all sizes, and for the size chosen its flatness, remarks and drawings.
    `staggered`: its stacked rounds written anew with the same counts, "" where there is nothing to offer.
    """

    index: int
    title: str
    rows: tuple[Row, ...]
    gap: str
    flat: FlatView | None
    remarks: tuple[str, ...]
    staggered: str
    form: FormView | None


@dataclass(frozen=True, slots=True)
class StatedCell:
    """A finished measurement of one size as the facts have it, beside what was worked out."""

    stated: str
    worked: str
    agrees: bool


@dataclass(frozen=True, slots=True)
class Stated:
    """One finished measurement of the facts, a cell for each size; None where nothing answers to it."""

    name: str
    cells: tuple[StatedCell | None, ...]


@dataclass(frozen=True, slots=True)
class Offer:
    """A part whose measurements may be taken over: its words by size."""

    index: str
    title: str
    words: tuple[tuple[str, str], ...]
    is_main: bool


@dataclass(frozen=True, slots=True)
class MeasuresPage:
    """`sizes`: labels, empty for one size; `size`: the one chosen. `parts` empty: nothing could be
    measured.
    """

    basis: str
    estimated: bool
    sizes: tuple[str, ...]
    size: int
    parts: tuple[PartView, ...]
    stated: tuple[Stated, ...]
    measured: tuple[PartSize, ...]
    filled: bool

    @property
    def differs(self) -> bool:
        return any(cell and not cell.agrees for row in self.stated for cell in row.cells)

    @property
    def has_flat(self) -> bool:
        return any(part.flat for part in self.parts)

    @property
    def offered(self) -> tuple[Offer, ...]:
        """The parts that may be taken over as finished size, the one that is the piece ticked."""
        main = {each.section_index for each in main_parts(self.measured)}
        number = max(1, len(self.sizes))
        offers = []
        for part in self.parts:
            of_part = [each for each in self.measured if each.section_index == part.index]
            words = tuple(finished_words(of_part, size) for size in range(number))
            if all(words):
                labels = self.sizes or ("",)
                offers.append(
                    Offer(
                        str(part.index),
                        part.title,
                        tuple(zip(labels, words, strict=True)),
                        part.index in main,
                    )
                )
        return tuple(offers)

    def taken(self, indexes: Sequence[str]) -> tuple[str, ...]:
        """The words for each size of the parts named by their index; "" where a size has none."""
        chosen = [each for each in self.measured if str(each.section_index) in indexes]
        return tuple(finished_words(chosen, size) for size in range(max(1, len(self.sizes))))
