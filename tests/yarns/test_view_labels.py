"""Shelf labels: the sheet that is asked for, a QR code that reads, and what is refused."""

from io import BytesIO
from urllib.parse import urlencode

import pikepdf
import pytest
from django.test import Client
from django.urls import reverse

from workroom.models import Studio
from yarns.labels import lot_address
from yarns.models import Lot

SHEET = "a4-5x13-38.1x21.2"


@pytest.fixture
def online(studio: Studio) -> Studio:
    studio.site_address = "https://two-gulls.example"
    studio.save()
    return studio


def address(**facts: object) -> str:
    return f"{reverse('yarns:labels')}?{urlencode(facts, doseq=True)}"


def pages_of(content: bytes) -> int:
    with pikepdf.open(BytesIO(content)) as paper:
        return len(paper.pages)


def test_the_page_names_the_lots_asked_for(
    assistant_client: Client, navy_lot: Lot, eyes_lot: Lot, studio: Studio
) -> None:
    page = assistant_client.get(address(lot=navy_lot.code)).content.decode()
    assert navy_lot.code in page
    assert eyes_lot.code not in page
    assert eyes_lot.code in assistant_client.get(address()).content.decode()


def test_the_sheet_works(assistant_client: Client, navy_lot: Lot, online: Studio) -> None:
    wanted = address(lot=navy_lot.code, sheet=SHEET, start=64, copies=3)
    response = assistant_client.get(wanted)
    assert response["Content-Type"] == "application/pdf"
    assert pages_of(response.content) == 2
    with pikepdf.open(BytesIO(response.content)) as paper:
        width, height = (float(each) * 25.4 / 72 for each in paper.pages[0].MediaBox[2:])
    assert (round(width), round(height)) == (210, 297)


def test_the_code_leads_to_the_lot(navy_lot: Lot, online: Studio) -> None:
    assert lot_address(navy_lot, online) == f"https://two-gulls.example/desk/yarns/lot/{navy_lot.code}/"


def test_without_a_site_address_it_says_what_to_do(
    assistant_client: Client, navy_lot: Lot, studio: Studio
) -> None:
    response = assistant_client.get(address(lot=navy_lot.code, sheet=SHEET, start=1, copies=1))
    assert response.status_code == 422
    assert "The owner sets it under Studio, Site address." in response.content.decode()
    plain = assistant_client.get(address(lot=navy_lot.code, sheet=SHEET, start=1, copies=1, plain="on"))
    assert plain["Content-Type"] == "application/pdf"


def test_labels_are_not_for_strangers_or_sellers_and_change_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client
) -> None:
    assert stranger_client.get(address()).status_code == 302
    assert seller_client.get(address()).status_code == 403
    assert assistant_client.post(address()).status_code == 405


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({"start": 66}, "This sheet has 65 labels."),
        ({"start": 0}, "greater than or equal to 1"),
        ({"sheet": "a4-1x1-9x9"}, "Select a valid choice"),
        ({"copies": 51}, "less than or equal to 50"),
        ({"lot": "NOSUCHXX"}, "There is nothing to print a label for."),
    ],
)
def test_bad_input_is_refused(
    assistant_client: Client, navy_lot: Lot, online: Studio, facts: dict[str, object], says: str
) -> None:
    wanted = {"lot": navy_lot.code, "sheet": SHEET, "start": 1, "copies": 1, **facts}
    response = assistant_client.get(address(**wanted))
    assert response.status_code == 422
    assert says in response.content.decode()
