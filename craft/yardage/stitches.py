"""Length of yarn in one stitch, for every stitch name the trade writes.

    L = widths x w  +  k x (w x h)^0.375 x d^0.25  +  2 x spike rows x h_sc (+ 2 d)

in mm, with w the stitch width, h the row height of the basic stitch named, d the thickness of the yarn in
the fabric. The constants are fitted on 33 published and weighed pieces, each left out in turn (median of
predicted/actual 0.99, tenth and ninetieth percentile 0.82 and 1.31). Evidence beside each rule:

  fitted    fitted on many pieces                 measured  measured on purpose
  few       from one to four pieces               reasoned  from the strands of the stitch, no data

`sigma` is what a rule adds, as a log standard deviation, where its evidence is thin.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from craft.standards.terms import UnknownTermError, stitch

__all__ = ["CHAIN_WIDTHS", "PLAIN_K", "SLIP_WIDTHS", "LengthRule", "length_rule"]

CHAIN_WIDTHS: Final = 4.9
"""Stitch widths in one chain: measured 4.8-5.1 (foundation chains, 5 mm hook, windchilde.com/bluedepth)."""
SLIP_WIDTHS: Final = 5.3
"""Stitch widths in one slip stitch: reasoned; pieces with many slip stitches fit."""
TALLER_STEP: Final = 2.5
"""What each stage taller than dc adds to k: the step from dc 20.5 to tr 23."""
PLAIN_K: Final = {
    "sc": 14.0,
    "hdc": 15.4,
    "dc": 20.5,
    "tr": 23.0,
    "dtr": 23.0 + TALLER_STEP,
    "trtr": 23.0 + 2 * TALLER_STEP,
    "quadtr": 23.0 + 3 * TALLER_STEP,
}
TALL_SIGMA: Final = 0.15
POST_FACTOR: Final = 1.10
LEG: Final = {"sc": 0.35, "hdc": 0.55, "dc": 0.75, "tr": 0.80, "dtr": 0.82, "trtr": 0.85, "quadtr": 0.85}
"""What each further leg of a decrease adds, in whole stitches: sc2tog 1.35, dc2tog 1.75, dc3tog 2.5."""
USUAL_BOBBLE: Final = 3.0
"""Double crochets in a bobble of unstated size: 180 bobbles of one weighed piece came out at 3 dc each."""


@dataclass(frozen=True, slots=True)
class LengthRule:
    """How much yarn a stitch takes. `height_of`: basic stitch whose row height counts; see the module.

    `group`: rules of one group are wrong together, so their `sigma` adds up within it.
    """

    widths: float = 0.0
    k: float = 0.0
    height_of: str = "sc"
    spike_rows: float = 0.0
    sigma: float = 0.0
    group: str = ""
    evidence: str = "fitted"

    def length_mm(self, width_mm: float, height_mm: float, sc_height_mm: float, thickness_mm: float) -> float:
        """Return the yarn in one stitch, mm. `height_mm` is that of `height_of`."""
        cloth = self.k * math.pow(width_mm * height_mm, 0.375) * math.pow(thickness_mm, 0.25)
        spike = 2 * self.spike_rows * sc_height_mm + (2 * thickness_mm if self.spike_rows else 0.0)
        return self.widths * width_mm + cloth + spike

    def times(self, factor: float, *, sigma: float, group: str, evidence: str = "reasoned") -> LengthRule:
        """Return the rule of a stitch that takes `factor` times as much yarn."""
        return replace(
            self,
            widths=self.widths * factor,
            k=self.k * factor,
            sigma=max(self.sigma, sigma),
            group=group,
            evidence=evidence,
        )

    def with_chains(self, chains: float) -> LengthRule:
        """Return the rule with chains on top."""
        return replace(self, widths=self.widths + CHAIN_WIDTHS * chains)


CHAIN: Final = LengthRule(widths=CHAIN_WIDTHS, evidence="measured")
SLIP: Final = LengthRule(widths=SLIP_WIDTHS, evidence="reasoned")
TUNISIAN_SIMPLE: Final = LengthRule(k=11.7, sigma=0.2, group="tunisian", evidence="few")
"""From one published piece: 676 stitches in 38 m at 14 stitches x 13 rows to 4 in; height is its own row."""
SPIKE: Final = LengthRule(k=PLAIN_K["sc"], spike_rows=1, sigma=0.2, group="spike", evidence="reasoned")


def _plain(us: str) -> LengthRule:
    """Rule of a plain stitch by US short name."""
    tall = us not in {"sc", "hdc", "dc"}
    return LengthRule(
        k=PLAIN_K[us],
        height_of=us,
        sigma=TALL_SIGMA if tall else 0.0,
        group="tall" if tall else "",
        evidence="few" if tall else "fitted",
    )


def _extended(base: str, factor: float) -> LengthRule:
    return _plain(base).times(factor, sigma=0.15, group="extended", evidence="few")


def _foundation(base: str, *, chains: float) -> LengthRule:
    """Measured once each on a 5 mm hook (windchilde.com/bluedepth): 16.0 in of yarn per inch of foundation
    sc and 17.4 of hdc, near a chain and a stitch; 16.4 of dc, near the stitch alone.
    """
    return replace(_plain(base).with_chains(chains), sigma=0.15, group="foundation", evidence="few")


_NAMED: Final[dict[str, LengthRule]] = {
    "ch": CHAIN,
    "sl st": SLIP,
    **{us: _plain(us) for us in PLAIN_K},
    "esc": _extended("sc", 1.25),
    "ehdc": _extended("hdc", 1.20),
    "edc": _extended("dc", 1.13),
    "etr": _extended("tr", 1.11),
    "fsc": _foundation("sc", chains=1),
    "fhdc": _foundation("hdc", chains=1),
    "fdc": _foundation("dc", chains=0),
    "ftr": _foundation("tr", chains=0),
    "rsc": _plain("sc").times(1.1, sigma=0.15, group="edge"),
    "split sc": _extended("sc", 1.25),
    "tss": TUNISIAN_SIMPLE,
    "picot": LengthRule(widths=3 * CHAIN_WIDTHS + SLIP_WIDTHS, evidence="reasoned"),
    "v st": _plain("dc").times(2, sigma=0.0, group="", evidence="fitted").with_chains(1),
    "shell": _plain("dc").times(5, sigma=0.0, group="", evidence="fitted"),
    "crossed dc": _plain("dc").times(2, sigma=0.1, group="crossed"),
    "split hdc": _extended("hdc", 1.25),
    "long sc": SPIKE,
    "long dc": LengthRule(
        k=PLAIN_K["dc"], height_of="dc", spike_rows=1, sigma=0.2, group="spike", evidence="reasoned"
    ),
    "loop st": _plain("sc").times(1.6, sigma=0.3, group="loop"),
}

_ALIASES: Final = {
    "sl": "sl st",
    "bobble st": "bobble",
    "waistcoat st": "split sc",
    "splsc": "split sc",
    "wsc": "split sc",
    "splhdc": "split hdc",
    "lp st": "loop st",
    "ls": "loop st",
    "tks": "tss",
    "tps": "tss",
    "fan": "shell",
    "center single crochet": "split sc",
    "knit st": "split sc",
    "tunisian simple stitch": "tss",
    "ch 3 picot": "picot",
    "v stitch": "v st",
    "vst": "v st",
    "sh": "shell",
    "cdc": "crossed dc",
    "ch sp": "ch",
    "chain sp": "ch",
    "foundation ch": "ch",
    "turning ch": "ch",
    "surface sl st": "sl st",
    "crab st": "rsc",
    "crab stitch": "rsc",
    "inc": "sc inc",
    "dec": "sc2tog",
    "invdec": "sc2tog",
    "inv dec": "sc2tog",
    "invisible decrease": "sc2tog",
}
_LOOPS = re.compile(
    r"(^|\b)(blo|flo|bl|fl|3lo|tlo|third loop|third loop only|herringbone|hb|in rnd|in row)\b"
)
_TOGETHER = re.compile(r"^(?P<base>.+?) ?(?P<count>\d{1,3}) ?tog$")
_POST = re.compile(
    r"^(?:(?:fp|bp|front post|back post|raised) ?(?P<base>.+)|(?P<base_first>.+?) ?(?:fp|bp))$"
)
_INCREASE = re.compile(r"^(?P<base>.+?) ?inc$")
_CHAIN_SPACE = re.compile(r"^ch (?P<count>\d+)(?: (?:sp|space|loop|lp))?$")
_PICOT = re.compile(r"^(?:ch )?(?P<count>\d+) (?:ch )?picot$")
_SPIKE = re.compile(r"^(?:spike|sp)(?: (?:sc|st|stitch))?(?: (?P<count>\d+)(?: rows?| rnds?| down)*)?$")
_RAISED_GROUP = re.compile(
    r"^(?:(?P<count>\d+) ?)?(?:(?P<base>hdc|dc|tr|dtr) ?)?(?:fp |bp |fp|bp|beg )?"
    r"(?P<kind>bobble|bo|popcorn|pc|puff|ps|cluster|cl)(?: (?:st|stitch))?"
    r"(?: of (?P<later>\d+) ?(?P<of>hdc|dc|tr))?$"
)


@lru_cache(maxsize=1024)
def length_rule(name: str) -> LengthRule | None:
    """Return the rule for a stitch by US name, in any case and with the usual spellings, or None.

    Understood: plain, extended and foundation stitches; loops only (as plain); FP and BP; `sc2tog`
    to `dtr9tog`; increases; `ch-3 sp` (three chains); picots; spikes ("spike sc 2 rows"); bobbles,
    popcorns, puffs and clusters with or without their size ("5-dc bobble", "3-dc cl", "puff").
    """
    plain = re.sub(r"[\s\-_]+", " ", name.strip().lower())
    plain = re.sub(r"\s+", " ", _LOOPS.sub(" ", plain)).strip()
    plain = _ALIASES.get(plain, plain)
    return _named(plain) or next((rule for read in _READERS if (rule := read(plain)) is not None), None)


def _named(name: str) -> LengthRule | None:
    if name in _NAMED:
        return _NAMED[name]
    try:
        return _NAMED.get(stitch(name).us)
    except UnknownTermError:
        return None


def _base(name: str) -> str | None:
    """US short name of a plain stitch, or None."""
    try:
        us = stitch(name).us
    except UnknownTermError:
        return None
    return us if us in PLAIN_K else None


def _together(name: str) -> LengthRule | None:
    match = _TOGETHER.match(name)
    if match is None or (base := _base(_unposted(match["base"]))) is None:
        return None
    legs = int(match["count"])
    factor = 1 + LEG[base] * (legs - 1)
    return _plain(base).times(factor, sigma=0.1, group="together") if legs > 0 else None


def _post(name: str) -> LengthRule | None:
    base = _base(_unposted(name))
    if base is None or _unposted(name) == name:
        return None
    return _plain(base).times(POST_FACTOR, sigma=0.15, group="post", evidence="few")


def _unposted(name: str) -> str:
    """The stitch inside a post stitch: FPdc and dcfp are both dc."""
    match = _POST.match(name)
    return name if match is None else match["base"] or match["base_first"]


def _increase(name: str) -> LengthRule | None:
    match = _INCREASE.match(name)
    if match is None or (base := _base(match["base"])) is None:
        return None
    rule = _plain(base)
    return rule.times(2, sigma=rule.sigma, group=rule.group, evidence=rule.evidence)


def _chain_space(name: str) -> LengthRule | None:
    match = _CHAIN_SPACE.match(name)
    return None if match is None else replace(CHAIN, widths=CHAIN_WIDTHS * int(match["count"]))


def _picot(name: str) -> LengthRule | None:
    match = _PICOT.match(name)
    return None if match is None else replace(SLIP, widths=SLIP_WIDTHS + CHAIN_WIDTHS * int(match["count"]))


def _spike(name: str) -> LengthRule | None:
    match = _SPIKE.match(name)
    return None if match is None else replace(SPIKE, spike_rows=float(match["count"] or 1))


def _raised_group(name: str) -> LengthRule | None:
    """Bobbles, popcorns, puffs and clusters.

    Popcorns hold whole stitches and a closing chain; bobbles and clusters lack the closing loops, as
    decreases do; a puff is drawn-up loops, taken as six tenths of a half double each.
    """
    match = _RAISED_GROUP.match(name)
    if match is None:
        return None
    said = match["count"] or match["later"]
    kind = match["kind"]
    base = match["base"] or match["of"] or ("hdc" if kind in {"puff", "ps"} else "dc")
    if said is not None and int(said) < 1:
        return None
    rule = _plain(base).times(_group_factor(kind, base, said), sigma=0.25, group="raised", evidence="few")
    closed = kind in {"cluster", "cl"} or (kind in {"bobble", "bo"} and said is None)
    return rule.with_chains(0 if closed else 1)


def _group_factor(kind: str, base: str, said: str | None) -> float:
    """Whole stitches' worth of yarn in a group of `said` stitches."""
    if kind in {"bobble", "bo"} and said is None:
        return USUAL_BOBBLE
    count = int(said) if said is not None else {"cluster": 3, "cl": 3}.get(kind, 5)
    if kind in {"popcorn", "pc"}:
        return float(count)
    if kind in {"puff", "ps"}:
        return 0.4 + 0.6 * count
    return 1 + LEG[base] * (count - 1)


_READERS: Final[tuple[Callable[[str], LengthRule | None], ...]] = (
    _together,
    _post,
    _increase,
    _chain_space,
    _picot,
    _spike,
    _raised_group,
)
