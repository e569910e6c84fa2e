"""The demo's making and selling: rates, pieces of the demo's patterns, a fair next month, a batch for it."""

from datetime import date, timedelta
from uuid import NAMESPACE_URL, UUID, uuid5

from orders.batches import BatchFacts, batch_create
from orders.drafts import draft_of
from orders.fairs import fair_create
from orders.models import (
    Ending,
    Expectation,
    ExtraKind,
    Fair,
    FairResult,
    LabelProfile,
    Piece,
    PieceExtra,
    WorkroomRates,
)
from orders.pieces import PieceFacts, piece_create
from patterns import revisions
from patterns.models import Kind, Revision
from patterns.selectors import published_patterns
from workroom.demo import Cast
from yarns.amounts import Unit
from yarns.models import Colour, Supply, SupplyKind

LABEL = "Sewn-in labels Two Gulls"
FINISHING_MINUTES = {Kind.HAT: 20, Kind.TOY: 55, Kind.KITCHEN: 10, Kind.BAG: 25}
PRICES_MINOR = {Kind.HAT: 3400, Kind.TOY: 3800}
OFFERED = (Kind.HAT, Kind.TOY, Kind.KITCHEN)
EXPECTED = {Kind.HAT: (5, 9), Kind.TOY: (3, 6), Kind.KITCHEN: (6, 12)}
SOLD = {Kind.HAT: (8, 5), Kind.TOY: (4, 4), Kind.KITCHEN: (10, 3)}
BATCH_OF = 12


def make(cast: Cast) -> None:
    """Put it all there; a second run finds it and adds nothing."""
    WorkroomRates.objects.get_or_create(
        pk=1,
        defaults={
            "wage_per_hour_minor": 1250,
            "overhead_per_hour_minor": 150,
            "margin_bp": 1500,
            "card_rate_bp": 175,
            "yarn_waste_bp": 400,
            "ending": Ending.HALF,
        },
    )
    LabelProfile.objects.get_or_create(
        pk=1,
        defaults={
            "maker": cast.studio.name,
            "address": "4 Fish Street, Port Wenna",
            "origin": "Great Britain",
        },
    )
    fair = _fair(cast.today)
    pieces = {kind: piece for kind in OFFERED if (piece := _piece(kind)) is not None}
    _expectations(pieces)
    _past_fair(cast.today, pieces)
    if Kind.HAT in pieces:
        _batch(cast, pieces[Kind.HAT], fair)


def _expectations(pieces: dict[Kind, Piece]) -> None:
    for kind, piece in pieces.items():
        ordinary, very_good = EXPECTED[kind]
        Expectation.objects.get_or_create(
            piece=piece, defaults={"ordinary": ordinary, "very_good": very_good}
        )


def _past_fair(today: date, pieces: dict[Kind, Piece]) -> None:
    """A small market that has taught something: the gulls sold out."""
    day = today - timedelta(days=45)
    values = {
        "name": "Quay Street Market",
        "place": "Port Wenna",
        "starts_on": day,
        "ends_on": day,
        "stall_fee_minor": 3000,
        "open_minutes": 5 * 60,
        "away_minutes": 2 * 60,
        "busy_pc": 80,
    }
    fair = fair_create(values, key_of("past fair"))
    for kind, piece in pieces.items():
        brought, sold = SOLD[kind]
        FairResult.objects.get_or_create(fair=fair, piece=piece, defaults={"brought": brought, "sold": sold})


def key_of(word: str) -> UUID:
    """The same key at every run, so that nothing is made twice."""
    return uuid5(NAMESPACE_URL, f"https://two-gulls.example/demo/{word}")


def _piece(kind: Kind) -> Piece | None:
    """A piece of the demo's pattern of that kind; None where that is not published."""
    pattern = published_patterns().filter(kind=kind).order_by("pk").first()
    if pattern is None or pattern.published is None:
        return None
    revision = pattern.published
    size_key = _middle_size(revision)
    draft = draft_of(revision, size_key)
    yarns = [part for part in draft.yarns if part.mass_mg]
    for part in yarns:
        part.colour_id = part.colour_id or _any_colour(revision, part.part_key)
    for extra in draft.extras:
        if extra.kind == ExtraKind.FILLING:
            extra.supply = Supply.objects.filter(kind=SupplyKind.FILLING).first()
    facts = PieceFacts(
        title=draft.title,
        minutes=max(1, draft.minutes) + FINISHING_MINUTES[kind],
        revision=revision,
        size_key=size_key,
        price_minor=PRICES_MINOR.get(kind),
        yarns=yarns,
        extras=[*draft.extras, *_wrapping()],
    )
    return piece_create(facts, key_of(f"piece/{kind}"))


def _middle_size(revision: Revision) -> str:
    sizes = revisions.sizes(revision)
    return sizes[len(sizes) // 2].key


def _any_colour(revision: Revision, part_key: str) -> int | None:
    """The first colour of the yarn that the pattern names, where it names no colour."""
    for need in revisions.materials(revision, revisions.sizes(revision)[0].key):
        if need.key == part_key and need.yarn_id:
            return (
                Colour.objects.filter(yarn=need.yarn_id, lots__balance__gt=0)
                .values_list("pk", flat=True)
                .first()
            )
    return None


def _wrapping() -> list[PieceExtra]:
    label = Supply.objects.filter(name=LABEL).first()
    paper = PieceExtra(
        kind=ExtraKind.PACKAGING,
        label="Tissue paper and string",
        unit=Unit.PIECE,
        quantity=1,
        price_minor=18,
    )
    if label is None:
        return [paper]
    sewn_in = PieceExtra(
        kind=ExtraKind.NOTION, label=str(label)[:80], supply=label, unit=Unit.PIECE, quantity=1
    )
    return [sewn_in, paper]


def _fair(today: date) -> Fair:
    """A Saturday next month."""
    in_a_month = today + timedelta(days=30)
    day = in_a_month + timedelta(days=(5 - in_a_month.weekday()) % 7)
    values = {
        "name": "Harbour Wall Makers’ Fair",
        "place": "Old Fish Market, Port Wenna",
        "starts_on": day,
        "ends_on": day,
        "apply_by": today + timedelta(days=9),
        "stall_fee_minor": 8500,
        "travel_minor": 1800,
        "other_minor": 1200,
        "open_minutes": 6 * 60,
        "away_minutes": 3 * 60,
        "float_minor": 6000,
        "notes": "Indoors, two tables. Bring the price list and the insurance paper.",
    }
    return fair_create(values, key_of("fair"))


def _batch(cast: Cast, piece: Piece, fair: Fair) -> None:
    facts = BatchFacts(piece=piece, quantity=BATCH_OF, due_on=fair.starts_on - timedelta(days=2), fair=fair)
    batch_create(facts, cast.seller, key_of("batch/hats"))
