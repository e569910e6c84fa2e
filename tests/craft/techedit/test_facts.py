"""Fact lines taken apart: gauge, yarn, hooks, notions, measurements, the kind of piece."""

from __future__ import annotations

import pytest

from craft import notation
from craft.notation.tree import Span
from craft.techedit.facts import Facts, fact_slot, read_facts
from craft.techedit.facts.gauge import read_gauges
from craft.techedit.facts.things import kind_of, read_hooks, read_measures, read_notions
from craft.techedit.facts.yarn import read_yarns


def whole(text: str) -> Span:
    return Span(0, len(text))


@pytest.mark.parametrize(
    ("text", "stitches", "rows", "cm", "stitch"),
    [
        ("16 sc and 18 rows = 10 cm", 16, 18, 10, "sc"),
        ('13 hdc and 10 rows = 4" [10 cm]', 13, 10, 10.16, "hdc"),
        ("18 sts and 20 rows to 10 cm in dc", 18, 20, 10, "dc"),
        ("14½ sts and 11 rows = 4 ins [10 cm] in Floret Pat", 14.5, 11, 10.16, None),
        ("10 single crochets and 12 rows = 4 inches", 10, 12, 10.16, "sc"),
        ("12 sts = 4”; Rows 1-9 = 4” in sc", 12, 9, 10.16, "sc"),
        ("5 sts = 1” (2.5 cm)", 5, None, 2.54, None),
    ],
)
def test_a_gauge(text: str, stitches: float, rows: float | None, cm: float, stitch: str | None) -> None:
    (gauge,) = read_gauges(text, whole(text), None)
    assert (gauge.stitches, gauge.rows, gauge.stitch) == (stitches, rows, stitch)
    assert gauge.width_cm == pytest.approx(cm)


def test_a_gauge_in_uk_terms_has_its_us_name() -> None:
    (gauge,) = read_gauges("16 dc and 18 rows = 10 cm", Span(0, 25), "uk")
    assert gauge.stitch == "sc"


def test_two_sentences_are_two_gauges() -> None:
    text = "13 hdc and 11 rows = 10 cm with 5 mm hook, blocked. 13 sc and 14 rows = 10 cm in rnds, unblocked"
    body, band = read_gauges(text, whole(text), None)
    assert (body.stitch, body.hook_mm, body.blocked) == ("hdc", 5.0, True)
    assert (band.stitch, band.in_the_round, band.blocked) == ("sc", True, False)


def test_a_gauge_by_repeats() -> None:
    text = "3 shells of 6 sts = 10 cm"
    (gauge,) = read_gauges(text, whole(text), None)
    assert (gauge.repeats, gauge.stitches_per_repeat, gauge.width_cm) == (3, 6, 10)


@pytest.mark.parametrize("text", ["Gauge is not critical.", "Motif = 18 cm square", "", "as you like"])
def test_no_gauge(text: str) -> None:
    assert list(read_gauges(text, whole(text), None)) == []


def test_the_yarns_of_a_line_by_their_letters() -> None:
    text = (
        "Yarn: A: Gull DK (100% wool; 50 g / 120 m / 131 yd), 2 (3, 3) balls in grey; B: Gull DK, 1 ball sage"
    )
    first, second = read_yarns(text, Span(6, len(text)))
    assert (first.label, first.colour, first.weight_names, first.balls) == ("A", "grey", ("dk",), (2, 3, 3))
    assert (first.grams, first.metres, first.yards) == (50, 120, 131)
    assert [(f.name, f.percent) for f in first.fibres] == [("wool", 100)]
    assert (second.label, second.colour, second.balls) == ("B", "sage", (1,))


def test_what_stands_before_the_letters_is_for_all_of_them() -> None:
    text = "Harbour Cotton, class 3, 50 g / 125 m. MC: 2 balls, CC: 1 ball"
    main, contrast = read_yarns(text, whole(text))
    assert main.metres == contrast.metres == 125
    assert main.weight_class == contrast.weight_class == 3


def test_the_amount_needed_is_no_length_of_a_ball() -> None:
    text = "Gull DK, 50 g / 120 m, 3 balls; needs 265 m"
    (yarn,) = read_yarns(text, whole(text))
    assert yarn.metres == 120
    assert yarn.needed is not None
    assert yarn.needed.values == (265,)


def test_room_to_spare_is_no_fibre() -> None:
    text = "Gull DK, 100% wool; amounts allow 10 % to spare"
    (yarn,) = read_yarns(text, whole(text))
    assert [fibre.name for fibre in yarn.fibres] == ["wool"]


@pytest.mark.parametrize(
    ("text", "hooks"),
    [
        ("5 mm (H-8) and 4 mm (G/6)", [(5.0, "H-8"), (4.0, "G/6")]),
        ("US H-8 (5 mm)", [(5.0, "H-8")]),
        ("I-9/5.5 mm hook", [(5.5, "I-9")]),
        ("3.5 mm", [(3.5, None)]),
        ("H-8", [(None, "H-8")]),
    ],
)
def test_hooks(text: str, hooks: list[tuple[float | None, str | None]]) -> None:
    assert [(hook.mm, hook.us) for hook in read_hooks(text, whole(text))] == hooks


def test_notions() -> None:
    text = "5 buttons (15 mm), stitch marker, yarn needle, two 12 mm safety eyes, 20 cm zip, stuffing"
    found = [(n.what, n.number, n.size_mm) for n in read_notions(text, whole(text))]
    assert found == [
        ("button", 5, 15.0),
        ("marker", None, None),
        ("needle", None, None),
        ("eye", 2, 12.0),
        ("zip", None, None),
        ("stuffing", None, None),
    ]


def test_measurements_keep_their_names() -> None:
    text = "Width 40 cm (15 3/4 in), length 60 cm"
    width, length = read_measures(text, whole(text), "finished size")
    assert (width.name, width.cm, len(width.amounts)) == ("width", (40,), 2)
    assert (length.name, length.cm) == ("length", (60,))


@pytest.mark.parametrize(
    ("title", "kind"),
    [
        ("Tideline Beanie", "hat"),
        ("Harbour Coasters", "coaster"),
        ("Strand Market Bag", "bag"),
        ("Pip the Gull", None),
        ("Bear Hat", "hat"),
    ],
)
def test_the_kind_is_the_last_word_that_names_one(title: str, kind: str | None) -> None:
    assert kind_of(title) == kind


@pytest.mark.parametrize(
    ("name", "slot"),
    [
        ("Crochet hook", "hook"),
        ("tension", "gauge"),
        ("Finished size", "measure"),
        ("To fit head", "measure"),
        ("sizes", "sizes"),
    ],
)
def test_names_of_fact_lines(name: str, slot: str) -> None:
    assert fact_slot(name) == slot


def test_a_text_without_facts_knows_nothing() -> None:
    facts = read_facts(notation.read("Rnd 1: 6 sc in magic ring (6)\n"))
    assert facts == Facts()


def test_facts_of_a_whole_head() -> None:
    text = (
        "Title: Tideline Beanie\nSizes: S (M, L)\nTo fit head: 51 (55, 59) cm\n"
        "Gauge: 16 hdc and 12 rows = 10 cm\n"
        "Hook: 5 mm (H-8)\nYarn: Gull DK, 3 balls\nNotions: yarn needle\nTerms: US\nLevel: Easy\n"
        "Rnd 1: 6 sc in magic ring (6)\n"
    )
    facts = read_facts(notation.read(text))
    assert (facts.title, facts.kind, facts.level, facts.terms) == ("Tideline Beanie", "hat", "Easy", "us")
    assert facts.sizes == ("S", "M", "L")
    assert [measure.cm for measure in facts.measures] == [(51, 55, 59)]
    assert all(facts.has(need) for need in ("gauges", "hooks", "yarns", "notions", "measures"))
    assert not facts.has("needed_m")
