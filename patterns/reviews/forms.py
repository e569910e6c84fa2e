"""Forms of the reviews: asking somebody, and remarking on a line."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from patterns.reviews.asking import Invitation
from patterns.reviews.models import ReaderRemark, RemarkKind, ReviewRole
from patterns.reviews.reading import Said
from patterns.revisions import SizeInfo
from workroom.selectors import local_today

__all__ = ["DueForm", "InviteReaderForm", "RemarkForm", "one_line"]

MOST_WORDS = 4000


def one_line(words: str) -> str:
    """Words without line ends, for what goes into one line of the instructions."""
    return " ".join(words.split())


def due_field() -> forms.DateField:
    return forms.DateField(
        label=gettext_lazy("Due"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        input_formats=["%Y-%m-%d", "%d.%m.%Y", "%d/%m/%Y"],
        error_messages={"invalid": gettext_lazy("Write the day as 2026-05-14.")},
    )


class InviteReaderForm(forms.Form):
    """Whom to ask, for what, until when."""

    role = forms.ChoiceField(
        label=gettext_lazy("As what"), choices=ReviewRole, widget=forms.RadioSelect, initial=ReviewRole.TESTER
    )
    name = forms.CharField(label=gettext_lazy("Name or nick"), max_length=80)
    size_key = forms.ChoiceField(
        label=gettext_lazy("Size to make"), required=False, help_text=gettext_lazy("For a tester.")
    )
    due_on = due_field()
    email = forms.EmailField(label=gettext_lazy("E-mail"), required=False, max_length=254)
    contact = forms.CharField(
        label=gettext_lazy("How you reach them"), required=False, max_length=200,
        help_text=gettext_lazy("For you alone: a nick in a group, a phone number."),
    )  # fmt: skip

    def __init__(self, *args: Any, sizes: Sequence[SizeInfo], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.sizes = sizes
        choices = [(size.key, size.label) for size in sizes]
        size_field = self.fields["size_key"]
        if isinstance(size_field, forms.ChoiceField):
            size_field.choices = choices if len(sizes) == 1 else [("", _("choose one")), *choices]

    def clean_due_on(self) -> date | None:
        due_on: date | None = self.cleaned_data["due_on"]
        if due_on and due_on < local_today():
            raise forms.ValidationError(_("That day is past. Choose today or a later day."))
        return due_on

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if (
            data.get("role") == ReviewRole.TESTER
            and not data.get("size_key")
            and "size_key" not in self.errors
        ):
            self.add_error("size_key", _("Say which size is to be made."))
        return data

    def invitation(self) -> Invitation:
        data = self.cleaned_data
        role = ReviewRole(data["role"])
        return Invitation(
            role=role,
            name=data["name"],
            size_key=data["size_key"] if role == ReviewRole.TESTER else "",
            due_on=data["due_on"],
            email=data["email"],
            contact=data["contact"],
        )


class DueForm(forms.Form):
    """Another day; a day that is past may stay, so that it can be seen who is late."""

    due_on = due_field()


class RemarkForm(forms.Form):
    """What is said of a line (or, without `line`, of the whole)."""

    form_key = forms.UUIDField(widget=forms.HiddenInput)
    kind = forms.ChoiceField(label=gettext_lazy("What is it?"), choices=RemarkKind)
    says = forms.CharField(
        label=gettext_lazy("What you noticed"),
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=gettext_lazy("What you read, and what you think was meant."),
        error_messages={"required": gettext_lazy("Write what you noticed before you send it.")},
    )
    wording = forms.CharField(
        label=gettext_lazy("How the line should read"),
        required=False,
        max_length=MOST_WORDS,
        widget=forms.Textarea(attrs={"rows": 2, "spellcheck": "false"}),
        help_text=gettext_lazy("Only if you have better words: the whole line."),
    )

    def __init__(
        self, data: Any = None, *, line: int, prefix: str = "r", initial: dict[str, Any] | None = None
    ) -> None:
        super().__init__(data, prefix=f"{prefix}{line}", initial=initial)
        self.line = line
        self.initial.setdefault("form_key", uuid4())
        if not line:
            del self.fields["wording"]

    @classmethod
    def of(cls, remark: ReaderRemark, data: Any = None) -> RemarkForm:
        """The form of a remark that is there already."""
        said = {
            "form_key": remark.form_key, "kind": remark.kind, "says": remark.says, "wording": remark.wording,
        }  # fmt: skip
        return cls(data, line=remark.line, prefix=f"e{remark.pk}-", initial=said)

    def said(self) -> Said:
        data = self.cleaned_data
        return Said(data["kind"], data["says"], one_line(data.get("wording", "")))
