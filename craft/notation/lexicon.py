"""The words of the trade and what they are to the reader.

Kinds are the grammar's parts of speech; `parse` and its kin know them, nothing else does. Stitch names
come from `craft.standards.terms`. The rest is common practice in printed patterns, no single source.
"""

from __future__ import annotations

from functools import cache

from craft.notation.stitches import (
    IN_PATTERN,
    PLAIN,
    Named,
    increase,
    of_one,
    plain_names,
    post,
    together,
)
from craft.notation.tokens import Lexicon
from craft.notation.tree import Kind, Loops, Stitch
from craft.notation.vocabulary import (
    FANCY,
    KINDS,
    NOUNS,
    NUMBER_WORDS,
    ORDINAL_WORDS,
    UNKNOWN_WIDTH,
)

__all__ = ["lexicon_for"]

# marks that mean the same wherever they stand
_MARKS = {
    **{mark: mark for mark in ',;.:=+/|"#'},
    "&": "and",
    "\u2020": "*",
    "\u2021": "*",
}


def _words(lexicon: Lexicon) -> None:
    for mark, kind in _MARKS.items():
        lexicon.singles[mark] = (kind, mark)
    for stars in ("*", "**", "***"):
        lexicon.singles[stars] = ("*", stars)
    for kind, phrases in KINDS.items():
        for phrase in phrases.split("|"):
            lexicon.add(phrase, kind, "corner" if kind == "corner" else phrase)
    for noun, phrases in NOUNS.items():
        lexicon.add_all(phrases.split("|"), "noun", noun)
    for word, number in NUMBER_WORDS.items():
        lexicon.add(word, "num", (number,))
    for word, number in ORDINAL_WORDS.items():
        lexicon.add(word, "ord", number)
    lexicon.add_all(("rnd", "rnd(s)", "rnds", "round", "rounds", "rd", "rds"), "rnd", Kind.ROUND)
    lexicon.add_all(("row", "row(s)", "rows", "rw", "rws"), "row", Kind.ROW)
    lexicon.add("twice", "multi", 2)
    lexicon.add("thrice", "multi", 3)
    lexicon.add("once", "multi", 1)
    for number, word in enumerate(("two", "three", "four", "five", "six", "seven", "eight"), 2):
        lexicon.add(f"{word} times", "multi", number)
    lexicon.add_all(
        (
            "ch",
            "chs",
            "chain",
            "chains",
            "ch(s)",
            "c",
            "chn",
            "ch st",
            "chain st",
            "chain stitch",
            "chain stitches",
            "ch sts",
            "ch-st",
            "foundation ch",
            "foundation chain",
            "starting ch",
            "starting chain",
            "base ch",
        ),
        "ch",
    )
    lexicon.add_all(
        (
            "sl st",
            "slip st",
            "slip stitch",
            "slst",
            "ss",
            "sl sts",
            "slip sts",
            "slip stitches",
            "sl-st",
            "sl. st",
            "sl stitch",
            "slip",
            "sl",
            "slip-st",
            "sl st(s)",
            "slp st",
            "sl sl",
            "s1 st",
            "slst's",
        ),
        "sl",
    )


def _fancy(lexicon: Lexicon) -> None:
    for name, (uses, makes, phrases) in FANCY.items():
        known = name not in UNKNOWN_WIDTH
        tally = ((name, 1),) if name != "crossed dc" else (("dc", 2),)
        stitch = Stitch(name, uses=uses, makes=makes, tally=tally, known=known)
        lexicon.add_all(phrases.split("|"), "stitch", Named(stitch))


def _spellings(name: str) -> tuple[str, ...]:
    """Plurals, and the name with its letters spaced or stopped as in older print."""
    if " " in name:
        return name, f"{name}s", name.replace("crochet", "crochets"), name.replace(" crochet", "")
    forms = [name, f"{name}s", f"{name} st", f"{name} sts"]
    if len(name) in {2, 3} and name.isalpha() and name not in {"tr", "dtr", "htr"}:
        forms += [" ".join(name), ". ".join(name), ".".join(name)]
    return tuple(forms)


def _plain(lexicon: Lexicon, system: str) -> None:
    names = dict(plain_names("us")) if system == "uk" else {}
    names.update(plain_names(system))
    for written, us in names.items():
        if written in {"double", "treble", "half double", "half treble", "tc"}:
            continue
        for form in _spellings(written):
            lexicon.add(form, "stitch", of_one(us))
        _variants(lexicon, written, us)


def _variants(lexicon: Lexicon, written: str, us: str) -> None:
    """Post stitches, one-loop stitches, increases and decreases of a plain stitch."""
    if us not in PLAIN:
        return
    for side, codes in (
        ("front", ("fp", "front post", "front-post", "f p", "frp")),
        ("back", ("bp", "back post", "back-post", "b p")),
    ):
        named = post(us, side)
        for code in codes:
            lexicon.add_all(
                (
                    f"{code}{written}",
                    f"{code} {written}",
                    f"{written}{code}",
                    f"{written} {code}",
                    f"{code}-{written}",
                    f"{code}{written}s",
                    f"{code} {written}s",
                ),
                "stitch",
                named,
            )
    base = of_one(us).stitch
    for loops, endings in ((Loops.BACK, ("bl", "blo", "tbl")), (Loops.FRONT, ("fl", "flo", "tfl"))):
        for code in endings:
            lexicon.add_all(
                (f"{written}{code}", f"{code}{written}", f"{code} {written}"), "stitch", Named(base, loops)
            )
    lexicon.add_all(
        (f"{written} inc", f"{written}-inc", f"inc {written}", f"{written}inc"), "stitch", increase(us)
    )
    lexicon.add_all(
        (f"{written} dec", f"{written}-dec", f"dec {written}", f"{written}dec", f"inv {written} dec"),
        "stitch",
        together(us, 2),
    )


def _toy_codes(lexicon: Lexicon, system: str) -> None:
    lexicon.add_all(
        ("invdec", "inv dec", "invisible decrease", "invisible dec", "inv-dec", "idec"),
        "stitch",
        together("sc", 2),
    )
    base = "sc" if system == "us" else "dc"
    lexicon.add_all(
        (
            f"reverse {base}",
            f"reverse {base} st",
            "reverse single crochet",
            f"rev {base}",
            "crab st",
            "crab stitch",
            f"reversed {base}",
        ),
        "stitch",
        of_one("rsc"),
    )
    lexicon.add_all(("inct", "inc3", "triple inc"), "stitch", increase("sc", 3))
    lexicon.add_all(
        (
            "in pattern",
            "in pat",
            "in patt",
            "in established pattern",
            "in pat as established",
            "in est pat",
            "in pattern as established",
            "in pat as set",
            "in patt as set",
        ),
        "in pattern",
        Named(IN_PATTERN),
    )


@cache
def lexicon_for(system: str) -> Lexicon:
    """The lexicon for "us" or "uk" terms. Do not widen it: take a copy."""
    lexicon = Lexicon()
    _words(lexicon)
    _fancy(lexicon)
    _plain(lexicon, system)
    _toy_codes(lexicon, system)
    return lexicon
