"""Group A: title, front matter, claims and references."""

from __future__ import annotations

import re
from collections.abc import Iterator

from craft.notation.tree import Colour, Span
from craft.techedit.case import Case
from craft.techedit.checks.words import listed
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check


@check("title-varies", "A1", Level.WARNING, needs="title")
def title_varies(case: Case) -> Iterator[Hit]:
    """The pattern has the same title everywhere.

    Why: the cover says Thistle Bowl and the licence line says Thistle Basket: the buyer has two
    files, or one too few.

    Wrong:
        Title: Thistle Bowl
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        You may sell what you make from the Thistle Basket pattern.
    Right:
        Title: Thistle Bowl
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        You may sell what you make from the Thistle Bowl pattern.

    Limits: looks for a name of as many words that begins like the title and ends otherwise; a yarn in
    the list may be named like the pattern.

    Trade checks: A1.
    """
    title = (case.facts.title or "").strip()
    words = title.split()
    if len(words) < 2 or not words[0][:1].isupper() or len(words[0]) < 4:
        return
    head = re.escape(" ".join(words[:-1]))
    for match in re.finditer(rf"\b{head} (?P<last>[A-Z][a-z]+)\b", case.text):
        another = match["last"] != words[-1].strip(".:")
        named_yarn = case.in_fact(match.start())
        if another and not named_yarn and not match["last"].lower().startswith(("pattern", "by")):
            yield Hit(Span(match.start(), match.end()), {"title": title, "other": match[0]})
            return


_PLACEHOLDER = re.compile(
    r"\b(?:your (?:name|address|e-?mail|shop|site|website|handle)(?: here)?|(?:insert"
    r"|add) (?:\w+ ){1,3}here|lorem ipsum|tbc|tbd|xx{2,}"
    r"|[\w.]+@example\.\w+|www\.example\.\w+|to be (?:confirmed|decided|added))\b|\[\.\.\.\]|_{4,}|\?{3,}",
    re.IGNORECASE,
)


_OPEN_WORDS = ("your", "insert", "add", "lorem", "tbc", "tbd", "example", "confirmed", "decided", "added")
_OPEN_MARKS = ("xxx", "XXX", "[...]", "____", "???")


@check("placeholder-left", "A2", Level.WARNING)
def placeholder_left(case: Case) -> Iterator[Hit]:
    """Nothing of the template is left open: name, address, dates.

    Why: "questions to your address here" sends every question nowhere.

    Wrong:
        Help: write to your address here
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Help: write to the address on the last page
        Rnd 1: 6 sc in magic ring (6)

    Limits: knows the usual words and marks of an open place (your name here, tbc, xxx, ___, ???).

    Trade checks: A2.
    """
    maybe = case.says_any(*_OPEN_WORDS) or any(mark in case.text for mark in _OPEN_MARKS)
    for match in list(_PLACEHOLDER.finditer(case.text))[:3] if maybe else ():
        if not case.in_work(match.start()):
            yield Hit(Span(match.start(), match.end()), {"words": match[0]})


# What a kind of piece has no parts of; a word of another kind is left over from another pattern.
_FOREIGN: dict[str, tuple[str, ...]] = {
    "basket": ("sleeve", "sleeves", "armhole", "armholes", "neckline", "brim", "cuff", "thumb", "collar"),
    "blanket": ("sleeve", "sleeves", "armhole", "neckline", "brim", "thumb", "collar", "ears"),
    "bag": ("sleeve", "sleeves", "armhole", "brim", "thumb", "collar", "neckline"),
    "coaster": ("sleeve", "sleeves", "armhole", "brim", "thumb", "cuff", "collar", "neckline"),
    "cloth": ("sleeve", "sleeves", "armhole", "brim", "thumb", "cuff", "collar", "neckline"),
    "pillow": ("sleeve", "sleeves", "armhole", "brim", "thumb", "cuff", "collar", "neckline"),
    "scarf": ("sleeve", "sleeves", "armhole", "armholes", "brim", "thumb"),
    "hat": ("sleeve", "sleeves", "armhole", "armholes", "thumb", "heel", "handles"),
}


@check("word-of-another-piece", "A4", Level.WARNING, needs="kind")
def word_of_another_piece(case: Case) -> Iterator[Hit]:
    """Nothing of the last pattern is left in this one.

    Why: designers copy their last file as a template; "turn the sleeve right side out" in a basket
    is what is left of it.

    Wrong:
        Title: Thistle Basket
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Turn the sleeve right side out.
    Right:
        Title: Thistle Basket
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
        Turn the basket right side out.

    Limits: knows a few parts that a basket, bag, blanket, coaster, cloth, pillow, scarf or hat has
    not; a part with a heading of its own is no left-over.

    Trade checks: A4.
    """
    titles = " ".join(section.title.lower() for section in case.sections)
    for word in _FOREIGN.get(case.facts.kind or "", ()):
        if word in case.words and word.rstrip("s") not in titles:
            yield Hit(case.spans_of(word)[0], {"word": word, "kind": case.facts.kind})
            return


_EXPECTED = (
    ("the yarn", ("yarn", "materials")),
    ("the hook", ("hook", "materials")),
    ("the gauge", ("gauge",)),
    ("a list of abbreviations", ("abbreviations",)),
)


@check("front-matter-missing", "A5", Level.WARNING)
def front_matter_missing(case: Case) -> Iterator[Hit]:
    """What stands above the instructions is complete: yarn, hook, gauge, abbreviations.

    Why: a pattern without a gauge cannot be met, one without a hook cannot be begun.

    Wrong:
        Title: Thistle Bowl
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 2 balls
        Notions: yarn needle
        Abbreviations: ch = chain; sc = single crochet; inc = 2 sc in one st
        Gauge: 16 sc and 18 rows = 10 cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Title: Thistle Bowl
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 2 balls
        Hook: 5 mm (H-8)
        Notions: yarn needle
        Abbreviations: ch = chain; sc = single crochet; inc = 2 sc in one st
        Gauge: 16 sc and 18 rows = 10 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: asked only of a text that has three of the four or more, so that bare instructions are
    left alone.

    Trade checks: A5.
    """
    stated = set(case.facts.stated)
    missing = [name for name, slots in _EXPECTED if not stated & set(slots)]
    if missing == ["the hook"] and (case.says_any("mm") or case.facts.hooks):
        return
    if len(missing) == 1 and case.draft.facts:
        yield Hit(case.draft.facts[0].span, {"missing": listed(missing)})


_LEVELS = {
    "basic": 1,
    "beginner": 1,
    "easy": 2,
    "intermediate": 3,
    "complex": 4,
    "experienced": 4,
    "advanced": 4,
}
_HARD = re.compile(r"^(?:fp|bp)|cluster|popcorn|picot|cable|crossed|puff|bobble|\dtog", re.IGNORECASE)


@check("level-below-techniques", "A6", Level.WARNING, needs="level")
def level_below_techniques(case: Case) -> Iterator[Hit]:
    """The project level agrees with what the pattern asks for.

    Why: "Basic" over post stitches in three colours brings letters from unhappy beginners.

    Wrong:
        Level: Basic
        Rnd 1: With A, 12 dc in magic ring, join (12)
        Rnd 2: Join B, ch 2, FPdc around each st, join (12)
        Rnd 3: Join C, ch 1, (sc in next st, bobble in next st) 6 times, join (12)
    Right:
        Level: Intermediate
        Rnd 1: With A, 12 dc in magic ring, join (12)
        Rnd 2: Join B, ch 2, FPdc around each st, join (12)
        Rnd 3: Join C, ch 1, (sc in next st, bobble in next st) 6 times, join (12)

    Limits: counts kinds of special stitches and colours; levels are the four of the project scale,
    and the older words are taken too. Only "basic" and "beginner" are held against the pattern.

    Trade checks: A6.
    """
    level = next((n for word, n in _LEVELS.items() if word in (case.facts.level or "").lower()), None)
    hard = sorted(name for name in case.stitches if _HARD.search(name))
    colours = {spot.step.label for spot in case.spots if isinstance(spot.step, Colour)}
    if level == 1 and len(hard) + max(0, len(colours) - 1) >= 3:
        fact = next(
            (f for f in case.draft.facts if "level" in f.name.lower() or "skill" in f.name.lower()), None
        )
        if fact is not None:
            what = listed([*hard[:3], *([f"{len(colours)} colours"] if len(colours) > 1 else [])])
            yield Hit(fact.span, {"level": case.facts.level, "what": what})


_CLAIM = re.compile(
    r"\b(?:in |comes in |offers |written for |includes )?(?P<n>two|three|four|five|six|seven|eight"
    r"|nine|ten|\d{1,2}) (?P<what>sizes|colou?rs)\b",
    re.IGNORECASE,
)
_NUMBERS = {
    w: i
    for i, w in enumerate(
        ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]
    )
}


@check("claim-is-not-true", "A7", Level.WARNING, needs="sizes")
def claim_is_not_true(case: Case) -> Iterator[Hit]:
    """What the description claims is so: the number of sizes.

    Why: "in six sizes" over a table of five is found by the sixth.

    Wrong:
        Sizes: S (M, L)
        Notes: Comes in four sizes.
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Sizes: S (M, L)
        Notes: Comes in three sizes.
        Rnd 1: 6 sc in magic ring (6)

    Limits: reads a number before "sizes" outside the lines of work; "two sizes larger" and hook
    sizes are no claims.

    Trade checks: A7.
    """
    count = len(case.draft.sizes)
    for match in _CLAIM.finditer(case.text) if case.says_any("sizes") and count > 1 else ():
        word = match["n"].lower()
        number = int(word) if word.isdigit() else _NUMBERS[word]
        after = case.text[match.end() : match.end() + 10].lower()
        before = case.text[max(0, match.start() - 12) : match.start()].lower()
        claims = match["what"] == "sizes" and not after.lstrip().startswith(
            ("larger", "smaller", "up", "down", "of hook")
        )
        if (
            claims
            and number != count
            and "hook" not in before
            and not case.in_work(match.start())
            and "first" not in before
        ):
            yield Hit(Span(match.start(), match.end()), {"words": match[0].strip(), "count": count})
            return


_SEE = re.compile(
    r"\bsee (?:the )?(?P<what>special stitch(?:es)?|abbreviations|notes?|finishing|assembly|making up"
    r"|chart|schematic|diagram|materials)\b",
    re.IGNORECASE,
)
_STANDS_AS: dict[str, tuple[str, ...]] = {
    "special": ("special",), "abbreviations": ("abbreviations", "abbreviation"), "note": ("note", "notes"),
    "finishing": ("finishing",), "assembly": ("assembly", "assembling"), "making up": ("making",),
    "materials": ("materials",),
}  # fmt: skip


@check("reference-leads-nowhere", "A8", Level.WARNING)
def reference_leads_nowhere(case: Case) -> Iterator[Hit]:
    """A reference such as "see Special Stitches" leads to a part that is there.

    Why: a reader who is sent to a section that was cut reads the whole file twice.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: bobble (see Special Stitches) in each st around (6)
    Right:
        Special stitches: Bobble: 5 dc together in same st.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: bobble (see Special Stitches) in each st around (6)

    Limits: looks for the word a second time; charts and drawings do not stand in the text and are
    left alone.

    Trade checks: A8.
    """
    for match in _SEE.finditer(case.text) if case.says_any("see") else ():
        what = match["what"].lower()
        words = next((v for k, v in _STANDS_AS.items() if what.startswith(k)), ())
        spans = [span for word in words for span in case.spans_of(word)]
        elsewhere = [
            s for s in spans if not match.start() <= s.start < match.end() and not _referring(case, s)
        ]
        if words and not elsewhere and not (what.startswith("special") and case.draft.definitions):
            yield Hit(Span(match.start(), match.end()), {"words": match[0], "what": match["what"]})
            return


def _referring(case: Case, span: Span) -> bool:
    return case.text[max(0, span.start - 8) : span.start].lower().rstrip().endswith(("see", "see the"))
