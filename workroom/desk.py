"""What a room puts on the start page: `<room>/desk.py` has `cards(request) -> list[Card]`."""

from dataclasses import dataclass

from django.utils.functional import Promise


@dataclass(frozen=True, slots=True)
class Card:
    """One thing to do next. `url` is where it is done, `action` the words on that link.

    `count` is shown large where there is one; `urgent` cards come first.
    """

    title: str | Promise
    says: str | Promise
    url: str
    action: str | Promise
    count: int | None = None
    urgent: bool = False
