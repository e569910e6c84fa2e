"""/desk/patterns/<slug>/photos/ and one photo's own address."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from patterns.models import Pattern, Photo
from tests.patterns.examples import picture
from tests.workroom.test_media import png_header

ADDRESS = "/desk/patterns/small-disc/photos/"


def upload(content: bytes, name: str = "photo.jpg") -> dict[str, object]:
    return {"photo": SimpleUploadedFile(name, content), "alt": "A disc."}


def test_a_photo_is_added(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.post(ADDRESS, upload(picture())).status_code == 302
    photo = pattern.photos.get()
    assert (photo.alt, photo.width, photo.height) == ("A disc.", 640, 480)
    page = designer_client.get(ADDRESS).content.decode()
    assert f"/photo/{photo.digest}/480.webp" in page


def test_a_stranger_and_the_wrong_roles_get_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client, pattern: Pattern
) -> None:
    assert stranger_client.post(ADDRESS, upload(picture())).status_code == 302
    for client in (seller_client, assistant_client):
        assert client.post(ADDRESS, upload(picture())).status_code == 403
    assert not pattern.photos.exists()


def test_other_methods_are_refused(designer_client: Client, pattern: Pattern) -> None:
    assert designer_client.delete(ADDRESS).status_code == 405


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"not a photo", "This file is not a photo. Choose a JPEG, PNG, WebP or AVIF picture."),
        (png_header(20_000, 20_000), "This photo has 20,000 x 20,000 pixels; at most 40 million"),
        (b"", "The submitted file is empty."),
    ],
)
def test_what_is_no_photo_is_refused_with_the_reason(
    designer_client: Client, pattern: Pattern, content: bytes, says: str
) -> None:
    answer = designer_client.post(ADDRESS, upload(content))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert "A disc." in page, "the words stay in their field"
    assert not pattern.photos.exists()


def test_words_are_asked_for(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.post(ADDRESS, {"photo": SimpleUploadedFile("p.jpg", picture()), "alt": ""})
    assert answer.status_code == 422
    assert not pattern.photos.exists()


@pytest.fixture
def two(pattern: Pattern) -> list[Photo]:
    return [
        Photo.objects.create(
            pattern=pattern, digest=str(n) * 40, width=640, height=480, alt=str(n), position=n
        )
        for n in range(2)
    ]


def change(client: Client, photo: Photo, do: str, **more: str) -> int:
    return client.post(f"{ADDRESS}{photo.pk}/", {"do": do, **more}).status_code


def test_a_photo_is_described_moved_and_taken_away(
    designer_client: Client, pattern: Pattern, two: list[Photo]
) -> None:
    assert change(designer_client, two[1], "words", alt=" New  words ") == 302
    assert change(designer_client, two[1], "first") == 302
    assert list(pattern.photos.values_list("alt", flat=True)) == ["New words", "0"]
    assert change(designer_client, two[1], "later") == 302
    assert list(pattern.photos.values_list("alt", flat=True)) == ["0", "New words"]
    assert change(designer_client, two[0], "remove") == 302
    assert pattern.photos.get() == two[1]


def test_only_designers_change_photos(
    stranger_client: Client,
    seller_client: Client,
    assistant_client: Client,
    pattern: Pattern,
    two: list[Photo],
) -> None:
    assert change(stranger_client, two[0], "remove") == 302
    assert change(seller_client, two[0], "remove") == 403
    assert change(assistant_client, two[0], "remove") == 403
    assert pattern.photos.count() == 2


def test_a_photo_of_another_pattern_is_not_found_here(
    designer_client: Client, two: list[Photo], full_pattern: Pattern
) -> None:
    address = f"/desk/patterns/net-band/photos/{two[0].pk}/"
    assert designer_client.post(address, {"do": "remove"}).status_code == 404
    assert Photo.objects.filter(pk=two[0].pk).exists()


def test_a_photo_s_address_takes_posts_only(designer_client: Client, two: list[Photo]) -> None:
    assert designer_client.get(f"{ADDRESS}{two[0].pk}/").status_code == 405
