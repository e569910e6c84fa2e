"""A small shelf: one yarn in two colours, a supply, two places, and ways to put lots there."""

from collections.abc import Callable, Iterator
from datetime import date
from itertools import count

import pytest

from workroom.models import Person
from yarns import ledger
from yarns.amounts import Amount, Unit, grams
from yarns.models import Colour, Lot, Place, Supplier, Supply, Yarn


@pytest.fixture
def keys() -> Iterator[str]:
    """Idempotency keys, each one new: `next(keys)`."""
    return (f"key-{number}" for number in count(1))


@pytest.fixture
def tideline(db: None) -> Yarn:
    return Yarn.objects.create(
        maker="Sandpiper Mill",
        name="Tideline Worsted",
        weight_category=4,
        fibres=[["wool", 800], ["nylon", 200]],
        ball_mass_mg=100_000,
        ball_length_mm=190_000,
    )


@pytest.fixture
def navy(tideline: Yarn) -> Colour:
    return Colour.objects.create(
        yarn=tideline, name="Navy", code="12", hex_swatch="#1f3350", gtin="06291041500213"
    )


@pytest.fixture
def foam(tideline: Yarn) -> Colour:
    return Colour.objects.create(yarn=tideline, name="Foam", code="02", hex_swatch="#e8ece6")


@pytest.fixture
def eyes(db: None) -> Supply:
    return Supply.objects.create(kind="eyes", name="Safety eyes black", size="9 mm")


@pytest.fixture
def shelf_a(db: None) -> Place:
    return Place.objects.create(name="Shelf A")


@pytest.fixture
def harbour_shop(db: None) -> Supplier:
    return Supplier.objects.create(name="Harbour Wool Shop")


@pytest.fixture
def act(assistant: Person, keys: Iterator[str]) -> Callable[..., ledger.Act]:
    """`act()` is a fresh act of the assistant; `act(key="again", why="...")` sets what matters."""

    def make(**facts: object) -> ledger.Act:
        return ledger.Act(**{"person": assistant, "key": next(keys), **facts})  # type: ignore[arg-type]  # mixed facts

    return make


@pytest.fixture
def put_on_shelf(act: Callable[..., ledger.Act]) -> Callable[..., Lot]:
    """`put_on_shelf(navy, grams(500), dye_lot="7B")` receives a lot."""

    def put(thing: Colour | Supply, amount: Amount, **facts: object) -> Lot:
        facts.setdefault("received_on", date(2026, 3, 2))
        arrival = ledger.Arrival(thing=thing, amount=amount, **facts)  # type: ignore[arg-type]  # mixed facts
        return ledger.receive(arrival, act()).lot

    return put


@pytest.fixture
def navy_lot(navy: Colour, shelf_a: Place, put_on_shelf: Callable[..., Lot]) -> Lot:
    """Five balls of 100 g, bought for 32.50 with 2.50 postage."""
    return put_on_shelf(
        navy,
        grams(500),
        dye_lot="7B",
        place_id=shelf_a.pk,
        price_paid_minor=3250,
        postage_share_minor=250,
    )


@pytest.fixture
def eyes_lot(eyes: Supply, put_on_shelf: Callable[..., Lot]) -> Lot:
    return put_on_shelf(eyes, Amount(40, Unit.PIECE), dye_lot="L-2291")
