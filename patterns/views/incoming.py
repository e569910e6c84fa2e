"""Old work comes in: files or pasted words, a preview of the fields, then the patterns.

Nothing is kept between the two steps: what was read stands in the fields of the preview.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from patterns.incoming import NotATextError
from patterns.intake import read_document, split
from patterns.intake.forms import IntakeForm
from patterns.intake.making import patterns_make
from patterns.source import TextTooLongError, cleaned_text
from workroom.http import StaffRequest
from workroom.selectors import current_studio

__all__ = ["MOST_FILES", "import_old"]

MOST_FILES: Final = 12


@dataclass(frozen=True, slots=True)
class Arrival:
    """One text as it is previewed: where it came from and its form."""

    name: str
    form: IntakeForm
    guessed: bool = False


@require_http_methods(["GET", "HEAD", "POST"])
def import_old(request: StaffRequest) -> HttpResponse:
    if request.method != "POST":
        return render(request, "patterns/import.html", {"most": MOST_FILES})
    if request.POST.get("do") == "make":
        return _make(request)
    arrivals, problems = _arrivals(request)
    if not arrivals:
        words = {"most": MOST_FILES, "problems": problems, "pasted": request.POST.get("pasted", "")}
        return render(request, "patterns/import.html", words, status=422)
    return _preview(request, arrivals, problems)


def _arrivals(request: StaffRequest) -> tuple[list[Arrival], list[str]]:
    """What can be read of what was sent, and a sentence for each that can't."""
    uploads = request.FILES.getlist("files")
    pasted = request.POST.get("pasted", "")
    if len(uploads) > MOST_FILES:
        return [], [_("Choose at most %s files at a time.") % MOST_FILES]
    if not uploads and not pasted.strip():
        return [], [_("Choose a file or paste a text first.")]
    arrivals: list[Arrival] = []
    problems: list[str] = []
    for upload in uploads:
        name = (upload.name or "")[:80]
        try:
            incoming = read_document(upload)
            arrivals.append(_arrival(name, incoming.text, len(arrivals), guessed=incoming.guessed))
        except (NotATextError, TextTooLongError) as error:
            problems.append(f"{name}: {_why(error)}")
    if pasted.strip():
        try:
            arrivals.append(_arrival(_("Pasted text"), pasted, len(arrivals)))
        except TextTooLongError as error:
            problems.append(_why(error))
    return arrivals, problems


def _why(error: NotATextError | TextTooLongError) -> str:
    if isinstance(error, TextTooLongError):
        return _("This is too long for one pattern. Split it.")
    return str(error)


def _arrival(name: str, text: str, number: int, *, guessed: bool = False) -> Arrival:
    intake = split(cleaned_text(text))
    initial = IntakeForm.initial_of(intake, current_studio().terms)
    if not initial["title"]:
        initial["title"] = name.rpartition(".")[0] or name
    return Arrival(name, IntakeForm(initial=initial, prefix=f"p{number}"), guessed)


def _preview(
    request: StaffRequest, arrivals: list[Arrival], problems: list[str], status: int = 200
) -> HttpResponse:
    words = {"arrivals": arrivals, "problems": problems, "form_key": _form_key(request)}
    return render(request, "patterns/import_preview.html", words, status=status)


def _form_key(request: StaffRequest) -> UUID:
    """The key of this form, a new one where none came with it: sent twice, a form makes its patterns once."""
    try:
        return UUID(request.POST.get("form_key", ""))
    except ValueError:
        return uuid4()


def _make(request: StaffRequest) -> HttpResponse:
    said = request.POST.get("number", "")
    number = min(int(said), MOST_FILES + 1) if said.isdecimal() and len(said) < 4 else 0
    forms = [IntakeForm(request.POST, prefix=f"p{place}") for place in range(number)]
    names = [request.POST.get(f"p{place}-name", "")[:80] for place in range(number)]
    arrivals = [Arrival(name, form) for name, form in zip(names, forms, strict=True)]
    if not all(form.is_valid() for form in forms):
        return _preview(request, arrivals, [_("Nothing was made yet: see the fields marked.")], status=422)
    if not any(form.cleaned_data.get("keep") for form in forms):
        return _preview(request, arrivals, [_("Tick at least one text to make a pattern of.")], status=422)
    made = patterns_make(forms, form_key=_form_key(request), by=request.user)
    messages.success(
        request,
        ngettext("%(number)s pattern came in.", "%(number)s patterns came in.", len(made))
        % {"number": len(made)},
    )
    return redirect("patterns:edit", made[0].slug) if len(made) == 1 else redirect("patterns:list")
