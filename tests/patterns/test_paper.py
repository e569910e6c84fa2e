"""The PDF: tagged, titled, in its language, fonts inside, rounds with their counts, kept by its hash.

Held against PDF/UA-1 (ISO 14289-1:2014) as far as `pdfua` and our own look with pikepdf go. What `pdfua`
leaves out is printed by `pdfua rules`: it checks part of the machine-checkable rules only.
"""

import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pdfua
import pikepdf
import pytest
from django.test import Client

from patterns import paper
from patterns.edition import edition
from patterns.models import Pattern, PatternSize, Revision
from patterns.paper import Paper, pdf_of, prepare
from patterns.press import PaperTooLongError
from workroom.models import Studio

A4, LETTER = (595.276, 841.89), (612.0, 792.0)


def printed(revision: Revision, kind: Paper = Paper.A4, size: str | None = None) -> bytes:
    return pdf_of(prepare(revision, edition(revision, size), kind, Studio.objects.get()))


def words_of(content: bytes) -> str:
    """What a reader of the text gets, page by page, in reading order."""
    tool = shutil.which("pdftotext")
    assert tool, "pdftotext is missing. Run script/setup."
    done = subprocess.run([tool, "-", "-"], input=content, capture_output=True, check=True)
    return done.stdout.decode()


def elements(node: Any) -> Iterator[pikepdf.Dictionary]:
    """Every structure element below a node, in reading order."""
    children = node.get("/K", [])
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        if isinstance(child, pikepdf.Dictionary) and "/S" in child:
            yield child
            yield from elements(child)


@pytest.fixture
def content(published: Revision) -> bytes:
    return printed(published)


def test_the_document_says_what_it_is(content: bytes) -> None:
    with pikepdf.open(BytesIO(content)) as pdf:
        assert pdf.Root.Lang == "en"
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as metadata:
            assert metadata["dc:title"] == "Net Band"
            assert metadata["pdfuaid:part"] == "1"
        assert pdf.Root.Outlines.First.Title == "Net Band"


def test_every_font_is_inside(content: bytes) -> None:
    with pikepdf.open(BytesIO(content)) as pdf:
        fonts = {str(font.BaseFont): font for page in pdf.pages for font in page.Resources.Font.values()}
        assert fonts
        for name, font in fonts.items():
            descriptor = font.DescendantFonts[0].FontDescriptor
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor, name
            assert "/ToUnicode" in font, name
            assert "Book" in name or "Source" in name, name


def test_headings_lists_tables_and_pictures_are_told_apart(content: bytes) -> None:
    with pikepdf.open(BytesIO(content)) as pdf:
        found = list(elements(pdf.Root.StructTreeRoot))
        kinds = [str(element.S) for element in found]
        heads = [int(kind[2]) for kind in kinds if re.fullmatch(r"/H\d", kind)]
        assert heads[0] == 1
        assert all(after - before <= 1 for before, after in pairwise(heads))
        assert kinds.count("/H1") == 1
        assert {"/L", "/LI", "/LBody", "/Table", "/TR", "/TH", "/TD"} <= set(kinds)
        scopes = {str(element.A.Scope) for element in found if element.S == "/TH"}
        assert scopes == {"/Column", "/Row"}
        figures = [str(element.Alt) for element in found if element.S == "/Figure"]
        assert figures == ["A blue square."]


def test_page_furniture_is_no_part_of_the_reading(content: bytes) -> None:
    with pikepdf.open(BytesIO(content)) as pdf:
        for page in pdf.pages:
            drawn = page.Contents.read_bytes()
            begun = len(re.findall(rb"\b(?:BDC|BMC)\b", drawn))
            assert begun == len(re.findall(rb"\bEMC\b", drawn))
            assert b"/Artifact\nBMC" in drawn


def test_nothing_is_found_by_the_checker(content: bytes, tmp_path: Path) -> None:
    file = tmp_path / "paper.pdf"
    file.write_bytes(content)
    report = pdfua.validate(file)
    assert [str(finding) for finding in report.findings] == []


def test_rounds_counts_and_furniture_are_there(content: bytes) -> None:
    words = words_of(content)
    assert "6 (8, 10) sc in a magic ring." in words
    assert "12 (16, 20) sts" in words
    assert "Net Band · version 1.0.0" in words
    assert "page 1 of" in words
    assert "© Two Gulls Crochet · For your own making" in words
    assert "single crochet" in words
    assert re.search(r"Rnd 2\s+2 sc in each st around\.", words)


@pytest.mark.parametrize(("kind", "points"), [(Paper.A4, A4), (Paper.LETTER, LETTER)])
def test_both_papers(published: Revision, kind: Paper, points: tuple[float, float]) -> None:
    with pikepdf.open(BytesIO(printed(published, kind))) as pdf:
        box = [float(number) for number in pdf.pages[0].mediabox]
        assert box[2:] == pytest.approx(points, abs=0.1)


def test_one_size_alone(published: Revision) -> None:
    words = words_of(printed(published, size="l"))
    assert "10 sc in a magic ring." in words
    assert "6 (8, 10)" not in words
    assert "for size L" in words


def test_a_code_to_the_page_when_the_site_has_an_address(published: Revision) -> None:
    Studio.objects.update(site_address="https://two-gulls.example/")
    prepared = prepare(published, edition(published), Paper.A4, Studio.objects.get())
    assert prepared.address == "https://two-gulls.example/p/net-band/"
    assert b"<svg" in prepared.job().pictures["qr.svg"]
    with pikepdf.open(BytesIO(pdf_of(prepared))) as pdf:
        figures = [str(each.Alt) for each in elements(pdf.Root.StructTreeRoot) if each.S == "/Figure"]
    assert figures[-1] == "QR code for https://two-gulls.example/p/net-band/"


def test_the_same_paper_is_printed_once(published: Revision, monkeypatch: pytest.MonkeyPatch) -> None:
    first = printed(published)
    monkeypatch.setattr(paper, "press", lambda: pytest.fail("printed again"))
    assert printed(published) == first


def test_old_papers_make_room(published: Revision, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(paper, "KEPT_PAPERS", 2)
    for size in ("s", "m", "l"):
        Pattern.objects.update(title=f"Band {size}")
        printed(published, size=size)
    assert len(list(paper._folder().glob("*.pdf"))) == 2


def test_four_hundred_rounds_each_stay_with_their_count(
    make_pattern: Callable[..., Pattern], publish: Callable[..., Revision]
) -> None:
    lines = ["Rnd 1: 6 sc in a magic ring. (6 sts)"]
    lines += [f"Rnd {n}: Sc in each st around, and do take your time over it. (6 sts)" for n in range(2, 401)]
    content = printed(publish(make_pattern(text="\n".join(lines))))
    tool = shutil.which("pdftotext")
    assert tool
    done = subprocess.run([tool, "-layout", "-", "-"], input=content, capture_output=True, check=True)
    pages = done.stdout.decode().split("\f")
    assert len(pages) > 5
    for page in pages:
        labels = re.findall(r"(?m)^\s*Rnd \d+ ", page)
        counts = re.findall(r"(?m)6 sts$", page)
        assert len(labels) == len(counts)
    assert sum(len(re.findall(r"(?m)^\s*Rnd \d+ ", page)) for page in pages) == 400


@pytest.mark.parametrize(
    "facts",
    [
        {"title": ("Very Long " * 30).strip()},
        {"title": "כובע סרוג", "introduction": "כובע חם לחורף, סרוג מלמעלה למטה."},
        {"title": "قبعة", "notes": "مرحبا"},
        {"title": "Gull 🧶 & <b>Sons</b>", "licence": "<img src=file:///etc/passwd>"},
    ],
)
def test_unusual_words_are_printed(
    make_pattern: Callable[..., Pattern], publish: Callable[..., Revision], facts: dict[str, str]
) -> None:
    revision = publish(make_pattern(**facts))
    content = printed(revision)
    with pikepdf.open(BytesIO(content)) as pdf, pdf.open_metadata() as metadata:
        assert metadata["dc:title"] == revision.title


def test_ten_sizes_fit(make_pattern: Callable[..., Pattern], publish: Callable[..., Revision]) -> None:
    numbers = ", ".join(str(10 + n) for n in range(1, 10))
    pattern = make_pattern(text=f"Rnd 1: 10 ({numbers}) sc in a magic ring. (10 ({numbers}) sts)\n")
    for place in range(10):
        PatternSize.objects.create(pattern=pattern, key=f"s{place}", label=f"Size {place}", position=place)
    words = " ".join(words_of(printed(publish(pattern))).split())
    assert f"10 ({numbers}) sts" in words


# ---------------------------------------------------------------------------- the address


def test_the_address_gives_the_pdf(stranger_client: Client, published: Revision) -> None:
    answer = stranger_client.get("/p/net-band/a4.pdf")
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == 'inline; filename="net-band-1.0.0-a4.pdf"'
    assert answer.content.startswith(b"%PDF-1.7")
    again = stranger_client.get("/p/net-band/a4.pdf", headers={"If-None-Match": answer["ETag"]})
    assert again.status_code == 304


def test_one_size_has_a_name_of_its_own(stranger_client: Client, published: Revision) -> None:
    answer = stranger_client.get("/p/net-band/letter.pdf?size=m")
    assert 'filename="net-band-1.0.0-m-letter.pdf"' in answer["Content-Disposition"]


@pytest.mark.parametrize(
    "address", ["/p/none/a4.pdf", "/p/net-band/a5.pdf", "/p/net-band/a4.pdf?size=xl", "/p/small-disc/a4.pdf"]
)
def test_what_is_not_there_is_not_found(
    stranger_client: Client, published: Revision, pattern: Pattern, address: str
) -> None:
    assert stranger_client.get(address).status_code == 404


def test_a_press_that_fails_is_told_kindly(
    stranger_client: Client, published: Revision, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Stuck:
        def print_pdf(self, job: object) -> bytes:
            raise PaperTooLongError(60)

    Pattern.objects.update(title="Another")
    Studio.objects.update(name="Stuck studio")
    monkeypatch.setattr(paper, "press", Stuck)
    answer = stranger_client.get("/p/net-band/a4.pdf")
    assert answer.status_code == 503
    assert "The PDF could not be made just now." in answer.content.decode()
