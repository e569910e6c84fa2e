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
from patterns.measures.drawings import rows_drawing, section_drawing, side_drawing, top_drawing
from patterns.measures.flat_drawing import flat_drawing
from patterns.measures.gauges import GaugeInUse, gauge_in_use
from patterns.measures.values import (
    Cell,
    FlatView,
    FormView,
    MeasuresPage,
    PartView,
    Row,
    Stated,
    StatedCell,
)
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

__all__ = ["measures_page"]

MOST_STAGGERED = 2
"""Each offer is read and worked first, so no more than these for a part."""
_BEGUN_AT_THE_TOP = frozenset({Kind.HAT, Kind.TOY, Kind.GARMENT})


def measures_page(pattern: Pattern, checked: Checked, size: int = 0) -> MeasuresPage | None:
    """Measure and draw a pattern; None for a text that could not be checked at all."""
    fabric = checked.fabric
    if fabric is None:
        return None
    in_use = gauge_in_use(pattern, fabric)
    levels = tuple(part_levels(fabric, in_use.gauge))
    shape = filled_profile_of if pattern.stuffed else profile_of
    profiles = tuple(shape(each) for each in levels)
    measured = tuple(_measured(each, profile) for each, profile in zip(levels, profiles, strict=True))
    chosen = size if size < max(1, len(checked.sizes)) else 0
    maker = _Maker(pattern, checked, fabric, in_use, levels, profiles, measured, chosen)
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


def _measured(part: PartLevels, profile: Profile | None) -> PartSize:
    return measure_part(part, shape=lambda _part: profile)


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
    profiles: tuple[Profile | None, ...]
    measured: tuple[PartSize, ...]
    size: int

    def parts(self) -> Iterator[PartView]:
        colours = colours_of(self.pattern)
        for index in dict.fromkeys(each.section_index for each in self.levels):
            sizes = [each for each in self.measured if each.section_index == index]
            at = next(
                (i for i, p in enumerate(self.levels) if (p.section_index, p.size) == (index, self.size)),
                None,
            )
            part = None if at is None else self.levels[at]
            yield PartView(
                index=index,
                title=sizes[0].title,
                rows=tuple(_rows(sizes, max(1, len(self.fabric.draft.sizes)))),
                gap=gap_sentence(sizes[0].gaps),
                flat=_flat_view(part),
                remarks=tuple(self._remarks(index, part)),
                staggered=self._staggered(index),
                form=None if at is None else self._form(self.levels[at], self.profiles[at], colours),
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

    def _form(self, part: PartLevels, profile: Profile | None, colours: Mapping[str, str]) -> FormView:
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
    found = _measured(part, profile)
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
