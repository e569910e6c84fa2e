"""Abbreviations and repeat marks of written patterns, in US terms.

The Craft Yarn Council's crochet list in its present form is from memory; rows with `confirmed` are
repeated in at least one list at hand: stitch4ever.com 2012, danceswithwools.net 2022, two UK book
lists, a teaching site (knittingcrochetcrafts.com) and a yarn company's patterns of 2020. Case
matters on that list: post and loop codes are capitals, stitches are lower case. Where the list is
shown it carries the council's credit line (`yarn_weights.CREDIT_LINE`).
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ABBREVIATIONS", "MARKS", "Abbreviation", "Mark", "abbreviation"]


@dataclass(frozen=True, slots=True)
class Abbreviation:
    """One abbreviation. `on_list`: stands on the council's crochet list; `also`: other spellings in
    use.
    """

    short: str
    meaning: str
    also: tuple[str, ...] = ()
    confirmed: bool = False
    on_list: bool = True


@dataclass(frozen=True, slots=True)
class Mark:
    """A repeat or grouping mark and its meanings, the council's first."""

    mark: str
    meanings: tuple[str, ...]
    source: str


def _listed(*rows: tuple[str, str]) -> tuple[Abbreviation, ...]:
    """Rows that at least one cited list repeats; "BL/BLO" gives a short form and its other
    spelling.
    """
    return tuple(_row(names, meaning, confirmed=True, on_list=True) for names, meaning in rows)


def _remembered(*rows: tuple[str, str]) -> tuple[Abbreviation, ...]:
    return tuple(_row(names, meaning, confirmed=False, on_list=True) for names, meaning in rows)


def _in_use(*rows: tuple[str, str]) -> tuple[Abbreviation, ...]:
    return tuple(_row(names, meaning, confirmed=True, on_list=False) for names, meaning in rows)


def _row(names: str, meaning: str, *, confirmed: bool, on_list: bool) -> Abbreviation:
    short, *also = names.split("|")
    return Abbreviation(short, meaning, tuple(also), confirmed, on_list)


ABBREVIATIONS: tuple[Abbreviation, ...] = (
    *_listed(
        ("alt", "alternate"),
        ("approx", "approximately"),
        ("beg", "begin, beginning"),
        ("bet", "between"),
        ("BL|BLO", "back loop only"),
        ("BPdc", "back post double crochet"),
        ("BPsc", "back post single crochet"),
        ("CC", "contrasting colour"),
        ("ch", "chain"),
        ("ch-sp|ch sp", "chain space"),
        ("CL|cl", "cluster"),
        ("cont", "continue"),
        ("dc", "double crochet"),
        ("dc2tog", "double crochet 2 stitches together"),
        ("dec", "decrease"),
        ("dtr", "double treble crochet"),
        ("esc|Esc|exsc", "extended single crochet"),
        ("FL|FLO", "front loop only"),
        ("FPdc", "front post double crochet"),
        ("FPsc", "front post single crochet"),
        ("FPtr", "front post treble crochet"),
        ("hdc", "half double crochet"),
        ("hdc2tog", "half double crochet 2 stitches together"),
        ("inc", "increase"),
        ("lp", "loop"),
        ("MC", "main colour"),
        ("pat|patt", "pattern"),
        ("pm", "place marker"),
        ("prev", "previous"),
        ("puff|ps", "puff stitch"),
        ("rem", "remaining"),
        ("rep", "repeat"),
        ("rnd", "round"),
        ("RS", "right side"),
        ("sc", "single crochet"),
        ("sk", "skip"),
        ("sl st", "slip stitch"),
        ("sp", "space"),
        ("st", "stitch"),
        ("tch|t-ch", "turning chain"),
        ("tog", "together"),
        ("tr", "treble crochet"),
        ("WS", "wrong side"),
        ("yo", "yarn over"),
        ("yoh", "yarn over hook"),
    ),
    *_remembered(
        ("bo", "bobble"),
        ("BP", "back post"),
        ("BPdtr", "back post double treble crochet"),
        ("BPhdc", "back post half double crochet"),
        ("BPtr", "back post treble crochet"),
        ("CA", "colour A"),
        ("CB", "colour B"),
        ("ch-", "a chain or chain space made before, as in ch-3"),
        ("edc", "extended double crochet"),
        ("ehdc", "extended half double crochet"),
        ("etr", "extended treble crochet"),
        ("foll", "follow, following"),
        ("FP", "front post"),
        ("FPdtr", "front post double treble crochet"),
        ("FPhdc", "front post half double crochet"),
        ("m", "marker"),
        ("pc", "popcorn stitch"),
        ("sc2tog", "single crochet 2 stitches together"),
        ("sh", "shell"),
        ("sm|sl m", "slip marker"),
        ("tbl", "through back loop"),
        ("tr2tog", "treble crochet 2 stitches together"),
        ("trtr", "triple treble crochet"),
    ),
    *_in_use(
        ("ea", "each"),
        ("lp st|ls", "loop stitch"),
        ("Cdc", "crossed double crochet"),
        ("KS", "knot stitch"),
        ("dsc", "double single crochet"),
        ("3LO", "third loop only"),
        ("mc|MR", "magic circle, magic ring"),
        ("R#", "row or round of that number"),
        ("BOR", "beginning of round"),
    ),
)

MARKS: tuple[Mark, ...] = (
    Mark(
        "*",
        ("the place to go back to: what follows is worked once, then the number of extra times said",),
        "Knitting Abbreviations PDF; scanned manual page, zanotowane.pl",
    ),
    Mark(
        "**",
        (
            "what stands between two of them is worked as told",
            "an inner stop: the last repeat ends here",
            "a second, outer repeat",
        ),
        "Knitting Abbreviations PDF; scanned manual page, zanotowane.pl",
    ),
    Mark(
        "[ ]",
        (
            "repeat what is inside the number of times said",
            "all of it into one place (one large US publisher)",
        ),
        "Knitting Abbreviations PDF; a publisher's symbol rules",
    ),
    Mark("{ }", ("as square brackets, for nesting",), "from memory, no source at hand"),
    Mark(
        "( )",
        (
            "repeat what is inside the number of times said",
            "all of it into one stitch or space",
            "the numbers of other sizes, an aside, or the count of a row",
        ),
        "first two from memory; the rest mooglyblog.com/crochet-pattern-symbols",
    ),
    Mark(
        ";",
        ("closes what is repeated, before “repeat from *”",),
        "scanned manual page, zanotowane.pl",
    ),
)

_EXACT = {name: each for each in ABBREVIATIONS for name in (each.short, *each.also)}
_FOLDED: dict[str, Abbreviation] = {}
for _name, _each in _EXACT.items():
    _FOLDED.setdefault(_name.lower(), _each)


def abbreviation(short: str) -> Abbreviation | None:
    """Return the entry for an abbreviation: exact case first (MC is a colour, mc a ring), then any
    case.
    """
    return _EXACT.get(short.strip()) or _FOLDED.get(short.strip().lower())
