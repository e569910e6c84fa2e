"""/desk/patterns/<slug>/chart/ and its file, and the chart that goes out with a revision."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pdfua
import pikepdf
import pytest
from django.test import Client

from craft.charting import SymbolSet
from patterns.chart_paper import chart_paper
from patterns.checking import check
from patterns.edition import edition
from patterns.freezing import freeze
from patterns.models import Pattern, PatternYarn, Revision, RevisionChart
from patterns.paper import Paper, pdf_of, prepare
from patterns.published_chart import charts_to_keep, published_chart
from patterns.selectors import reasons_of, source_of
from patterns.symbol_chart import SymbolChart, live_pieces, symbol_chart
from workroom.selectors import current_studio

pytestmark = pytest.mark.django_db

PAGE = "/desk/patterns/small-disc/chart/"
FILE = "/desk/patterns/small-disc/chart.svg"
TWO_COLOURS = (
    "Rnd 1: With A, 6 sc in a magic ring. (6 sts)\nRnd 2: With B, 2 sc in each st around. (12 sts)\n"
)


def charted(pattern: Pattern, symbols: SymbolSet = SymbolSet.CYC, size: int = 0) -> SymbolChart:
    checked = check(source_of(pattern), pattern.terms, reasons_of(pattern))
    frozen = freeze(pattern, checked)
    return symbol_chart(live_pieces(checked.fabric, size), frozen.rounds, frozen.facts, symbols)


def publish_form(page: str = "1.0.0", **more: str) -> dict[str, str]:
    return {"version": page, "changes": "", "text_edit": "1", "facts_edit": "0", **more}


# ---------------------------------------------------------------------------------- the page at the desk


def test_the_page_draws_each_round_beside_its_words(designer_client: Client, pattern: Pattern) -> None:
    page = designer_client.get(PAGE).content.decode()
    for number in range(3):
        assert f'id="chart-1-0-{number}" data-course="0:{number}"' in page
        assert f'<a href="#chart-1-words-0-{number}">' in page  # from the drawing to the words
        assert f'<a href="#chart-1-0-{number}">Rnd {number + 1}</a>' in page  # and back
    assert "single crochet" in page
    assert "double crochet" in page  # the other terms
    assert "Stitches per round" in page


@pytest.mark.parametrize(
    ("asked", "slanted"), [("", False), ("cyc", False), ("jis", True), ("onions", False)]
)
def test_the_symbols_are_those_asked_for(
    designer_client: Client, pattern: Pattern, asked: str, slanted: bool
) -> None:
    plain = designer_client.get(FILE, {"set": "cyc"}).content
    assert (designer_client.get(FILE, {"set": asked}).content != plain) is slanted
    selected = "jis" if slanted else "cyc"
    assert (
        f'<option value="{selected}" selected>' in designer_client.get(PAGE, {"set": asked}).content.decode()
    )


def test_each_size_has_its_own_drawing(designer_client: Client, full_pattern: Pattern) -> None:
    page = "/desk/patterns/net-band/chart/"
    first, last = (designer_client.get(page, {"size": size}).content.decode() for size in ("0", "2"))
    signs = [text.split('<path class="chart-lines"')[1].split('"/>')[0].count("\n") for text in (first, last)]
    assert signs[0] < signs[1]


def test_a_line_for_several_rounds_lights_them_all(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text="Rnd 1: 6 sc in a magic ring. (6 sts)\nRnds 2–4: Sc in each st around. (6 sts)\n")
    assert 'data-courses="0:1 0:2 0:3"' in designer_client.get(PAGE).content.decode()


def test_a_round_that_was_not_read_is_drawn_as_a_gap(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text=TWO_COLOURS + "Rnd 3: Blorb the flange.\nRnd 4: Sc in each st around. (24 sts)\n")
    page = designer_client.get(PAGE).content.decode()
    assert "Rnd 3: not read" in page
    assert 'class="chart-gap"' in page


@pytest.mark.parametrize("text", ["", "🧶 <b>onions</b>", "Rnd 1: Blorb.\nRnd 2: Blorb the flange.\n"])
def test_a_text_without_stitches_has_no_symbols_and_says_nothing_false(
    designer_client: Client, make_pattern: Callable[..., Pattern], text: str
) -> None:
    make_pattern(text=text)
    answer = designer_client.get(PAGE)
    assert answer.status_code == 200
    assert "symbol-chart" not in answer.content.decode()


def test_names_cannot_leave_their_place(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text='"><script>alert(1)</script>\n' + TWO_COLOURS)
    page = designer_client.get(PAGE).content.decode()
    assert "<script>alert" not in page


@pytest.mark.parametrize(
    "said", [{"size": "99"}, {"size": "-1"}, {"part": "0"}, {"part": "77"}, {"size": "x"}]
)
def test_what_cannot_be_used_is_as_if_not_said(
    designer_client: Client, pattern: Pattern, said: dict[str, str]
) -> None:
    assert designer_client.get(PAGE, said).status_code == 200


def test_a_part_too_large_is_refused_in_a_sentence(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text="Rnd 1: 6 sc in a magic ring. (6 sts)\nRnd 2: 9000 sc in each st around. (54000 sts)\n")
    page = designer_client.get(PAGE).content.decode()
    assert "This part has 54006 stitches" in page
    assert "symbol-chart" not in page.split("Stitches per round")[0].replace("symbol-charts", "")


def test_a_large_piece_is_drawn_in_parts(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    grown = "".join(
        f"Rnd {n}: {n} sc in each of next {n} sts, leave rem sts unworked.\n" for n in range(2, 3)
    )
    make_pattern(text=f"Rnd 1: 4000 sc in a magic ring.\nRnd 2: Sc in each st around.\n{grown}")
    page = designer_client.get(PAGE, {"part": "2"}).content.decode()
    assert "it is drawn in 2 parts" in page
    assert 'data-course="0:1"' in page
    assert 'data-course="0:0"' not in page


# ---------------------------------------------------------------------------------- the file


def test_the_file_is_one_image_by_itself(designer_client: Client, pattern: Pattern) -> None:
    answer = designer_client.get(FILE, {"piece": "1", "set": "jis"})
    assert answer["Content-Type"] == "image/svg+xml; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="small-disc-chart-1.svg"'
    tree = ET.fromstring(answer.content)
    assert tree.attrib["role"] == "img"
    assert not [each for each in tree.iter() if each.tag.endswith("}a")]


@pytest.mark.parametrize("number", ["0", "2", "x", "999"])
def test_a_drawing_that_is_not_there(designer_client: Client, pattern: Pattern, number: str) -> None:
    found = designer_client.get(FILE, {"piece": number}).status_code
    assert found == (200 if number == "x" else 404)


@pytest.mark.parametrize("address", [PAGE, FILE])
def test_strangers_are_asked_to_sign_in(client: Client, pattern: Pattern, address: str) -> None:
    assert client.get(address).status_code == 302


@pytest.mark.parametrize("address", [PAGE, FILE])
def test_an_assistant_may_not(assistant_client: Client, pattern: Pattern, address: str) -> None:
    assert assistant_client.get(address).status_code == 403


@pytest.mark.parametrize("address", [PAGE, FILE])
def test_it_is_only_looked_at(designer_client: Client, pattern: Pattern, address: str) -> None:
    assert designer_client.post(address).status_code == 405


# ---------------------------------------------------------------------------------- colours and key


def test_colours_are_named_by_letter_in_the_drawing_and_the_key(make_pattern: Callable[..., Pattern]) -> None:
    pattern = make_pattern(text=TWO_COLOURS)
    for place, (key, colour) in enumerate((("A", "Harbour"), ("B", "Foam"))):
        PatternYarn.objects.create(pattern=pattern, key=key, colour=colour, position=place)
    chart = charted(pattern)
    assert [(ink.letter, name) for ink, name in chart.colours] == [("A", "Harbour"), ("B", "Foam")]
    (figure,) = chart.figures
    assert figure.drawn is not None
    assert ">1 A</text>" in figure.drawn.svg
    assert ">2 B</text>" in figure.drawn.svg


def test_a_british_pattern_has_its_own_terms_first(make_pattern: Callable[..., Pattern]) -> None:
    pattern = make_pattern(text="Rnd 1: 6 dc in a magic ring. (6 sts)\n", terms="uk")
    (row,) = charted(pattern).key
    assert (row.own, row.other, row.number) == ("dc", "sc", 6)


# ---------------------------------------------------------------------------------- published


def test_publishing_with_the_chart_keeps_it_for_every_size_and_shows_it(
    designer_client: Client, client: Client, full_pattern: Pattern
) -> None:
    full_pattern.refresh_from_db()
    form = publish_form(
        chart_shown="on", chart_set="jis", text_edit=str(full_pattern.text_edit),
        facts_edit=str(full_pattern.facts_edit),
    )  # fmt: skip
    assert designer_client.post("/desk/patterns/net-band/publish/", form).status_code == 302
    revision = Revision.objects.get()
    assert list(revision.charts.values_list("size_key", "symbols")) == [
        ("s", "jis"),
        ("m", "jis"),
        ("l", "jis"),
    ]
    full_pattern.refresh_from_db()
    assert (full_pattern.chart_shown, full_pattern.chart_set) == (True, "jis")
    page = client.get("/p/net-band/", {"size": "m"}).content.decode()
    assert "Symbol chart" in page
    assert 'class="chart-course"' in page
    assert "chart.svg" not in page  # the file is the desk's


def test_publishing_without_it_keeps_and_shows_none(
    client: Client, pattern: Pattern, publish: Callable[..., Revision]
) -> None:
    revision = publish(pattern)
    assert not revision.charts.exists()
    assert published_chart(revision, None) is None
    assert "symbol-chart" not in client.get("/p/small-disc/").content.decode()


def test_a_version_that_is_taken_keeps_no_chart(
    designer_client: Client, pattern: Pattern, publish: Callable[..., Revision]
) -> None:
    publish(pattern)
    pattern.refresh_from_db()
    answer = designer_client.post("/desk/patterns/small-disc/publish/", publish_form(chart_shown="on"))
    assert answer.status_code == 422
    assert "checked" in answer.content.decode()  # the box stays as it was
    assert not RevisionChart.objects.exists()
    assert not Pattern.objects.get().chart_shown


def test_a_set_of_symbols_that_is_none_is_refused(designer_client: Client, pattern: Pattern) -> None:
    form = publish_form(chart_shown="on", chart_set="runes")
    assert designer_client.post("/desk/patterns/small-disc/publish/", form).status_code == 422
    assert not Revision.objects.exists()


def test_a_published_chart_is_drawn_from_what_was_kept_not_from_the_text(
    designer_client: Client, client: Client, pattern: Pattern
) -> None:
    designer_client.post("/desk/patterns/small-disc/publish/", publish_form(chart_shown="on"))
    before = client.get("/p/small-disc/").content
    assert b"symbol-chart" in before
    Pattern.objects.update(text="Rnd 1: 9 tr in a magic ring.", chart_set="jis")
    assert client.get("/p/small-disc/").content == before


def test_the_preview_shows_it_as_it_would_be(designer_client: Client, pattern: Pattern) -> None:
    address = "/desk/patterns/small-disc/preview/"
    assert "symbol-chart" not in designer_client.get(address).content.decode()
    Pattern.objects.update(chart_shown=True)
    assert "symbol-chart" in designer_client.get(address).content.decode()


# ---------------------------------------------------------------------------------- on paper


@pytest.mark.parametrize("paper", list(Paper))
def test_the_paper_carries_drawing_and_key_by_name(pattern: Pattern, paper: Paper) -> None:
    checked = check(source_of(pattern), pattern.terms)
    revision = freeze(pattern, checked, version="1.0.0")
    shown = edition(revision, None, charts_to_keep(revision, checked, "cyc"))
    prepared = prepare(revision, shown, paper, current_studio())
    assert len(prepared.drawings) == 2  # the disc, and the single crochet of the key
    for name, content in prepared.drawings.items():
        assert f"press://photo/{name}" in prepared.html
        ET.fromstring(content)
    assert 'alt="Symbol chart: ' in prepared.html
    assert set(prepared.drawings) <= set(prepared.job().pictures)


def test_a_large_drawing_goes_over_several_sheets_with_captions(make_pattern: Callable[..., Pattern]) -> None:
    pattern = make_pattern(text="Row 1: Ch 121, sc in 2nd ch from hook and in each ch across. (120 sts)\n")
    paper = chart_paper(charted(pattern), "a4")
    assert paper is not None
    (figure,) = paper.figures
    assert len(figure.sheets) > 1
    assert figure.sheets[0].caption.startswith(f"Sheet 1 of {len(figure.sheets)}: row 1, column 1.")
    assert len({sheet.name for sheet in figure.sheets}) == len(figure.sheets)


def test_the_printed_chart_is_a_figure_with_words_and_nothing_is_found_by_the_checker(
    make_pattern: Callable[..., Pattern], tmp_path: Path
) -> None:
    """PDF/UA-1 (ISO 14289-1:2014) as far as `pdfua` checks it, and our own look at the figures."""
    pattern = make_pattern(text=TWO_COLOURS)
    checked = check(source_of(pattern), pattern.terms)
    revision = freeze(pattern, checked, version="1.0.0")
    shown = edition(revision, None, charts_to_keep(revision, checked, "jis"))
    file = tmp_path / "paper.pdf"
    file.write_bytes(pdf_of(prepare(revision, shown, Paper.A4, current_studio())))
    assert [str(finding) for finding in pdfua.validate(file).findings] == []
    with pikepdf.open(file) as pdf:
        alts = [
            str(each["/Alt"])
            for each in pdf.objects
            if isinstance(each, pikepdf.Dictionary) and "/Alt" in each
        ]
    assert sum(alt.startswith("Symbol chart: ") for alt in alts) == 1
    assert "symbol for sc" in alts


def test_no_chart_no_paper() -> None:
    assert chart_paper(None, "a4") is None
