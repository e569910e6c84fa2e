"""Texts from files."""

from io import BytesIO

import pytest

from patterns.incoming import IncomingText, NotATextError, read_text_file
from patterns.source import LARGEST_TEXT

WORDS = "Rnd 1: 6 sc – naïve “quotes” 🧶"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_unicode_is_read_as_it_is(encoding: str) -> None:
    assert read_text_file(BytesIO(WORDS.encode(encoding))) == IncomingText(WORDS)


def test_the_old_western_code_is_guessed_and_said() -> None:
    words = "Rnd 1 – “naïve”"
    assert read_text_file(BytesIO(words.encode("cp1252"))) == IncomingText(words, guessed=True)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"PK\x03\x04rest", "This is a docx file. Save it as plain text (.txt) and choose that."),
        (b"%PDF-1.7", "This is a pdf file. Save it as plain text (.txt) and choose that."),
        (b"\x89PNG\r\n\x1a\n\0\0\0", "This file is not plain text. Save it as plain text (.txt), in UTF-8."),
        (b"\xff\xfea", "This file is not plain text. Save it as plain text (.txt), in UTF-8."),
        (
            b"x" * (LARGEST_TEXT * 4 + 1),
            "This file is too large for one pattern. Split it and choose a part.",
        ),
    ],
)
def test_what_is_no_text_is_refused(content: bytes, says: str) -> None:
    with pytest.raises(NotATextError) as refusal:
        read_text_file(BytesIO(content))
    assert str(refusal.value) == says
