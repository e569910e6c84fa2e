"""The signed-in start page and the health check."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe


@require_safe
def desk(request: HttpRequest) -> HttpResponse:
    return render(request, "hookledger/desk.html")


@require_safe
def healthz(request: HttpRequest) -> JsonResponse:
    return JsonResponse({"ok": True})
