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


NAV: Final = (Entry("desk", _("Desk")),)


def links(request: HttpRequest, may: Callable[[str], bool]) -> list[Link]:
    shown = [(reverse(e.url_name), e.label) for e in NAV if may(e.url_name)]
    here = max((url for url, _label in shown if request.path.startswith(url)), key=len, default="")
    return [Link(url, label, current=url == here) for url, label in shown]
