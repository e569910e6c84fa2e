"""The symbol chart that goes with a revision: kept when it is published, drawn again from what was kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from functools import lru_cache
from typing import Any, Final

from django.utils.translation import get_language

from craft.charting import SymbolSet, from_plain, to_plain
from patterns.checking import Checked
from patterns.models import Revision, RevisionChart
from patterns.symbol_chart import SymbolChart, live_pieces, symbol_chart

__all__ = ["charts_to_keep", "published_chart"]

KEPT: Final = 32


def charts_to_keep(revision: Revision, checked: Checked, symbols: str) -> list[RevisionChart]:
    """The charts of a revision, one for each size, not yet kept. `revision`: what `freeze` made."""
    return list(_charts(revision.facts["sizes"], checked, symbols))


def _charts(sizes: Sequence[Mapping[str, Any]], checked: Checked, symbols: str) -> Iterator[RevisionChart]:
    for place, size in enumerate(sizes):
        found = live_pieces(checked.fabric, place if place < max(len(checked.sizes), 1) else 0)
        if found:
            plain = [to_plain(piece) for piece in found]
            yield RevisionChart(size_key=size["key"], symbols=symbols, pieces=plain)


def published_chart(
    revision: Revision, size_key: str | None, charts: Sequence[RevisionChart] = ()
) -> SymbolChart | None:
    """The chart of a size, of the first one where none is chosen; None where the pattern shows none.

    `charts`: those of a revision that is not kept yet.
    """
    if revision._state.adding:
        row = next((chart for chart in charts if size_key in {None, chart.size_key}), None)
        return None if row is None else _drawn(revision, row)
    return _published(revision.pk, revision.published_at, size_key, get_language())


@lru_cache(maxsize=KEPT)
def _published(
    revision_id: int, published_at: datetime, size_key: str | None, language: str | None
) -> SymbolChart | None:
    """A revision never changes, so its chart is laid out once for each size and language."""
    kept = RevisionChart.objects.filter(revision_id=revision_id).select_related("revision").order_by("pk")
    row = (kept.filter(size_key=size_key) if size_key else kept).first()
    return None if row is None else _drawn(row.revision, row)


def _drawn(revision: Revision, row: RevisionChart) -> SymbolChart:
    sizes: list[Mapping[str, Any]] = revision.facts["sizes"]
    labels = {size["key"]: size["label"] for size in sizes}
    return symbol_chart(
        [from_plain(plain) for plain in row.pieces], revision.rounds, revision.facts, SymbolSet(row.symbols),
        size=labels[row.size_key] if len(sizes) > 1 else "",
    )  # fmt: skip
