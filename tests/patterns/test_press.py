"""The press: one warm child, ended when it takes too long, that reaches only what it is given."""

from collections.abc import Iterator

import pytest

from patterns.press import PaperFailedError, PaperTooLongError, Press, PrintJob
from patterns.press.child import Shelf
from patterns.press.parent import JOBS_A_CHILD

CSS = "@font-face { font-family: S; src: url(press://font/SourceSerifPro-Regular) } body { font-family: S }"
PAGE = '<html lang="en"><title>A page</title><h1>Words</h1></html>'


@pytest.fixture(scope="module")
def warm() -> Iterator[Press]:
    press = Press(time_limit_s=60)
    yield press
    press.close()


def test_it_prints(warm: Press) -> None:
    assert warm.print_pdf(PrintJob(PAGE, CSS)).startswith(b"%PDF-1.7")


def test_one_child_prints_them_all(warm: Press) -> None:
    warm.print_pdf(PrintJob(PAGE, CSS))
    first = warm._child
    warm.print_pdf(PrintJob(PAGE, CSS))
    assert warm._child is first


def test_a_worn_child_is_replaced(warm: Press) -> None:
    warm.print_pdf(PrintJob(PAGE, CSS))
    first, warm._printed = warm._child, JOBS_A_CHILD
    assert warm.print_pdf(PrintJob(PAGE, CSS)).startswith(b"%PDF")
    assert warm._child is not first


def test_a_child_that_was_killed_is_replaced(warm: Press) -> None:
    warm.print_pdf(PrintJob(PAGE, CSS))
    child = warm._child
    assert child is not None
    child.kill()
    child.wait()
    assert warm.print_pdf(PrintJob(PAGE, CSS)).startswith(b"%PDF")


def test_a_job_that_takes_too_long_is_stopped_and_the_next_is_printed() -> None:
    press = Press(time_limit_s=1.5)
    endless = "<table>" + "<tr><td>x</td></tr>" * 60_000 + "</table>"
    with pytest.raises(PaperTooLongError, match=r"longer than 1\.5 seconds"):
        press.print_pdf(PrintJob(endless, ""))
    press.time_limit_s = 60
    assert press.print_pdf(PrintJob(PAGE, "")).startswith(b"%PDF")
    press.close()


def test_a_job_that_needs_too_much_memory_fails_and_the_next_is_printed() -> None:
    press = Press(time_limit_s=120, memory_bytes=420 * 1024 * 1024)
    with pytest.raises(PaperFailedError):
        press.print_pdf(PrintJob("<p>" + "x" * 80_000_000, ""))
    assert press.print_pdf(PrintJob(PAGE, "")).startswith(b"%PDF")
    press.close()


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/passwd",
        "http://127.0.0.1:1/x",
        "https://example.org/x.png",
        "ftp://127.0.0.1/x",
        "data:image/png;base64,AAAA",
        "press://font/../../../../etc/passwd",
        "press://font/No-Such-Face",
        "press://photo/another.jpg",
        "press://css/",
    ],
)
def test_the_shelf_reaches_nothing_else(address: str) -> None:
    with pytest.raises((ValueError, LookupError)):
        Shelf({"mine.jpg": b"bytes"}).fetch(address)


def test_the_shelf_gives_what_the_job_carries_and_our_fonts() -> None:
    shelf = Shelf({"mine.jpg": b"bytes"})
    assert shelf.fetch("press://photo/mine.jpg").read() == b"bytes"
    assert shelf.fetch("press://font/SourceSansPro-Regular").read()[:4] == b"\0\1\0\0"


def test_a_picture_from_elsewhere_is_left_out_and_the_page_printed(warm: Press) -> None:
    page = f"{PAGE}<img alt='x' src='file:///etc/passwd'><link rel='stylesheet' href='http://127.0.0.1:1/'>"
    assert warm.print_pdf(PrintJob(page, CSS)).startswith(b"%PDF")
