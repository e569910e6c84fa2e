"""The printed count held against what was worked out."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

from craft.fabric.edge import TURNING
from craft.fabric.kinds import HEIGHT_IN_CHAINS, family
from craft.fabric.model import Block, Edge, SizedRound
from craft.notation.tree import Counted, Numbers, StatedCount

__all__ = ["MEANING_WORDS", "Meaning", "holds", "stated_counts", "stated_total"]


class Meaning(IntEnum):
    """What a printed total counts."""

    STITCHES = 0
    WITH_SPACES = 1  # each chain space as one
    WITH_CHAINS = 2  # each chain of the spaces
    WITHOUT_TURNING_CHAIN = 3


MEANING_WORDS = {
    Meaning.STITCHES: "the printed counts are stitches",
    Meaning.WITH_SPACES: "the printed counts take in the chain spaces",
    Meaning.WITH_CHAINS: "the printed counts take in every chain",
    Meaning.WITHOUT_TURNING_CHAIN: "the printed counts leave out the starting chain, which is worked into",
}
_GROUP_WORDS = frozenset(("group", "shell", "v-st", "fan", "cluster", "corner"))


def stated_counts(
    stated: StatedCount | None, size_count: int
) -> tuple[tuple[str, tuple[int | None, ...]], ...]:
    """The printed count per size by kind; () when none."""
    if stated is None:
        return ()
    merged: dict[str, tuple[int | None, ...]] = {}
    for item in stated.items:
        merged.setdefault(item.what, _per_size(item.number, size_count))
    return tuple(merged.items())


def _per_size(number: Numbers, size_count: int) -> tuple[int | None, ...]:
    if len(number) == 1:
        return number * size_count
    return tuple(number[:size_count]) + (None,) * (size_count - len(number))


def _of_size(number: Numbers, size: int, sizes: Sequence[int]) -> int | None:
    """The number of one size; a short list may be for the sizes of its line only."""
    if len(number) == 1:
        return number[0]
    if sizes and len(number) == len(sizes) and size in sizes:
        return number[sizes.index(size)]
    return number[size] if size < len(number) else None


def stated_total(stated: StatedCount, size: int, sizes: Sequence[int] = ()) -> int | None:
    """The printed number of stitches of one size, if one is printed."""
    total = next((item for item in stated.items if item.what == "total"), None)
    if total is not None:
        return _of_size(total.number, size, sizes)
    kinds = [item for item in stated.items if not _is_space(item.what) and item.what not in _GROUP_WORDS]
    if not kinds:
        return None
    numbers = [_of_size(item.number, size, sizes) for item in kinds]
    return sum(n for n in numbers if n is not None)


def holds(
    stated: StatedCount, sized: SizedRound, size: int, meaning: Meaning, sizes: Sequence[int] = ()
) -> bool | None:
    """Whether the printed count is what was worked; None where its unit is not known."""
    answers = []
    kinds = dict(sized.by_kind)
    for item in stated.items:
        number = _of_size(item.number, size, sizes)
        if number is None:
            continue
        answers.append(_item_holds(item, number, sized, kinds, meaning, stated))
    if not answers or all(answer is None for answer in answers):
        return None
    if any(answer is None for answer in answers):
        return None  # a unit that we do not know may take stitches away from the others
    return all(answers) or _by_turning_chain(stated, sized, kinds, size, sizes)


def _by_turning_chain(
    stated: StatedCount, sized: SizedRound, kinds: dict[str, int], size: int, sizes: Sequence[int]
) -> bool:
    """A turning chain may be counted with either of two kinds, as long as the kinds add up to the total."""
    if not any(len(item) == 4 and item.tag == TURNING for item in sized.edge):
        return False
    total = moved = 0
    for item in stated.items:
        number = _of_size(item.number, size, sizes) or 0
        if _is_space(item.what):
            if number != _spaces(item.what, kinds):
                return False
            continue
        if item.what == "total" or item.what in _GROUP_WORDS:
            return False
        total += number
        of_kind = sum(count for name, count in kinds.items() if family(name) == family(item.what))
        exact = kinds.get(item.what, of_kind)
        moved += min(abs(number - of_kind), abs(number - exact))
    return total == sized.total and moved <= 2


def _item_holds(  # noqa: PLR0911 - a list of cases
    item: Counted,
    number: int,
    sized: SizedRound,
    kinds: dict[str, int],
    meaning: Meaning,
    stated: StatedCount,
) -> bool | None:
    what = item.what
    alone = len(stated.items) == 1
    if what == "total":
        return number == total_by(sized, kinds, meaning)
    if _is_space(what):
        return number == _spaces(what, kinds)
    if not alone and what in kinds and kinds[what] == number:
        return True
    if what == "ch":
        return number == sum(_chains_of(name) * count for name, count in kinds.items())
    if what in {"sl st", "row", "pattern", "rnd"}:
        return None
    groups = _groups(sized.edge, what)
    if what in _GROUP_WORDS:
        return number == groups if groups else None
    named = {one.what for one in stated.items if one is not item}
    of_kind = sum(
        count for name, count in kinds.items() if family(name) == family(what) and name not in named
    )
    if not of_kind:
        if not alone:
            return None
        return number == total_by(sized, kinds, meaning) or (
            False if family(what) in HEIGHT_IN_CHAINS else None
        )
    if number == of_kind or number == of_kind - _in_stated_groups(sized, stated):
        return True
    return alone and number == total_by(sized, kinds, meaning)


def _in_stated_groups(sized: SizedRound, stated: StatedCount) -> int:
    """Stitches of the groups that are counted apart: "8 sc and one 3-sc group"."""
    if not any(item.what in _GROUP_WORDS for item in stated.items):
        return 0
    return sum(item.stitches * item.count for item in sized.edge if type(item) is Block and item.group)


def total_by(sized: SizedRound, kinds: dict[str, int], meaning: Meaning) -> int:
    """The total as the maker counts it."""
    if meaning is Meaning.STITCHES:
        return sized.total
    if meaning is Meaning.WITHOUT_TURNING_CHAIN:
        return sized.total - sum(1 for item in sized.edge if len(item) == 4 and item.tag == TURNING)
    if meaning is Meaning.WITH_SPACES:
        return sized.total + sum(count for name, count in kinds.items() if _is_space(name))
    return sized.total + sum(_chains_of(name) * count for name, count in kinds.items())


def _is_space(what: str) -> bool:
    return what in {"sp", "ch-sp", "loop"} or (what.startswith("ch-") and what.endswith(" sp"))


def _chains_of(name: str) -> int:
    digits = name[3:-3]
    return int(digits) if name.startswith("ch-") and name.endswith(" sp") and digits.isdecimal() else 0


def _spaces(what: str, kinds: dict[str, int]) -> int:
    if what in {"sp", "ch-sp", "loop"}:
        return sum(count for name, count in kinds.items() if _is_space(name))
    return kinds.get(what, 0)


def _groups(edge: Edge, name: str) -> int:
    """Groups of a name; of any name for "group" and where none has it."""
    named = _count_groups(edge, name)
    return named or _count_groups(edge, "")


def _count_groups(edge: Edge, name: str) -> int:
    total = 0
    for item in edge:
        if type(item) is Block:
            if item.group and (not name or item.name == name):
                total += item.count
            else:
                total += item.count * _count_groups(item.items, name)
    return total
