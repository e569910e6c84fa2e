"""/review/<n>/report/: the tester's numbers, kept while she types, read when she sends them."""

import csv
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from patterns.press import PaperFailedError, Press
from patterns.reviews import models as rows
from patterns.reviews.asking import review_withdraw
from patterns.reviews.quantities import GRAMS, LENGTHS, AmountField
from patterns.reviews.reading import MOST_PHOTOS
from tests.patterns.examples import picture
from tests.patterns.reviews.conftest import Invited
from tests.patterns.test_paper import words_of
from workroom.throttle import MOST_FOR_PAIR

FULL = {
    "do": "send", "size": "m", "hook": "4,5 mm", "swatch_stitches": "14.5", "swatch_rows": "16",
    "swatch_washed": "true", "hours": "2", "minutes": "5", "yarn-A-name": "=Tideline", "yarn-A-before": "100",
    "yarn-A-after": "97,5", "measure-1-name": "around", "measure-1-length": "20½ in",
    "measured_blocked": "false", "would_change": "A longer brim.",
}  # fmt: skip


def send(invited: Invited, **more: str) -> int:
    return invited.browser.post(f"{invited.address}report/", {**FULL, **more}).status_code


def test_a_report_is_read_into_whole_numbers(tester: Invited) -> None:
    assert (
        "The pattern says: 14 sts and 16 rounds of sc"
        in tester.browser.get(f"{tester.address}report/").content.decode()
    )
    assert send(tester) == 302
    report = rows.TesterReport.objects.get(review=tester.review)
    assert (report.size_key, report.hook_um, report.minutes) == ("m", 4500, 125)
    assert (report.swatch_stitches_tenths, report.swatch_rows_tenths) == (145, 160)
    assert (report.swatch_washed, report.measured_blocked) == (True, False)
    (yarn,), (measure,) = report.yarns.all(), report.measures.all()
    assert (yarn.before_mg, yarn.after_mg, yarn.used_mg) == (100_000, 97_500, 2_500)
    assert (measure.name, measure.length_mm) == ("around", 521)  # 20.5 x 25.4
    tester.review.refresh_from_db()
    assert tester.review.finished_at is not None


def test_it_can_be_sent_again(tester: Invited) -> None:
    send(tester)
    page = tester.browser.get(f"{tester.address}report/").content.decode()
    assert 'value="97,5"' in page, "as it was typed"
    assert send(tester, **{"yarn-A-after": "90", "measure-1-name": "", "measure-1-length": ""}) == 302
    report = rows.TesterReport.objects.get(review=tester.review)
    assert [yarn.used_mg for yarn in report.yarns.all()] == [10_000]
    assert not report.measures.exists()


def test_what_is_typed_is_kept_whatever_it_is(tester: Invited) -> None:
    half = {"do": "keep", "yarn-A-before": "about a hundred", "liked": "So far\0 so good."}
    assert tester.browser.post(f"{tester.address}report/", half).status_code == 302
    page = tester.browser.get(f"{tester.address}report/").content.decode()
    assert "about a hundred" in page
    assert "So far so good." in page
    report = rows.TesterReport.objects.get(review=tester.review)
    assert (report.sent_at, report.liked) == (None, "")
    answer = tester.browser.post(f"{tester.address}report/", half, headers={"HX-Request": "true"})
    assert answer.content.decode().startswith("Kept at ")


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("size", "xxl", "Select a valid choice."),
        ("hook", "thick", "Write the hook in mm, such as 5 or 5.5."),
        ("swatch_stitches", "many", "Write a number, such as 14 or 14.5."),
        ("swatch_stitches", "999", "Look at the number once more."),
        ("minutes", "75", "Look at the number once more."),
        ("yarn-A-before", "a ball", "Write the weight in grams, such as 46 or 46.5."),
        ("yarn-A-after", "101", "More than before? Look at the two weights once more."),
        ("yarn-A-after", "", "Both weights are needed to know what was used."),
        ("measure-1-length", "wide", "Write the length in cm, such as 52 or 52.5, or in inches"),
        ("measure-1-length", "1/0", "Write the length in cm"),
        ("measure-1-length", "", "How long is it? Or take the name away."),
        ("measure-1-name", "", "What did you measure? Such as: around the brim."),
        ("liked", "x" * 4001, "at most 4000 characters"),
    ],
)
def test_bad_numbers_are_refused_with_everything_kept(
    tester: Invited, name: str, typed: str, says: str
) -> None:
    answer = tester.browser.post(f"{tester.address}report/", {**FULL, name: typed})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert "A longer brim." in page
    assert "A longer brim." in tester.browser.get(f"{tester.address}report/").content.decode(), "also later"
    report = rows.TesterReport.objects.get(review=tester.review)
    assert report.sent_at is None
    assert not report.yarns.exists()


@pytest.mark.parametrize(
    ("unit", "typed", "parts"),
    [
        (GRAMS, "46", 46_000), (GRAMS, "46,5 g", 46_500), (GRAMS, "1.75 oz", 49_612), (GRAMS, "", None),
        (LENGTHS, "52", 520), (LENGTHS, "520 mm", 520), (LENGTHS, "20 1/2 in", 521), (LENGTHS, "½ in", 13),
        (LENGTHS, "20¾ in", 527), (LENGTHS, '8"', 203), (LENGTHS, "0.5 m", 500),
    ],
)  # fmt: skip
def test_amounts_are_read_as_people_write_them(unit: object, typed: str, parts: int | None) -> None:
    """An ounce is 28.3495 g and an inch 25.4 mm (NIST Handbook 44, appendix C)."""
    assert AmountField(unit, most=10**9).clean(typed) == parts  # type: ignore[arg-type]  # one of the units


def test_photos_are_the_reader_s_and_the_designer_s_alone(
    tester: Invited, invite: Callable[..., Invited], designer_client: Client, stranger_client: Client
) -> None:
    answer = tester.browser.post(
        f"{tester.address}report/photos/", {"photo": SimpleUploadedFile("p.jpg", picture(600, 400))}
    )
    assert answer.status_code == 302
    photo = rows.TesterReport.objects.get(review=tester.review).photos.get()
    address = f"{tester.address}photo/{photo.digest}/480.webp"
    assert tester.browser.get(address)["Content-Type"] == "image/webp"
    assert "no-store" in tester.browser.get(address)["Cache-Control"]
    assert stranger_client.get(address).status_code == 404
    assert stranger_client.get(f"/photo/{photo.digest}/480.webp").status_code == 404
    assert designer_client.get(f"/photo/{photo.digest}/480.webp").status_code == 200
    bea = invite("Bea")
    assert bea.browser.get(f"{bea.address}photo/{photo.digest}/480.webp").status_code == 404
    for number in (photo.pk + 1, "x", photo.pk):
        tester.browser.post(f"{tester.address}report/photos/", {"do": f"remove:{number}"})
    assert not rows.TesterReport.objects.get(review=tester.review).photos.exists()


@pytest.mark.parametrize(
    ("content", "says"), [(b"no photo", "This file is not a photo."), (None, "Choose a photo first.")]
)
def test_what_is_no_photo_is_refused(tester: Invited, content: bytes | None, says: str) -> None:
    tester.browser.post(f"{tester.address}report/", {"do": "keep", "liked": "The brim."})
    sent = {"photo": SimpleUploadedFile("p.jpg", content)} if content else {}
    answer = tester.browser.post(f"{tester.address}report/photos/", sent)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert "The brim." in answer.content.decode()


def test_photos_have_an_end(tester: Invited) -> None:
    report = rows.TesterReport.objects.create(review=tester.review)
    for number in range(MOST_PHOTOS):
        report.photos.create(digest=f"{number}" * 40, width=640, height=480)
    answer = tester.browser.post(
        f"{tester.address}report/photos/", {"photo": SimpleUploadedFile("p.jpg", picture())}
    )
    assert answer.status_code == 422
    assert report.photos.count() == MOST_PHOTOS


def test_photos_come_one_by_one(tester: Invited) -> None:
    answers = [tester.browser.post(f"{tester.address}report/photos/") for _n in range(MOST_FOR_PAIR + 1)]
    assert "Choose a photo first." in answers[-2].content.decode()
    assert "Wait a quarter of an hour" in answers[-1].content.decode()


def test_an_ended_link_takes_no_report(tester: Invited, stranger_client: Client) -> None:
    assert stranger_client.post(f"{tester.address}report/", FULL).status_code == 404
    review_withdraw(tester.review)
    assert send(tester) == 410
    assert tester.browser.get(f"{tester.address}report/photos/").status_code == 405
    assert not rows.TesterReport.objects.exists()


def test_the_numbers_are_told_against_the_estimate(designer_client: Client, tester: Invited) -> None:
    """A swatch of 14.5 stitches where 14 are asked: 2.5 g become 2.5 x 14.5 / 14 = 2.6 g, and half a
    stitch still meets the gauge.
    """
    send(tester)
    page = " ".join(designer_client.get("/desk/patterns/net-band/reviews/").content.decode().split())
    assert '14.5 × 16 <span class="badge woad">met</span>' in page
    assert '<td class="num">2.5</td><td class="num">2.6</td>' in page
    report = designer_client.get(f"/desk/patterns/net-band/reviews/{tester.review.pk}/report/")
    page = " ".join(report.content.decode().split())
    assert "100 g before, 97.5 g after, 2.5 g used" in page
    assert "52.1 cm, before blocking" in page


def test_the_table_is_safe_from_formulas(designer_client: Client, tester: Invited) -> None:
    send(tester)
    answer = designer_client.get("/desk/patterns/net-band/reviews/numbers.csv")
    lines = answer.getvalue().decode("utf-8-sig").splitlines()  # type: ignore[attr-defined]  # it streams
    (cells,) = csv.DictReader(lines)
    assert cells["Yarn used"] == "'=Tideline"
    assert (cells["Tester"], cells["Size"], cells["Hook, mm"]) == ("Nell", "M", "4.5")
    assert Decimal(cells["Grams used"]) == Decimal("2.5")


def test_without_a_sent_report_there_is_no_page(designer_client: Client, tester: Invited) -> None:
    tester.browser.post(f"{tester.address}report/", {"do": "keep"})
    address = f"/desk/patterns/net-band/reviews/{tester.review.pk}/report/"
    assert designer_client.get(address).status_code == 404


def test_the_pdf_carries_the_draft_s_number_on_every_page(tester: Invited) -> None:
    answer = tester.browser.get(f"{tester.address}draft.pdf")
    assert answer["Content-Type"] == "application/pdf"
    assert "no-store" in answer["Cache-Control"]
    words = words_of(answer.content)
    assert words.count("Net Band · draft 1.0") == words.count("page ") >= 1


def test_a_press_that_fails_leaves_the_page(tester: Invited, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*args: object) -> bytes:
        raise PaperFailedError("no ink")

    monkeypatch.setattr(Press, "print_pdf", fail)
    monkeypatch.setattr("patterns.paper._folder", lambda: Path("/nowhere"))
    answer = tester.browser.get(f"{tester.address}draft.pdf")
    assert answer.status_code == 503
    assert "The PDF could not be made just now." in answer.content.decode()


def test_the_sheet_is_the_copy_s(tester: Invited) -> None:
    page = tester.browser.get(f"{tester.address}sheet/").content.decode()
    assert "Technical edit of draft 1.0" in page
    assert "Counts, round by round" in page
