"""Tags and labels: what stands on them, and the PDF read back."""

from collections.abc import Callable
from io import BytesIO

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from orders.labels import batch_labels
from orders.models import Batch, LabelProfile, Piece, PieceExtra
from orders.pieces import PieceFacts, piece_create
from patterns.models import Pattern
from patterns.press import PaperTooLongError
from workroom.models import Studio
from yarns.models import Lot, Yarn

Make = Callable[..., Batch]
KEY = "6b0d9a3e-3c40-4f4e-9c7d-0a3f6f2f7a11"


def url(batch: Batch) -> str:
    return reverse("orders:batch_tags", args=[batch.code])


@pytest.fixture
def known(tideline: Yarn) -> Yarn:
    tideline.fibres = [["wool", 800], ["nylon", 200]]
    tideline.care = "Machine wash 30, mild"
    tideline.save(update_fields=["fibres", "care"])
    return tideline


def text_of(content: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)


def test_labels_say_what_the_batch_really_took(
    begin: Make, beanie: Piece, navy_lot: Lot, known: Yarn
) -> None:
    labels = batch_labels(begin(beanie, 12), Studio.objects.get())
    assert [(each.name, each.per_cent) for each in labels.content.shares] == [("wool", 80), ("nylon", 20)]
    assert [word.slug for word in labels.care][:2] == ["wash-hand", "bleach-not"]
    assert (labels.taken, labels.count, labels.missing) == (True, 12, ("address", "origin"))


def test_a_toy_of_a_pattern_has_cautions_room_for_a_mark_and_a_way_back(
    begin: Make, pattern: Pattern, studio: Studio
) -> None:
    revision = pattern.published
    assert revision is not None
    revision.facts |= {
        "kind": "toy",
        "cautions": [
            {"slug": "small-parts", "text": "Not for children under 36 months."},
            {"slug": "stuffing-closed", "text": "Close every seam twice."},
        ],
    }
    revision.save(update_fields=["facts"])
    studio.site_address = "https://two-gulls.example/"
    extra = PieceExtra(kind="filling", label="wool fluff", unit="mg", quantity=25_000, price_minor=900)
    facts = PieceFacts("Gull", 60, revision=revision, size_key="m", extras=[extra])
    labels = batch_labels(begin(piece_create(facts, KEY), 1), studio)  # type: ignore[arg-type]  # text will do
    assert labels.marks
    assert labels.cautions == ("Not for children under 36 months.",)
    assert labels.filling == ("wool fluff",)
    assert labels.address == "https://two-gulls.example/p/beanie/"
    assert (labels.title, labels.size) == ("Tideline Beanie", "Medium")


def test_the_page_shows_what_is_missing(
    assistant_client: Client, begin: Make, beanie: Piece, navy_lot: Lot
) -> None:
    page = assistant_client.get(url(begin(beanie, 12))).text
    assert "Nobody wrote down what Sandpiper Mill Tideline Worsted is made of" in page
    assert "Maker, address or country of origin are not filled in." in page


def test_price_tags_are_printed(seller_client: Client, plan: Make, make_piece: Callable[..., Piece]) -> None:
    batch = plan(make_piece(price_minor=3400), 12)
    response = seller_client.get(url(batch), {"kind": "price", "copies": "12"})
    assert response["Content-Type"] == "application/pdf"
    text = text_of(response.content)
    assert text.count("€34.00") == 12
    assert batch.code in text


def test_care_labels_are_printed_with_maker_origin_and_batch(
    seller_client: Client, begin: Make, beanie: Piece, navy_lot: Lot, known: Yarn
) -> None:
    LabelProfile.objects.create(pk=1, maker="Two Gulls", address="1 Quay Street", origin="Wales")
    batch = begin(beanie, 2)
    text = text_of(seller_client.get(url(batch), {"kind": "care", "copies": "2"}).content)
    for said in (
        "80 % wool, 20 % nylon",
        "Wash by hand",
        "Two Gulls, 1 Quay Street",
        "Made in Wales",
        batch.code,
    ):
        assert text.count(said) >= 2, said


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"kind": "price", "copies": "0"}, "Ensure this value is greater than or equal to 1."),
        ({"kind": "price", "copies": "9999"}, "Ensure this value is less than or equal to 300."),
        ({"kind": "poster", "copies": "1"}, "Select a valid choice."),
        ({"kind": "care"}, "This field is required."),
    ],
)
def test_error_a_bad_sheet_is_not_printed(
    seller_client: Client, plan: Make, beanie: Piece, sent: dict[str, str], says: str
) -> None:
    response = seller_client.get(url(plan(beanie, 2)), sent)
    assert response.status_code == 422
    assert says in response.text


def test_error_a_press_that_fails_is_said(
    seller_client: Client, plan: Make, beanie: Piece, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_anything: object) -> bytes:
        raise PaperTooLongError(30)

    monkeypatch.setattr("orders.views.tags.print_sheet", fails)
    response = seller_client.get(url(plan(beanie, 2)), {"kind": "price", "copies": "1"})
    assert response.status_code == 503
    assert "The sheet could not be printed." in response.text


def test_what_stands_on_labels_is_saved(seller_client: Client, studio: Studio) -> None:
    sent = {"version": "0", "maker": "Two Gulls", "address": "1 Quay Street", "origin": "Wales"}
    assert seller_client.post(reverse("orders:labels"), sent).status_code == 302
    assert LabelProfile.objects.get().origin == "Wales"


def test_of_two_people_at_the_labels_the_later_loses_nothing(seller_client: Client, studio: Studio) -> None:
    LabelProfile.objects.create(pk=1, maker="Two Gulls", origin="Cornwall", version=2)
    sent = {"version": "1", "maker": "Two Gulls", "origin": "Wales"}
    response = seller_client.post(reverse("orders:labels"), sent)
    assert response.status_code == 422
    assert "Cornwall" in response.text
    assert 'value="Wales"' in response.text


def test_error_too_long_an_address_is_not_saved(seller_client: Client, studio: Studio) -> None:
    sent = {"version": "0", "address": "x" * 301}
    assert seller_client.post(reverse("orders:labels"), sent).status_code == 422
    assert not LabelProfile.objects.exists()
