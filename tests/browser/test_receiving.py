"""The assistant's morning: a parcel of ten lots, logged by keyboard and scanner alone, keys counted."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from workroom.models import Person, Studio
from yarns.audit import audit
from yarns.models import Colour, Lot, Parcel, Place, Supplier, Yarn

KEYS_ALLOWED = 420
"""Two minutes at 3.5 keys a second, a slow typist's pace (common practice, no source)."""


class Hands:
    """Counts what a person presses. A scanner's signs are not theirs, nor is its Enter."""

    def __init__(self, page: Page) -> None:
        self.page, self.pressed = page, 0

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)
            self.pressed += 1

    def type(self, words: str, then: str = "Tab") -> None:
        self.page.keyboard.type(words)
        self.pressed += len(words)
        self.press(then)

    def scan(self, barcode: str) -> None:
        self.page.keyboard.type(barcode)
        self.page.keyboard.press("Enter")

    def at(self, label: str) -> None:
        """The keyboard is in the field of that name: nobody has to reach for a mouse."""
        expect(self.page.get_by_label(label, exact=False).first).to_be_focused()

    def lots(self, count: int) -> None:
        """So many lots stand in the list, and the field waits for the next."""
        expect(self.page.locator("table.lots tbody tr")).to_have_count(count)
        self.at("Barcode, or yarn and colour")


@pytest.fixture
def shelf(studio: Studio, db: None) -> dict[str, Colour]:
    """What the house knows before the parcel comes."""
    Place.objects.create(name="Shelf A")
    Supplier.objects.create(name="Sandpiper Mill")
    tideline = Yarn.objects.create(
        maker="Sandpiper Mill",
        name="Tideline Worsted",
        weight_category=4,
        fibres=[["wool", 800], ["nylon", 200]],
        ball_mass_mg=100_000,
        ball_length_mm=190_000,
    )
    known = {"Harbour": "2000000000121", "Foam": "2000000000022", "Kelp": "2000000000442"}
    return {
        name: Colour.objects.create(yarn=tideline, name=name, gtin=f"0{gtin}")
        for name, gtin in valid(known).items()
    }


def valid(codes: dict[str, str]) -> dict[str, str]:
    """The codes with their right check digit."""
    from craft.standards.codes import gtin_check_digit  # noqa: PLC0415 - a helper of this page only

    return {name: f"{code[:12]}{gtin_check_digit(code[:12])}" for name, code in codes.items()}


def known_lots(hands: Hands, shelf: dict[str, Colour]) -> None:
    """Six: four by barcode, one by "+" for the next dye lot, one by part of its name."""
    hands.scan(shelf["Harbour"].gtin[1:])
    hands.at("Dye lot")
    hands.type("4471")
    hands.type("10")
    hands.type("Shelf A")
    hands.type("78", then="Enter")
    hands.lots(1)
    hands.press("+", "Enter")
    hands.at("Dye lot")
    hands.type("4518", then="Enter")
    hands.lots(2)
    for number, (name, dye_lot, balls) in enumerate(
        (("Foam", "4402", "8"), ("Kelp", "4488", "4"), ("Harbour", "4520", "3")), start=3
    ):
        hands.scan(shelf[name].gtin[1:])
        hands.at("Dye lot")
        hands.type(dye_lot)
        hands.type(balls, then="Enter")
        hands.lots(number)
    hands.type("tide foam", then="Enter")
    hands.at("Dye lot")
    hands.type("4403")
    hands.type("2", then="Enter")
    hands.lots(6)


def new_colours(hands: Hands) -> None:
    """Two: one by its unknown barcode, one by words."""
    hands.scan(valid({"": "2000000000312"})[""])
    hands.at("Name of the yarn")
    hands.type("tide", then="Enter")
    expect(hands.page.locator(".choice").first).to_be_focused()
    hands.press("Enter")
    hands.at("Colour")
    hands.type("Rust Buoy")
    hands.press("Tab", "Tab")
    hands.type("4460")
    hands.type("6", then="Enter")
    hands.lots(7)
    hands.type("tide Gorse", then="Enter")
    expect(hands.page.locator(".choice").first).to_be_focused()
    hands.press("Enter")
    hands.at("Colour")
    hands.press("Tab", "Tab", "Tab")  # its name stands there already
    hands.type("4499")
    hands.type("5", then="Enter")
    hands.lots(8)


def new_yarns(hands: Hands) -> None:
    """Two, with band and colour in the same form."""
    for number, (yarn, colour) in enumerate((("Hempen", "Tar"), ("Skerry DK", "Moss")), start=9):
        hands.type(yarn, then="Enter")
        expect(hands.page.locator(".choice").first).to_be_focused()
        hands.press("Enter")
        hands.at("Maker")
        hands.type("Old Rope")
        hands.press("Tab")  # the name stands there already
        hands.type("100")
        hands.type("160")
        hands.press("4" if number == 9 else "3", "Tab")
        hands.type("60 cotton 40 hemp")
        hands.type(colour)
        hands.press("Tab", "Tab")
        hands.type("H1")
        hands.type("5", then="Enter")
        hands.lots(number)


def test_ten_lots_by_keyboard(
    page: Page,
    sign_in_as: Callable[[Page, Person], None],
    assistant: Person,
    shelf: dict[str, Colour],
) -> None:
    sign_in_as(page, assistant)
    hands = Hands(page)
    page.goto("/desk/yarns/receive/")
    hands.press("Enter")
    hands.at("Barcode, or yarn and colour")
    known_lots(hands, shelf)
    new_colours(hands)
    new_yarns(hands)
    assert hands.pressed <= KEYS_ALLOWED, hands.pressed
    print(f"ten lots: {hands.pressed} keys")  # noqa: T201 - a figure to look at
    check_the_shelf(assistant)


def check_the_shelf(assistant: Person) -> None:
    assert audit().faults == ()
    lots = [
        (str(lot.thing), lot.dye_lot, lot.balance // 1000, str(lot.place))
        for lot in Lot.objects.select_related("colour__yarn", "place").order_by("pk")
    ]
    tide = "Sandpiper Mill Tideline Worsted"
    assert lots == [
        (f"{tide} Harbour", "4471", 1000, "Shelf A"),
        (f"{tide} Harbour", "4518", 1000, "Shelf A"),
        (f"{tide} Foam", "4402", 800, "Shelf A"),
        (f"{tide} Kelp", "4488", 400, "Shelf A"),
        (f"{tide} Harbour", "4520", 300, "Shelf A"),
        (f"{tide} Foam", "4403", 200, "Shelf A"),
        (f"{tide} Rust Buoy", "4460", 600, "Shelf A"),
        (f"{tide} Gorse", "4499", 500, "Shelf A"),
        ("Old Rope Hempen Tar", "H1", 500, "Shelf A"),
        ("Old Rope Skerry DK Moss", "H1", 500, "Shelf A"),
    ]
    rust = Colour.objects.get(name="Rust Buoy")
    assert rust.gtin == "0" + valid({"": "2000000000312"})[""]
    hempen = Yarn.objects.get(name="Hempen")
    assert (hempen.ball_length_mm, hempen.weight_category) == (160_000, 4)
    assert hempen.fibres == [["cotton", 600], ["hemp", 400]]
    assert Parcel.objects.get().opened_by == assistant
