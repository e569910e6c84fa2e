"""/desk/patterns/<slug>/sheet/, its PDF, and /chart/: what an editor looks at."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pdfua
import pikepdf
import pytest
from django.test import Client

from patterns.chart import charts
from patterns.checking import check
from patterns.models import Pattern
from patterns.press import PaperFailedError, Press
from patterns.round_rows import round_rows
from patterns.selectors import source_of
from patterns.services import remark_set_aside
from patterns.sheet import sheet_of
from tests.patterns.examples import DISC, DISC_WRONG
from tests.patterns.test_paper import words_of
from workroom.models import Person

ADDRESSES = [f"/desk/patterns/small-disc/{name}" for name in ("sheet/", "sheet.pdf", "chart/")]


def test_a_sheet_says_what_was_found_set_aside_and_not_checked(
    make_pattern: Callable[..., Pattern], designer: Person
) -> None:
    pattern = make_pattern(text=DISC_WRONG.replace("(12 sts)", "(13 sts)") + "Rnd 4: Blorb the flange.\n")
    sheet = sheet_of(pattern)
    wrong = [row for row in sheet.found if row.remark.check == "count-differs"]
    assert [(row.remark.line, row.line) for row in wrong] == [
        (3, "Rnd 2: 2 sc in each st around. (13 sts)"),
        (4, "Rnd 3: [Sc in next st, 2 sc in next st] 6 times. (19 sts)"),
    ]
    remark = wrong[0].remark
    remark_set_aside(pattern, check=remark.check, line=remark.words, reason="the join is one", by=designer)
    sheet = sheet_of(pattern)
    assert [row.remark.aside for row in sheet.aside] == ["the join is one"]
    assert [row.line for row in sheet.not_counted] == [5]
    assert sheet.draft == "1.0"


def test_made_and_omitted_checks_are_all_checks_once(pattern: Pattern) -> None:
    sheet = sheet_of(pattern)
    made = [page.slug for group in sheet.made for page in group.pages]
    omitted = [each.page.slug for each in sheet.omitted]
    assert omitted
    assert not set(made) & set(omitted)
    assert len(made) == sheet.number_made == len(set(made))


def test_the_page_shows_counts_reasons_and_the_draft(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text=DISC_WRONG)
    page = " ".join(designer_client.get(ADDRESSES[0]).content.decode().split())
    assert "Technical edit of draft 1.0, as saved." in page
    assert "(count-differs)" in page
    assert "Needs the gauge." in page
    assert "A round uses every stitch of the round below." in page


def test_the_paper_has_the_draft_s_number_on_every_page_and_is_open_to_readers(
    designer_client: Client, pattern: Pattern, tmp_path: Path
) -> None:
    answer = designer_client.get(ADDRESSES[1])
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Cache-Control"] == "private, no-store"
    file = tmp_path / "sheet.pdf"
    file.write_bytes(answer.content)
    assert [str(finding) for finding in pdfua.validate(file).findings] == []
    with pikepdf.open(BytesIO(answer.content)) as pdf:
        assert pdf.docinfo.Title == "Technical edit: Small Disc, draft 1.0"
        number = len(pdf.pages)
    assert number > 1
    assert words_of(answer.content).count("Small Disc · draft 1.0") == number


def test_a_press_that_fails_leaves_the_page(
    designer_client: Client, pattern: Pattern, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*args: object) -> bytes:
        raise PaperFailedError("no ink")

    monkeypatch.setattr(Press, "print_pdf", fail)
    monkeypatch.setattr("patterns.paper._folder", lambda: Path("/nowhere"))
    answer = designer_client.get(ADDRESSES[1])
    assert answer.status_code == 503
    assert "The PDF could not be made just now" in answer.content.decode()
    assert "Counts, round by round" in answer.content.decode()


def test_a_text_that_is_none_gives_an_honest_sheet_and_no_chart(
    designer_client: Client, make_pattern: Callable[..., Pattern]
) -> None:
    make_pattern(text="🧶 <b>onions</b>")
    assert designer_client.get(ADDRESSES[0]).status_code == 200
    assert "No chart yet" in designer_client.get(ADDRESSES[2]).content.decode()


def test_the_chart_is_drawn_to_scale(pattern: Pattern) -> None:
    (drawing,) = charts(round_rows(check(source_of(pattern), pattern.terms)), 0)
    assert (drawing.first, drawing.most, drawing.last) == (6, 18, 18)
    heights = [float(dot.y) for dot in drawing.dots]
    assert heights[0] - heights[1] == pytest.approx(heights[1] - heights[2], abs=0.2)
    assert drawing.lines == (" ".join(f"{dot.x},{dot.y}" for dot in drawing.dots),)
    assert [tick.label for tick in drawing.across] == ["1", "2", "3"]


def test_a_round_that_is_not_worked_out_breaks_the_line(make_pattern: Callable[..., Pattern]) -> None:
    text = DISC + "Rnd 4: Blorb the flange.\nRnd 5: sc in each st around. (24 sts)\n"
    text += "Rnd 6: sc in each st around. (24 sts)\n"
    pattern = make_pattern(text=text)
    rows = round_rows(check(source_of(pattern), pattern.terms))
    (drawing,) = charts(rows, 0)
    unknown = [row.number for row in rows if row.totals[0] is None]
    assert unknown
    assert len(drawing.lines) == 2
    assert len(drawing.dots) == len(rows) - len(unknown)


def test_each_size_has_its_chart(designer_client: Client, full_pattern: Pattern) -> None:
    for size, last in (("", 12), ("1", 16), ("2", 20), ("99", 12), ("x", 12)):
        page = designer_client.get("/desk/patterns/net-band/chart/", {"size": size}).content.decode()
        assert f"ends with {last}." in page


@pytest.mark.parametrize("address", ADDRESSES)
def test_strangers_wrong_roles_and_methods(
    stranger_client: Client, seller_client: Client, assistant_client: Client, designer_client: Client,
    pattern: Pattern, address: str,
) -> None:  # fmt: skip
    assert stranger_client.get(address).status_code == 302
    assert seller_client.get(address).status_code == 403
    assert assistant_client.get(address).status_code == 403
    assert designer_client.post(address).status_code == 405
    assert designer_client.get(address.replace("small-disc", "none")).status_code == 404
