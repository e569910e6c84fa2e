"""Which cautions a piece should carry, by what it is and what is known of it.

Each rule is a row of data: when it applies, what it says, and where the practice comes from. The
sentences are our own and always defer to the rules of the place of sale: limits carry the place and
date of their source, and none of them is legal advice. A fact that is not known is asked for, not
guessed.

Sources named in `source`:
  CFR      US Code of Federal Regulations, Title 16, 2015 edition: 1120.3, 1500.51-53, 1501 EN71
  EN 71-1:2005+A8 clause 5.4 as quoted on a testing forum; seams and eyes as quoted by laboratories
  EN14682  Finnish Safety Agency page on cords and drawstrings; CCPC (Ireland) on children's clothes
  SOOTHER  two makers' pages that quote the soother holder standard (220 mm at 25 N, 6 mm strap,
  vents) COT      infant sleep advice as quoted on makers' pages: nothing loose in the cot under 12
  months HEAT     makers' pages and forum threads on acrylic near heat; no product standard known to
  us CANDLE   candle label standards (EN 15494, ASTM F2058), from memory HANDS    makers and a
  physical therapist who knits; Cochrane review 2019: low quality evidence PRACTICE common practice,
  no source
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Final

from craft.standards.fibres import synthetic_share

__all__ = [
    "CAUTION_RULES",
    "LOCAL_RULES",
    "Caution",
    "CautionRule",
    "Fact",
    "PieceFacts",
    "PieceKind",
    "cautions_for",
]

LOCAL_RULES: Final = "Rules differ by place and change: check those in force where the piece is sold."
SMALL_HOLE_MM: Final = Decimal(8)
"""Largest hole of a baby's piece before fingers are mentioned; a house limit, no standard behind
it.
"""
CORD_MM: Final = Decimal(220)
"""Free length of a cord on a toy for the youngest, mm. EN71, an older edition."""


LONG_MAKING_MINUTES: Final = 60
"""Making time from which a caution for the hands is printed."""


class PieceKind(StrEnum):
    """What a piece is for. A piece may be of several kinds: a baby's hat is a hat and for a
    baby.
    """

    TOY = "toy"
    GARMENT = "garment"
    HAT = "hat"
    BLANKET = "blanket"
    BAG = "bag"
    HANGING = "hanging"
    KITCHEN = "kitchen"
    CANDLE = "candle"
    SOOTHER_HOLDER = "soother-holder"
    JEWELLERY = "jewellery"
    HOME = "home"
    FOOTWEAR = "footwear"
    PATTERN = "pattern"


@dataclass(frozen=True, slots=True)
class PieceFacts:
    """What is known of a piece. None: not known.

    `youngest_months`: age of the youngest user it is meant for, months (None: adults or not said).
    `longest_cord_mm`: free length of the longest cord, tie, strap or loop. `largest_hole_mm`:
    widest opening in the fabric. `fibres`: shares by mass, thread and filling included.
    `load_tested_kg`: load it hung overnight. `making_minutes`: time at the hook for the whole
    piece.
    """

    youngest_months: int | None = None
    small_parts: bool | None = None
    stuffed: bool = False
    longest_cord_mm: Decimal | None = None
    largest_hole_mm: Decimal | None = None
    fibres: Mapping[str, float] = field(default_factory=dict)
    load_tested_kg: Decimal | None = None
    making_minutes: int | None = None
    for_play: bool = False


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution to print. `sentence` is in English; `slug` is stable, for translation and setting
    aside.
    """

    slug: str
    sentence: str
    source: str


class Fact(StrEnum):
    """What a rule asks of the facts of a piece."""

    SMALL_PARTS = "small parts"
    SMALL_PARTS_UNKNOWN = "small parts unknown"
    STUFFED = "stuffed"
    CORD = "cord"
    LONG_CORD = "long cord"
    WIDE_HOLES = "wide holes"
    SYNTHETIC = "synthetic fibre"
    FIBRE_UNKNOWN = "fibre unknown"
    LOAD_UNTESTED = "load untested"
    LONG_MAKING = "long making"


@dataclass(frozen=True, slots=True)
class CautionRule:
    """A caution and when it applies.

    The piece has to be of one of `kinds` (empty: any), its youngest user within the ages in months
    (`under_months` needs a known age, `from_months` does not), and every fact in `needs` true.
    `or_under_months`: an infant's piece of any other kind is meant too.
    """

    slug: str
    sentence: str
    source: str
    kinds: frozenset[PieceKind] = frozenset()
    needs: tuple[Fact, ...] = ()
    under_months: int | None = None
    from_months: int | None = None
    or_under_months: int | None = None

    def applies(self, kinds: frozenset[PieceKind], facts: PieceFacts) -> bool:
        """Tell whether the caution is due."""
        return (
            (self._of_kind(kinds) or _under(facts, self.or_under_months))
            and (self.under_months is None or _under(facts, self.under_months))
            and not _under(facts, self.from_months)
            and all(_holds(fact, facts) for fact in self.needs)
        )

    def _of_kind(self, kinds: frozenset[PieceKind]) -> bool:
        return not self.kinds or bool(self.kinds & kinds)


def _under(facts: PieceFacts, months: int | None) -> bool:
    age = facts.youngest_months
    return months is not None and age is not None and age < months


def _holds(fact: Fact, facts: PieceFacts) -> bool:
    cord_mm = facts.longest_cord_mm or Decimal(0)
    hole_mm = facts.largest_hole_mm or Decimal(0)
    return {
        Fact.SMALL_PARTS: facts.small_parts is True,
        Fact.SMALL_PARTS_UNKNOWN: facts.small_parts is None,
        Fact.STUFFED: facts.stuffed,
        Fact.CORD: cord_mm > 0,
        Fact.LONG_CORD: cord_mm > CORD_MM,
        Fact.WIDE_HOLES: hole_mm > SMALL_HOLE_MM,
        Fact.SYNTHETIC: synthetic_share(facts.fibres) > 0,
        Fact.FIBRE_UNKNOWN: not facts.fibres,
        Fact.LOAD_UNTESTED: facts.load_tested_kg is None,
        Fact.LONG_MAKING: (facts.making_minutes or 0) >= LONG_MAKING_MINUTES,
    }[fact]


_TOYS = frozenset({PieceKind.TOY})
_WORN = frozenset({PieceKind.GARMENT, PieceKind.HAT})
_IN_COT = frozenset({PieceKind.BLANKET, PieceKind.TOY, PieceKind.HOME, PieceKind.HAT})
_HOT = frozenset({PieceKind.KITCHEN, PieceKind.CANDLE})

CAUTION_RULES: tuple[CautionRule, ...] = (
    CautionRule(
        "small-parts",
        "Has small parts, which a child under three could choke on. Not for children under 36 months.",
        "CFR, EN71",
        needs=(Fact.SMALL_PARTS,),
        from_months=36,
    ),
    CautionRule(
        "small-parts-for-infants",
        "Meant for a child under three, so it may not have eyes, buttons, beads, bells or other parts "
        "that come off: embroider or crochet them. A warning on the label does not make them safe.",
        "CFR, EN71",
        needs=(Fact.SMALL_PARTS,),
        under_months=36,
    ),
    CautionRule(
        "small-parts-unknown",
        "Say whether it has eyes, buttons, beads or other parts that could come off.",
        "PRACTICE",
        kinds=_TOYS,
        or_under_months=36,
        needs=(Fact.SMALL_PARTS_UNKNOWN,),
    ),
    CautionRule(
        "soft-toy-from-birth",
        "Many places treat a soft toy as made for babies from birth, whatever its label says. Pull, "
        "twist and wash one of each batch before selling, and note the batch of eyes and yarn.",
        "EN71, CFR",
        kinds=_TOYS,
    ),
    CautionRule(
        "stuffing-closed",
        "Work tightly enough that no filling shows or can be pulled out, and close every seam twice.",
        "EN71, PRACTICE",
        kinds=_TOYS,
        or_under_months=36,
        needs=(Fact.STUFFED,),
    ),
    CautionRule(
        "toy-cord",
        "The cord or loop is longer than the 220 mm that a test for toys of the youngest allows, and "
        "could close round a neck: shorten it, or let it part under a light pull.",
        "EN71",
        kinds=_TOYS,
        needs=(Fact.LONG_CORD,),
    ),
    CautionRule(
        "clothing-cord",
        "No cords, ties or drawstrings at the hood or neck of clothes for young children; use a "
        "button or a short fixed bow.",
        "EN14682, CFR",
        kinds=_WORN,
        needs=(Fact.CORD,),
        under_months=84,
    ),
    CautionRule(
        "older-child-cord",
        "On clothes for a child, keep free ends of cords short (75 mm at the neck in the European "
        "standard) and without knots or toggles.",
        "EN14682, CFR",
        kinds=_WORN,
        needs=(Fact.CORD,),
        from_months=84,
        under_months=168,
    ),
    CautionRule(
        "soother-holder",
        "A soother holder needs a short strap (220 mm from clip to end under load in the European "
        "standard), at least 6 mm wide, and a clip with air holes. Never fasten it to a sleeping child.",
        "SOOTHER",
        kinds=frozenset({PieceKind.SOOTHER_HOLDER}),
    ),
    CautionRule(
        "cot",
        "Do not leave it in the cot with a sleeping baby under 12 months: "
        "nothing loose or soft belongs there.",
        "COT",
        kinds=_IN_COT,
        under_months=36,
    ),
    CautionRule(
        "baby-holes",
        "Openings this wide can catch a baby's fingers and toes: choose a closer stitch.",
        "COT, PRACTICE",
        needs=(Fact.WIDE_HOLES,),
        under_months=36,
    ),
    CautionRule(
        "baby-ends",
        "For a baby: no ribbons, tassels, fringe or loose ends; weave every end in well.",
        "COT",
        under_months=36,
    ),
    CautionRule(
        "baby-worn-watched",
        "Take it off a baby before sleep and in a car seat, and watch while it is worn.",
        "PRACTICE",
        kinds=_WORN | {PieceKind.FOOTWEAR},
        under_months=12,
    ),
    CautionRule(
        "heat-synthetic",
        "Holds fibre that softens or melts with heat: not for hot dishes, hobs or ovens. Use all "
        "cotton or wool, sewing thread and filling included.",
        "HEAT",
        kinds=_HOT,
        needs=(Fact.SYNTHETIC,),
    ),
    CautionRule(
        "heat-fibre-unknown",
        "Say what it is made of, thread and filling included: near heat only cotton or wool will do.",
        "HEAT",
        kinds=_HOT,
        needs=(Fact.FIBRE_UNKNOWN,),
    ),
    CautionRule(
        "heat-use",
        "For warm dishes: keep it dry, use it double, and keep it off flames and hobs. No standard "
        "that we know says how much heat crochet withstands.",
        "HEAT",
        kinds=frozenset({PieceKind.KITCHEN}),
    ),
    CautionRule(
        "candle",
        "For show: do not stand a lit candle on or in it, and never leave a flame alone or near "
        "children and pets.",
        "CANDLE",
        kinds=frozenset({PieceKind.CANDLE}),
    ),
    CautionRule(
        "hanging-load",
        "Print the load that it held overnight, not a guess, "
        "and tell the buyer to look over cord and hook often.",
        "PRACTICE",
        kinds=frozenset({PieceKind.HANGING}),
        needs=(Fact.LOAD_UNTESTED,),
    ),
    CautionRule(
        "hanging-place",
        "Hang it where nobody is hurt if it falls, out of reach of small children.",
        "PRACTICE",
        kinds=frozenset({PieceKind.HANGING}),
    ),
    CautionRule(
        "bag-load",
        "Straps of crochet lengthen under load: say what it carried in a test, "
        "and do not carry a child in it.",
        "PRACTICE",
        kinds=frozenset({PieceKind.BAG}),
        needs=(Fact.LOAD_UNTESTED,),
    ),
    CautionRule(
        "slippery-soles",
        "Crocheted soles slip on smooth floors: sew on a grip, and do not run in them.",
        "PRACTICE",
        kinds=frozenset({PieceKind.FOOTWEAR}),
    ),
    CautionRule(
        "necklace-child",
        "Not for a child to wear or play with alone: a necklace should part under a light pull.",
        "PRACTICE",
        kinds=frozenset({PieceKind.JEWELLERY}),
        under_months=168,
    ),
    CautionRule(
        "hands",
        "Rest your hands: stop every 30 minutes or so for five, change to other work, and see a "
        "professional about tingling, numbness or pain that stays.",
        "HANDS",
        needs=(Fact.LONG_MAKING,),
    ),
)


def cautions_for(kind: PieceKind | frozenset[PieceKind], facts: PieceFacts) -> tuple[Caution, ...]:
    """Return the cautions that a piece should carry, in printing order.

    Whatever else applies to a piece that can hurt someone, the list ends with a reminder of local
    rules. A piece made for play is a toy, whatever it is called.
    """
    kinds = frozenset({kind}) if isinstance(kind, PieceKind) else kind
    if facts.for_play:
        kinds |= _TOYS
    found = tuple(
        Caution(rule.slug, rule.sentence, rule.source) for rule in CAUTION_RULES if rule.applies(kinds, facts)
    )
    if all(caution.slug == "hands" for caution in found):
        return found
    return (*found, Caution("local-rules", LOCAL_RULES, "PRACTICE"))
