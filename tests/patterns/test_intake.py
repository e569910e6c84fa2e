"""Files of word processors into text, texts into fields: nothing may be lost on the way."""

import zipfile
from io import BytesIO

import docx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from odf.opendocument import OpenDocumentText
from odf.text import (
    H,
    LineBreak,
    List,
    ListItem,
    ListLevelStyleNumber,
    ListStyle,
    Note,
    NoteBody,
    NoteCitation,
    P,
    S,
)

from patterns.incoming import NotATextError
from patterns.intake import packed, read_document, split
from patterns.source import cleaned_text

OLD = """\
Harbour Mat
By Two Gulls

Materials
Sandpiper worsted, 50 g
Hook: 5 mm
Gauge: 14 sc and 16 rows = 10 cm
Sizes: S (M, L)
Special stitches:
Puff: yo 3 times
Notes:
Ch 1 never counts.

Mat
Rnd 1: 6 (8, 10) sc in a magic ring. (6 (8, 10))
Blorb the flange.
Rnd 2: 2 sc in each st around. (12 (16, 20))
Finishing
Weave in ends.
© Two Gulls
"""


def word_file() -> bytes:
    document = docx.Document()
    document.add_heading("Mat", 0)
    document.add_paragraph("½ × “six”\nnext line")
    document.add_paragraph("6 sc in ring", style="List Number")
    document.add_paragraph("inc around", style="List Number")
    row = document.add_table(1, 2).rows[0]
    row.cells[0].text, row.cells[1].text = "Rnd 3", "12 sc"
    document.sections[0].footer.paragraphs[0].text = "© Two Gulls"
    return saved(document.save)


def writer_file() -> bytes:
    document = OpenDocumentText()
    numbers = ListStyle(name="L1")
    numbers.addElement(ListLevelStyleNumber(level="1", numprefix="Rnd ", numsuffix=":", numformat="1"))
    document.automaticstyles.addElement(numbers)
    document.text.addElement(H(outlinelevel=1, text="Mat"))
    paragraph = P(text="½ × “six”")
    paragraph.addElement(LineBreak())
    paragraph.addText("next")
    paragraph.addElement(S(c=3))
    paragraph.addText("line")
    note, body = Note(noteclass="footnote"), NoteBody()
    note.addElement(NoteCitation(text="1"))
    body.addElement(P(text="A footnote"))
    note.addElement(body)
    paragraph.addElement(note)
    document.text.addElement(paragraph)
    rounds = List(stylename="L1")
    for words in ("6 sc in ring", "inc around"):
        item = ListItem()
        item.addElement(P(text=words))
        rounds.addElement(item)
    document.text.addElement(rounds)
    return saved(document.write)


def saved(save: object) -> bytes:
    out = BytesIO()
    save(out)  # type: ignore[operator]  # either library's own way to save
    return out.getvalue()


def zipped(**members: bytes) -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in members.items():
            file.writestr(name.replace("__", "/").replace("_xml", ".xml"), content)
    return out.getvalue()


def test_a_word_file_keeps_signs_breaks_numbers_tables_and_the_foot_of_the_page() -> None:
    assert read_document(BytesIO(word_file())).text == (
        "Mat\n½ × “six”\nnext line\n1. 6 sc in ring\n2. inc around\nRnd 3\t12 sc\n© Two Gulls\n"
    )


def test_an_odt_file_keeps_signs_breaks_numbers_and_footnotes() -> None:
    assert read_document(BytesIO(writer_file())).text == (
        "Mat\n½ × “six”\nnext   line\nRnd 1: 6 sc in ring\nRnd 2: inc around\nA footnote\n"
    )


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"PK\x03\x04 cut short", "This file is damaged or locked."),
        (zipped(something=b"x"), "This is no document."),
        (zipped(word__document_xml=b"<broken"), "This document could not be read."),
        (zipped(word__document_xml=b'<!DOCTYPE x [<!ENTITY a "aa">]><x/>'), "damaged or locked"),
        (zipped(word__document_xml=b" " * (packed.LARGEST_XML + 1)), "unpacks to more than is taken"),
        (b"PK\x03\x04" + b"x" * packed.LARGEST_FILE, "larger than 12 MB"),
        (b"%PDF-1.7", "This is a pdf file."),
    ],
)
def test_what_can_t_be_read_is_refused_with_a_way_out(content: bytes, says: str) -> None:
    with pytest.raises(NotATextError, match=says):
        read_document(BytesIO(content))


def test_line_breaks_of_a_word_processor_become_lines_and_signs_stay() -> None:
    assert cleaned_text("½ × “a”\x0bb\u2028c\r\nd") == "½ × “a”\nb\nc\nd"


def test_facts_are_told_from_instructions() -> None:
    intake = split(OLD)
    assert intake.title == "Harbour Mat"
    assert intake.introduction == "By Two Gulls"
    assert (intake.sizes, intake.hook_mm) == (("S", "M", "L"), 5.0)
    assert (intake.gauge_stitches, intake.gauge_rows, intake.gauge_over_cm) == (14, 16, 10)
    assert intake.special_stitches == "Puff: yo 3 times"
    assert intake.notes == "Materials\nSandpiper worsted, 50 g\nCh 1 never counts."
    assert intake.text.startswith("Mat\nRnd 1:")
    assert "Blorb the flange." in intake.text
    assert (intake.finishing, intake.licence) == ("Weave in ends.", "© Two Gulls")


def test_a_fact_that_says_more_than_its_field_stays_in_the_notes() -> None:
    intake = split(OLD.replace("Hook: 5 mm", "Hook: 5 mm, or what meets gauge"))
    assert intake.hook_mm == 5.0
    assert "Hook: 5 mm, or what meets gauge" in intake.notes


def test_a_text_without_work_is_left_whole_for_the_designer() -> None:
    assert split("Fry the onions.\nAdd 2 carrots.").text == "Fry the onions.\nAdd 2 carrots."


LINES = st.sampled_from(
    [*OLD.split("\n"), "Rnd 3: sc around. (12)", "Flumm 7 zorks", "Body", "", "Tension: 5"]
)


@given(st.lists(LINES, max_size=25))
@settings(max_examples=150, deadline=None)
def test_every_word_stands_in_some_field(lines: list[str]) -> None:
    intake = split("\n".join(lines))
    words = " ".join(str(getattr(intake, name)) for name in type(intake).__dataclass_fields__)
    heard = {"Notes:", "Special", "stitches:", "Finishing", "Hook:", "Gauge:", "Sizes:"}
    said = {"5", "mm", "14", "sc", "and", "16", "rows", "=", "10", "cm", "S", "(M,", "L)"}
    for word in {word for line in lines for word in line.split()} - heard - said:
        assert word in words
