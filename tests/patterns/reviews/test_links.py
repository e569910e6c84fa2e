"""/review/open/<token>/: the link, the browser that it is bound to, and how it ends."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from patterns.models import Pattern
from patterns.reviews.asking import (
    ReviewError,
    review_close,
    review_link_renew,
    review_reopen,
    review_withdraw,
)
from patterns.reviews.links import UNOPENED_DAYS, bind
from patterns.reviews.models import Review
from tests.patterns.reviews.conftest import Invited
from workroom.throttle import MOST_FOR_PAIR

PAGES = ("", "sheet/", "draft.pdf", "report/")


def test_the_first_press_binds_the_link_to_that_browser(invite: Callable[..., Invited]) -> None:
    nell = invite(opened=False)
    page = nell.browser.get(nell.link).content.decode()
    assert "asks you to test a pattern: “Net Band”" in page
    assert "14 May 2026" in page
    nell.review.refresh_from_db()
    assert nell.review.opened_at is None, "looking does not open"
    answer = nell.browser.post(nell.link)
    assert (answer.status_code, answer["Location"]) == (302, nell.address)
    cookie = answer.cookies[f"hookledger_review_{nell.review.pk}"]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Lax", "/review/")
    nell.review.refresh_from_db()
    assert nell.review.opened_at is not None
    assert cookie.value not in nell.review.browser_digest
    assert nell.browser.get(nell.link)["Location"] == nell.address, "again in the same browser"


def test_only_hashes_are_kept(tester: Invited) -> None:
    token = tester.link.split("/")[3]
    kept = Review.objects.filter(pk=tester.review.pk).values().get()
    assert token not in str(kept)
    assert len(kept["link_digest"]) == len(kept["browser_digest"]) == 64


def test_every_answer_is_private(tester: Invited) -> None:
    for address in (tester.link, tester.address, f"{tester.address}sheet/", "/review/open/no-such-link/"):
        answer = tester.browser.get(address)
        assert answer["X-Robots-Tag"] == "noindex, nofollow, noarchive", address
        assert "no-store" in answer["Cache-Control"]
        assert answer["Referrer-Policy"] == "same-origin"


def test_another_browser_is_told_to_ask_for_a_new_link(tester: Invited) -> None:
    for answer in (Client().get(tester.link), Client().post(tester.link)):
        assert answer.status_code == 409
        assert "This draft is open in another browser" in answer.content.decode()
    for page in PAGES:
        assert Client().get(f"{tester.address}{page}").status_code == 404


def test_a_forged_cookie_opens_nothing(tester: Invited) -> None:
    stranger = Client()
    for value in ("", "x", tester.review.browser_digest, tester.link.split("/")[3]):
        stranger.cookies[f"hookledger_review_{tester.review.pk}"] = value
        assert stranger.get(tester.address).status_code == 404


def test_a_link_reaches_its_own_draft_alone(
    tester: Invited, invite: Callable[..., Invited], make_pattern: Callable[..., Pattern]
) -> None:
    other = invite("Bea", size="one", pattern=make_pattern(title="Secret Shawl"))
    for page in PAGES:
        answer = tester.browser.get(f"{other.address}{page}")
        assert answer.status_code == 404
        assert "Secret Shawl" not in answer.content.decode()
    tester.browser.cookies[f"hookledger_review_{other.review.pk}"] = tester.browser.cookies[
        f"hookledger_review_{tester.review.pk}"
    ].value
    assert tester.browser.get(other.address).status_code == 404, "one's own secret on another's number"
    assert tester.browser.get("/desk/patterns/").status_code == 302


def test_a_link_that_was_taken_back_opens_nothing(tester: Invited) -> None:
    review_withdraw(tester.review)
    assert Client().get(tester.link).status_code == 410
    for page in PAGES:
        answer = tester.browser.get(f"{tester.address}{page}")
        assert answer.status_code == 410
        assert "has taken this link back" in answer.content.decode()


def test_a_closed_round_says_thank_you(tester: Invited) -> None:
    review_close(tester.review)
    for answer in (tester.browser.get(tester.link), tester.browser.get(tester.address)):
        assert answer.status_code == 410
        assert "This review is closed" in answer.content.decode()
    with pytest.raises(ReviewError, match="Open it again before"):
        review_link_renew(tester.review)
    review_reopen(tester.review)
    assert tester.browser.get(tester.address).status_code == 200


def test_a_new_link_shuts_out_the_old_browser_and_keeps_what_was_said(tester: Invited) -> None:
    tester.browser.post(f"{tester.address}report/", {"do": "keep", "liked": "the brim"})
    token = review_link_renew(tester.review)
    assert Client().get(tester.link).status_code == 410
    assert tester.browser.get(tester.address).status_code == 404
    phone = Client()
    assert phone.post(f"/review/open/{token}/").status_code == 302
    assert "the brim" in phone.get(f"{tester.address}report/").content.decode()


def test_a_link_left_unopened_for_a_month_ends(invite: Callable[..., Invited], tester: Invited) -> None:
    unopened = invite("Late", opened=False)
    Review.objects.update(link_made_at=timezone.now() - timedelta(days=UNOPENED_DAYS, minutes=1))
    assert unopened.browser.post(unopened.link).status_code == 410
    assert tester.browser.get(tester.link).status_code == 302, "an opened one goes on"


def test_two_browsers_at_once_bind_it_once(invite: Callable[..., Invited]) -> None:
    unopened = invite(opened=False).review
    assert [bind(unopened) is None for _browser in range(2)] == [False, True]


def test_htmx_shows_the_ended_page_whole(tester: Invited) -> None:
    review_close(tester.review)
    answer = tester.browser.get(tester.address, {"line": 2}, headers={"HX-Request": "true"})
    assert answer["HX-Refresh"] == "true"
    assert answer.content == b""


def test_guessing_is_slowed_down(db: None) -> None:
    client = Client()
    answers = [client.get("/review/open/guess/").status_code for _n in range(MOST_FOR_PAIR + 1)]
    assert answers == [410] * MOST_FOR_PAIR + [429]
    assert client.get("/review/open/guess/")["Retry-After"] == "900"


def test_opening_one_s_own_link_often_is_no_guessing(tester: Invited) -> None:
    assert {tester.browser.get(tester.link).status_code for _n in range(MOST_FOR_PAIR + 2)} == {302}


def test_a_designer_who_looks_is_warned(designer_client: Client, invite: Callable[..., Invited]) -> None:
    nell = invite(opened=False)
    assert "hand it over unopened" in designer_client.get(nell.link).content.decode()


def test_other_methods_are_refused(tester: Invited) -> None:
    assert tester.browser.put(tester.link).status_code == 405
    for page in PAGES[:3]:
        assert tester.browser.post(f"{tester.address}{page}").status_code == 405
