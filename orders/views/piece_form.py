"""Writing a piece: from a published pattern and size, or of one's own head."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from orders.drafts import draft_of, find_revision, pattern_choices
from orders.forms import PieceForm, extra_rows, yarn_rows
from orders.models import Piece, PieceExtra, PieceYarn
from orders.pieces import PieceFacts, piece_create, piece_edit
from orders.refusals import EditedMeanwhileError
from orders.selectors import piece_or_404
from orders.views.sending import at_version, sent
from workroom.http import StaffRequest

BLANK_YARNS, BLANK_EXTRAS = 1, 2
MORE_ROWS = 3


@dataclass(slots=True)
class PieceForms:
    """The form of a piece with its rows of yarns and extras."""

    main: PieceForm
    yarns: Any
    extras: Any

    def is_valid(self) -> bool:
        """All three are looked at, so that every mistake is shown at once."""
        return all([self.main.is_valid(), self.yarns.is_valid(), self.extras.is_valid()])

    @property
    def has_errors(self) -> bool:
        return self.main.is_bound and not self.is_valid()

    def facts(self) -> PieceFacts:
        """What was typed. Call on valid forms."""
        data = self.main.cleaned_data
        found = find_revision(data["source"])
        revision, size_key = found or (None, "")
        return PieceFacts(
            title=data["title"],
            minutes=data["minutes"],
            revision=revision,
            size_key=size_key,
            notes=data["notes"],
            price_minor=data["price_minor"],
            active=data["active"],
            yarns=_yarn_models(self.yarns),
            extras=[row.row() for row in self.extras if not row.is_left_out],
        )


def _yarn_models(rows: Any) -> list[PieceYarn]:
    """Rows with their letters; a row typed by hand gets the first letter that is free."""
    kept = [row for row in rows if not row.is_left_out]
    used = {row.cleaned_data["part_key"] for row in kept}
    free = (f"Y{number}" for number in range(1, 100) if f"Y{number}" not in used)
    return [row.row(row.cleaned_data["part_key"] or next(free)) for row in kept]


def forms_for(
    request: StaffRequest,
    initial: dict[str, Any],
    yarns: Sequence[PieceYarn],
    extras: Sequence[PieceExtra],
) -> PieceForms:
    """Forms on what was sent, or on these rows. "More rows" sends everything back with rows added."""
    more = request.POST.get("more", "")
    data: Any = sent(request)
    if data is not None and more in {"yarn", "extra"}:
        data = data.copy()
        total = f"{more}-TOTAL_FORMS"
        data[total] = str(min(40, _count(data.get(total)) + MORE_ROWS))
    return PieceForms(
        PieceForm(data, initial=initial),
        yarn_rows(data, [_yarn_initial(each) for each in yarns], BLANK_YARNS),
        extra_rows(data, [_extra_initial(each) for each in extras], BLANK_EXTRAS),
    )


def _count(text: str | None) -> int:
    return int(text) if text and text.isascii() and text.isdigit() and len(text) < 4 else 0


def _yarn_initial(part: PieceYarn) -> dict[str, Any]:
    return {
        "part_key": part.part_key,
        "from_pattern": part.from_pattern,
        "label": part.label,
        "colour": part.colour_id,
        "mass_mg": part.mass_mg or None,
        "reserve_mg": part.reserve_mg or None,
    }


def _extra_initial(extra: PieceExtra) -> dict[str, Any]:
    return {
        "kind": extra.kind,
        "label": extra.label,
        "supply": extra.supply_id,
        "amount": extra.amount,
        "price_minor": extra.price_minor,
    }


@require_http_methods(["GET", "HEAD", "POST"])
def piece_new(request: StaffRequest) -> HttpResponse:
    source = request.POST.get("source") or request.GET.get("from", "")
    found = find_revision(source)
    draft = draft_of(*found) if found else None
    initial = {"key": uuid4(), "version": 0, "active": True, "source": source if found else ""}
    if draft:
        initial |= {"title": draft.title, "minutes": draft.minutes or None}
    forms = forms_for(request, initial, draft.yarns if draft else (), draft.extras if draft else ())
    if request.method == "POST" and not request.POST.get("more") and forms.is_valid():
        piece = piece_create(forms.facts(), forms.main.cleaned_data["key"])
        messages.success(request, _("“%s” is in the book.") % piece.title)
        return redirect("orders:piece", pk=piece.pk)
    context = {
        "choices": pattern_choices(),
        "chosen": source,
        "draft": draft,
        "by_hand": found is None,
        "unknown_source": bool(source) and found is None,
    }
    return _form_page(request, forms, context)


@require_http_methods(["GET", "HEAD", "POST"])
def piece_edit_page(request: StaffRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    forms = forms_for(request, _initial(piece), list(piece.yarns.all()), list(piece.extras.all()))
    theirs = None
    if request.method == "POST" and not request.POST.get("more") and forms.is_valid():
        try:
            piece_edit(piece, forms.facts(), forms.main.cleaned_data["version"])
        except EditedMeanwhileError as refusal:
            theirs = piece_or_404(pk)
            forms.main.add_error(None, str(refusal))
            at_version(request, forms.main, theirs.version)
        else:
            messages.success(request, _("“%s” is saved.") % forms.main.cleaned_data["title"])
            return redirect("orders:piece", pk=piece.pk)
    return _form_page(request, forms, {"piece": piece, "theirs": theirs})


def _initial(piece: Piece) -> dict[str, Any]:
    return {
        "key": piece.key,
        "version": piece.version,
        "source": f"{piece.revision_id}:{piece.size_key}" if piece.revision_id else "",
        "title": piece.title,
        "minutes": piece.minutes,
        "price_minor": piece.price_minor,
        "notes": piece.notes,
        "active": piece.active,
    }


def _form_page(request: StaffRequest, forms: PieceForms, context: dict[str, Any]) -> HttpResponse:
    more = bool(request.POST.get("more"))
    bad = request.method == "POST" and not more
    page = {"tab": "pieces", "forms": forms, "fresh": more, **context}
    return render(request, "orders/piece_form.html", page, status=422 if bad else 200)
