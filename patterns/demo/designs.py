"""The four patterns of Two Gulls Crochet, an invented studio, as their designer wrote them.

Every count below was worked by hand and by the technical edit. Gauge and hooks follow the yarns of
the demo's shelf.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from patterns.demo import drawings
from patterns.models import Kind, Level

__all__ = ["COWL", "DESIGNS", "Design", "DesignYarn"]

TEXTS: Final = Path(__file__).parent / "texts"

LICENCE: Final = (
    "For your own making; pieces made by hand may be sold with a line that names Two Gulls Crochet.\n"
    "Please do not copy, translate or film the pattern itself without asking."
)


@dataclass(frozen=True, slots=True)
class DesignYarn:
    """A yarn by maker and name, as the shelf of the demo has it, and the colour worked in."""

    key: str
    maker: str
    name: str
    colour: str
    alternatives: str = ""


@dataclass(frozen=True, slots=True)
class Design:
    """One pattern: its row, sizes as (key, label, to fit, finished), yarns, notions, picture."""

    slug: str
    row: dict[str, Any]
    yarns: tuple[DesignYarn, ...]
    picture: Callable[[], bytes] | None
    alt: str
    sizes: tuple[tuple[str, str, str, str], ...] = ()
    notions: tuple[tuple[str, int], ...] = ()
    supplies: dict[str, str] = field(default_factory=dict)

    @property
    def text(self) -> str:
        """The instructions, from the plain text file of that name beside this module."""
        return (TEXTS / f"{self.slug}.txt").read_text(encoding="utf-8")


BEANIE: Final = Design(
    slug="tideline-beanie",
    row={
        "title": "Tideline Beanie",
        "kind": Kind.HAT,
        "level": Level.EASY,
        "skills": "working in a spiral, increasing, changing colour",
        "introduction": (
            "A close beanie worked from the crown down in half double crochet, with one pale line where "
            "the tide turned.\n"
            "The line and the brim take a scrap of the second colour."
        ),
        "notes": (
            "Work in a spiral; do not join and do not turn.\n"
            "Numbers are for the smallest size, the larger ones in brackets; a number alone is for all "
            "sizes, and a dash means that a size leaves the step out.\n"
            "Mark the first stitch of each round and move the marker up."
        ),
        "finishing": "Weave in the ends. Wash by hand, block over a bowl and let it dry flat.",
        "care": "Wool and nylon: wash by hand in cool water.",
        "licence": LICENCE,
        "hook_um": 5000,
        "gauge_stitches_tenths": 130,
        "gauge_rows_tenths": 105,
        "gauge_stitch": "hdc",
        "gauge_in_round": True,
        "gauge_after_washing": True,
        "youngest_months": 12,
        "small_parts": False,
    },
    sizes=(
        ("toddler", "Toddler", "head 46 cm (18 in)", "43 cm (17 in) around, 18 cm (7 in) deep"),
        ("child", "Child", "head 50 cm (19¾ in)", "46 cm (18 in) around, 20 cm (8 in) deep"),
        ("adult-s", "Adult S", "head 54 cm (21¼ in)", "49 cm (19¼ in) around, 21 cm (8¼ in) deep"),
        ("adult-m", "Adult M", "head 57 cm (22½ in)", "52.5 cm (20¾ in) around, 23 cm (9 in) deep"),
        ("adult-l", "Adult L", "head 60 cm (23½ in)", "55.5 cm (21¾ in) around, 24 cm (9½ in) deep"),
    ),
    yarns=(
        DesignYarn(
            "MC",
            "Sandpiper Mill",
            "Tideline Worsted",
            "Harbour",
            "any worsted wool of about 190 m to 100 g that gives the gauge",
        ),
        DesignYarn("CC", "Sandpiper Mill", "Tideline Worsted", "Foam"),
    ),
    notions=(("stitch marker", 1), ("yarn needle", 1)),
    picture=drawings.beanie,
    alt="A blue crocheted beanie with one pale stripe and a pale brim, standing on a wooden table.",
)

COASTERS: Final = Design(
    slug="harbour-coasters",
    row={
        "chart_shown": True,
        "title": "Harbour Coasters",
        "kind": Kind.KITCHEN,
        "level": Level.BASIC,
        "skills": "joined rounds, double crochet, two colours",
        "introduction": (
            "Four round coasters in two colours, two of each way round. Quick to make, and a good first "
            "piece in joined rounds."
        ),
        "notes": (
            "Worked in joined rounds; do not turn.\n"
            "Ch 3 at the start of a round counts as a dc. Ch 1 does not count as a stitch.\n"
            "Make two as written and two with the colours changed about."
        ),
        "finishing": "Weave in the ends. Press under a damp cloth until they lie flat.",
        "care": "Cotton: wash at 40 degrees.",
        "licence": LICENCE,
        "hook_um": 4500,
        "gauge_stitches_tenths": 140,
        "gauge_rows_tenths": 160,
        "gauge_stitch": "sc",
        "gauge_in_round": True,
        "gauge_after_washing": False,
        "small_parts": False,
    },
    sizes=(("one", "One size", "", "10.5 cm (4 in) across"),),
    yarns=(
        DesignYarn(
            "A",
            "Sandpiper Mill",
            "Breakwater Cotton",
            "Slate Roof",
            "any worsted cotton; no acrylic, for it softens with heat",
        ),
        DesignYarn("B", "Sandpiper Mill", "Breakwater Cotton", "Sailcloth"),
    ),
    notions=(("yarn needle", 1),),
    picture=drawings.coasters,
    alt="Four round crocheted coasters in slate and cream on a linen cloth, two of each way round.",
)

BAG: Final = Design(
    slug="strand-market-bag",
    row={
        "chart_shown": True,
        "title": "Strand Market Bag",
        "kind": Kind.BAG,
        "level": Level.INTERMEDIATE,
        "skills": "working round a chain, chain spaces, working into chains",
        "introduction": (
            "A net bag on a firm oval base, with a close rim and two wide handles. It folds to nothing "
            "and holds a morning at the market."
        ),
        "notes": (
            "Work in a spiral from Rnd 1 on; do not join and do not turn.\n"
            "Straps of crochet grow under load: work the handles tightly."
        ),
        "finishing": "Weave in the ends along the handles. Wash once, pull into shape and let it dry lying.",
        "care": "Cotton and hemp: wash at 30 degrees, dry lying.",
        "licence": LICENCE,
        "hook_um": 5000,
        "gauge_stitches_tenths": 130,
        "gauge_rows_tenths": 145,
        "gauge_stitch": "sc",
        "gauge_in_round": True,
        "gauge_after_washing": True,
        "small_parts": False,
        "longest_cord_mm": 310,
        "load_tested_g": 5000,
    },
    sizes=(("one", "One size", "", "9 cm (3½ in) wide, 22.5 cm (9 in) long, 26.5 cm (10½ in) high"),),
    yarns=(
        DesignYarn(
            "A",
            "Old Rope Walk",
            "Hempen",
            "Raw Cord",
            "a firm cotton or linen of about 160 m to 100 g; wool stretches too far",
        ),
    ),
    notions=(("stitch marker", 1), ("yarn needle", 1)),
    picture=drawings.bag,
    alt="A rope-coloured net bag with a close base and rim and two arched handles.",
)

GULL: Final = Design(
    slug="pip-the-gull",
    row={
        "title": "Pip the Gull",
        "kind": Kind.TOY,
        "level": Level.EASY,
        "skills": "working in a spiral, decreasing, rows, sewing parts on",
        "introduction": (
            "A small gull, 7.5 cm tall, in single crochet. Body and head are one piece; wings, beak and "
            "feet are sewn on."
        ),
        "notes": (
            "Parts in the round are worked in a spiral; do not join and do not turn. The feet are worked "
            "in rows.\n"
            "Work tightly, so that no filling shows.\n"
            "Ch 1 at the start of a row does not count as a stitch."
        ),
        "finishing": (
            "Fix the eyes between Rnds 6 and 7, seven stitches apart, before stuffing, or embroider them.\n"
            "Sew the beak under the eyes, the wings to the sides below the neck, the feet under the "
            "body. Go round each seam twice."
        ),
        "care": "Cotton: wash by hand, press the water out in a towel, dry in the shade.",
        "licence": LICENCE,
        "cautions": "For a child under three leave the plastic eyes away and embroider two small dots.",
        "hook_um": 3000,
        "gauge_stitches_tenths": 220,
        "gauge_rows_tenths": 240,
        "gauge_stitch": "sc",
        "gauge_in_round": True,
        "gauge_after_washing": False,
        "youngest_months": 36,
        "small_parts": True,
        "stuffed": True,
    },
    sizes=(("one", "One size", "", "5 cm (2 in) across, 7.5 cm (3 in) high"),),
    yarns=(
        DesignYarn("A", "Pennywort Yarns", "Pocket DK Cotton", "Gull White", "any DK cotton"),
        DesignYarn("B", "Pennywort Yarns", "Pocket DK Cotton", "Pebble"),
        DesignYarn("C", "Pennywort Yarns", "Pocket DK Cotton", "Yolk"),
    ),
    notions=(
        ("safety eyes, 9 mm", 2),
        ("toy filling, about 12 g", 1),
        ("stitch marker", 1),
        ("yarn needle", 1),
    ),
    supplies={"safety eyes, 9 mm": "eyes"},
    picture=drawings.gull,
    alt="A white crocheted gull with grey wings, an orange beak and orange feet, standing on sand.",
)

COWL: Final = Design(
    slug="ebb-cowl",
    row={
        "title": "Ebb Cowl",
        "kind": Kind.SCARF,
        "level": Level.EASY,
        "skills": "joined rounds, decreasing, changing colour",
        "introduction": "A close cowl in joined rounds, a little narrower at the neck than on the shoulders.",
        "notes": (
            "Worked in joined rounds; do not turn.\n"
            "Ch 1 at the start of a round does not count as a stitch.\n"
            "Numbers are for the smallest size, the larger ones in brackets; a number alone is for all sizes."
        ),
        "finishing": "Weave in the ends. Wash by hand and let it dry flat.",
        "care": "Wool: wash by hand in cool water.",
        "licence": LICENCE,
        "hook_um": 4500,
        "gauge_stitches_tenths": 150,
        "gauge_rows_tenths": 110,
        "gauge_stitch": "hdc",
        "gauge_in_round": True,
        "gauge_after_washing": True,
        "small_parts": False,
    },
    sizes=(
        (
            "s",
            "S",
            "neck to 36 cm (14 in)",
            "48 cm (19 in) at the neck, 56 cm (22 in) below, 20 cm (8 in) high",
        ),
        (
            "m",
            "M",
            "neck to 41 cm (16 in)",
            "56 cm (22 in) at the neck, 64 cm (25 in) below, 20 cm (8 in) high",
        ),
        (
            "l",
            "L",
            "neck to 46 cm (18 in)",
            "64 cm (25 in) at the neck, 72 cm (28¼ in) below, 20 cm (8 in) high",
        ),
    ),
    yarns=(
        DesignYarn("MC", "Pennywort Yarns", "Lane DK", "Damson", "any DK wool that gives the gauge"),
        DesignYarn("CC", "Pennywort Yarns", "Lane DK", "Oat"),
    ),
    notions=(("stitch marker", 1), ("yarn needle", 1)),
    picture=None,
    alt="",
)
"""Not out yet: it is with its testers (`patterns.demo.readers`)."""

DESIGNS: Final = (BEANIE, COASTERS, BAG, GULL)
