"""Label sheets: every label lies on its sheet, none on another, and margins are those of the trade."""

from decimal import Decimal

import pytest

from craft.standards.label_stock import LABEL_SHEETS, PAPER_MM, LabelSheet, label_sheet, places_on

EACH = pytest.mark.parametrize("sheet", LABEL_SHEETS, ids=lambda sheet: sheet.key)


@EACH
def test_labels_lie_on_the_sheet_and_not_on_each_other(sheet: LabelSheet) -> None:
    wide, high = PAPER_MM[sheet.paper]
    places = places_on(sheet, sheet.labels)
    assert {page for page, _left, _top in places} == {0}
    for at, (_page, left, top) in enumerate(places):
        assert left >= 0
        assert top >= 0
        assert left + sheet.width_mm <= wide
        assert top + sheet.height_mm <= high
        for _other, other_left, other_top in places[at + 1 :]:
            beside = abs(other_left - left) >= sheet.width_mm
            below = abs(other_top - top) >= sheet.height_mm
            assert beside or below


def test_keys_are_one_for_each() -> None:
    assert len({sheet.key for sheet in LABEL_SHEETS}) == len(LABEL_SHEETS)
    assert label_sheet("a4-3x8-70x37") == LABEL_SHEETS[0]
    assert label_sheet("a4-9x9-1x1") is None


@pytest.mark.parametrize(
    ("key", "left", "top"),
    [
        ("a4-3x8-70x37", Decimal(0), Decimal("0.5")),
        ("a4-3x7-63.5x38.1", Decimal("7.21"), Decimal("15.15")),
        ("letter-3x10-66.7x25.4", Decimal("4.75"), Decimal("12.7")),
    ],
)
def test_margins_are_those_of_the_common_sheets(key: str, left: Decimal, top: Decimal) -> None:
    """Letter 3 x 10: 1/2 in above, 3/16 in (4.76 mm) beside. Common sizes, no source."""
    sheet = label_sheet(key)
    assert sheet is not None
    assert sheet.left_mm == pytest.approx(left, abs=Decimal("0.02"))
    assert sheet.top_mm == top


def test_a_started_sheet_goes_on_where_it_was_left() -> None:
    sheet = LABEL_SHEETS[0]
    places = places_on(sheet, 3, start=23)
    assert [(page, left) for page, left, _top in places] == [
        (0, Decimal(70)),
        (0, Decimal(140)),
        (1, Decimal(0)),
    ]
    assert places[2][2] == sheet.top_mm


@pytest.mark.parametrize("start", [0, 25, -1])
def test_error_a_place_beyond_the_sheet(start: int) -> None:
    with pytest.raises(ValueError, match="A sheet has the places 1 to 24"):
        places_on(LABEL_SHEETS[0], 1, start)
