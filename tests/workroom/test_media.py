"""The photo store: what is kept, what is refused and why."""

import re
from io import BytesIO
from zlib import crc32

import pytest
from PIL import Image, ImageCms, ImageFile

from tests.patterns.examples import picture
from workroom import media
from workroom.media import (
    NotAPhotoError,
    PhotoTooHeavyError,
    PhotoTooLargeError,
    photo_bytes,
    photo_key,
    store,
    widths_for,
)


def opened(digest: str, width: int, suffix: str = "jpg") -> Image.Image:
    return Image.open(BytesIO(photo_bytes(digest, width, suffix)))


def test_it_keeps_a_photo_in_every_width_and_both_kinds() -> None:
    kept = store(BytesIO(picture(1200, 900)))
    assert (kept.width, kept.height) == (1200, 900)
    assert widths_for(1200) == (480, 960, 1200)
    for width in widths_for(1200):
        assert opened(kept.digest, width).size == (width, width * 3 // 4)
        assert opened(kept.digest, width, "webp").format == "WEBP"


def test_the_same_picture_is_kept_once() -> None:
    assert store(BytesIO(picture())) == store(BytesIO(picture()))


def test_a_copy_cut_short_is_written_again() -> None:
    kept = store(BytesIO(picture(500, 400)))
    path = media.default_storage.path(photo_key(kept.digest, 500, "jpg"))
    whole = photo_bytes(kept.digest, 500, "jpg")
    with open(path, "wb") as file:  # noqa: PTH123 - the storage gives a string
        file.write(whole[:100])
    store(BytesIO(picture(500, 400)))
    assert photo_bytes(kept.digest, 500, "jpg") == whole


def test_a_large_photo_is_made_smaller() -> None:
    kept = store(BytesIO(picture(4800, 3600)))
    assert (kept.width, kept.height) == (2400, 1800)


def test_it_is_turned_upright_and_place_and_camera_are_gone() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # lies on its side
    exif[0x010F] = "Secret Camera"
    exif.get_ifd(0x8825)[2] = (54.0, 10.0, 0.0)  # where it was taken
    kept = store(BytesIO(picture(600, 300, exif=exif, comment=b"home address")))
    assert (kept.width, kept.height) == (300, 600)
    for suffix in ("jpg", "webp"):
        content = photo_bytes(kept.digest, 300, suffix)
        assert b"Secret" not in content
        assert b"home address" not in content
        assert dict(Image.open(BytesIO(content)).getexif()) == {}


def test_a_profile_is_worked_in_and_dropped() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    kept = store(BytesIO(picture(icc_profile=profile)))
    assert "icc_profile" not in opened(kept.digest, 640).info


def test_see_through_becomes_white() -> None:
    out = BytesIO()
    Image.new("RGBA", (50, 50), (255, 0, 0, 0)).save(out, "PNG")
    kept = store(BytesIO(out.getvalue()))
    assert min(opened(kept.digest, 50).getpixel((25, 25))) > 250


@pytest.mark.parametrize(
    "content",
    [b"", b"not a picture", b"<svg xmlns='http://www.w3.org/2000/svg'/>", picture()[:400], b"%PDF-1.7"],
)
def test_what_is_no_photo_is_refused(content: bytes) -> None:
    with pytest.raises(NotAPhotoError) as refusal:
        store(BytesIO(content))
    assert str(refusal.value) == "This file is not a photo. Choose a JPEG, PNG, WebP or AVIF picture."


def test_a_heic_photo_is_named() -> None:
    with pytest.raises(NotAPhotoError, match="This is a HEIC picture"):
        store(BytesIO(b"\0\0\0\x18ftypheic" + b"\0" * 40))


def png_header(width: int, height: int) -> bytes:
    """A PNG that claims a size and holds next to nothing, as a decompression bomb does."""
    out = BytesIO()
    Image.new("1", (1, 1)).save(out, "PNG")
    data = bytearray(out.getvalue())
    data[16:24] = width.to_bytes(4, "big") + height.to_bytes(4, "big")
    data[29:33] = crc32(data[12:29]).to_bytes(4, "big")
    return bytes(data)


@pytest.mark.parametrize(("width", "height"), [(20_000, 20_000), (8000, 6000), (13_000, 10_000)])
def test_too_many_pixels_are_refused_before_anything_is_decoded(
    width: int, height: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    bomb = png_header(width, height)
    monkeypatch.setattr(ImageFile.ImageFile, "load", lambda _self: pytest.fail("decoded"))
    with pytest.raises(PhotoTooLargeError) as refusal:
        store(BytesIO(bomb))
    assert str(refusal.value) == (
        f"This photo has {width:,} x {height:,} pixels; at most 40 million pixels are taken. "
        "Make it smaller and choose it again."
    )


def test_a_heavy_file_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(media, "MAX_BYTES", 1000)
    with pytest.raises(PhotoTooHeavyError):
        store(BytesIO(picture()))


@pytest.mark.parametrize("key", ["../../etc", "a/b", "x.y"])
def test_no_user_string_reaches_a_path(key: str) -> None:
    with pytest.raises(ValueError, match=re.escape(key)):
        photo_key(key, 480, "jpg")
    with pytest.raises(ValueError, match="abc"):
        photo_key("abc", 480, "exe")
