"""What people type of yarn, read into whole units: "450 g", "10 balls", "208 yd", "80 wool 20 nylon".

Comma and point are both decimal marks. Every refusal is a TypedError whose text says what to write.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from django.utils.translation import gettext as _

from craft.standards.fibres import fibre
from craft.standards.hooks import hooks_by_us
from craft.standards.units import GRAMS_PER_OUNCE, GRAMS_PER_POUND, METRES_PER_YARD
from craft.yardage.part_ball import scale_step
from yarns.amounts import Amount, Unit, grams, pieces

MOST_G: Final = Decimal(2_000_000)
MOST_M: Final = Decimal(1_000_000)
MOST_PIECES: Final = 10_000_000
MOST_HOOK_MM: Final = 50
_HAS_SIZE_LETTER: Final = re.compile(r"[a-ln-z]", re.IGNORECASE)

_NUMBER = re.compile(r"^\s*(\d{1,9}(?:[.,]\d{1,3})?|[.,]\d{1,3})\s*([^\d\s].*)?$", re.DOTALL)
_GRAMS_IN: Final[Mapping[str, Decimal]] = {
    "g": Decimal(1), "gr": Decimal(1), "gram": Decimal(1), "grams": Decimal(1),
    "kg": Decimal(1000), "oz": GRAMS_PER_OUNCE, "lb": GRAMS_PER_POUND,
}  # fmt: skip
_METRES_IN: Final[Mapping[str, Decimal]] = {
    "m": Decimal(1), "metre": Decimal(1), "metres": Decimal(1), "meters": Decimal(1),
    "yd": METRES_PER_YARD, "yds": METRES_PER_YARD, "yard": METRES_PER_YARD, "yards": METRES_PER_YARD,
}  # fmt: skip
_BALLS: Final = frozenset(
    {"ball", "balls", "skein", "skeins", "hank", "hanks", "cake", "cakes", "cone", "cones", "x"}
)


class TypedError(ValueError):
    """A text that can't be read; the sentence says what to write."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """A mass as typed from a scale, with the step that its last digit gives away. Grams."""

    mass_g: Decimal
    step_g: Decimal


def _parts(text: str, otherwise: str) -> tuple[Decimal, str]:
    """Number and unit word; the sentence `otherwise` where it is not that."""
    found = _NUMBER.match(text)
    if found is None or not text.isascii():
        raise TypedError(otherwise)
    word = (found[2] or "").strip().rstrip(".").lower()
    return Decimal(found[1].replace(",", ".")), word


def read_weighed(text: str) -> Weighed:
    """A mass from a scale: "31", "31.4 g", "2 oz"; a bare number is grams."""
    says = _("Write what the scale shows, like 31 or 31.4 (grams), or 1.1 oz.")
    number, word = _parts(text, says)
    factor = _GRAMS_IN.get(word or "g")
    if factor is None:
        raise TypedError(says)
    mass_g = number * factor
    if mass_g > MOST_G:
        raise TypedError(_("That is more than two tonnes. Check the figure."))
    return Weighed(mass_g, scale_step(number) * factor)


def read_mass_mg(text: str) -> int:
    """A mass in mg from "50", "50 g" or "1.75 oz"."""
    return grams(read_weighed(text).mass_g).count


def read_length_mm(text: str) -> int:
    """A length in mm from "125", "125 m" or "137 yd"; a bare number is metres."""
    says = _("Write the length like 125 m or 137 yd.")
    number, word = _parts(text, says)
    factor = _METRES_IN.get(word or "m")
    if factor is None:
        raise TypedError(says)
    length_m = number * factor
    if length_m > MOST_M:
        raise TypedError(_("That is more than a thousand kilometres. Check the figure."))
    return round(length_m * 1000)


def read_amount(text: str, unit: Unit, ball_mass_mg: int | None) -> Amount:
    """How much came or went: "10" or "10 balls" by the band, "450 g", "16 oz"; pieces where counted.

    A bare number means balls where the mass of one is known, grams where not.
    """
    amount = _read_pieces(text) if unit is Unit.PIECE else _read_yarn(text, ball_mass_mg)
    if amount.count <= 0:
        raise TypedError(_("Write an amount above nought."))
    return amount


def _read_pieces(text: str) -> Amount:
    says = _("Write how many pieces, like 40.")
    number, word = _parts(text, says)
    known = word in {"", "pc", "pcs", "piece", "pieces"}
    if not known or number != int(number) or number > MOST_PIECES:
        raise TypedError(says)
    return pieces(int(number))


def _read_yarn(text: str, ball_mass_mg: int | None) -> Amount:
    says = _("Write how much, like 10 (balls), 450 g or 16 oz.")
    number, word = _parts(text, says)
    if word in _BALLS or (not word and ball_mass_mg):
        if not ball_mass_mg:
            raise TypedError(_("The mass of one ball is not known for this yarn. Write grams, like 450 g."))
        return _within(number * ball_mass_mg / 1000)
    factor = _GRAMS_IN.get(word or "g")
    if factor is None:
        raise TypedError(says)
    return _within(number * factor)


def _within(mass_g: Decimal) -> Amount:
    if mass_g > MOST_G:
        raise TypedError(_("That is more than two tonnes. Check the figure."))
    return grams(mass_g)


def read_hook_um(text: str) -> int:
    """A hook in thousandths of a mm from "5", "5.5 mm" or a US size that means one hook only."""
    named = {hook.mm for hook in hooks_by_us(text)} if _HAS_SIZE_LETTER.search(text) else set()
    if len(named) == 1:
        return round(named.pop() * 1000)
    says = _("Write the hook in millimetres, like 5 or 5.5 mm.")
    number, word = _parts(text, says)
    if word not in {"", "mm"} or not 0 < number <= MOST_HOOK_MM:
        raise TypedError(says)
    return round(number * 1000)


# ------------------------------------------------------------------------------------ fibre

_SHARE = re.compile(r"(\d{1,3}(?:[.,]\d)?)\s*%?")


def read_fibres(text: str) -> list[list[str | int]]:
    """The mix in "80% wool, 20% nylon", "wool 80 / nylon 20" or "cotton": [["wool", 800], ...].

    Per mille, largest first; the maker's own names stay ("merino"). Nothing typed: not known, [].
    Shares that do not add to 100 % are refused.
    """
    pieces_of_text = _by_fibre(text)
    if not pieces_of_text:
        return []
    mix = [_one_fibre(part, alone=len(pieces_of_text) == 1) for part in pieces_of_text]
    total = sum(per_mille for _name, per_mille in mix)
    if total != 1000:
        raise TypedError(_("The fibres add to %(total)s %%, not to 100 %%.") % {"total": f"{total / 10:g}"})
    if len({name for name, _share in mix}) < len(mix):
        raise TypedError(_("One fibre is named twice. Add its shares up."))
    return [[name, share] for name, share in sorted(mix, key=lambda each: (-each[1], each[0]))]


def _by_fibre(text: str) -> list[str]:
    """Split at commas and the like, or before each number where there are none."""
    split = [part.strip() for part in re.split(r"[;/+&\n]|,(?!\d)", text) if part.strip()]
    if len(split) == 1 and len(_SHARE.findall(split[0])) > 1:
        numbers_first = split[0][0].isdigit()
        pattern = r"(?<=[^\d\s.,%])\s+(?=\d)" if numbers_first else r"(?<=[\d%])\s+(?=[^\d\s%])"
        split = re.split(pattern, split[0])
    return split


def _one_fibre(part: str, *, alone: bool) -> tuple[str, int]:
    shares = _SHARE.findall(part)
    name = " ".join(_SHARE.sub(" ", part).replace("%", " ").casefold().split())
    if not name or len(name) > 40 or len(shares) > 1 or not (shares or alone):
        raise TypedError(_("Write the fibres like 80 wool, 20 nylon."))
    per_mille = round(Decimal(shares[0].replace(",", ".")) * 10) if shares else 1000
    if per_mille <= 0:
        raise TypedError(_("Leave out a fibre that has no share."))
    return name, per_mille


def fibres_shown(fibres: Sequence[Sequence[str | int]]) -> str:
    """The mix for people: "80 % wool, 20 % nylon"; nothing where it is not known."""
    return ", ".join(f"{int(share) / 10:g}\u00a0% {name}" for name, share in fibres)


def unknown_fibres(fibres: Sequence[Sequence[str | int]]) -> list[str]:
    """Names that the table of fibres does not know; they count as an average fibre."""
    return [str(name) for name, _share in fibres if fibre(str(name)) is None]
