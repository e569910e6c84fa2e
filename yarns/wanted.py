"""What the rooms above will need and have not promised yet. They tell it; nothing here knows them."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

ThingKey = tuple[Literal["colour", "supply"], int]


@dataclass(frozen=True, slots=True)
class Wanted:
    """So much (mg or pieces) of a colour or supply, for what: a batch that is short, an order taken."""

    thing: ThingKey
    count: int
    label: str


Teller = Callable[[], Iterable[Wanted]]
_TELLERS: Final[dict[str, Teller]] = {}


def tell_wants(name: str, teller: Teller) -> None:
    """A room's way to say what it will need; a second one of that name takes the first one's place."""
    _TELLERS[name] = teller


def wanted() -> Mapping[ThingKey, list[Wanted]]:
    """What all rooms ask for, by thing."""
    found: dict[ThingKey, list[Wanted]] = defaultdict(list)
    for teller in _TELLERS.values():
        for each in teller():
            if each.count > 0:
                found[each.thing].append(each)
    return found
