"""From the written designs to published patterns, by the same services that the pages use."""

from __future__ import annotations

from io import BytesIO

from django.db import transaction

from patterns.checking import check
from patterns.demo.designs import COWL, DESIGNS, Design, DesignYarn
from patterns.demo.readers import ask_readers
from patterns.freezing import freeze
from patterns.models import Notion, Pattern, PatternSize, PatternYarn
from patterns.published_chart import charts_to_keep
from patterns.selectors import reasons_of, source_of
from patterns.services import photo_add, revision_publish, text_save
from workroom.demo import Cast
from workroom.media import StoredPhoto, store
from workroom.models import Person
from yarns.models import Colour, Supply, Yarn

__all__ = ["DemoBrokenError", "make"]


class DemoBrokenError(AssertionError):
    """A design of the demo that the technical edit finds fault with: the design or the edit is wrong."""


def make(cast: Cast) -> None:
    """Write, check and publish the designs. A design that is there already is left as it is."""
    there = set(Pattern.objects.values_list("slug", flat=True))
    for design in DESIGNS:
        if design.slug not in there:
            _publish(_write(design, cast.designer), cast.designer)
    if COWL.slug not in there:
        ask_readers(_write(COWL, cast.designer), cast)


def _write(design: Design, designer: Person) -> Pattern:
    picture = _picture(design) if design.picture else None
    with transaction.atomic():
        pattern = Pattern.objects.create(slug=design.slug, **design.row)
        PatternSize.objects.bulk_create(
            PatternSize(
                pattern=pattern, key=key, label=label, to_fit=to_fit, finished=finished, position=place
            )
            for place, (key, label, to_fit, finished) in enumerate(design.sizes)
        )
        PatternYarn.objects.bulk_create(
            _yarn(pattern, yarn, place) for place, yarn in enumerate(design.yarns)
        )
        Notion.objects.bulk_create(
            Notion(
                pattern=pattern, text=text, quantity=quantity, position=place,
                supply=Supply.objects.filter(kind=design.supplies.get(text, "none")).first(),
            )
            for place, (text, quantity) in enumerate(design.notions)
        )  # fmt: skip
        if picture:
            photo_add(pattern, picture, alt=design.alt)
    return text_save(pattern, text=design.text, seen=0, by=designer)


def _picture(design: Design) -> StoredPhoto:
    if design.picture is None:  # pragma: no cover - asked for designs with a picture alone
        raise DemoBrokenError(design.slug)
    return store(BytesIO(design.picture()))


def _yarn(pattern: Pattern, said: DesignYarn, place: int) -> PatternYarn:
    """The yarn as the shelf has it; described in words where the shelf has none of that name."""
    yarn = Yarn.objects.filter(maker=said.maker, name=said.name).first()
    shade = Colour.objects.filter(yarn=yarn, name=said.colour).first() if yarn else None
    return PatternYarn(
        pattern=pattern, key=said.key, yarn=yarn, shade=shade, colour=said.colour, position=place,
        description="" if yarn else f"{said.maker} {said.name}", alternatives=said.alternatives,
    )  # fmt: skip


def _publish(pattern: Pattern, designer: Person) -> None:
    checked = check(source_of(pattern), pattern.terms, reasons_of(pattern))
    if checked.broken or checked.blocking:
        says = "; ".join(f"line {remark.line}: {remark.says}" for remark in checked.blocking)
        raise DemoBrokenError(f"{pattern.slug}: {says or 'the check broke'}")
    revision = freeze(pattern, checked, version="1.0.0")
    revision_publish(
        pattern, revision, text_edit=pattern.text_edit, facts_edit=pattern.facts_edit, by=designer,
        charts=charts_to_keep(revision, checked, pattern.chart_set) if pattern.chart_shown else (),
    )  # fmt: skip
