"""Patterns, a yarn and a revision, made of the examples."""

from collections.abc import Callable
from io import BytesIO

import pytest

from patterns.checking import check
from patterns.freezing import freeze
from patterns.models import Pattern, PatternSize, PatternYarn, Revision
from patterns.selectors import reasons_of, source_of
from patterns.services import pattern_create, photo_add, revision_publish, text_save
from tests.patterns.examples import DISC, THREE_SIZES, picture
from workroom.media import store
from workroom.models import Person
from yarns.models import Yarn


@pytest.fixture
def make_pattern(studio: object, designer: Person) -> Callable[..., Pattern]:
    def make(title: str = "Small Disc", text: str = DISC, **facts: object) -> Pattern:
        pattern = pattern_create(title=title, by=designer)
        Pattern.objects.filter(pk=pattern.pk).update(**facts)
        return text_save(pattern, text=text, seen=0, by=designer)

    return make


@pytest.fixture
def pattern(make_pattern: Callable[..., Pattern]) -> Pattern:
    return make_pattern()


@pytest.fixture
def yarn(db: None) -> Yarn:
    return Yarn.objects.create(
        maker="Sandpiper Mill",
        name="Tideline Worsted",
        weight_category=4,
        fibres=[["wool", 800], ["nylon", 200]],
        ball_mass_mg=100_000,
        ball_length_mm=190_000,
    )


@pytest.fixture
def full_pattern(make_pattern: Callable[..., Pattern], yarn: Yarn) -> Pattern:
    """Three sizes, a yarn of the shelf, hook and gauge, a photo with its words."""
    pattern = make_pattern(
        title="Net Band", text=THREE_SIZES, hook_um=5000, gauge_stitches_tenths=140,
        gauge_rows_tenths=160, gauge_stitch="sc", gauge_in_round=True, introduction="A band.",
        licence="For your own making.",
    )  # fmt: skip
    for place, label in enumerate(("S", "M", "L")):
        PatternSize.objects.create(
            pattern=pattern, key=label.lower(), label=label, finished=f"{place + 1} cm", position=place
        )
    PatternYarn.objects.create(pattern=pattern, key="A", yarn=yarn, colour="Harbour")
    photo_add(pattern, store(BytesIO(picture())), alt="A blue square.")
    return pattern


@pytest.fixture
def publish(designer: Person) -> Callable[..., Revision]:
    def publish_one(pattern: Pattern, version: str = "1.0.0") -> Revision:
        pattern.refresh_from_db()
        checked = check(source_of(pattern), pattern.terms, reasons_of(pattern))
        return revision_publish(
            pattern, freeze(pattern, checked, version=version), text_edit=pattern.text_edit,
            facts_edit=pattern.facts_edit, by=designer,
        )  # fmt: skip

    return publish_one


@pytest.fixture
def published(full_pattern: Pattern, publish: Callable[..., Revision]) -> Revision:
    return publish(full_pattern)
