"""Every check has a page, and the page is true: its wrong example is found, its right one is not."""

from __future__ import annotations

import re

import pytest

from craft import fabric, notation, techedit
from craft.techedit import Check, Finding, Level
from craft.techedit.checks import CHECKS
from craft.techedit.messages import MESSAGES

from .pages import HEADS, example, part

BY_SLUG = pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.slug)
# These need what a text alone cannot hold: an estimate, or the fields of the app.
TOLD_IN_WORDS = {"amount-against-estimate", "fields-and-text-disagree", "small-parts-denied"}


def findings(text: str) -> list[Finding]:
    draft = notation.read(text)
    return techedit.check(draft, fabric.work(draft))


def test_slugs_are_readable_and_stand_once() -> None:
    slugs = [check.slug for check in CHECKS]
    assert len(set(slugs)) == len(slugs)
    assert all(re.fullmatch(r"[a-z]+(?:-[a-z]+)*", slug) for slug in slugs)


def test_at_least_120_of_the_trades_checks_are_covered() -> None:
    assert len({trade_id for check in CHECKS for trade_id in check.ids}) >= 120


@BY_SLUG
def test_the_page_says_what_why_wrong_right_and_limits(check: Check) -> None:
    first, *_ = check.page.split("\n\n")
    assert first.endswith(".")
    missing = [head for head in HEADS if not part(check, head)]
    assert missing in ([], ["Limits"])


@BY_SLUG
def test_the_page_ends_with_its_trade_ids(check: Check) -> None:
    *_, last = check.page.split("\n\n")
    assert last == f"Trade checks: {', '.join(check.ids)}."


@BY_SLUG
def test_there_is_a_sentence_for_each_check(check: Check) -> None:
    assert [key for key in MESSAGES if key.split("/")[0] == check.slug]


def test_there_is_a_check_for_each_sentence() -> None:
    slugs = {check.slug for check in CHECKS}
    assert [key for key in MESSAGES if key.split("/")[0] not in slugs] == []


@BY_SLUG
def test_the_wrong_example_is_found(check: Check) -> None:
    text = example(check, "Wrong")
    if check.slug in TOLD_IN_WORDS:
        assert text == ""
        return
    assert check.slug in {finding.check for finding in findings(text)}


@BY_SLUG
def test_the_wrong_example_has_no_other_error(check: Check) -> None:
    found = findings(example(check, "Wrong"))
    others = [f.says for f in found if f.level is Level.ERROR and f.check != check.slug]
    assert others == []


@BY_SLUG
def test_the_right_example_is_silent(check: Check) -> None:
    found = findings(example(check, "Right"))
    assert [f.says for f in found if f.check == check.slug or f.level is Level.ERROR] == []
