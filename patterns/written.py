"""A pattern's words written anew: in other terms, in a house style, for one size, without repeats.

`written(pattern, choice)` writes the saved text together with the facts that a printed pattern has above it,
and the instructions alone, as they would go into the draft.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, Literal, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from craft.fabric import with_passes
from craft.notation import HouseStyle, read
from craft.notation.tree import Draft, Span
from craft.notation.writing import write_within
from patterns.models import Pattern
from patterns.selectors import source_of
from workroom.models import Terms

__all__ = ["WritingForm", "Written", "pattern_draft", "written"]

LONGEST: Final = 60_000
"""Code points; a pattern of a hundred rounds has about 10,000."""

_REPEATS: Final = (
    ("keep", gettext_lazy("as they are")),
    ("brackets", gettext_lazy("in brackets: (sc, inc) x 6")),
    ("stars", gettext_lazy("with stars: *sc, inc; rep from * around")),
    ("out", gettext_lazy("none: every pass written out")),
)
_INCREASES: Final = (
    ("keep", gettext_lazy("as they are")),
    ("inc", gettext_lazy("inc")),
    ("spelled", gettext_lazy("2 sc in next st")),
)
_COUNTS: Final = (("brackets", "(24 sc)"), ("dash", "\u2014 24 sc"))
_ROUNDS: Final = (("Rnd", "Rnd 3:"), ("Round", "Round 3:"), ("R", "R3:"))


class TooLongToWriteError(ValueError):
    """A text that would keep the workroom busy for too long; the text says so."""


class WritingForm(forms.Form):
    """How to write it. `size` is a position among the sizes of the text, "" for all."""

    terms = forms.ChoiceField(label=gettext_lazy("Terms"), choices=Terms.choices)
    size = forms.ChoiceField(label=gettext_lazy("Size"), required=False)
    repeats = forms.ChoiceField(label=gettext_lazy("Repeats"), choices=_REPEATS)
    increases = forms.ChoiceField(label=gettext_lazy("Increases"), choices=_INCREASES)
    round_word = forms.ChoiceField(label=gettext_lazy("Rounds begin"), choices=_ROUNDS)
    counts = forms.ChoiceField(label=gettext_lazy("Counts"), choices=_COUNTS)

    def __init__(self, draft: Draft, data: Any, *, terms: str) -> None:
        """`data` as sent; a field that was not sent has what changes nothing."""
        unchanged = {
            "terms": terms, "size": "", "repeats": "keep", "increases": "keep", "round_word": "Rnd",
            "counts": "brackets",
        }  # fmt: skip
        super().__init__({**unchanged, **{name: data[name] for name in unchanged if name in data}})
        sizes = [(str(position), name) for position, name in enumerate(draft.sizes)]
        cast("forms.ChoiceField", self.fields["size"]).choices = [("", _("all sizes")), *sizes]
        if not sizes:
            del self.fields["size"]

    def style(self) -> HouseStyle:
        """The house style that was chosen. The form must be valid."""
        said = self.cleaned_data
        repeats = said["repeats"]
        return HouseStyle(
            repeats="keep" if repeats == "out" else repeats,
            increases=said["increases"],
            round_word=said["round_word"],
            counts=said["counts"],
        )

    @property
    def size_position(self) -> int | None:
        size = self.cleaned_data.get("size", "")
        return int(size) if size else None


@dataclass(frozen=True, slots=True)
class Written:
    """`whole` with the facts above and below, `text` the instructions alone.

    `fits`: whether `text` can stand in the draft; not in other terms, and not with one size only.
    """

    whole: str
    text: str
    fits: bool


def pattern_draft(pattern: Pattern) -> tuple[Draft, Span]:
    """The draft of all words, and where the instructions stand in it. Raises TooLongToWriteError."""
    source = source_of(pattern)
    if len(source.whole) > LONGEST:
        raise TooLongToWriteError(
            _("These instructions are too long to be written anew in one go. Split them into two patterns.")
        )
    draft = read(source.whole, terms=pattern.terms)
    return draft, Span(len(source.head), source.text_end)


def written(pattern: Pattern, draft: Draft, within: Span, form: WritingForm) -> Written:
    """The words as the form asks for them."""
    said = form.cleaned_data
    terms = cast("Literal['us', 'uk']", said["terms"])
    position = form.size_position
    size = None if position is None else draft.sizes[position]
    out = said["repeats"] == "out"
    draft = with_passes(draft) if out else draft
    style = form.style()
    whole, text = write_within(draft, within, terms=terms, style=style, expanded=out, size=size)
    return Written(whole, text, fits=terms == pattern.terms and size is None)
