"""What damp and dry air do to a weighing: the regains by fibre, with their sources."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from craft.standards.fibres import FIBRES
from craft.yardage.part_ball import weather_share
from workroom.http import StaffRequest


@require_safe
def damp_air(request: StaffRequest) -> HttpResponse:
    """By how much the air can mislead, fibre by fibre."""
    rows = [(each, 100 * weather_share({each.name: 1.0})) for each in FIBRES]
    return render(request, "yarns/damp_air.html", {"rows": rows})
