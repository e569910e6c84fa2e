"""Every sentence word for word, in the words of the trade and with both numbers."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from craft import fabric, notation, techedit
from craft.techedit import Check, Finding, Level
from craft.techedit.checks import CHECKS
from craft.techedit.messages import MESSAGES, NOUNS, say

from .pages import example
from .sentences import SENTENCES


def findings(text: str) -> list[Finding]:
    draft = notation.read(text)
    return techedit.check(draft, fabric.work(draft))


@pytest.mark.parametrize("check", [c for c in CHECKS if example(c, "Wrong")], ids=lambda check: check.slug)
def test_error_sentence_of_the_page(check: Check) -> None:
    found = [f for f in findings(example(check, "Wrong")) if f.check == check.slug]
    assert [(f.line_number, f.says) for f in found] == SENTENCES[check.slug]


# (text, the one error that it has, what is offered)
TOLD = [
    (
        "Rnd 1: 36 sc in magic ring (36)\nRnd 2: (sc 4, inc) x 7 (42)\n",
        (
            "Rnd 2 uses 35 of the 36 stitches of Rnd 1: “(sc 4, inc) x 7” leaves 1 over and gives 42. "
            "“(sc 5, inc) x 6” would use all 36 and also give 42, the count you print."
        ),
        "5, inc) x 6",
    ),
    (
        "Rnd 1: 36 sc in magic ring (36)\nRnd 2: (sc 5, inc) x 6 (40)\n",
        "Rnd 2 makes 42, and 40 is printed. Print 42, or look at “(sc 5, inc) x 6”.",
        "42",
    ),
    (
        "Rnd 1: 12 sc in magic ring (12)\nRnd 2: (sc, inc) x 6 (20)\nRnd 3: (sc 2, inc) x 6 (24)\n",
        "Rnd 2 makes 18, and 20 is printed. Print 18, or look at “(sc, inc) x 6”.",
        "18",
    ),
]


@pytest.mark.parametrize(("text", "says", "offers"), TOLD)
def test_error_sentence_with_what_mends_it(text: str, says: str, offers: str) -> None:
    (found,) = [f for f in findings(text) if f.level is Level.ERROR]
    assert found.says == says
    assert found.suggestion is not None
    assert found.suggestion.text == offers


@pytest.mark.parametrize(("text", "says", "offers"), TOLD)
def test_what_is_offered_mends_the_line(text: str, says: str, offers: str) -> None:
    (found,) = [f for f in findings(text) if f.level is Level.ERROR]
    assert found.suggestion is not None
    start, end = found.suggestion.span
    mended = findings(text[:start] + found.suggestion.text + text[end:])
    assert [f for f in mended if f.level is Level.ERROR and f.line_number == found.line_number] == []


def test_error_of_an_amount_below_the_estimate() -> None:
    draft = notation.read("Yarn: Gull DK, 50 g / 120 m, needs 150 m\nRnd 1: 6 sc in magic ring (6)\n")
    facts = replace(techedit.read_facts(draft), needed_m=(244.0,))
    found = techedit.check(draft, fabric.work(draft), facts)
    assert [f.says for f in found if f.check == "amount-against-estimate"] == [
        (
            "The yarn list gives 150 m, and the stitches come "
            "to about 244 m with the margin. Raise the amount, "
            "or weigh the sample again."
        )
    ]


FIELDS = "Level: Basic\nHook: 4.5 mm\nGauge: 14 sc and 16 rows = 10 cm\nNotions: 2 safety eyes\n\n"


def of_fields(text: str, **known: Any) -> list[Finding]:
    """Findings where the lines of FIELDS are the app's own and the rest is the maker's."""
    draft = notation.read(FIELDS + text)
    facts = replace(techedit.read_facts(draft), fields_end=len(FIELDS), **known)
    return techedit.check(draft, fabric.work(draft), facts)


# (line of the text, what else the fields know, what is compared, the text's, the field's)
DISAGREE = [
    ("Hook: 5 mm\n", {}, "the hook", "5 mm", "4.5 mm"),
    (
        "Gauge: 16 sc and 16 rows = 10 cm\n", {}, "the gauge", "16 sc and 16 rows = 10 cm",
        "14 sc and 16 rows = 10 cm",
    ),
    ("Terms: UK\n", {"terms": "us"}, "terms", "UK", "US"),
    ("Skill level: Intermediate\n", {"level": "Basic"}, "level", "intermediate", "basic"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "known", "what", "text", "field"), DISAGREE)
def test_error_of_a_field_and_a_line_that_disagree(
    line: str, known: dict[str, str], what: str, text: str, field: str
) -> None:
    found = of_fields(f"{line}Rnd 1: 6 sc in magic ring (6)\n", **known)
    (told,) = [f for f in found if f.check == "fields-and-text-disagree"]
    assert told.says == (
        f"The text gives {what} as “{text}”, and the pattern's own field says “{field}”. Make the two the "
        "same, or take the line out of the text: the page prints the field."
    )
    assert told.span.start >= len(FIELDS)


@pytest.mark.parametrize(
    "line",
    [
        "Hook: 4.5 mm and 5 mm\n",
        "Gauge: 14 sc and 16 rows = 10 cm\n",
        "Gauge: 20 dc and 9 rows = 10 cm\n",
        "Terms: US (UK in brackets)\n",
        "Level: beginner\n",
    ],
)
def test_a_line_that_says_the_same_is_silent(line: str) -> None:
    found = of_fields(f"{line}Rnd 1: 6 sc in magic ring (6)\n", terms="us", level="Basic")
    assert [f.says for f in found if f.check == "fields-and-text-disagree"] == []


def test_error_of_small_parts_denied() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nPlace the eyes.\n"
    found = of_fields(text, small_parts=False)
    assert [f.says for f in found if f.check == "small-parts-denied"] == [
        (
            "The facts say that there are no small parts, and “safety eyes” is listed. Look at that fact "
            "again: the cautions are printed by it, and the rules of the place of sale decide what must be "
            "said."
        )
    ]
    for told in (True, None):
        assert "small-parts-denied" not in {f.check for f in of_fields(text, small_parts=told)}


def test_error_of_brackets_of_two_kinds() -> None:
    (found,) = [
        f
        for f in findings("Rnd 1: 12 sc in magic ring (12)\nRnd 2: (sc, inc] 6 times (18)\n")
        if f.check == "bracket-not-closed"
    ]
    assert found.says == (
        "“]” in Rnd 2 has no partner, and neither has a “(”: one of the two was meant to be of the other "
        "kind. Use a pair that matches."
    )


def test_a_text_without_fields_is_not_held_against_any() -> None:
    draft = notation.read("Hook: 5 mm\nRnd 1: 6 sc in magic ring (6)\n")
    made = {each.check for each in techedit.not_checked(draft, fabric.work(draft))}
    assert {"fields-and-text-disagree", "small-parts-denied"} <= made


def test_a_sentence_is_said_again_from_its_values() -> None:
    for slug in SENTENCES:
        check = next(c for c in CHECKS if c.slug == slug)
        for finding in findings(example(check, "Wrong")):
            assert say(finding.message, finding.values) == finding.says


def test_another_language_comes_in_through_translate() -> None:
    words = {
        MESSAGES["swatch-too-small"]: "Nur {chains:chain} für {stitches} Maschen.",
        NOUNS["chain"][1]: "{n} Luftmaschen",
    }
    values = (("chains", "15"), ("stitches", "16"))
    translated = say("swatch-too-small", values, translate=lambda text: words.get(text, text))
    assert translated == "Nur 15 Luftmaschen für 16 Maschen."


@pytest.mark.parametrize("key", MESSAGES)
def test_sentences_end_and_name_known_nouns(key: str) -> None:
    assert re.search(r"[.”]$", MESSAGES[key])
    assert set(re.findall(r"\{\w+:(\w+)\}", MESSAGES[key])) <= NOUNS.keys()
