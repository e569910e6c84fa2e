"""The ball band's photo: shown to who works here, taken by camera or chosen."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from workroom.http import StaffRequest
from yarns.forms.photos import BandPhotoForm
from yarns.models import Lot
from yarns.photos import band_photo, band_photo_bytes, band_photo_set
from yarns.views.lots import lot_page


@require_safe
def lot_photo(request: StaffRequest, code: str) -> HttpResponse:
    """The picture itself."""
    photo = band_photo(get_object_or_404(Lot, code=code))
    if photo is None:
        raise Http404
    try:
        content = band_photo_bytes(photo)
    except FileNotFoundError as error:
        raise Http404 from error
    response = HttpResponse(content, content_type="image/webp")
    response["Cache-Control"] = "private, max-age=300"
    return response


@require_POST
def lot_photo_change(request: StaffRequest, code: str) -> HttpResponse:
    """Put another in its place, or take it off."""
    row = get_object_or_404(Lot, code=code)
    if request.POST.get("do") == "off":
        band_photo_set(row, None)
        return redirect("yarns:lot", code)
    form = BandPhotoForm(request.POST, request.FILES)
    if not form.is_valid():
        return lot_page(request, code, 422, photo_form=form)
    band_photo_set(row, form.cleaned_data["photo"])
    messages.success(request, _("The photo is kept."))
    return redirect("yarns:lot", code)
