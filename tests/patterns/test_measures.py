"""The page of measurements, and taking them over into the facts."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest
from django.test import Client

from patterns.checking import check
from patterns.edition import edition
from patterns.measures import MeasuresPage, measures_page
from patterns.models import Kind, Pattern, PatternSize, Revision
from patterns.selectors import source_of
from tests.craft.fabric.plain_parts import disc
from tests.patterns.examples import DISC
from tests.patterns.test_paper import words_of

ADDRESS = "/desk/patterns/small-disc/measures/"
TAKE = f"{ADDRESS}take/"

GAUGE = {
    "gauge_stitches_tenths": 160, "gauge_rows_tenths": 160, "gauge_stitch": "sc", "gauge_in_round": True,
}  # fmt: skip
HAT = "Crown\n" + disc(8, 8, "hdc") + "Rnds 9–20: Hdc in each st around. (64 sts)\n"
HAT_GAUGE = {**GAUGE, "gauge_rows_tenths": 120, "gauge_stitch": "hdc", "kind": Kind.HAT}
SIZED = (
    "Sizes: S (M)\nRnd 1: Ch 72 (80), join with sl st to form a ring.\nRnd 2: Ch 1, sc in each ch around, "
    "join. (72 (80) sts)\nRnds 3–10: Ch 1, sc in each st around, join. (72 (80) sts)\n"
)

MakePattern = Callable[..., Pattern]


def words(content: bytes) -> str:
    return " ".join(content.decode().split())


def page_of(pattern: Pattern, size: int = 0) -> MeasuresPage:
    pattern.refresh_from_db()
    found = measures_page(pattern, check(source_of(pattern), pattern.terms), size)
    assert found is not None
    return found


def lengths(page: MeasuresPage, part: int = 0) -> dict[str, list[str]]:
    rows = page.parts[part].rows
    return {row.name: [cell.length if cell else "–" for cell in row.cells] for row in rows}


# ------------------------------------------------------------------------------- the page


def test_it_shows_sizes_in_both_units_flatness_and_drawings(
    designer_client: Client, make_pattern: MakePattern
) -> None:
    make_pattern(**GAUGE)
    page = words(designer_client.get(ADDRESS).content)
    assert "From the gauge of the pattern: 16 sc and 16 rows to 10 cm, in the round." in page
    assert "3.6 cm (1⅜ in)" in page  # 18 stitches at 16 to 10 cm: 11.25 cm around, 3.6 across
    assert (
        "Up to Rnd 3 it has 95 % of the length that lies flat; it grows by 6 stitches a round, and 6.28 lie "
        "flat" in page
    )
    assert 'class="form-drawing"' in page
    assert " style=" not in page.split("<main", 1)[1]


def test_a_hat_has_its_depth_its_wall_and_its_section(make_pattern: MakePattern) -> None:
    page = page_of(make_pattern(text=HAT, **HAT_GAUGE))
    assert lengths(page)["Around the widest round"] == ["40 cm (15¾ in)"]
    assert lengths(page)["Deep, from the middle to the edge"] == ["16.5 cm (6½ in)"]
    form = page.parts[0].form
    assert form is not None
    assert form.side is not None
    assert form.section is not None
    first, last = (band.points.split()[0].split(",")[1] for band in (form.side.bands[0], form.side.bands[-1]))
    assert float(first) < float(last)  # worked from the crown down, drawn so


def test_bands_have_the_colours_of_the_yarns(make_pattern: MakePattern, full_pattern: Pattern) -> None:
    shade = full_pattern.yarns.get().yarn.colours.create(name="Slate", hex_swatch="#5a646b")  # type: ignore[union-attr]
    full_pattern.yarns.update(shade=shade, colour="")
    form = page_of(full_pattern).parts[0].form
    assert form is not None
    assert form.top is not None
    assert {band.fill for band in form.top.bands} == {"#5a646b"}


def test_without_a_gauge_hook_and_yarn_give_a_range_and_no_verdict(full_pattern: Pattern) -> None:
    Pattern.objects.filter(pk=full_pattern.pk).update(gauge_stitches_tenths=None, hook_um=5000)
    page = page_of(full_pattern)
    assert page.estimated
    assert page.basis.startswith("No gauge is given, so these are estimates from hook and yarn: about 1")
    (row,) = (row for row in page.parts[0].rows if row.name == "Across")
    assert row.cells[0] is not None
    assert " to " in row.cells[0].spread


def test_a_gauge_measured_flat_gives_a_range(make_pattern: MakePattern) -> None:
    page = page_of(make_pattern(text=disc(6, 6), **{**GAUGE, "gauge_in_round": False}))
    flat = page.parts[0].flat
    assert flat is not None
    assert flat.verdict == "No verdict"
    assert flat.why_open == (
        "The gauge was measured on a flat swatch, and this is worked in the round. At Rnd 6 it has 86 to 105 "
        "% of the length that lies flat: from slightly cupped to flat."
    )


@pytest.mark.parametrize(
    ("added", "verdict", "says"),
    [
        (
            8, "Ruffles",
            ("Up to Rnd 6 it has 127 % of the length that lies flat; it grows by 8 stitches a round, and "
            "6.28 lie flat at this gauge. If waves are not meant, increase less or use a taller stitch."),
        ),
        (
            5, "Draws up into a bowl or cone",
            ("Up to Rnd 6 it has 80 % of the length that lies flat; it grows by 5 stitches a round, and 6.28 "
            "lie flat at this gauge. It draws up into a cone whose sides stand 53° from the axis. If it is "
            "meant to be flat, increase more or use a lower stitch."),
        ),
    ],
)  # fmt: skip
def test_verdicts_word_for_word(make_pattern: MakePattern, added: int, verdict: str, says: str) -> None:
    flat = page_of(make_pattern(text=disc(6, added), **GAUGE)).parts[0].flat
    assert flat is not None
    assert (flat.verdict, flat.says) == (verdict, says)


def test_stacked_increases_and_drift_are_said_with_their_figures(make_pattern: MakePattern) -> None:
    part = page_of(make_pattern(text=disc(12, 6), **GAUGE)).parts[0]
    assert part.staggered.splitlines()[:2] == [
        (
            "Rnd 4: sc in next st, 2 sc in next st, [sc in next 2 sts, 2 sc in next st] 5 times, sc in next "
            "st. (24)"
        ),
        "Rnd 5: [sc in next 3 sts, 2 sc in next st] 6 times. (30)",
    ]
    assert part.remarks == (
        (
            "From Rnd 4 to Rnd 12 the increases stand above one another: 6 corners, which reach 15 % farther "
            "out than the sides. For a circle, stagger them."
        ),
        (
            "In a spiral the start of the round walks half a stitch a round: 6 stitches or 3.8 cm (1½ in) "
            "over 12 rounds, 27° from upright."
        ),
    )


def test_stated_sizes_are_held_against_the_stitches(
    designer_client: Client, make_pattern: MakePattern
) -> None:
    pattern = make_pattern(text=SIZED, **GAUGE)
    for place, (label, finished) in enumerate(
        (("S", "45 cm (17¾ in) around"), ("M", "56 cm (22 in) around"))
    ):
        PatternSize.objects.create(
            pattern=pattern, key=label.lower(), label=label, finished=finished, position=place
        )
    page = page_of(pattern)
    (row,) = page.stated
    assert [cell and (cell.stated, cell.worked, cell.agrees) for cell in row.cells] == [
        ("45 cm (17¾ in)", "45 cm (17¾ in)", True), ("56 cm (22 in)", "50 cm (19¾ in)", False),
    ]  # fmt: skip
    assert page.differs
    assert "stitches: 50 cm (19¾ in)" in words(designer_client.get(ADDRESS).content)


def test_the_size_asked_for_is_drawn(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(text=SIZED, **GAUGE)
    for said, chosen in (("1", 1), ("0", 0), ("9", 0), ("x", 0), ("-1", 0)):
        answer = designer_client.get(ADDRESS, {"size": said})
        assert answer.status_code == 200
        assert answer.context["page"].size == chosen


def test_what_is_not_known_is_named_and_the_rest_is_shown(make_pattern: MakePattern) -> None:
    text = DISC + "Rnd 4: Blorb the flange.\nRnd 5: sc in each st around. (24 sts)\n"
    page = page_of(make_pattern(text=text + "Rnds 6–9: sc in each st around. (24 sts)\n", **GAUGE))
    part = page.parts[0]
    assert part.gap == (
        "Rnds 4 and 5 could not be worked out: lengths along the part are at least as given, and the drawing "
        "leaves a gap. See the remarks at that line."
    )
    assert part.form is not None
    assert part.form.side is not None
    assert len(part.form.side.gaps) == 1
    assert all(cell is None or cell.at_least for row in part.rows if row.name == "High" for cell in row.cells)


def test_a_text_that_is_none_says_what_to_do(designer_client: Client, make_pattern: MakePattern) -> None:
    make_pattern(text="🧶 <b>onions</b>")
    assert "Nothing to measure yet" in words(designer_client.get(ADDRESS).content)


def test_strangers_wrong_roles_and_methods(
    stranger_client: Client, seller_client: Client, assistant_client: Client, designer_client: Client,
    pattern: Pattern,
) -> None:  # fmt: skip
    assert stranger_client.get(ADDRESS).status_code == 302
    assert seller_client.get(ADDRESS).status_code == 403
    assert assistant_client.get(ADDRESS).status_code == 403
    assert designer_client.post(ADDRESS).status_code == 405
    assert designer_client.get(ADDRESS.replace("small-disc", "none")).status_code == 404


# ------------------------------------------------------------------------------- taking over


def test_one_press_takes_them_over_and_the_page_and_the_paper_print_them(
    designer_client: Client, stranger_client: Client, make_pattern: MakePattern,
    publish: Callable[..., Revision],
) -> None:  # fmt: skip
    pattern = make_pattern(text=HAT, **HAT_GAUGE)
    answer = designer_client.post(TAKE, {"seen": pattern.facts_edit, "part": "0"}, follow=True)
    assert "the facts now give these as the finished sizes" in words(answer.content)
    (size,) = pattern.sizes.all()
    assert (size.key, size.label) == ("one", "One size")
    assert size.finished == "40 cm (15¾ in) around, 16.5 cm (6½ in) deep"
    revision = publish(pattern)
    assert edition(revision).sizes[0].finished == size.finished
    assert size.finished in words(stranger_client.get("/p/small-disc/").content)
    paper = stranger_client.get("/p/small-disc/a4.pdf")
    with pikepdf.open(BytesIO(paper.content)) as pdf:
        assert len(pdf.pages) >= 1
    assert "40 cm (15¾ in) around" in " ".join(words_of(paper.content).split())


def test_every_size_gets_its_own(designer_client: Client, make_pattern: MakePattern) -> None:
    pattern = make_pattern(text=SIZED.replace("Sizes: S (M)\n", ""), **GAUGE)
    for place, label in enumerate(("S", "M")):
        PatternSize.objects.create(pattern=pattern, key=label.lower(), label=label, position=place)
    designer_client.post(TAKE, {"seen": pattern.facts_edit, "part": "0"})
    assert list(pattern.sizes.values_list("key", "finished")) == [
        ("s", "45 cm (17¾ in) around, 5.5 cm (2¼ in) high"),
        ("m", "50 cm (19¾ in) around, 5.5 cm (2¼ in) high"),
    ]


def test_strangers_wrong_roles_and_methods_take_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client, designer_client: Client,
    pattern: Pattern,
) -> None:  # fmt: skip
    form = {"seen": pattern.facts_edit, "part": "0"}
    assert stranger_client.post(TAKE, form).status_code == 302
    assert seller_client.post(TAKE, form).status_code == 403
    assert assistant_client.post(TAKE, form).status_code == 403
    assert designer_client.get(TAKE).status_code == 405
    assert not pattern.sizes.exists()


@pytest.mark.parametrize(
    ("form", "status"),
    [
        ({"seen": "1"}, 422), ({"seen": "1", "part": "77"}, 422), ({"seen": "1", "part": "x"}, 422),
        ({"seen": "abc", "part": "0"}, 409), ({"part": "0"}, 409), ({}, 422),
    ],
)  # fmt: skip
def test_bad_input_is_refused_and_nothing_changed(
    designer_client: Client, make_pattern: MakePattern, form: dict[str, str], status: int
) -> None:
    pattern = make_pattern(text=HAT, **HAT_GAUGE, facts_edit=1)
    answer = designer_client.post(TAKE, form)
    assert answer.status_code == status
    assert 'role="alert"' in answer.content.decode()
    assert not pattern.sizes.exists()


def test_somebody_who_saved_first_is_not_overwritten(
    designer_client: Client, make_pattern: MakePattern
) -> None:
    pattern = make_pattern(text=HAT, **HAT_GAUGE)
    Pattern.objects.filter(pk=pattern.pk).update(facts_edit=5)
    answer = designer_client.post(TAKE, {"seen": "4", "part": "0"})
    assert answer.status_code == 409
    assert "Somebody saved the facts in the meantime." in words(answer.content)
    assert not pattern.sizes.exists()


def test_sizes_that_do_not_agree_are_refused(designer_client: Client, make_pattern: MakePattern) -> None:
    pattern = make_pattern(text=SIZED, **GAUGE)
    PatternSize.objects.create(pattern=pattern, key="s", label="S", position=0)
    answer = designer_client.post(TAKE, {"seen": pattern.facts_edit, "part": "0"})
    assert answer.status_code == 422
    assert "The text has 2 sizes and the facts have 1. Make them agree first." in words(answer.content)
    assert pattern.sizes.get().finished == ""
