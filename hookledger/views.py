"""The signed-in start page and the health check."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from hookledger.desk import cards
from hookledger.health import troubles
from workroom.http import StaffRequest


@require_safe
def desk(request: StaffRequest) -> HttpResponse:
    return render(request, "hookledger/desk.html", {"cards": cards(request)})


@never_cache
@require_safe
def healthz(request: HttpRequest) -> JsonResponse:
    """200 and {"ok": true}, or 503 with the names of what is wrong; no details for strangers."""
    wrong = troubles()
    return JsonResponse({"ok": not wrong, "wrong": wrong}, status=503 if wrong else 200)
