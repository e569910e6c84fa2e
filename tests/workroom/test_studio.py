"""The studio's profile: /desk/studio/, the logo and the accent."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from workroom.models import Studio
from workroom.selectors import current_studio

URL = "/desk/studio/"
GOOD = {
    "name": "Two Gulls", "accent": "#97302b", "help_address": "help@two-gulls.example",
    "site_address": "two-gulls.example", "currency": "GBP", "paper": "letter", "units": "imperial",
    "terms": "uk", "time_zone": "Europe/London",
}  # fmt: skip


def picture(size: tuple[int, int] = (300, 200)) -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", size, "#24577a").save(out, "PNG")
    return SimpleUploadedFile("logo.png", out.getvalue(), "image/png")


def test_it_works(owner_client: Client) -> None:
    assert owner_client.get(URL).status_code == 200
    assert owner_client.post(URL, GOOD)["Location"] == URL
    studio = current_studio()
    assert {field: getattr(studio, field) for field in GOOD} == GOOD | {
        "site_address": "https://two-gulls.example"
    }
    assert "Two Gulls" in owner_client.get("/desk/").text


def test_it_refuses_a_stranger_and_other_roles(
    stranger_client: Client, designer_client: Client, seller_client: Client, assistant_client: Client
) -> None:
    assert stranger_client.post(URL, GOOD).status_code == 302
    for client in (designer_client, seller_client, assistant_client):
        assert client.post(URL, GOOD).status_code == 403
    assert not Studio.objects.exists()


def test_it_refuses_other_methods(owner_client: Client) -> None:
    assert owner_client.delete(URL).status_code == 405


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"accent": "blue"}, "Write the colour like #24577a."),
        ({"accent": "#ffcc00"}, "#ffcc00 is too pale to read on paper. The nearest that reads is #"),
        ({"currency": "XXX"}, "Select a valid choice."),
        ({"site_address": "javascript:alert(1)"}, "Enter a valid URL."),
        ({"help_address": "nobody"}, "Enter a valid email address."),
        ({"time_zone": "Mars/Olympus"}, "Select a valid choice."),
    ],
)
def test_bad_input_is_refused_and_what_was_typed_stays(
    change: dict[str, str], sentence: str, studio: Studio, owner_client: Client
) -> None:
    response = owner_client.post(URL, GOOD | change)
    assert response.status_code == 422
    assert sentence in response.text
    assert 'value="help@two-gulls.example"' in response.text or "help_address" in change
    studio.refresh_from_db()
    assert (studio.name, studio.terms) == ("Two Gulls Crochet", "us")


def test_the_colour_it_proposes_is_taken(owner_client: Client) -> None:
    text = owner_client.post(URL, GOOD | {"accent": "#ffcc00"}).text
    better = text.partition("The nearest that reads is ")[2][:7]
    assert owner_client.post(URL, GOOD | {"accent": better}).status_code == 302


def test_a_logo_is_drawn_anew_and_shown(owner_client: Client, stranger_client: Client) -> None:
    owner_client.post(URL, GOOD | {"logo": picture()})
    studio = current_studio()
    assert (studio.logo_width, studio.logo_height) == (300, 200)
    response = stranger_client.get(f"/media/logo/{studio.logo_digest}.webp")
    assert response["Content-Type"] == "image/webp"
    assert "immutable" in response["Cache-Control"]
    assert Image.open(io.BytesIO(response.content)).format == "WEBP"
    assert f"/media/logo/{studio.logo_digest}.webp" in stranger_client.get("/").text


def test_keeping_the_profile_keeps_the_logo_until_it_is_taken_off(owner_client: Client) -> None:
    owner_client.post(URL, GOOD | {"logo": picture()})
    owner_client.post(URL, GOOD)
    assert current_studio().logo_digest
    owner_client.post(URL, GOOD | {"remove_logo": "on"})
    assert (current_studio().logo_digest, current_studio().logo_width) == ("", 0)


def test_a_logo_that_is_no_picture_is_refused(owner_client: Client) -> None:
    soup = SimpleUploadedFile("logo.png", b"two leeks, one potato", "image/png")
    response = owner_client.post(URL, GOOD | {"logo": soup})
    assert response.status_code == 422
    assert "This file is not a photo." in response.text
    assert not Studio.objects.exists()


def test_only_the_logo_is_served_at_its_address(studio: Studio, stranger_client: Client) -> None:
    assert stranger_client.get(f"/media/logo/{'0' * 40}.webp").status_code == 404
    Studio.objects.update(logo_digest="0" * 40, logo_width=300)
    assert stranger_client.get(f"/media/logo/{'0' * 40}.webp").status_code == 404
    assert stranger_client.get("/media/logo/../../secret-key.webp").status_code == 404


def test_the_accent_is_a_style_of_its_own(stranger_client: Client) -> None:
    response = stranger_client.get("/accent/24577a.css")
    assert response["Content-Type"] == "text/css; charset=utf-8"
    assert "--accent: #24577a; --on-accent: #fffdf7;" in response.text
    assert 'href="/accent/24577a.css"' in stranger_client.get("/").text


@pytest.mark.parametrize("colour", ["24577", "24577g", "24577a;x", "24577A"])
def test_the_accent_takes_nothing_but_a_colour(colour: str, stranger_client: Client) -> None:
    assert stranger_client.get(f"/accent/{colour}.css").status_code == 404
