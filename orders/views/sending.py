"""What was sent with a request, as forms take it."""

from django import forms
from django.http import QueryDict

from workroom.http import StaffRequest


def sent(request: StaffRequest) -> QueryDict | None:
    """The fields of a POST, also where they are all empty; None for a form that is only looked at."""
    return request.POST if request.method == "POST" else None


def at_version(request: StaffRequest, form: forms.Form, version: int) -> None:
    """Let a form go out again on what is saved now, so that sending it once more puts it in its place."""
    data = request.POST.copy()
    data["version"] = str(version)
    form.data = data
