"""The seller's bench: a shelf with lots and prices, rates, a beanie to make, a fair to make it for."""

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from itertools import count
from typing import Any
from uuid import uuid4

import pytest
from django.utils import timezone

from orders.batches import BatchFacts, batch_create, batch_start
from orders.models import Batch, Fair, Piece, PieceYarn, WorkroomRates
from orders.pieces import PieceFacts, piece_create
from orders.planning import plan_batch
from patterns.models import Pattern, Revision
from workroom.models import Person, Studio
from workroom.selectors import local_today
from yarns import ledger
from yarns.amounts import Amount, grams
from yarns.models import Colour, Lot, Supply, Yarn


@pytest.fixture
def today(studio: Studio) -> date:
    return local_today()


@pytest.fixture
def keys() -> Iterator[str]:
    return (f"key-{number}" for number in count(1))


@pytest.fixture
def tideline(db: None) -> Yarn:
    return Yarn.objects.create(
        maker="Sandpiper Mill", name="Tideline Worsted", ball_mass_mg=100_000, ball_length_mm=190_000
    )


@pytest.fixture
def navy(tideline: Yarn) -> Colour:
    return Colour.objects.create(yarn=tideline, name="Navy", hex_swatch="#1f3350")


@pytest.fixture
def foam(tideline: Yarn) -> Colour:
    return Colour.objects.create(yarn=tideline, name="Foam")


@pytest.fixture
def eyes(db: None) -> Supply:
    return Supply.objects.create(kind="eyes", name="Safety eyes", size="9 mm")


@pytest.fixture
def put_on_shelf(assistant: Person, keys: Iterator[str]) -> Callable[..., Lot]:
    """`put_on_shelf(navy, grams(500), dye_lot="7B", price_paid_minor=1600)` receives a lot."""

    def put(thing: Colour | Supply, amount: Amount, **facts: object) -> Lot:
        facts.setdefault("received_on", date(2026, 3, 2))
        arrival = ledger.Arrival(thing=thing, amount=amount, **facts)  # type: ignore[arg-type]  # mixed facts
        return ledger.receive(arrival, ledger.Act(assistant, next(keys))).lot

    return put


@pytest.fixture
def rates(studio: Studio) -> WorkroomRates:
    """12.50 an hour, overhead 3.00, margin 40 %, no fees."""
    return WorkroomRates.objects.create(
        pk=1, wage_per_hour_minor=1250, overhead_per_hour_minor=300, margin_bp=4000
    )


@pytest.fixture
def make_piece(studio: Studio) -> Callable[..., Piece]:
    """`make_piece((navy, 50), (foam, 10), minutes=60)`: grams of each colour for one."""

    def make(*yarns: tuple[Colour | None, int], **facts: object) -> Piece:
        rows = [
            PieceYarn(
                part_key=f"Y{number}",
                label=f"part {number}",
                colour=colour,
                mass_mg=mass * 1000,
                reserve_mg=mass * 1000,
            )
            for number, (colour, mass) in enumerate(yarns, start=1)
        ]
        given = {"title": "Beanie", "minutes": 60, "yarns": rows, **facts}
        return piece_create(PieceFacts(**given), uuid4())  # type: ignore[arg-type]  # mixed facts

    return make


@pytest.fixture
def beanie(make_piece: Callable[..., Piece], navy: Colour) -> Piece:
    """An hour's work and 50 g of navy."""
    return make_piece((navy, 50))


@pytest.fixture
def fair(today: date) -> Fair:
    day = today + timedelta(days=30)
    return Fair.objects.create(
        name="Harbour Wall Fair",
        starts_on=day,
        ends_on=day,
        stall_fee_minor=8500,
        travel_minor=1800,
        key=uuid4(),
    )


@pytest.fixture
def plan(seller: Person) -> Callable[..., Batch]:
    """`plan(beanie, 12)` writes a batch that is planned."""

    def make(piece: Piece, quantity: int, **facts: object) -> Batch:
        return batch_create(BatchFacts(piece, quantity, **facts), seller, uuid4())  # type: ignore[arg-type]  # mixed facts

    return make


@pytest.fixture
def begin(plan: Callable[..., Batch], seller: Person) -> Callable[..., Batch]:
    """`begin(beanie, 12)` plans and starts, with whatever the shelf gives."""

    def make(piece: Piece, quantity: int, **facts: object) -> Batch:
        batch = plan(piece, quantity, **facts)
        batch_start(batch, seller, plan_batch(batch).digest)
        batch.refresh_from_db()
        return batch

    return make


@pytest.fixture
def navy_lot(put_on_shelf: Callable[..., Lot], navy: Colour) -> Lot:
    """700 g of navy, dye lot 7B, 22.40 (3.20 for 100 g)."""
    return put_on_shelf(navy, grams(700), dye_lot="7B", price_paid_minor=2240)


# ------------------------------------------------------------------- a published pattern


def frozen(navy: Colour, eyes: Supply) -> dict[str, Any]:
    band = {"maker": "Sandpiper Mill", "name": "Tideline Worsted"}
    return {
        "facts": {
            "sizes": [
                {"key": "s", "label": "Small", "to_fit": "", "finished": ""},
                {"key": "m", "label": "Medium", "to_fit": "", "finished": ""},
            ],
            "yarns": [
                {
                    "key": "MC",
                    "description": "worsted wool",
                    "yarn": band,
                    "yarn_id": navy.yarn_id,
                    "colour_id": navy.pk,
                    "colour": "Navy",
                    "strands": 1,
                },
                {
                    "key": "B",
                    "description": "a scrap for the eyes",
                    "yarn": None,
                    "yarn_id": None,
                    "colour_id": None,
                    "colour": "",
                    "strands": 1,
                },
            ],
            "notions": [
                {"text": "safety eyes", "quantity": 2, "price_minor": 15, "supply_id": eyes.pk},
                {"text": "Yarn needle", "quantity": 1, "price_minor": None, "supply_id": None},
                {"text": "stuffing, about 2,5 g", "quantity": 1, "price_minor": None, "supply_id": None},
            ],
        },
        "rounds": {"tally": {"m": {"sc": 100}}},
        "findings": [],
        "estimate": {
            "yarn": {"m": [{"key": "MC", "likely_mm": 160_000, "likely_mg": 83_971, "safe_mg": 96_120}]},
            "minutes": {"m": 85},
        },
    }


@pytest.fixture
def publish(navy: Colour, eyes: Supply) -> Callable[[Pattern], Revision]:
    """`publish(pattern)` gives it the next revision."""

    def out(pattern: Pattern) -> Revision:
        number = pattern.revisions.count() + 1
        revision = Revision.objects.create(
            pattern=pattern,
            number=number,
            version=f"{number}.0.0",
            title=pattern.title,
            reader_version="1",
            published_at=timezone.now(),
            **frozen(navy, eyes),
        )
        pattern.published = revision
        pattern.save(update_fields=["published"])
        return revision

    return out


@pytest.fixture
def pattern(studio: Studio, publish: Callable[[Pattern], Revision]) -> Pattern:
    """A beanie in two sizes, published, with the seller's navy as its main colour."""
    pattern = Pattern.objects.create(slug="beanie", title="Tideline Beanie", kind="hat")
    publish(pattern)
    return pattern
