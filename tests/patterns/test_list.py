"""/desk/patterns/ and /desk/patterns/new/."""

from django.test import Client

from patterns.models import Pattern, Revision


def test_the_list_works(designer_client: Client, published: Revision, pattern: Pattern) -> None:
    page = designer_client.get("/desk/patterns/").content.decode()
    assert "Net Band" in page
    assert "out: 1.0.0" in page
    assert "draft" in page


def test_an_empty_list_says_how_to_begin(designer_client: Client, studio: object) -> None:
    assert "No pattern yet." in designer_client.get("/desk/patterns/").content.decode()


def test_a_stranger_is_asked_to_sign_in(stranger_client: Client, studio: object) -> None:
    for address in ("/desk/patterns/", "/desk/patterns/new/"):
        assert stranger_client.get(address).status_code == 302


def test_seller_and_assistant_are_refused(
    seller_client: Client, assistant_client: Client, studio: object
) -> None:
    for client in (seller_client, assistant_client):
        assert client.get("/desk/patterns/").status_code == 403
        assert client.post("/desk/patterns/new/", {"title": "X", "terms": "us"}).status_code == 403
    assert not Pattern.objects.exists()


def test_the_list_takes_no_post(designer_client: Client, studio: object) -> None:
    assert designer_client.post("/desk/patterns/").status_code == 405


def test_a_new_pattern_begins_with_a_title(designer_client: Client, studio: object) -> None:
    answer = designer_client.post("/desk/patterns/new/", {"title": "Rope Mat", "terms": "uk"})
    assert answer.status_code == 302
    assert answer["Location"] == "/desk/patterns/rope-mat/"
    assert Pattern.objects.get().terms == "uk"


def test_without_a_title_nothing_begins(designer_client: Client, studio: object) -> None:
    answer = designer_client.post("/desk/patterns/new/", {"title": " ", "terms": "us"})
    assert answer.status_code == 422
    assert "This field is required." in answer.content.decode()
    assert not Pattern.objects.exists()


def test_a_title_that_is_too_long_stays_in_its_field(designer_client: Client, studio: object) -> None:
    answer = designer_client.post("/desk/patterns/new/", {"title": "x" * 301, "terms": "us"})
    assert answer.status_code == 422
    assert "x" * 301 in answer.content.decode()
    assert not Pattern.objects.exists()
