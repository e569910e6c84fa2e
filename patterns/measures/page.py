"""All that the page of measurements shows, from one checked pattern."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext as _

from craft.fabric.filled import filled_profile_of
from craft.fabric.flatness import Flatness, drift_of, flatness_of
from craft.fabric.increases import Stack, stacks_of
from craft.fabric.levels import PartLevels, Start, part_levels
from craft.fabric.measure import Measured, PartSize, What, measure_part
from craft.fabric.model import Fabric
from craft.fabric.profile import Profile, profile_of
from craft.techedit.case import Case
from craft.techedit.finished import Comparison, compared, main_parts
from craft.techedit.stagger import staggered, whole_lines
from patterns.checking import Checked
from patterns.measures.drawings import Drawing, rows_drawing, section_drawing, side_drawing, top_drawing
from patterns.measures.finished import finished_words
from patterns.measures.flat_drawing import FlatDrawing, flat_drawing
from patterns.measures.gauges import GaugeInUse, gauge_in_use
from patterns.measures.words import (
    BASIS,
    NAMES,
    band_sentence,
    both_units,
    drift_sentence,
    gap_sentence,
    gauge_words,
    open_sentence,
    stack_sentence,
    verdict_word,
)
from patterns.models import Kind, Pattern

__all__ = [
    "Cell",
    "FlatView",
    "FormView",
    "MeasuresPage",
    "PartView",
    "Row",
    "Stated",
    "StatedCell",
    "measures_page",
]

MOST_STAGGERED = 2
"""Each offer is read and worked first, so no more than these for a part."""
_BEGUN_AT_THE_TOP = frozenset({Kind.HAT, Kind.TOY, Kind.GARMENT})


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


def measures_page(pattern: Pattern, checked: Checked, size: int = 0) -> MeasuresPage | None:
    """Measure and draw a pattern; None for a text that could not be checked at all."""
    fabric = checked.fabric
    if fabric is None:
        return None
    in_use = gauge_in_use(pattern, fabric)
    levels = tuple(part_levels(fabric, in_use.gauge))
    shape = filled_profile_of if pattern.stuffed else profile_of
    measured = tuple(measure_part(each, shape=shape) for each in levels)
    chosen = size if size < max(1, len(checked.sizes)) else 0
    maker = _Maker(pattern, checked, fabric, in_use, levels, measured, chosen)
    return MeasuresPage(
        basis=_basis(in_use),
        estimated=in_use.gauge.estimated,
        sizes=checked.sizes,
        size=chosen,
        parts=tuple(maker.parts()),
        stated=tuple(_stated(checked, measured, in_use)),
        measured=measured,
        filled=any(each.filled for each in measured),
    )


def _basis(in_use: GaugeInUse) -> str:
    words = str(BASIS[in_use.basis]) % {"gauge": gauge_words(in_use)}
    if in_use.stitch_taken:
        words += " " + _("The gauge names no stitch; it is taken to be in %s.") % in_use.stitch_taken
    return words


def _stated(checked: Checked, measured: Sequence[PartSize], in_use: GaugeInUse) -> Iterator[Stated]:
    measures = checked.facts.measures if checked.facts else ()
    found = compared(measures, main_parts(measured), in_use.gauge)
    for _measure, together in groupby(found, key=lambda each: id(each.measure)):
        by_size = {each.size: each for each in together}
        first = next(iter(by_size.values()))
        cells = [by_size.get(size) for size in range(max(1, len(checked.sizes)))]
        yield Stated(str(NAMES[first.length.what]), tuple(_stated_cell(each) for each in cells))


def _stated_cell(each: Comparison | None) -> StatedCell | None:
    if each is None:
        return None
    return StatedCell(both_units(each.stated_cm * 10), _worked(each), each.agrees)


def _worked(each: Comparison) -> str:
    cell = _cell(each.length)
    return cell.spread or cell.length


def _cell(length: Measured) -> Cell:
    spread = ""
    if length.high > length.low:
        spread = _("%(low)s to %(high)s") % {"low": both_units(length.low), "high": both_units(length.high)}
    return Cell(both_units(length.mm), spread, length.at_least)


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the views of the parts for one chosen size."""

    pattern: Pattern
    checked: Checked
    fabric: Fabric
    in_use: GaugeInUse
    levels: tuple[PartLevels, ...]
    measured: tuple[PartSize, ...]
    size: int

    def parts(self) -> Iterator[PartView]:
        colours = colours_of(self.pattern)
        for index in dict.fromkeys(each.section_index for each in self.levels):
            sizes = [each for each in self.measured if each.section_index == index]
            part = next((p for p in self.levels if (p.section_index, p.size) == (index, self.size)), None)
            yield PartView(
                index=index,
                title=sizes[0].title,
                rows=tuple(_rows(sizes, max(1, len(self.fabric.draft.sizes)))),
                gap=gap_sentence(sizes[0].gaps),
                flat=_flat_view(part),
                remarks=tuple(self._remarks(index, part)),
                staggered=self._staggered(index),
                form=None if part is None else self._form(part, colours),
            )

    def _stacks(self, index: int) -> tuple[Stack, ...]:
        return stacks_of(self.fabric.sections[index].rounds, self.size)

    def _staggered(self, index: int) -> str:
        if self.checked.draft is None or self.checked.facts is None:
            return ""
        case = Case(self.checked.draft, self.fabric, self.checked.facts)
        offers = (staggered(case, stack.rounds) for stack in self._stacks(index)[:MOST_STAGGERED])
        return "\n".join(whole_lines(case.text, offer) for offer in offers if offer is not None)

    def _remarks(self, index: int, part: PartLevels | None) -> Iterator[str]:
        if part is not None and part.start is not Start.ROWS:
            yield from (stack_sentence(stack) for stack in self._stacks(index))
            drift = drift_of(part)
            if drift is not None:
                yield drift_sentence(drift)

    def _form(self, part: PartLevels, colours: Mapping[str, str]) -> FormView:
        profile = (filled_profile_of if self.pattern.stuffed else profile_of)(part)
        if profile is None:
            return FormView(None, None, None, rows_drawing(part, colours), _says(part, None), ())
        lies_flat = profile.height < 0.12 * profile.radius
        upside_down = self.pattern.kind in _BEGUN_AT_THE_TOP
        return FormView(
            side=None if lies_flat else side_drawing(profile, colours, upside_down=upside_down),
            section=None if lies_flat else section_drawing(profile, upside_down=upside_down),
            top=top_drawing(profile, colours) if _shows_from_above(part, profile) else None,
            rows=None,
            says=_says(part, profile),
            notes=tuple(_notes(part, profile)),
        )


def _shows_from_above(part: PartLevels, profile: Profile) -> bool:
    return part.start is not Start.AROUND and not profile.closed


def _says(part: PartLevels, profile: Profile | None) -> str:
    name = part.title or _("The piece")
    found = measure_part(part, shape=lambda _part: profile)
    lengths = ", ".join(f"{NAMES[each.what]}: {both_units(each.mm)}" for each in found.lengths)
    return f"{name}. {lengths}."


def _notes(part: PartLevels, profile: Profile) -> Iterator[str]:
    if profile.filled:
        yield _("Drawn as filling rounds it; the stretch of the fabric is not in it and adds a little.")
    if any(level.handles for level in part.known):
        yield _("Handles are not drawn and not measured; the body below them is.")
    if any(level.loose for level in part.known):
        yield _("Chain loops hang as wide as the round above or below them; pulled, they open much farther.")
    if any(station.gathered for station in profile.stations):
        yield _(
            "Where a round has far fewer stitches than the one before, the fabric gathers; it is drawn flat."
        )
    if any(level.open_ended for level in part.known):
        yield _("Rounds “until it measures” are not in the lengths.")


def _rows(sizes: Sequence[PartSize], number_of_sizes: int) -> Iterator[Row]:
    by_size = {each.size: each for each in sizes}
    for what in (what for what in What if any(each.of(what) for each in sizes)):
        cells = []
        for size in range(number_of_sizes):
            length = by_size[size].of(what) if size in by_size else None
            cells.append(None if length is None else _cell(length))
        yield Row(str(NAMES[what]), tuple(cells))


def _flat_view(part: PartLevels | None) -> FlatView | None:
    flat: Flatness | None = flatness_of(part) if part is not None else None
    if flat is None:
        return None
    return FlatView(
        verdict=verdict_word(flat),
        css=flat.band.value.replace(" ", "-") if flat.band else "open",
        says=band_sentence(flat) if flat.band else "",
        why_open=open_sentence(flat),
        drawing=flat_drawing(flat),
    )


def colours_of(pattern: Pattern) -> dict[str, str]:
    """Shade by what the text may call it: the letter, the colour's name; "" is the first yarn's."""
    shades: dict[str, str] = {}
    for row in pattern.yarns.select_related("shade"):
        if row.shade and row.shade.hex_swatch:
            shades.setdefault("", row.shade.hex_swatch)
            for name in (row.key, row.key.lower(), row.colour, row.shade.name, row.shade.name.lower()):
                shades.setdefault(name, row.shade.hex_swatch)
    return shades
