"""Crochet hook sizes: millimetres, US letter and number, old UK and Canadian number.

The millimetre is the size: letters and numbers vary by maker. US numbers rise with the hook, old UK
numbers fall; steel hooks in US numbers fall too. `us` is the Craft Yarn Council's size where it has
one (its column is from memory; rows with `confirmed` are repeated in at least one cited chart),
`us_also` what other makers print on the same hook.

Sources named in `source`:
  SHOP-UK  UK shop PDF "Crochet hook, yarn and stitch conversions" CHART-UK UK needle and hook chart
  of a yarn shop, PDF CHART-CA chart of a Canadian general store, PDF MATIFS   matifs.com hook size
  chart GROSOR   "Grosor de los Crochets", PDF STEEL    homequestionsanswered.com (end points),
  winenfood.com and a publisher's symbol lesson (no. 7) MEMORY   from memory, no source at hand
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

__all__ = [
    "HOOKS",
    "STEEL_HOOKS",
    "Hook",
    "SteelHook",
    "hook_by_mm",
    "hook_label",
    "hooks_by_us",
    "nearest_hook",
    "steel_hook",
]


@dataclass(frozen=True, slots=True)
class Hook:
    """A regular hook. `uk` lists old UK/Canadian numbers; two where charts disagree, the commoner
    first.
    """

    mm: Decimal
    us: str | None
    us_also: tuple[str, ...]
    uk: tuple[str, ...]
    confirmed: bool
    source: str


@dataclass(frozen=True, slots=True)
class SteelHook:
    """A thread hook in US steel numbers."""

    us: str
    mm: Decimal
    confirmed: bool
    source: str


def _hook(
    mm: str,
    us: str | None,
    uk: tuple[str, ...] = (),
    also: tuple[str, ...] = (),
    *,
    confirmed: bool = True,
    source: str,
) -> Hook:
    return Hook(Decimal(mm), us, also, uk, confirmed, source)


_FOUR = "SHOP-UK, CHART-UK, CHART-CA, MATIFS"

HOOKS: tuple[Hook, ...] = (
    _hook(
        "2.0",
        None,
        ("14",),
        ("B/1", "0"),
        confirmed=False,
        source="CHART-UK, MATIFS, GROSOR, SHOP-UK",
    ),
    _hook("2.25", "B-1", ("13",), source="CHART-UK, CHART-CA, MATIFS"),
    _hook(
        "2.5",
        None,
        ("12",),
        ("C/2", "B/1", "1.5"),
        confirmed=False,
        source="CHART-UK, GROSOR, SHOP-UK",
    ),
    _hook("2.75", "C-2", ("12", "11"), source="CHART-CA, MATIFS; 11 in CHART-UK"),
    _hook("3.0", None, ("11",), ("D",), confirmed=False, source="CHART-UK, CHART-CA; D MEMORY"),
    _hook("3.125", "D", (), confirmed=False, source="MEMORY"),
    _hook("3.25", "D-3", ("10",), source="CHART-UK, CHART-CA, MATIFS"),
    _hook("3.5", "E-4", ("9",), source="CHART-UK, MATIFS; no number in CHART-CA"),
    _hook("3.75", "F-5", ("9",), source="CHART-CA; no number in CHART-UK and MATIFS"),
    _hook("4.0", "G-6", ("8",), source=_FOUR),
    _hook("4.25", "G", (), source="MEMORY; SHOP-UK has “G, no number”"),
    _hook("4.5", "7", ("7",), source=_FOUR),
    _hook("5.0", "H-8", ("6",), source=_FOUR),
    _hook("5.25", "I", (), confirmed=False, source="MEMORY"),
    _hook("5.5", "I-9", ("5",), source=_FOUR),
    _hook("5.75", "J", (), confirmed=False, source="MEMORY"),
    _hook("6.0", "J-10", ("4", "3"), source="CHART-CA, MATIFS; 3 in CHART-UK"),
    _hook("6.5", "K-10½", ("3", "2"), source="CHART-CA, MATIFS; 2 in CHART-UK"),
    _hook("7.0", None, ("2", "1"), confirmed=False, source="CHART-CA; 1 in CHART-UK"),
    _hook("7.5", None, ("1",), confirmed=False, source="CHART-CA"),
    _hook("8.0", "L-11", ("0",), source="CHART-UK, CHART-CA, MATIFS"),
    _hook("9.0", "M/N-13", ("00",), ("M/13",), source="CHART-UK, CHART-CA, MATIFS; M/13 GROSOR"),
    _hook("10.0", "N/P-15", ("000",), ("N/15",), source="CHART-UK, CHART-CA, MATIFS"),
    _hook("11.5", "P-16", (), ("16/P",), source="MEMORY; SHOP-UK has 16/P at 11 mm"),
    _hook("12.0", None, (), ("O", "O/16"), confirmed=False, source="CHART-CA, GROSOR"),
    _hook("15.0", "P/Q", (), ("P/19",), source="SHOP-UK, CHART-CA; P/19 GROSOR"),
    _hook("15.75", "Q", (), source="CHART-UK, GROSOR (16 mm)"),
    _hook("16.0", "Q", (), source="CHART-UK, GROSOR"),
    _hook(
        "17.5",
        None,
        (),
        ("R",),
        confirmed=False,
        source="GROSOR; another overview says there is no R",
    ),
    _hook("19.0", "S", (), ("S/35",), source="GROSOR"),
    _hook("25.0", "T/U/X", (), ("50",), confirmed=False, source="MEMORY"),
    _hook("30.0", "T/X", (), confirmed=False, source="MEMORY"),
)

_STEEL_MM = [
    "3.50",
    "3.25",
    "2.75",
    "2.25",
    "2.10",
    "2.00",
    "1.90",
    "1.80",
    "1.65",
    "1.50",
    "1.40",
    "1.30",
    "1.10",
    "1.00",
    "0.85",
    "0.75",
]
_STEEL_US = ("00", *map(str, range(15)))
_STEEL_CONFIRMED = frozenset({"00", "7", "14"})

STEEL_HOOKS: tuple[SteelHook, ...] = tuple(
    SteelHook(us, Decimal(mm), us in _STEEL_CONFIRMED, "STEEL" if us in _STEEL_CONFIRMED else "MEMORY")
    for us, mm in zip(_STEEL_US, _STEEL_MM, strict=True)
)

_BY_MM = {hook.mm: hook for hook in HOOKS}
_BY_STEEL = {hook.us: hook for hook in STEEL_HOOKS}


def hook_by_mm(mm: Decimal) -> Hook | None:
    """Return the regular hook of exactly this size, or None where the charts have none (5.3 mm,
    say).
    """
    return _BY_MM.get(mm)


def nearest_hook(mm: Decimal) -> Hook:
    """Return the listed hook nearest to a size; of two equally near, the smaller."""
    return min(HOOKS, key=lambda hook: (abs(hook.mm - mm), hook.mm))


def hooks_by_us(size: str) -> tuple[Hook, ...]:
    """Return all hooks sold under a US letter or number: "G", "G-6", "6" may each be more than one
    size.

    Old UK numbers are never searched: US 8 is 5 mm and old UK 8 is 4 mm.
    """
    wanted = _plain(size)
    return tuple(hook for hook in HOOKS if wanted in _us_names(hook))


def steel_hook(us: str) -> SteelHook:
    """Return a thread hook by its US steel number ("00", "0" to "14"). Raises ValueError."""
    try:
        return _BY_STEEL[us.strip().removeprefix("#")]
    except KeyError:
        raise ValueError(f"US steel hooks run from 00 to 14; “{us}” is none of them.") from None


def hook_label(mm: Decimal) -> str:
    """Write a hook as patterns do: "5 mm (US H-8)", or "2.5 mm" where the US has no size."""
    hook = hook_by_mm(mm)
    metric = f"{mm.normalize():f} mm"
    return f"{metric} (US {hook.us})" if hook is not None and hook.us is not None else metric


def _plain(size: str) -> str:
    text = size.strip().upper().removeprefix("US").strip().removeprefix("#")
    return text.replace("1/2", "½").replace("/", "-").replace(" ", "")


def _us_names(hook: Hook) -> frozenset[str]:
    """All ways to say a hook's US size: whole, letters, number."""
    names: set[str] = set()
    for size in (hook.us, *hook.us_also):
        if size is not None:
            plain = _plain(size)
            names |= {plain, *plain.split("-")}
    return frozenset(names)
