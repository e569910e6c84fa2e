"""/desk/patterns/<slug>/reviews/: who was asked, who is late, which sizes lack a tester, and the links."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.core import mail
from django.test import Client

from patterns.models import Pattern
from patterns.reviews.asking import review_close, review_withdraw
from patterns.reviews.board import board_of, late_reviews, open_by_line
from patterns.reviews.models import Review
from patterns.reviews.reading import Findings, report_send
from tests.patterns.reviews.conftest import DUE, Invited
from tests.patterns.reviews.test_remarks import write

ADDRESS = "/desk/patterns/net-band/reviews/"
ASKED = {"role": "tester", "name": "Nell", "size_key": "m", "due_on": "2999-05-14", "contact": "in the group"}


def states(pattern: Pattern, today: date = DUE) -> list[str]:
    return [row.state for row in board_of(pattern, today=today).people]


def test_a_designer_asks_a_tester_and_gets_one_link(
    designer_client: Client, full_pattern: Pattern, stranger_client: Client
) -> None:
    assert "Ask somebody to read the draft" in designer_client.get(f"{ADDRESS}invite/").content.decode()
    page = designer_client.post(f"{ADDRESS}invite/", ASKED, follow=True).content.decode()
    review = full_pattern.reviews.get()
    assert (review.role, review.size_key, review.copy.number, review.contact) == (
        "tester", "m", "1.0", "in the group",
    )  # fmt: skip
    link = page[page.index("/review/open/") :].partition('"')[0]
    assert stranger_client.get(link).status_code == 200
    assert "/review/open/" not in designer_client.get(ADDRESS).content.decode(), "shown once"


def test_an_editor_has_no_size_and_two_share_a_copy(designer_client: Client, full_pattern: Pattern) -> None:
    designer_client.post(f"{ADDRESS}invite/", {**ASKED, "role": "editor"})
    designer_client.post(f"{ADDRESS}invite/", ASKED)
    editor, tester = full_pattern.reviews.all()
    assert editor.size_key == ""
    assert editor.copy == tester.copy
    photo = full_pattern.photos.get()
    photo.alt = "Another view."
    photo.save()
    designer_client.post(f"{ADDRESS}invite/", ASKED)
    assert full_pattern.reviews.last().copy.number == "1.0b", "the same words, other facts"  # type: ignore[union-attr]


def test_the_link_is_mailed_where_mail_is_set(
    designer_client: Client, full_pattern: Pattern, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("patterns.views.reviews.can_mail", lambda: True)
    designer_client.post(f"{ADDRESS}invite/", {**ASKED, "email": "nell@tester.example"})
    (letter,) = mail.outbox
    assert letter.to == ["nell@tester.example"]
    assert "/review/open/" in str(letter.body)


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"name": ""}, "This field is required."),
        ({"size_key": ""}, "Say which size is to be made."),
        ({"size_key": "xxl"}, "Select a valid choice."),
        ({"role": "critic"}, "Select a valid choice."),
        ({"due_on": "2020-01-01"}, "That day is past. Choose today or a later day."),
        ({"due_on": "soon"}, "Write the day as 2026-05-14."),
        ({"email": "nell"}, "Enter a valid email address."),
    ],
)
def test_bad_invitations_are_refused_and_stay_in_the_form(
    designer_client: Client, full_pattern: Pattern, sent: dict[str, str], says: str
) -> None:
    answer = designer_client.post(f"{ADDRESS}invite/", {**ASKED, **sent})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert "in the group" in page
    assert not full_pattern.reviews.exists()


def test_a_pattern_without_instructions_is_not_sent(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(title="Bare", text=" ")
    answer = designer_client.post("/desk/patterns/bare/reviews/invite/", {**ASKED, "size_key": "one"})
    assert answer.status_code == 422
    assert "There are no instructions to read yet." in answer.content.decode()


def test_who_is_late_goes_by_the_day_of_the_studio(
    invite: Callable[..., Invited], full_pattern: Pattern
) -> None:
    nell, bea = invite(), invite("Bea", opened=False)
    assert states(full_pattern, DUE) == ["reading", "invited"]
    assert states(full_pattern, DUE + timedelta(days=1)) == ["late", "late"]
    report_send(nell.review, {}, Findings({"size_key": "m"}))
    review_withdraw(bea.review)
    assert states(full_pattern, DUE + timedelta(days=9)) == ["done", "withdrawn"]
    assert late_reviews(DUE + timedelta(days=9)) == []
    review_close(nell.review)
    assert states(full_pattern) == ["closed", "withdrawn"]


def test_sizes_without_tester_or_report_are_named(
    designer_client: Client, invite: Callable[..., Invited], full_pattern: Pattern
) -> None:
    nell = invite()
    invite("Bea", size="l")
    report_send(nell.review, {}, Findings({"size_key": "m"}))
    board = board_of(full_pattern, today=DUE)
    assert [(row.label, row.state) for row in board.sizes] == [
        ("S", "nobody"), ("M", "covered"), ("L", "waiting"),
    ]  # fmt: skip
    page = " ".join(designer_client.get(ADDRESS).content.decode().split())
    assert "Not tested yet: S (nobody makes it), L." in page


def test_remarks_stand_in_the_order_of_the_text(
    invite: Callable[..., Invited], tester: Invited, full_pattern: Pattern, designer_client: Client
) -> None:
    bea = invite("Bea", size="l")
    write(tester, 0, "On the whole fine.")
    write(tester, 3)
    write(bea, 3, "Eighteen?")
    write(bea, 2, "Why a ring?")
    board = board_of(full_pattern, today=DUE)
    assert [(group.line, group.readers) for group in board.lines] == [(2, 1), (3, 2), (0, 1)]
    assert board.counts == {"open": 4, "answered": 0, "all": 4}
    assert open_by_line(full_pattern) == [(2, 1), (3, 2), (0, 1)]
    assert "2 readers: rewrite it?" in designer_client.get(ADDRESS).content.decode()
    assert "Why a ring?" not in designer_client.get(ADDRESS, {"show": "answered"}).content.decode()


def act(client: Client, review: Review, do: str, **more: str) -> str:
    answer = client.post(f"{ADDRESS}{review.pk}/", {"do": do, **more}, follow=True)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_links_dates_and_drafts_are_changed(designer_client: Client, tester: Invited) -> None:
    review = tester.review
    assert "has the newest draft already" in act(designer_client, review, "newest")
    act(designer_client, review, "due", due_on="2999-01-31")
    review.refresh_from_db()
    assert review.due_on == date(2999, 1, 31)
    assert "Nothing was changed" in act(designer_client, review, "due", due_on="never")
    assert "A link for Nell" in act(designer_client, review, "link")
    assert tester.browser.get(tester.address).status_code == 404
    act(designer_client, review, "withdraw")
    act(designer_client, review, "close")
    assert "Open it again before you make a new link" in act(designer_client, review, "link")
    act(designer_client, review, "reopen")
    review.refresh_from_db()
    assert (review.closed_at, review.link_digest) == (None, None)


def test_the_whole_round_is_closed(
    designer_client: Client, tester: Invited, invite: Callable[..., Invited], full_pattern: Pattern
) -> None:
    invite("Bea")
    page = designer_client.post(f"{ADDRESS}close/", follow=True).content.decode()
    assert "2 reviews are closed." in page
    assert states(full_pattern) == ["closed", "closed"]
    assert tester.browser.get(tester.address).status_code == 410


def test_strangers_wrong_roles_and_methods(
    stranger_client: Client, seller_client: Client, assistant_client: Client, designer_client: Client,
    tester: Invited,
) -> None:  # fmt: skip
    posts = ("close/", f"{tester.review.pk}/", "remark/1/")
    for path in ("", "invite/", "numbers.csv", f"{tester.review.pk}/report/", *posts):
        send = "post" if path in posts else "get"
        assert getattr(stranger_client, send)(f"{ADDRESS}{path}").status_code == 302
        assert getattr(seller_client, send)(f"{ADDRESS}{path}").status_code == 403
        assert getattr(assistant_client, send)(f"{ADDRESS}{path}").status_code == 403
        assert getattr(tester.browser, send)(f"{ADDRESS}{path}").status_code == 302
        assert designer_client.delete(f"{ADDRESS}{path}").status_code == 405
    assert designer_client.get("/desk/patterns/none/reviews/").status_code == 404
    assert tester.browser.get(tester.address).status_code == 200, "nothing was closed"


def test_unknown_acts_and_reviews_of_other_patterns_are_not_found(
    designer_client: Client, tester: Invited, pattern: Pattern
) -> None:
    assert designer_client.post(f"{ADDRESS}{tester.review.pk}/", {"do": "praise"}).status_code == 404
    other = f"/desk/patterns/small-disc/reviews/{tester.review.pk}/"
    assert designer_client.post(other, {"do": "close"}).status_code == 404
    assert tester.browser.get(tester.address).status_code == 200
