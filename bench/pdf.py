"""Printing a pattern's PDF, as a ratio to bare WeasyPrint on the same HTML, both warm, in one run.

Ours: the job through the pipe to the press and the PDF back. Bare: `weasyprint.HTML(...).write_pdf(...)`
in this process, with the same style sheet, pictures, fonts and variant, read anew for each document, as
a call without a press does. Bound kept in mind: 1.15. And what a reader waits for the second time: the
paper from its shelf.
"""

from __future__ import annotations

import os
import statistics
import tempfile
import time
from collections.abc import Callable

RUNS = 12


def measured(works: dict[str, Callable[[], object]]) -> dict[str, float]:
    """Median seconds of each, run in turn so that all meet the same machine."""
    times: dict[str, list[float]] = {name: [] for name in works}
    for _run in range(RUNS):
        for name, work in works.items():
            start = time.perf_counter()
            work()
            times[name].append(time.perf_counter() - start)
    return {name: statistics.median(taken) for name, taken in times.items()}


def set_up(folder: str) -> None:
    """An own data folder with the demo in it."""
    os.environ["HOOKLEDGER_DATA"] = folder
    os.environ["HOOKLEDGER_SECRET_KEY"] = "a key for the bench only, that guards nothing at all, long"  # noqa: S105
    os.environ["DJANGO_SETTINGS_MODULE"] = "hookledger.settings"
    import django  # noqa: PLC0415 - the environment has to be set first

    django.setup()
    from django.core.management import call_command  # noqa: PLC0415

    from patterns import demo  # noqa: PLC0415
    from workroom.demo import make_cast  # noqa: PLC0415

    call_command("migrate", verbosity=0)
    demo.make(make_cast())


def compare(slug: str) -> None:
    """Print the ratios for one pattern of the demo."""
    import weasyprint  # noqa: PLC0415 - after the settings

    from patterns.edition import edition  # noqa: PLC0415
    from patterns.paper import Paper, pdf_of, prepare  # noqa: PLC0415
    from patterns.press import press  # noqa: PLC0415
    from patterns.press.child import Shelf  # noqa: PLC0415
    from patterns.selectors import published_or_404  # noqa: PLC0415
    from workroom.selectors import current_studio  # noqa: PLC0415

    revision = published_or_404(slug)
    prepared = prepare(revision, edition(revision), Paper.A4, current_studio())
    job = prepared.job()
    shelf = Shelf(job.pictures)

    whole = job.html.replace("</head>", f"<style>{job.css}</style></head>")

    def bare() -> object:
        page = weasyprint.HTML(string=whole, url_fetcher=shelf, base_url="press://page/")
        return page.write_pdf(pdf_variant=job.variant)

    def ours() -> object:
        return press().print_pdf(job)

    works = {"bare": bare, "ours": ours, "shelf": lambda: pdf_of(prepared)}
    for work in works.values():
        work()
    taken = measured(works)
    print(f"{slug}: bare WeasyPrint {taken['bare'] * 1000:.0f} ms, the press {taken['ours'] * 1000:.0f} ms")
    print(f"  press / bare = {taken['ours'] / taken['bare']:.2f} (bound 1.15)")
    print(f"  from the shelf / bare = {taken['shelf'] / taken['bare']:.4f}")


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="hookledger-bench-") as folder:
        set_up(folder)
        for slug in ("harbour-coasters", "pip-the-gull"):
            compare(slug)


if __name__ == "__main__":
    main()
