"""The demo's patterns: right by the technical edit, and by hand.

Totals of stitches were added up by hand from the texts, round by round.
"""

from collections.abc import Callable
from functools import cache

import pytest

from craft.techedit.finding import Level
from patterns import revisions
from patterns.demo import DemoBrokenError, designs, make, making
from patterns.demo.designs import DESIGNS, Design
from patterns.models import Pattern, Revision
from patterns.reviews.board import board_of
from workroom.demo import Cast
from workroom.media import StoredPhoto
from workroom.models import Person, Studio
from workroom.selectors import local_today

HAND = {
    # 11 + 23 + 35 dc (a starting chain stands for the twelfth), 42 + 48 sc, four coasters
    ("harbour-coasters", "one"): {"dc": 4 * 69, "sc": 4 * 90},
    # base 42 + 48 + 54 + 60 + 66 + 72, wall 5 x 72, net 11 x 24, rim 4 x 72, handles 40 + 4 x 120;
    # chains: 21 + 11 rounds of 24 arches of five + two handles of forty
    ("strand-market-bag", "one"): {"sc": 1774, "ch": 21 + 1320 + 80, "sl st": 120},
    # body 612 and 36 decreases, wings 2 x (129 and 6), beak 24, feet 2 x (11 and 2)
    ("pip-the-gull", "one"): {"sc": 612 + 258 + 24 + 22, "sc2tog": 36 + 12 + 4, "sc3tog": 2},
    # crown 8 + 16 + ... + 56, ten rounds of 56, brim three rounds
    ("tideline-beanie", "toddler"): {"hdc": 224 + 560, "sc": 168},
    # and one round of 60, eleven rounds of 60
    ("tideline-beanie", "child"): {"hdc": 224 + 60 + 660, "sc": 180},
    ("tideline-beanie", "adult-s"): {"hdc": 224 + 64 + 12 * 64, "sc": 192},
    ("tideline-beanie", "adult-m"): {"hdc": 224 + 64 + 68 + 13 * 68, "sc": 204},
    ("tideline-beanie", "adult-l"): {"hdc": 224 + 64 + 72 + 14 * 72, "sc": 216},
}


draw = making._picture


@cache
def drawn(slug: str) -> StoredPhoto:
    """Each picture is drawn once for all tests; its copies stay in the store."""
    return draw(next(design for design in DESIGNS if design.slug == slug))


@pytest.fixture(autouse=True)
def _drawn_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "_picture", lambda design: drawn(design.slug))


@pytest.fixture
def cast(studio: Studio, designer: Person, seller: Person, assistant: Person) -> Cast:
    return Cast(studio, designer, seller, assistant, local_today())


def test_four_patterns_are_out(cast: Cast) -> None:
    make(cast)
    assert list(Pattern.objects.filter(published__isnull=False).values_list("slug", flat=True)) == [
        "harbour-coasters", "pip-the-gull", "strand-market-bag", "tideline-beanie",
    ]  # fmt: skip
    for (slug, size), counts in HAND.items():
        found = revisions.tally(Revision.objects.get(pattern__slug=slug), size)
        assert {name: found[name] for name in counts} == counts, (slug, size)


def test_nothing_is_left_to_mend_or_look_at_again(cast: Cast) -> None:
    make(cast)
    for revision in Revision.objects.all():
        grave = [each for each in revision.findings if each["level"] != Level.NOTE.value]
        assert grave == [], revision.title


def test_making_it_twice_changes_nothing(cast: Cast) -> None:
    make(cast)
    Pattern.objects.filter(slug="pip-the-gull").update(title="Mine now")
    make(cast)
    assert Revision.objects.count() == 4
    assert Pattern.objects.get(slug="pip-the-gull").title == "Mine now"


def test_each_has_its_photo_and_its_words(cast: Cast) -> None:
    make(cast)
    for revision in Revision.objects.all():
        (photo,) = revision.facts["photos"]
        assert (photo["width"], photo["height"]) == (1600, 1200)
        assert len(photo["alt"]) > 20


def test_the_toy_and_the_coasters_carry_their_cautions(cast: Cast) -> None:
    make(cast)
    cautions = {
        revision.pattern.slug: {each["slug"] for each in revision.facts["cautions"]}
        for revision in Revision.objects.all()
    }
    assert {"small-parts", "soft-toy-from-birth", "stuffing-closed"} <= cautions["pip-the-gull"]
    assert "heat-use" in cautions["harbour-coasters"]


def test_a_design_that_is_wrong_is_not_published(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "DESIGNS", (designs.COASTERS,))
    right: Callable[[Design], str] = Design.text.fget  # type: ignore[attr-defined] # a property has one
    monkeypatch.setattr(Design, "text", property(lambda self: right(self).replace("(24 dc)", "(25 dc)")))
    with pytest.raises(DemoBrokenError, match="harbour-coasters: line 3"):
        make(cast)


@pytest.mark.parametrize("design", DESIGNS, ids=lambda design: design.slug)
def test_the_designs_follow_house_style(design: Design) -> None:
    assert design.text.endswith("\n")
    assert not any(line != line.rstrip() for line in design.text.splitlines())
    assert len(design.alt) < 300


def test_the_cowl_is_with_its_testers(cast: Cast) -> None:
    """Three of them, one late, the largest size made by nobody, and a check that finds nothing to mend."""
    make(cast)
    board = board_of(Pattern.objects.get(slug="ebb-cowl"), today=cast.today)
    assert [row.state for row in board.people] == ["late", "done", "done"]
    assert [(row.label, row.state) for row in board.sizes] == [
        ("S", "covered"), ("M", "covered"), ("L", "nobody"),
    ]  # fmt: skip
    assert board.counts == {"open": 3, "answered": 1, "all": 4}
    assert board.lines[0].readers == 2
    copy = board.people[0].review.copy
    assert [row["css"] for row in copy.sheet["found"] if row["css"] != "good-to-know"] == []
