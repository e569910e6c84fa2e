"""The pages of lists in and out: preview, the yes, and what is refused."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from workroom.models import Studio
from workroom.tables import read_tables
from yarns.audit import audit
from yarns.models import Lot, Yarn

LIST = "maker,yarn,colour,dye lot,on hand\nOld Rope Walk,Hempen,Tar,H64,430.5\n"
PAGE = "yarns:lists"


def upload(client: Client, content: str | bytes) -> HttpResponse:
    data = content.encode() if isinstance(content, str) else content
    file = SimpleUploadedFile("../../list.csv", data)
    return client.post(reverse(PAGE), {"file": file})  # type: ignore[return-value]  # test client


def yes(client: Client, page: HttpResponse) -> HttpResponse:
    digest = re.search(r'name="digest" value="([0-9a-f]{64})"', page.content.decode())
    assert digest is not None
    address = reverse("yarns:lists_take_in")
    return client.post(address, {"digest": digest[1]})  # type: ignore[return-value]  # test client


def test_a_list_is_shown_first_and_then_taken_in(assistant_client: Client, studio: Studio) -> None:
    page = upload(assistant_client, LIST)
    assert page.status_code == 200
    assert "This would put 1 lot on the shelf" in page.content.decode()
    assert "430.5\u00a0g" in page.content.decode()
    assert not Yarn.objects.exists()
    assert yes(assistant_client, page)["Location"] == reverse("yarns:shelf")
    assert (Lot.objects.get().balance, audit().faults) == (430_500, ())


def test_a_bad_row_is_named_and_nothing_is_taken_in(assistant_client: Client, studio: Studio) -> None:
    page = upload(assistant_client, LIST + "Old Rope Walk,Hempen,,H65,<b>lots</b>\n")
    assert page.status_code == 422
    assert "1 row can’t be taken in, so nothing was." in page.content.decode()
    assert "“colour” is empty." in page.content.decode()
    assert 'name="digest"' not in page.content.decode()
    assert not Yarn.objects.exists()


def test_what_is_wrong_stands_escaped(assistant_client: Client, studio: Studio) -> None:
    page = upload(assistant_client, LIST + "A,B,Red,H65,<b>lots</b>\n").content.decode()
    assert "&lt;b&gt;lots&lt;/b&gt;" in page


@pytest.mark.parametrize("content", ["", b"\x00\x01", b"PK\x03\x04"])
def test_no_table_is_refused(assistant_client: Client, studio: Studio, content: str | bytes) -> None:
    assert upload(assistant_client, content).status_code == 422


@pytest.mark.parametrize("digest", ["", "0" * 64, "../../secret-key", "z" * 64])
def test_a_file_that_is_gone_is_said(assistant_client: Client, studio: Studio, digest: str) -> None:
    response = assistant_client.post(reverse("yarns:lists_take_in"), {"digest": digest}, follow=True)
    assert "That file is not here any more." in response.content.decode()
    assert not Lot.objects.exists()


def test_pages_are_not_for_strangers_or_sellers(
    stranger_client: Client, seller_client: Client, assistant_client: Client, studio: Studio
) -> None:
    assert upload(stranger_client, LIST).status_code == 302
    assert upload(seller_client, LIST).status_code == 403
    assert seller_client.post(reverse("yarns:lists_take_in")).status_code == 403
    assert assistant_client.get(reverse("yarns:lists_take_in")).status_code == 405
    assert assistant_client.get(reverse("yarns:everything_xlsx")).status_code == 403
    assert not Lot.objects.exists()


@pytest.mark.parametrize("name", ["everything_xlsx", "everything_zip"])
def test_everything_can_be_taken_away(owner_client: Client, navy_lot: Lot, studio: Studio, name: str) -> None:
    response = owner_client.get(reverse(f"yarns:{name}"))
    tables = {table.name: table for table in read_tables(response.content, "x")}
    (row,) = (row for _number, row in tables["lots"].rows)
    assert (row["label"], row["on hand"]) == (navy_lot.code, "500")
    assert float(row["price paid"]) == 32.5
    assert owner_client.post(reverse(f"yarns:{name}")).status_code == 405


@pytest.mark.parametrize("name", ["shelf_export", "book_export"])
def test_shelf_and_book_come_as_xlsx_too(
    owner_client: Client, navy_lot: Lot, studio: Studio, name: str
) -> None:
    response = owner_client.get(reverse(f"yarns:{name}"), {"as": "xlsx"})
    (table,) = read_tables(response.content, "x")
    assert table.rows[0][1]["label"] == navy_lot.code


def test_the_exported_shelf_is_a_list_that_can_be_taken_in(
    owner_client: Client, navy_lot: Lot, eyes_lot: Lot, studio: Studio
) -> None:
    content = owner_client.get(reverse("yarns:shelf_export"), {"as": "xlsx"}).content
    page = upload(owner_client, content).content.decode()
    assert page.count("is in use here already") == 2
