"""Tags and labels of a batch: what stands on them, and the sheet as PDF."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from orders.forms import LabelProfileForm, TagsForm
from orders.labels import batch_labels, label_profile
from orders.pieces import label_profile_save
from orders.refusals import EditedMeanwhileError
from orders.selectors import batch_or_404
from orders.tag_sheets import SheetKind, print_sheet
from orders.views.sending import at_version, sent
from patterns.press import PressError
from workroom.http import StaffRequest
from workroom.selectors import current_studio

PROFILE = ("maker", "address", "origin")


@require_safe
def tags(request: StaffRequest, code: str) -> HttpResponse:
    """The page; with `kind` and `copies` the PDF."""
    batch = batch_or_404(code)
    studio = current_studio()
    labels = batch_labels(batch, studio)
    form = TagsForm(request.GET) if "kind" in request.GET else None
    failed = ""
    if form is not None and form.is_valid():
        try:
            content = print_sheet(labels, *form.wanted, studio)
        except PressError:
            failed = _("The sheet could not be printed. Try fewer labels, or try again in a minute.")
        else:
            return _pdf(content, f"{batch.code}-{form.wanted[0]}.pdf")
    context = {
        "tab": "batches",
        "batch": batch,
        "labels": labels,
        "form": form or TagsForm(initial={"kind": SheetKind.PRICE, "copies": labels.count or 1}),
        "failed": failed,
    }
    status = 503 if failed else 422 if form is not None else 200
    return render(request, "orders/tags.html", context, status=status)


def _pdf(content: bytes, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response


@require_http_methods(["GET", "HEAD", "POST"])
def label_profile_page(request: StaffRequest) -> HttpResponse:
    now = label_profile(current_studio())
    initial = {name: getattr(now, name) for name in (*PROFILE, "version")}
    form = LabelProfileForm(sent(request), initial=initial)
    theirs = None
    if request.method == "POST" and form.is_valid():
        values = {name: form.cleaned_data[name] for name in PROFILE}
        try:
            label_profile_save(values, form.cleaned_data["version"])
        except EditedMeanwhileError as refusal:
            theirs = label_profile(current_studio())
            form.add_error(None, str(refusal))
            at_version(request, form, theirs.version)
        else:
            messages.success(request, _("Saved. It stands on every label from now on."))
            return redirect("orders:overview")
    context = {"tab": "rates", "form": form, "theirs": theirs}
    return render(request, "orders/label_profile.html", context, status=422 if form.errors else 200)
