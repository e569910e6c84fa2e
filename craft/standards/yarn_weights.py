"""The eight yarn weight categories (0-7) with their crochet columns.

Where a table of the Craft Yarn Council is shown or printed it carries CREDIT_LINE, as the council
asks. Gauge is single crochet to 4 in, except lace, which is counted in double crochet; the whole
table is a guideline, not a tolerance. Printed copies disagree in rows 6 and 7: the current figures
stand here (7-9 stitches on 9-15 mm; 6 or fewer on 15 mm and larger), older labels may follow
OLDER_SUPER_BULKY.

Sources named in `source`:
  COPY-A   the council's table with Jumbo, copied at 222handspun.com
  COPY-B   the older six-category table, copied at crochetonatrain.com
  SHOP     a yarn company's yarn guide, PDF
  CHILE    "Grosor de los Hilados", PDF
  WPI      wraps per inch credited to the council, theunusualpear.com, with knitfreedom.com
  METRES   UK shop chart "Crochet hook, yarn and stitch conversions", with craftys.uk and CHILE
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

__all__ = [
    "CREDIT_LINE",
    "OLDER_SUPER_BULKY",
    "YARN_WEIGHTS",
    "Bounds",
    "YarnWeight",
    "guess_weight",
    "weight_category",
]

CREDIT_LINE: Final = "Source: Craft Yarn Council's www.YarnStandards.com"


@dataclass(frozen=True, slots=True)
class Bounds:
    """A closed range; None where the table leaves that side open."""

    low: Decimal | None
    high: Decimal | None

    def holds(self, value: Decimal) -> bool:
        """Tell whether a value lies in the range, ends included."""
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)


@dataclass(frozen=True, slots=True)
class YarnWeight:
    """One category. `gauge`: stitches to 4 in of `gauge_stitch` (US). `hook_mm`: advised hook, mm.

    `knit_gauge`, `needle_mm`: the knitting columns, which many bands print alone.
    `metres_per_100g`: trade usage (union of three charts), not the council's; cotton runs 10-25 %
    shorter.
    """

    number: int
    name: str
    types: tuple[str, ...]
    uk_name: str
    ply: str
    gauge: Bounds
    gauge_stitch: str
    hook_mm: Bounds
    hook_us: str
    steel_hook_mm: Bounds | None
    wraps_per_inch: Bounds
    knit_gauge: Bounds
    needle_mm: Bounds
    metres_per_100g: Bounds
    source: str


def _between(low: str | None, high: str | None) -> Bounds:
    return Bounds(None if low is None else Decimal(low), None if high is None else Decimal(high))


YARN_WEIGHTS: tuple[YarnWeight, ...] = (
    YarnWeight(
        0,
        "Lace",
        ("fingering", "10-count crochet thread"),
        "1-2 ply, lace",
        "2 ply",
        _between("32", "42"),
        "dc",
        _between("2.25", "2.25"),
        "B-1",
        _between("1.4", "1.6"),
        _between("30", None),
        _between("33", "40"),
        _between("1.5", "2.25"),
        _between("500", None),
        "COPY-A, COPY-B; WPI; METRES",
    ),
    YarnWeight(
        1,
        "Super Fine",
        ("sock", "fingering", "baby"),
        "4 ply",
        "3-4 ply",
        _between("21", "32"),
        "sc",
        _between("2.25", "3.5"),
        "B-1 to E-4",
        None,
        _between("14", "30"),
        _between("27", "32"),
        _between("2.25", "3.25"),
        _between("350", "600"),
        "COPY-A, COPY-B; WPI; METRES",
    ),
    YarnWeight(
        2,
        "Fine",
        ("sport", "baby"),
        "5 ply",
        "5 ply",
        _between("16", "20"),
        "sc",
        _between("3.5", "4.5"),
        "E-4 to 7",
        None,
        _between("12", "18"),
        _between("23", "26"),
        _between("3.25", "3.75"),
        _between("250", "400"),
        "COPY-A, COPY-B; WPI; METRES",
    ),
    YarnWeight(
        3,
        "Light",
        ("DK", "light worsted"),
        "DK",
        "8 ply",
        _between("12", "17"),
        "sc",
        _between("4.5", "5.5"),
        "7 to I-9",
        None,
        _between("11", "15"),
        _between("21", "24"),
        _between("3.75", "4.5"),
        _between("200", "300"),
        "COPY-A, COPY-B; WPI; METRES",
    ),
    YarnWeight(
        4,
        "Medium",
        ("worsted", "afghan", "aran"),
        "aran",
        "10 ply",
        _between("11", "14"),
        "sc",
        _between("5.5", "6.5"),
        "I-9 to K-10½",
        None,
        _between("9", "12"),
        _between("16", "20"),
        _between("4.5", "5.5"),
        _between("120", "200"),
        "COPY-A, COPY-B, CHILE; WPI; METRES",
    ),
    YarnWeight(
        5,
        "Bulky",
        ("chunky", "craft", "rug"),
        "chunky",
        "12-14 ply",
        _between("8", "11"),
        "sc",
        _between("6.5", "9"),
        "K-10½ to M-13",
        None,
        _between("6", "9"),
        _between("12", "15"),
        _between("5.5", "8"),
        _between("90", "130"),
        "COPY-A, COPY-B; WPI; METRES",
    ),
    YarnWeight(
        6,
        "Super Bulky",
        ("super bulky", "roving"),
        "super chunky",
        "16 ply",
        _between("7", "9"),
        "sc",
        _between("9", "15"),
        "M-13 to Q",
        None,
        _between("5", "6"),
        _between("7", "11"),
        _between("8", "12.75"),
        _between("40", "100"),
        "SHOP, CHILE; WPI; METRES",
    ),
    YarnWeight(
        7,
        "Jumbo",
        ("jumbo", "roving"),
        "jumbo",
        "jumbo",
        _between(None, "6"),
        "sc",
        _between("15", None),
        "Q and larger",
        None,
        _between("1", "4"),
        _between(None, "6"),
        _between("12.75", None),
        _between(None, "100"),
        "SHOP, CHILE; WPI; METRES",
    ),
)

OLDER_SUPER_BULKY: Final = Bounds(Decimal(5), Decimal(9))
"""Category 6 before 2014, when there was no category 7: 5-9 sc on 9 mm and larger. Source:
COPY-B.
"""

_LIMITS: tuple[tuple[Decimal, int], ...] = tuple(
    (Decimal(limit), number)
    for limit, number in ((600, 0), (400, 1), (290, 2), (200, 3), (125, 4), (90, 5), (40, 6))
)


def weight_category(number: int) -> YarnWeight:
    """Return a category by its number, 0 to 7. Raises ValueError for any other."""
    if not 0 <= number < len(YARN_WEIGHTS):
        raise ValueError(f"Yarn weights run from 0 (lace) to 7 (jumbo); {number} is none of them.")
    return YARN_WEIGHTS[number]


def guess_weight(metres_per_100g: Decimal) -> YarnWeight:
    """Return the likeliest category of a yarn from its length, m per 100 g.

    The charts overlap; the limits used (600, 400, 290, 200, 125, 90, 40) part them near the middle
    of each overlap and are ours. A cotton may belong one class lower: gauge or wraps decide.
    """
    if metres_per_100g <= 0:
        raise ValueError("The length of 100 g has to be above nought.")
    for limit, number in _LIMITS:
        if metres_per_100g >= limit:
            return YARN_WEIGHTS[number]
    return YARN_WEIGHTS[7]
