"""Measurements taken over into the facts: the words for each size, and the one act that writes them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from django.db import transaction
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from craft.fabric.measure import Measured, PartSize, What
from patterns.measures.words import both_units
from patterns.models import ONE_SIZE, Pattern, PatternSize
from patterns.services import facts_claim

__all__ = ["NothingToTakeError", "finished_take", "finished_words"]

_PRINTED: Final[Mapping[What, str | Promise]] = {
    What.DIAMETER: gettext_lazy("%s across"),
    What.ACROSS: gettext_lazy("%s square"),
    What.CIRCUMFERENCE: gettext_lazy("%s around"),
    What.WIDTH: gettext_lazy("%s wide"),
    What.LENGTH: gettext_lazy("%s long"),
    What.HEIGHT: gettext_lazy("%s high"),
    What.DEPTH: gettext_lazy("%s deep"),
}
LONGEST: Final = 160
"""Letters that the field takes."""


class NothingToTakeError(RuntimeError):
    """No length of that part is known in some size; the text says so."""


def finished_words(parts: Sequence[PartSize], size: int) -> str:
    """What a size measures, as the facts print it: "43 cm (17 in) around, 18 cm (7¼ in) deep"."""
    sentences = []
    for part in (each for each in parts if each.size == size):
        lengths = ", ".join(str(_PRINTED[each.what]) % _printed(each) for each in _printed_lengths(part))
        several = len({each.section_index for each in parts}) > 1 and part.title
        sentences.append(f"{part.title}: {lengths}" if several else lengths)
    words = "; ".join(sentence for sentence in sentences if sentence)
    return words if len(words) <= LONGEST else words[: LONGEST - 1].rstrip(" ,;") + "…"


def _printed(length: Measured) -> str:
    about = _("about %s") if length.high > length.low else "%s"
    return about % both_units(length.mm)


def _printed_lengths(part: PartSize) -> Iterator[Measured]:
    """What is printed of a part: a tube by its circumference, a hat by its depth, nothing that is open."""
    names = {each.what for each in part.lengths}
    left_out = {What.OPENING, What.NARROWEST, What.SIDE}
    if What.DEPTH in names:
        left_out |= {What.HEIGHT, What.DIAMETER}
    elif What.CIRCUMFERENCE in names and not part.filled and What.LENGTH not in names:
        left_out.add(What.DIAMETER)
    elif What.CIRCUMFERENCE in names:
        left_out.add(What.CIRCUMFERENCE)
    for each in part.lengths:
        if each.what not in left_out and not each.at_least:
            yield each


def finished_take(pattern: Pattern, *, seen: int, words: Sequence[str]) -> None:
    """Put measured words, one for each size in order, into the facts. Raises StaleEditError where somebody
    saved the facts since `seen`, NothingToTakeError where a size would get none.
    """
    if not words or not all(words):
        raise NothingToTakeError(
            _(
                "Not every size could be measured, so nothing was taken over. Mend the rounds that are not "
                "known."
            )
        )
    with transaction.atomic():
        facts_claim(pattern, seen=seen)
        rows = list(pattern.sizes.all())
        if not rows:
            rows = [PatternSize(pattern=pattern, key=ONE_SIZE, label=_("One size"), position=0)]
        if len(rows) != len(words):
            raise NothingToTakeError(
                _("The text has %(text)d sizes and the facts have %(facts)d. Make them agree first.")
                % {"text": len(words), "facts": len(rows)}
            )
        for row, finished in zip(rows, words, strict=True):
            row.finished = finished
            row.save()
