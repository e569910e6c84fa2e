"""Labels for the shelf: choose the sheet, get the PDF."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from craft.standards.label_stock import LABEL_SHEETS
from workroom.http import StaffRequest
from workroom.models import Paper
from workroom.printing import CantPrintError, pdf_response
from workroom.selectors import current_studio
from yarns.forms.labels import LabelsForm
from yarns.labels import MOST_LABELS, NoSiteAddressError, lots_asked_for, print_labels
from yarns.models import Lot


@require_safe
def labels(request: StaffRequest) -> HttpResponse:
    """The page; with `sheet` in the address the PDF."""
    studio = current_studio()
    lots = list(lots_asked_for(request.GET)[: MOST_LABELS + 1])
    if "sheet" not in request.GET:
        usual = next(
            each.key for each in LABEL_SHEETS if (each.paper == "Letter") == (studio.paper == Paper.LETTER)
        )
        initial = {"sheet": usual, "start": 1, "copies": 1, "plain": not studio.site_address}
        return _page(request, LabelsForm(initial=initial), lots, 200)
    form = LabelsForm(request.GET)
    if not form.is_valid():
        return _page(request, form, lots, 422)
    wanted = [lot for lot in lots for _copy in range(form.cleaned_data["copies"])]
    if not 0 < len(wanted) <= MOST_LABELS:
        says = (
            _("There is nothing to print a label for.")
            if not wanted
            else _("That makes more than %(most)s labels. Narrow the shelf down, or print fewer of each.")
            % {"most": MOST_LABELS}
        )
        form.add_error(None, says)
        return _page(request, form, lots, 422)
    plain = form.cleaned_data["plain"]
    try:
        paper = print_labels(wanted, form.label_sheet, form.cleaned_data["start"], studio, with_qr=not plain)
    except NoSiteAddressError as refusal:
        form.add_error(None, str(refusal))
        return _page(request, form, lots, 422)
    except CantPrintError:
        form.add_error(None, _("The labels could not be printed. Try fewer, or try again in a minute."))
        return _page(request, form, lots, 503)
    return pdf_response(paper, "labels.pdf")


def _page(request: StaffRequest, form: LabelsForm, lots: list[Lot], status: int) -> HttpResponse:
    own = {*form.fields, "csrfmiddlewaretoken"}
    carried = [(name, value) for name, values in request.GET.lists() if name not in own for value in values]
    context = {
        "form": form,
        "lots": lots[:12],
        "more": max(0, len(lots) - 12),
        "carried": carried,
    }
    return render(request, "yarns/labels.html", context, status=status)
