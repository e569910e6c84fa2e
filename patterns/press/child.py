"""The child process of the press: `python -m patterns.press.child MEMORY_BYTES`. No Django here.

Reads jobs from standard input, writes PDFs to standard output, until the input ends.
"""

from __future__ import annotations

import contextlib
import logging
import os
import sys
from collections.abc import Mapping
from typing import IO, Any

import weasyprint
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from patterns.press.job import SCHEME, PrintJob, receive, send, unpacked
from patterns.press.tagging import finish_tags
from workroom.fonts import font_path

PHOTO = f"{SCHEME}://photo/"
FONT = f"{SCHEME}://font/"


class Shelf(URLFetcher):  # type: ignore[misc] # WeasyPrint has no types
    """Serves the pictures of one job and our own fonts, by name, and nothing else."""

    def __init__(self, pictures: Mapping[str, bytes]) -> None:
        super().__init__(allowed_protocols=(SCHEME,), allow_redirects=False)
        self.pictures = pictures

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        if url.startswith(PHOTO) and (picture := self.pictures.get(url.removeprefix(PHOTO))):
            return URLFetcherResponse(url, picture)
        if url.startswith(FONT) and (name := url.removeprefix(FONT)).isascii():
            return URLFetcherResponse(url, self.font(name))
        raise ValueError(f"The press reaches nothing at {url[:80]}")

    @staticmethod
    def font(name: str) -> bytes:
        if not name.replace("-", "").isalnum():
            raise ValueError(name)
        return font_path(name).read_bytes()


class Printer:
    """WeasyPrint kept warm: fonts and style sheets are read once."""

    def __init__(self) -> None:
        self.fonts = FontConfiguration()
        self.sheets: dict[str, weasyprint.CSS] = {}

    def sheet(self, css: str) -> weasyprint.CSS:
        """The parsed style sheet; a handful are kept."""
        if css not in self.sheets:
            if len(self.sheets) > 8:
                self.sheets.clear()
            fetcher = Shelf({})
            self.sheets[css] = weasyprint.CSS(
                string=css, font_config=self.fonts, url_fetcher=fetcher, base_url=f"{SCHEME}://css/"
            )
        return self.sheets[css]

    def print_pdf(self, job: PrintJob) -> bytes:
        page = weasyprint.HTML(string=job.html, base_url=f"{SCHEME}://page/", url_fetcher=Shelf(job.pictures))
        pdf: bytes = page.write_pdf(
            stylesheets=[self.sheet(job.css)],
            font_config=self.fonts,
            pdf_variant=job.variant or None,
            finisher=finish_tags,
        )
        return pdf


def limit_memory(size: int) -> None:
    """Refuse more address space than this, where the system knows such a limit."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # noqa: PLC0415 - absent on Windows

        resource.setrlimit(resource.RLIMIT_AS, (size, size))


def serve(jobs: IO[bytes], papers: IO[bytes]) -> None:
    """Print one job after another; a job that fails is answered with its reason."""
    printer = Printer()
    send(papers, b"ready")
    while True:
        try:
            answer = (b"pdf", printer.print_pdf(unpacked(jobs)))
        except EOFError:
            return
        except MemoryError:
            answer = (b"failed", b"it needs more memory than the press may take")
        except Exception as error:  # noqa: BLE001 - whatever it was, the parent is told
            answer = (b"failed", f"{type(error).__name__}: {error}".encode()[:2000])
        send(papers, *answer)


def main() -> None:
    """Keep standard output for papers alone: whatever else prints goes to standard error."""
    limit_memory(int(sys.argv[1]))
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    papers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    serve(sys.stdin.buffer, papers)


__all__ = ["Printer", "Shelf", "limit_memory", "receive", "serve"]

if __name__ == "__main__":
    main()
