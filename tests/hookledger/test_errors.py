"""The pages that say no: status, sentence, and a fragment for htmx."""

from unittest.mock import patch

import pytest
from django.test import Client

HTMX = {"HX-Request": "true"}


def test_403(assistant_client: Client) -> None:
    response = assistant_client.get("/desk/people/")
    assert response.status_code == 403
    assert "Your role does not include this page. The owner can change your roles." in response.text


@pytest.mark.parametrize("url", ["/nothing/", "/desk/nothing/", "/%00", "/p/../../etc/passwd"])
def test_404(url: str, stranger_client: Client) -> None:
    response = stranger_client.get(url)
    assert response.status_code == 404
    assert "It was moved or removed, or the address has a slip in it." in response.text


def test_400_for_another_host(stranger_client: Client) -> None:
    response = stranger_client.get("/", headers={"Host": "evil.example"})
    assert response.status_code == 400
    assert "evil.example" not in response.text


def test_413_for_a_form_above_16_mb(stranger_client: Client) -> None:
    response = stranger_client.post("/sign-in/", {"handle": "x" * (16 * 1024 * 1024)})
    assert response.status_code == 413
    assert "At most 16 MB can be sent in one form." in response.text


def test_a_form_of_15_mb_reaches_its_page(stranger_client: Client) -> None:
    data = "handle=" + "x" * (15 * 1024 * 1024)
    response = stranger_client.post("/sign-in/", data, content_type="application/x-www-form-urlencoded")
    assert response.status_code == 422


def test_csrf(owner_client: Client) -> None:
    strict = Client(enforce_csrf_checks=True)
    response = strict.post("/sign-in/", {"handle": "x", "password": "y"})
    assert response.status_code == 403
    assert "This form has grown old." in response.text


def test_htmx_gets_the_sentence_alone(assistant_client: Client) -> None:
    response = assistant_client.get("/desk/people/", headers=HTMX)
    assert response.status_code == 403
    assert response.text == (
        '<p class="message error" role="alert">This is not open to you.'
        " Your role does not include this page. The owner can change your roles.</p>"
    )


def test_500_leans_on_no_database(owner_client: Client) -> None:
    owner_client.raise_request_exception = False
    with patch("hookledger.views.cards", side_effect=RuntimeError("inside")):
        response = owner_client.get("/desk/")
    assert response.status_code == 500
    assert "Something broke here" in response.text
    assert "inside" not in response.text
