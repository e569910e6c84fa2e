"""Stitch names in US and UK terms, with turning chain and height.

One row per stitch. `height` is the row height of the stitch as a multiple of a single crochet (US)
in the same yarn on the same hook; for hdc and dc it is the median of 47 and 45 groups of published
gauges, for tr an assumption between the measured and the chain ladder, for the rest reasoned.

Sources named in `source`:
  CGOA     Crochet Guild of America, Crochet Lessons, 1997 (turning chains 0 1 2 3 4 for sl st, sc,
  hdc, dc, tr) FOR-D    dummies.com, how to crochet a turning chain (dtr: 5) CONV     UK shop chart
  "Crochet hook, yarn and stitch conversions" (US and UK names) TRANS    "Crochet Terms Translation
  Chart", PDF (US and UK names) UKBOOK   abbreviation pages of two UK books, 2015 and 2023 (dc2tog,
  FPtr, yrh) MEMORY   from memory, no source at hand: verify before printing it as an authority
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

__all__ = [
    "STITCHES",
    "WORDS",
    "Family",
    "StitchTerm",
    "UnknownTermError",
    "WordPair",
    "stitch",
    "to_uk",
    "to_us",
    "uk_stitch",
]

Family = Literal["chain", "plain", "extended", "foundation", "edge"]


class UnknownTermError(LookupError):
    """No stitch of that name stands in the table."""

    def __init__(self, name: str, system: Literal["US", "UK"]) -> None:
        super().__init__(f"“{name}” is not a stitch name in {system} terms.")
        self.name = name
        self.system = system


@dataclass(frozen=True, slots=True)
class StitchTerm:
    """One stitch: its names, its turning chain, its height.

    `turning_chain` is in chains; `turning_chain_counts` is the usual practice (None: makers differ,
    a pattern has to say). `first_chain` is the chain from the hook that takes the first stitch of a
    row on a foundation chain. `height` is relative to single crochet; `yarn_overs` before the hook
    goes in.
    """

    us: str
    us_name: str
    uk: str
    uk_name: str
    family: Family
    height: float
    yarn_overs: int
    turning_chain: int | None
    turning_chain_counts: bool | None
    first_chain: int | None
    us_also: tuple[str, ...] = ()
    uk_also: tuple[str, ...] = ()
    source: str = "MEMORY"


# fmt: off
STITCHES: tuple[StitchTerm, ...] = (
    StitchTerm(
        "ch", "chain", "ch", "chain", "chain", 0.0, 0, None, None, None,
        us_also=("chain stitch",), uk_also=("chain stitch",), source="TRANS",
    ),
    StitchTerm(
        "sl st", "slip stitch", "ss", "slip stitch", "chain", 0.0, 0, 0, False, None,
        us_also=("slst", "ss", "sl-st", "slip st"), uk_also=("sl st", "slst", "sl-st", "slip st"),
        source="TRANS, CONV; turning chain CGOA. In old British books “single crochet” is the slip stitch",
    ),
    StitchTerm(
        "sc", "single crochet", "dc", "double crochet", "plain", 1.0, 0, 1, False, 2,
        source="CONV, TRANS; turning chain CGOA",
    ),
    StitchTerm(
        "hdc", "half double crochet", "htr", "half treble crochet", "plain", 1.40, 1, 2, None, 3,
        us_also=("half double",), uk_also=("half treble",), source="CONV, TRANS; turning chain CGOA",
    ),
    StitchTerm(
        "dc", "double crochet", "tr", "treble crochet", "plain", 2.00, 1, 3, True, 4,
        us_also=("double",), uk_also=("treble",), source="CONV, TRANS; turning chain CGOA",
    ),
    StitchTerm(
        "tr", "treble crochet", "dtr", "double treble crochet", "plain", 2.85, 2, 4, True, 5,
        us_also=("trc", "tc", "treble", "triple crochet"), uk_also=("double treble",),
        source="CONV, TRANS; turning chain CGOA; height assumed",
    ),
    StitchTerm(
        "dtr", "double treble crochet", "trtr", "triple treble crochet", "plain", 3.70, 3, 5, True, 6,
        us_also=("double treble",), uk_also=("ttr", "triple treble"),
        source="CONV, TRANS; turning chain FOR-D; height reasoned",
    ),
    StitchTerm(
        "trtr", "triple treble crochet", "qtr", "quadruple treble crochet", "plain", 4.55, 4, 6, True, 7,
        us_also=("triple treble", "ttr"), uk_also=("quadtr", "quad tr", "quadruple treble"),
    ),
    StitchTerm(
        "quadtr", "quadruple treble crochet", "quintr", "quintuple treble crochet", "plain",
        5.40, 5, 7, True, 8,
        us_also=("qtr", "quad tr", "quadruple treble"), uk_also=("quin tr", "quintuple treble"),
    ),
    StitchTerm(
        "esc", "extended single crochet", "exdc", "extended double crochet", "extended", 1.40, 0, 2, False, 3,
        us_also=("exsc", "Esc", "ext sc", "dsc", "double single crochet"), uk_also=("edc", "ext dc"),
    ),
    StitchTerm(
        "ehdc", "extended half double crochet", "exhtr", "extended half treble crochet", "extended",
        1.80, 1, 3, None, 4, us_also=("exhdc", "ext hdc"), uk_also=("ehtr", "ext htr"),
    ),
    StitchTerm(
        "edc", "extended double crochet", "extr", "extended treble crochet", "extended", 2.40, 1, 4, True, 5,
        us_also=("exdc", "ext dc"), uk_also=("etr", "ext tr"),
    ),
    StitchTerm(
        "etr", "extended treble crochet", "exdtr", "extended double treble crochet", "extended",
        3.25, 2, 5, True, 6, us_also=("extr", "ext tr"), uk_also=("edtr", "ext dtr"),
    ),
    StitchTerm(
        "fsc", "foundation single crochet", "fdc", "foundation double crochet", "foundation",
        1.0, 0, None, None, None,
    ),
    StitchTerm(
        "fhdc", "foundation half double crochet", "fhtr", "foundation half treble crochet", "foundation",
        1.40, 1, None, None, None,
    ),
    StitchTerm(
        "fdc", "foundation double crochet", "ftr", "foundation treble crochet", "foundation",
        2.00, 1, None, None, None,
    ),
    StitchTerm(
        "ftr", "foundation treble crochet", "fdtr", "foundation double treble crochet", "foundation",
        2.85, 2, None, None, None,
    ),
    StitchTerm(
        "rsc", "reverse single crochet", "rdc", "reverse double crochet", "edge", 1.0, 0, 1, False, None,
        us_also=("rev sc", "crab st", "crab stitch"), uk_also=("rev dc", "crab st", "crab stitch"),
    ),
)
# fmt: on


@dataclass(frozen=True, slots=True)
class WordPair:
    """A word other than a stitch name that the two systems write differently."""

    us: str
    uk: str
    us_short: str | None
    uk_short: str | None
    source: str


WORDS: tuple[WordPair, ...] = (
    WordPair("skip", "miss", "sk", None, "ruleofthejewel.blog table, 2023; hilandonubes.com"),
    WordPair("gauge", "tension", None, None, "ruleofthejewel.blog table, 2023; hilandonubes.com"),
    WordPair("yarn over", "yarn round hook", "yo", "yrh", "UKBOOK"),
    WordPair("yarn over", "yarn over hook", "yo", "yoh", "MEMORY"),
    WordPair("fasten off", "fasten off", "fo", None, "MEMORY"),
    WordPair("afghan", "blanket", None, None, "MEMORY"),
    WordPair("worsted", "aran", None, None, "CONV"),
    WordPair("bulky", "chunky", None, None, "CONV"),
    WordPair("super bulky", "super chunky", None, None, "CONV"),
    WordPair("color", "colour", None, None, "MEMORY"),
    WordPair("gray", "grey", None, None, "MEMORY"),
    WordPair("half double", "half treble", None, None, "CONV"),
)

_BY_US: dict[str, StitchTerm] = {term.us.lower(): term for term in STITCHES}
_BY_UK: dict[str, StitchTerm] = {term.uk.lower(): term for term in STITCHES}
for _term in STITCHES:
    for _name in (_term.us_name, *_term.us_also):
        _BY_US.setdefault(_name.lower(), _term)
    for _name in (_term.uk_name, *_term.uk_also):
        _BY_UK.setdefault(_name.lower(), _term)

_POST = re.compile(r"^(?P<post>fp|bp)[ -]?(?P<rest>.+)$", re.IGNORECASE)
_TOGETHER = re.compile(r"^(?P<base>.+?)[ -]?(?P<together>\d{1,3}[ -]?tog)$", re.IGNORECASE)


def stitch(us_name: str) -> StitchTerm:
    """Return the row of a stitch by its US short or long name, in any case.

    Raises UnknownTermError. Short names win over the older spellings of others.
    """
    try:
        return _BY_US[us_name.strip().lower()]
    except KeyError:
        raise UnknownTermError(us_name, "US") from None


def uk_stitch(uk_name: str) -> StitchTerm:
    """Return the row of a stitch by its UK short or long name, in any case. Raises
    UnknownTermError.
    """
    try:
        return _BY_UK[uk_name.strip().lower()]
    except KeyError:
        raise UnknownTermError(uk_name, "UK") from None


def to_uk(us_short: str) -> str:
    """Turn one US stitch name into UK terms: sc -> dc, dc2tog -> tr2tog, FPdc -> FPtr.

    One name at a time, so that nothing is shifted twice. Raises UnknownTermError.
    """
    prefix, base, suffix = _parts(us_short)
    return f"{prefix}{stitch(base).uk}{suffix}"


def to_us(uk_short: str) -> str:
    """Turn one UK stitch name into US terms: dc -> sc, tr2tog -> dc2tog. Raises
    UnknownTermError.
    """
    prefix, base, suffix = _parts(uk_short)
    return f"{prefix}{uk_stitch(base).us}{suffix}"


def _parts(name: str) -> tuple[str, str, str]:
    """Split a compound short name into post prefix, stitch and "2tog" suffix."""
    prefix, base, suffix = "", name.strip(), ""
    if match := _TOGETHER.match(base):
        base, suffix = match["base"], match["together"].replace(" ", "").replace("-", "")
    if match := _POST.match(base):
        prefix, base = match["post"].upper(), match["rest"]
    return prefix, base, suffix
