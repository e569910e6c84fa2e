"""What the page of the form shows of measurements, flatness and profile: the page's values for one piece."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from patterns.checking import Checked
from patterns.measures import MeasuresPage, measures_page
from patterns.models import Pattern

__all__ = ["context"]


def context(
    pattern: Pattern, checked: Checked, size_index: int = 0, section_indexes: Collection[int] = ()
) -> dict[str, MeasuresPage | None]:
    """Values for `templates/patterns/_form_measures.html` (style sheet `css/measures.css`): `page`, None
    for a text that could not be checked. `section_indexes`: the sections of the piece shown, all where
    empty.
    """
    page = measures_page(pattern, checked, size_index)
    if page is not None and section_indexes:
        page = replace(page, parts=tuple(part for part in page.parts if part.index in section_indexes))
    return {"page": page}
