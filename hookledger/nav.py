"""The entries of the signed-in menu, in order. One is shown to those who may open it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


@dataclass(frozen=True, slots=True)
class Entry:
    """A menu entry: the URL name it opens and the word on it."""

    url_name: str
    label: str | Promise


@dataclass(frozen=True, slots=True)
class Link:
    """An entry as this request sees it."""

    url: str
    label: str | Promise
    current: bool


NAV: Final = (
    Entry("desk", _("Desk")),
    Entry("patterns:list", _("Patterns")),
    Entry("yarns:shelf", _("Yarn shelf")),
    Entry("orders:overview", _("Orders")),
    Entry("workroom:people", _("People")),
    Entry("workroom:studio", _("Studio")),
)


def links(request: HttpRequest, may: Callable[[str], bool]) -> list[Link]:
    shown = [(reverse(entry.url_name), entry.label) for entry in NAV if may(entry.url_name)]
    desk = reverse("desk")
    here = [url for url, _label in shown if url != desk and request.path.startswith(url)]
    current = max(here, key=len, default=desk if request.path == desk else "")
    return [Link(url, label, current=url == current) for url, label in shown]
