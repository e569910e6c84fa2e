"""The list of patterns, and a new one."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from patterns.forms import NewPatternForm
from patterns.selectors import all_patterns
from patterns.services import pattern_create
from workroom.http import StaffRequest
from workroom.selectors import current_studio


@require_safe
def pattern_list(request: StaffRequest) -> HttpResponse:
    return render(request, "patterns/list.html", {"patterns": all_patterns()})


@require_http_methods(["GET", "HEAD", "POST"])
def pattern_new(request: StaffRequest) -> HttpResponse:
    form = NewPatternForm(request.POST or None, initial={"terms": current_studio().terms})
    if request.method == "POST" and form.is_valid():
        pattern = pattern_create(by=request.user, **form.cleaned_data)
        return redirect("patterns:edit", pattern.slug)
    status = 422 if request.method == "POST" else 200
    return render(request, "patterns/new.html", {"form": form}, status=status)
