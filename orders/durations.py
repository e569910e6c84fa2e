"""Times as makers write them: '85', '1:25', '1 h 25', '1.5 h'. Minutes inside."""

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, Final

from django import forms
from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

MOST_DIGITS: Final = 7

_PLAIN: Final = re.compile(r"(\d+)\s*(?:m|min|mins|minutes?)?")
_CLOCK: Final = re.compile(r"(\d+):([0-5]\d)")
_HOURS: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:h|hrs?|hours?)\s*(?:(\d+)\s*(?:m|min|mins|minutes?)?)?")


class DurationError(ValueError):
    """A text that is no length of time; the sentence says what to write."""


def parse_minutes(text: str) -> int:
    """Minutes from what somebody typed, to the nearest minute. Raises DurationError."""
    bare = text.strip().lower()
    if bare.startswith(("-", "\N{MINUS SIGN}")):
        raise DurationError(_("Time can't be negative. Write minutes like 85, or hours like 1:25."))
    if len(bare) > 40:
        raise DurationError(_("Write minutes like 85, or hours and minutes like 1:25."))
    minutes = _read(bare)
    if minutes is None or minutes >= 10**MOST_DIGITS:
        raise DurationError(_("Write minutes like 85, or hours and minutes like 1:25."))
    return minutes


def _read(bare: str) -> int | None:
    if found := _PLAIN.fullmatch(bare):
        return int(found[1])
    if found := _CLOCK.fullmatch(bare):
        return int(found[1]) * 60 + int(found[2])
    if found := _HOURS.fullmatch(bare):
        whole = Decimal(found[1].replace(",", ".")) * 60 + int(found[2] or 0)
        return int(whole.quantize(Decimal(1), ROUND_HALF_UP))
    return None


def shown_minutes(minutes: int) -> str:
    """For people: '45 min', '1 h 25 min', '12 h'."""
    hours, rest = divmod(minutes, 60)
    parts = []
    if hours:
        parts.append(_("%s h") % number_format(hours, force_grouping=True))
    if rest or not hours:
        parts.append(ngettext("%s min", "%s min", rest) % rest)
    return "\N{NO-BREAK SPACE}".join(parts).replace(" ", "\N{NO-BREAK SPACE}")


def plain_minutes(minutes: int) -> str:
    """What stands in a form field: '45' below an hour, '1:25' above."""
    return str(minutes) if minutes < 60 else f"{minutes // 60}:{minutes % 60:02d}"


class MinutesField(forms.CharField):
    """A length of time; cleans to minutes, or None when empty. Refuses more than `most`."""

    def __init__(self, *, most: int, least: int = 0, **kwargs: Any) -> None:
        self.most, self.least = most, least
        kwargs.setdefault("widget", forms.TextInput(attrs={"size": 8}))
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        return plain_minutes(value) if isinstance(value, int) else value

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return None
        try:
            minutes = parse_minutes(text)
        except DurationError as refusal:
            raise forms.ValidationError(str(refusal), code="invalid") from refusal
        if minutes < self.least:
            raise forms.ValidationError(_("Write at least %s.") % shown_minutes(self.least), code="least")
        if minutes > self.most:
            raise forms.ValidationError(_("Write at most %s.") % shown_minutes(self.most), code="most")
        return minutes
