"""The ball band's photo and the page on damp air."""

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse
from PIL import Image

from yarns.models import Lot
from yarns.photos import band_photo


@pytest.fixture
def address(navy_lot: Lot) -> str:
    return reverse("yarns:lot_photo_change", args=[navy_lot.code])


def picture() -> bytes:
    out = BytesIO()
    Image.new("RGB", (1200, 900), "#27456b").save(out, "JPEG")
    return out.getvalue()


def upload(client: Client, address: str, content: bytes) -> HttpResponse:
    return client.post(address, {"photo": SimpleUploadedFile("band.jpg", content)})  # type: ignore[return-value]  # test client


def test_a_photo_is_kept_shown_and_taken_off(
    assistant_client: Client, seller_client: Client, navy_lot: Lot, address: str
) -> None:
    assert upload(assistant_client, address, picture()).status_code == 302
    navy_lot.refresh_from_db()
    photo = band_photo(navy_lot)
    assert photo is not None
    assert (photo.width, photo.height, photo.shown_width, photo.shown_height) == (1200, 900, 960, 720)
    shown = seller_client.get(reverse("yarns:lot_photo", args=[navy_lot.code]))
    assert Image.open(BytesIO(shown.content)).size == (960, 720)
    page = assistant_client.get(reverse("yarns:lot", args=[navy_lot.code])).content.decode()
    assert 'capture="environment"' in page
    assert "Photo of the ball band of" in page
    assistant_client.post(address, {"do": "off"})
    navy_lot.refresh_from_db()
    assert band_photo(navy_lot) is None
    assert assistant_client.get(reverse("yarns:lot_photo", args=[navy_lot.code])).status_code == 404


def test_a_photo_is_not_for_strangers_or_sellers(
    stranger_client: Client, seller_client: Client, assistant_client: Client, navy_lot: Lot, address: str
) -> None:
    assert upload(stranger_client, address, picture()).status_code == 302
    assert upload(seller_client, address, picture()).status_code == 403
    assert assistant_client.get(address).status_code == 405
    assert stranger_client.get(reverse("yarns:lot_photo", args=[navy_lot.code])).status_code == 302
    navy_lot.refresh_from_db()
    assert navy_lot.photo_key == ""


@pytest.mark.parametrize("content", [b"", b"no picture", b"\xff\xd8\xff broken"])
def test_what_is_no_photo_is_refused(
    assistant_client: Client, navy_lot: Lot, address: str, content: bytes
) -> None:
    response = upload(assistant_client, address, content)
    assert response.status_code == 422
    navy_lot.refresh_from_db()
    assert navy_lot.photo_key == ""


def test_damp_air_names_its_sources(
    seller_client: Client, stranger_client: Client, assistant_client: Client
) -> None:
    """Wool 17 % agreed in the EU, 13.6 % in the US (Regulation (EU) 1007/2011; ASTM D1909)."""
    address = reverse("yarns:damp_air")
    page = seller_client.get(address).content.decode()
    assert "17.0" in page
    assert "13.6" in page
    assert "Regulation (EU) 1007/2011" in page
    assert stranger_client.get(address).status_code == 302
    assert assistant_client.post(address).status_code == 405


def test_a_weighing_says_how_sure_it_is(assistant_client: Client, navy_lot: Lot) -> None:
    """31 g of 190 m to 100 g: 58.9 m, uncertain by half a gram (0.95 m), so one digit stands."""
    facts = {"scale": "31", "seen": str(navy_lot.balance), "key": "k"}
    response = assistant_client.post(reverse("yarns:lot_weigh", args=[navy_lot.code]), facts, follow=True)
    page = response.content.decode()
    assert "31\u00a0g on the scale is 58.9 m by the label, give or take 1 m" in page
    assert "damp or dry air alone can make ± 1.4 g of it" in page
