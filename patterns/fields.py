"""What a pattern's fields say, as lines above and below the instructions and as facts for the technical edit.

A line gives every fact a place, so that a remark about the gauge can point at the gauge. Its numbers
are never read back out of the line: the facts are made of the fields themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from craft.notation.tree import Span
from craft.standards.terms import UnknownTermError, stitch
from craft.techedit.facts import Facts, Fibre, Gauge, Hook, Measure, Notion, YarnFact
from craft.techedit.facts.gauge import us_name
from craft.techedit.facts.things import kind_of, read_measures, read_notions
from craft.techedit.quantities import Amount
from patterns.models import Kind, Pattern, PatternSize, PatternYarn
from patterns.models import Notion as NotionRow
from patterns.source import FieldLine, Source
from workroom.models import Terms

__all__ = ["Fields", "field_page", "field_words", "fields_of", "given_facts"]

_KINDS: Final[Mapping[str, str]] = {
    Kind.HAT: "hat", Kind.GARMENT: "garment", Kind.BAG: "bag", Kind.KITCHEN: "coaster",
    Kind.BLANKET: "blanket", Kind.TOY: "toy", Kind.FOOTWEAR: "sock",
}  # fmt: skip
"""The kinds that checks know, by those of the field; the others are told by the title."""


_FIELD_WORDS: Final[Mapping[str, str | Promise]] = {
    "care": gettext_lazy("care"), "finished": gettext_lazy("finished measurements"),
    "finishing": gettext_lazy("finishing"), "gauge": gettext_lazy("gauge"), "hook": gettext_lazy("hook"),
    "introduction": gettext_lazy("introduction"), "level": gettext_lazy("project level"),
    "licence": gettext_lazy("licence"), "notes": gettext_lazy("notes"), "notion": gettext_lazy("notions"),
    "sizes": gettext_lazy("sizes"), "special_stitches": gettext_lazy("special stitches"),
    "to-fit": gettext_lazy("to fit"), "yarn": gettext_lazy("yarn"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fields:
    """The rows of one pattern and the lines made of them."""

    pattern: Pattern
    sizes: tuple[PatternSize, ...]
    yarns: tuple[PatternYarn, ...]
    notions: tuple[NotionRow, ...]

    @property
    def lines(self) -> tuple[FieldLine, ...]:
        """One line a fact, to stand above the instructions."""
        return (*_piece_lines(self.pattern), *_size_lines(self.sizes), *_material_lines(self))

    @property
    def after(self) -> tuple[FieldLine, ...]:
        """What is printed below the instructions."""
        pattern = self.pattern
        return (
            FieldLine("Finishing", pattern.finishing, "finishing"),
            FieldLine("Care", pattern.care, "care"),
            FieldLine("Licence", pattern.licence, "licence"),
            FieldLine("About the pattern", pattern.introduction, "introduction"),
        )


def field_words(field: str) -> str:
    """How a field is called on the page: "yarn A" for "yarn:A", "gauge"."""
    name, _colon, key = field.partition(":")
    words = str(_FIELD_WORDS.get(name, name))
    return f"{words} {key}" if name == "yarn" else words


def field_page(field: str) -> str:
    """The name of the address of the page that holds a field."""
    return "patterns:materials" if field.startswith(("yarn:", "notion:")) else "patterns:facts"


def fields_of(pattern: Pattern) -> Fields:
    """Three look-ups: sizes, yarns with what the shelf knows of them, notions."""
    return Fields(
        pattern,
        tuple(pattern.sizes.all()),
        tuple(pattern.yarns.select_related("yarn", "shade")),
        tuple(pattern.notions.all()),
    )


def given_facts(fields: Fields, source: Source) -> Facts:
    """The facts, each with the place of its line in the whole text."""
    pattern, span = fields.pattern, source.field_span
    hooks = (Hook(span("hook"), pattern.hook_um / 1000),) if pattern.hook_um else ()
    gauge = _gauge(pattern, span("gauge"))
    return Facts(
        title=pattern.title,
        kind=_KINDS.get(pattern.kind) or kind_of(pattern.title),
        level=pattern.get_level_display() if pattern.level else None,
        terms=pattern.terms,
        gauges=(gauge,) if gauge else (),
        hooks=hooks,
        yarns=tuple(_yarn(row, span(f"yarn:{row.key}")) for row in fields.yarns),
        notions=tuple(_notions(fields, source)),
        measures=tuple(_measures(fields, source)),
        stated=tuple(_stated(fields)),
        fields_end=len(source.head),
        youngest_months=pattern.youngest_months,
        small_parts=pattern.small_parts,
        stuffed=pattern.stuffed or None,
    )


# ------------------------------------------------------------------------------- lines


def _piece_lines(pattern: Pattern) -> Iterator[FieldLine]:
    if pattern.level:
        yield FieldLine("Level: ", str(pattern.get_level_display()), "level")
    if pattern.hook_um:
        yield FieldLine("Hook: ", f"{pattern.hook_um / 1000:g} mm", "hook")
    if pattern.gauge_stitches_tenths:
        yield FieldLine("Gauge: ", _gauge_words(pattern), "gauge")


def _gauge_words(pattern: Pattern) -> str:
    stitches, rows = pattern.gauge_stitches_tenths or 0, pattern.gauge_rows_tenths
    words = f"{stitches / 10:g} {_stitch_in_terms(pattern) or 'sts'}"
    if rows:
        words += f" and {rows / 10:g} rows"
    inches = 4 if pattern.gauge_over_mm == 100 else pattern.gauge_over_mm / 25.4
    words += f" = {pattern.gauge_over_mm / 10:g} cm ({inches:.3g} in)"
    if pattern.gauge_in_round is not None:
        words += ", in rounds" if pattern.gauge_in_round else ", in rows"
    if pattern.gauge_after_washing is not None:
        words += ", blocked" if pattern.gauge_after_washing else ", not blocked"
    return words


def _stitch_in_terms(pattern: Pattern) -> str:
    """The stitch of the gauge, kept by its US name, in the terms of the pattern."""
    try:
        term = stitch(pattern.gauge_stitch)
    except UnknownTermError:
        return pattern.gauge_stitch
    return term.uk if pattern.terms == Terms.UK else term.us


def _size_lines(sizes: tuple[PatternSize, ...]) -> Iterator[FieldLine]:
    for size in sizes:
        if size.to_fit.strip():
            yield FieldLine("Measurements (to fit): ", f"{size.label}: {size.to_fit}", f"to-fit:{size.key}")
    for size in sizes:
        if size.finished.strip():
            yield FieldLine("Finished size: ", f"{size.label}: {size.finished}", f"finished:{size.key}")


def _material_lines(fields: Fields) -> Iterator[FieldLine]:
    for yarn in fields.yarns:
        yield FieldLine("Yarn: ", f"{yarn.key}: {'; '.join(_yarn_words(yarn))}", f"yarn:{yarn.key}")
    for place, notion in enumerate(fields.notions):
        yield FieldLine("Notions: ", f"{notion.quantity} {notion.text}", f"notion:{place}")


def _yarn_words(row: PatternYarn) -> Iterator[str]:
    yield " ".join(part for part in (str(row.yarn or ""), row.description) if part.strip()) or _("yarn")
    if row.yarn is not None:
        if row.yarn.fibres:
            yield ", ".join(f"{share / 10:g}% {name}" for name, share in row.yarn.fibres)
        if row.yarn.ball_mass_mg and row.yarn.ball_length_mm:
            yield f"{row.yarn.ball_mass_mg / 1000:g} g / {row.yarn.ball_length_mm / 1000:g} m"
    if colour := _colour(row):
        yield colour
    if row.strands > 1:
        yield f"{row.strands} strands held together"


def _colour(row: PatternYarn) -> str:
    return row.colour.strip() or (row.shade.name if row.shade else "")


# ------------------------------------------------------------------------------- facts


def _gauge(pattern: Pattern, span: Span) -> Gauge | None:
    if not pattern.gauge_stitches_tenths:
        return None
    rows, over_cm = pattern.gauge_rows_tenths, pattern.gauge_over_mm / 10
    name = us_name(pattern.gauge_stitch, "us") if pattern.gauge_stitch else None
    return Gauge(
        span,
        stitches=pattern.gauge_stitches_tenths / 10,
        rows=rows / 10 if rows else None,
        width_cm=over_cm,
        height_cm=over_cm if rows else None,
        stitch=name,
        in_the_round=pattern.gauge_in_round,
        blocked=pattern.gauge_after_washing,
        fabric=None if name else pattern.gauge_stitch or None,
    )


def _yarn(row: PatternYarn, span: Span) -> YarnFact:
    colour = _colour(row)
    if row.yarn is None:
        return YarnFact(span, label=row.key, colour=colour or None, amount_worked_out=True)
    mass, length = row.yarn.ball_mass_mg, row.yarn.ball_length_mm
    return YarnFact(
        span,
        label=row.key,
        colour=colour or None,
        weight_class=row.yarn.weight_category,
        fibres=tuple(Fibre(name, per_mille / 10) for name, per_mille in row.yarn.fibres),
        grams=mass / 1000 if mass else None,
        metres=length / 1000 if length else None,
        amount_worked_out=True,
    )


def _notions(fields: Fields, source: Source) -> Iterator[Notion]:
    """The notions that checks know by name; how many is the field's own number."""
    for place, row in enumerate(fields.notions):
        line = source.field_span(f"notion:{place}")
        words = Span(line.end - len(" ".join(row.text.split())), line.end)
        for found in read_notions(source.whole, words):
            number = found.number or row.quantity
            yield Notion(found.span, found.what, number, found.size_mm)


def _measures(fields: Fields, source: Source) -> Iterator[Measure]:
    """Measurements by size, where every size gives the same ones in the same order."""
    for prefix, name in (("to-fit", "to fit"), ("finished", "finished")):
        spans = [source.field_span(f"{prefix}:{size.key}") for size in fields.sizes]
        if spans and all(span.end for span in spans):
            labels = [f"{size.label}: " for size in fields.sizes]
            values = [_value_span(source.whole, s, label) for s, label in zip(spans, labels, strict=True)]
            by_size = [tuple(read_measures(source.whole, value, "")) for value in values]
            yield from _by_size(by_size, name)


def _value_span(whole: str, line: Span, label: str) -> Span:
    """The part of a line behind the name of its size."""
    at = whole.find(label, line.start, line.end)
    return Span(at + len(label), line.end) if at >= 0 else line


def _by_size(by_size: list[tuple[Measure, ...]], prefix: str) -> Iterator[Measure]:
    for together in zip(*by_size, strict=False):
        first = together[0]
        units = [tuple(amount.unit for amount in each.amounts) for each in together]
        if len({each.name for each in together}) == 1 and len(set(units)) == 1:
            amounts = tuple(_joined(column) for column in zip(*(m.amounts for m in together), strict=True))
            yield Measure(f"{prefix} {first.name}".strip(), first.span, amounts)


def _joined(amounts: tuple[Amount, ...]) -> Amount:
    """The values of one measurement in all sizes."""
    values = tuple(value for amount in amounts for value in amount.values)
    return Amount(values, amounts[0].unit, amounts[0].span, max(amount.exact for amount in amounts))


def _stated(fields: Fields) -> Iterator[str]:
    """Which kinds of fact the fields hold. The list of abbreviations is made when the text is printed."""
    yield "abbreviations"
    if fields.pattern.hook_um:
        yield "hook"
    if fields.pattern.gauge_stitches_tenths:
        yield "gauge"
    if fields.yarns:
        yield "yarn"
    if fields.notions:
        yield "notions"
