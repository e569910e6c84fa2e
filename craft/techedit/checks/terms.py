"""Group F: abbreviations and terms."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from craft.notation.tree import Chain, Span, Work
from craft.standards.terms import UnknownTermError, stitch, uk_stitch
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, quoted
from craft.techedit.facts import fact_slot
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

_PLAIN = frozenset({"ch", "sl st", "ss", "slst", "st", "sts", "sp", "sps"})


# ----------------------------------------------------------------------------------- F1, F2


def _defined(case: Case) -> dict[str, Span]:
    """Every short form of the list, lower case and with its plural, with its place."""
    found: dict[str, Span] = {}
    for item in case.facts.abbreviations:
        for form in _forms(item.short):
            found.setdefault(form, item.span)
    return found


def _forms(short: str) -> Iterator[str]:
    """The forms of an entry: "st(s)" is st and sts; "A, B, C" are three; "sc2(3)tog" two."""
    for part in re.split(r"\s*(?:,|/|\bor\b|\band\b)\s*", short.lower()):
        bare = re.sub(r"\(.*?\)", "", part).strip(" .")
        full = part.replace("(", "").replace(")", "").strip(" .")
        if bare:
            yield from (bare, bare + "s", full, re.sub(r"[\s-]", "", bare))


@check("abbreviation-not-defined", "F1", Level.WARNING, needs="abbreviations")
def abbreviation_not_defined(case: Case) -> Iterator[Hit]:
    """Every stitch abbreviation used stands in the pattern's own list.

    Why: a list that leaves out fpdc sends the newest maker to a search page, and maybe to the other
    terms.

    Wrong:
        Abbreviations: ch = chain; sc = single crochet; st(s) = stitch(es)
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: FPdc around each st (6)
    Right:
        Abbreviations: ch = chain; sc = single crochet; st(s) = stitch(es); FPdc = front post double
        crochet
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: FPdc around each st (6)

    Limits: the plain stitches are only a note, for everybody knows them. Follows stitches written
    short; a name written in full, or defined in the special stitches or in the line itself, needs
    no entry. A list of fewer than three entries is taken for a list of the unusual.

    Trade checks: F1.
    """
    known = _defined(case)
    if len(case.facts.abbreviations) < 3:
        return
    explained = {d.written.lower() for d in case.draft.definitions} | {
        d.name.lower() for d in case.draft.definitions
    }
    seen: set[str] = set()
    for _, work in case.works:
        short = _short_of(work)
        if short is None or short in seen:
            continue
        seen.add(short)
        if not _is_known(short, known) and short not in explained and not _in_the_list(case, short):
            level = Level.NOTE if short in _EVERYBODY_KNOWS else None
            yield Hit(work.span, {"short": short}, level=level)


def _in_the_list(case: Case, short: str) -> bool:
    """Whether it stands in the list in a form that was not taken apart: "Cl (3 treble cluster)"."""
    lists = [fact.span for fact in case.draft.facts if fact_slot(fact.name) in {"abbreviations", "special"}]
    places = case.spans_of(short)
    return any(
        span.start <= at.start < span.end and _EXPLAINS.match(case.text, at.end)
        for span in lists
        for at in places
    )


_EXPLAINS = re.compile(r"\)?\s{0,4}[(:=–—-]")
_EVERYBODY_KNOWS = frozenset({"sc", "hdc", "dc", "tr", "htr"})
_WRITTEN = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
_COMPOUND = re.compile(r"(?:fp|bp)[a-z]{2,4}|[a-z]{2,4}\d+tog|(?:beg-)?cl|pc|ps", re.IGNORECASE)


def _short_of(work: Work) -> str | None:
    """The maker's abbreviation, or None where the stitch is written in full."""
    found = _WRITTEN.search(work.written or "")
    word = found[0].lower() if found else ""
    if not word or len(word) > 8 or "sl st" in (work.written or "").lower():
        return None
    return word if _COMPOUND.fullmatch(word) or word in _SHORT_STITCHES else None


_SHORT_STITCHES = frozenset(
    [
        "sc",
        "hdc",
        "dc",
        "tr",
        "dtr",
        "trtr",
        "htr",
        "esc",
        "ehdc",
        "edc",
        "etr",
        "fsc",
        "fhdc",
        "fdc",
        "rsc",
        "inc",
        "dec",
    ]
)


def _is_known(short: str, known: dict[str, Span]) -> bool:
    base = re.sub(r"\d+tog$|s$", "", short)
    together = re.fullmatch(r"(\w+?)\d+tog", short)
    if together and any("tog" in entry for entry in known):
        return True
    return short in known or base in known or short in _PLAIN


@check("abbreviation-not-used", "F2", Level.NOTE, needs="abbreviations")
def abbreviation_not_used(case: Case) -> Iterator[Hit]:
    """Every stitch of the list is worked.

    Why: a picot that is defined and never worked was left over from another pattern, or its edging
    was.

    Wrong:
        Abbreviations: ch = chain; sc = single crochet; bobble = 5 dc together in one st
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Abbreviations: ch = chain; sc = single crochet
        Rnd 1: 6 sc in magic ring (6)

    Limits: only stitches are followed; words such as "approx" are often kept in a house list.

    Trade checks: F2.
    """
    ends = [fact.span for fact in case.draft.facts if fact_slot(fact.name) == "abbreviations"]
    for item in case.facts.abbreviations:
        forms = set(_forms(item.short))
        if not _is_stitch(item.short) or len(forms) > 4 or not _is_one_word(item.short):
            continue
        places = [span for form in forms for span in case.spans_of(form)]
        outside = [s for s in places if not any(e.start <= s.start < e.end for e in ends)]
        if not outside and not _named_otherwise(case, item.short):
            yield Hit(item.span, {"short": item.short})


def _is_one_word(short: str) -> bool:
    return re.fullmatch(r"[A-Za-z][\w-]*", short) is not None


def _is_stitch(short: str) -> bool:
    for lookup in (stitch, uk_stitch):
        try:
            return lookup(short).us not in {"ch", "sl st"}
        except UnknownTermError:
            continue
    return (
        re.search(r"tog$|^fp|^bp|bobble|picot|shell|cluster|popcorn|puff|v-?st", short, re.IGNORECASE)
        is not None
    )


def _named_otherwise(case: Case, short: str) -> bool:
    """Whether the stitch is worked under another spelling of its name."""
    name = short.lower()
    return any(name in word for word in case.words if word != name) or name in case.stitches


# ----------------------------------------------------------------------------------- F3, F8

# One idea, its spellings.
_SYNONYMS: tuple[tuple[str, ...], ...] = (
    ("sk", "skip", "miss"),
    ("sl st", "slst", "ss"),
    ("rnd", "round"),
    ("inc", "increase"),
    ("dec", "decrease"),
)
_FEW = 0.2


@check("two-forms-for-one-idea", "F3", Level.NOTE)
def two_forms_for_one_idea(case: Case) -> Iterator[Hit]:
    """One idea has one form: rnd or round, sk or skip or miss, sl st or ss.

    Why: a reader who meets "miss" after ten times "skip" looks for a difference.

    Wrong:
        Rnd 1: 12 sc in magic ring (12)
        Rnd 2: (Sc in next st, skip next st) 6 times (6)
        Rnd 3: 2 sc in each st around (12)
        Rnd 4: (Sc in next st, skip next st) 6 times (6)
        Rnd 5: 2 sc in each st around (12)
        Rnd 6: (Sc in next st, skip next st) 6 times (6)
        Rnd 7: 2 sc in each st around (12)
        Rnd 8: (Sc in next st, skip next st) 6 times (6)
        Rnd 9: 2 sc in each st around (12)
        Rnd 10: (Sc in next st, skip next st) 6 times (6)
        Rnd 11: 2 sc in each st around (12)
        Rnd 12: (Sc in next st, skip next st) 6 times (6)
        Rnd 13: 2 sc in each st around (12)
        Rnd 14: (Sc in next st, miss next st) 6 times (6)
    Right:
        Rnd 1: 12 sc in magic ring (12)
        Rnd 2: (Sc in next st, skip next st) 6 times (6)

    Limits: only a form used once or twice beside many of the other is mentioned; two forms in even
    use are a house's own business. Labels and running text are counted apart.

    Trade checks: F3.
    """
    for forms in _SYNONYMS:
        used = {form: places for form in forms if (places := _in_work(case, form))}
        if len(used) < 2:
            continue
        most = max(used, key=lambda form: len(used[form]))
        for form, places in used.items():
            if form != most and len(places) <= 2 and len(places) <= _FEW * len(used[most]):
                values = {"form": form, "usual": most, "times": len(used[most])}
                yield Hit(places[0], values)


def _in_work(case: Case, form: str) -> list[Span]:
    """The places of a word inside lines of work, labels apart."""
    words = case.spans_of(form) if " " not in form else []
    if form == "sl st":
        words = [span for span in case.spans_of("sl") if case.text[span.end : span.end + 3] == " st"]
    return [span for span in words if case.in_work(span.start)]


_CASED = ("sc", "hdc", "dc", "tr", "htr")


@check("capitals-vary", "F8", Level.NOTE)
def capitals_vary(case: Case) -> Iterator[Hit]:
    """A stitch is written with the same capitals throughout.

    Why: SC beside sc looks like another stitch; post stitches really are told apart by capitals.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (2 sc in next st) 6 times (12 sc)
        Rnd 3: (sc in next st, 2 sc in next st) 6 times (18 sc)
        Rnd 4: (sc in next 2 sts, 2 SC in next st) 6 times (24 sc)
        Rnd 5: (sc in next 3 sts, 2 sc in next st) 6 times (30 sc)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (2 sc in next st) 6 times (12 sc)

    Limits: a capital at the start of a sentence is no difference; only a form used once or twice
    beside many of the other is mentioned.

    Trade checks: F8.
    """
    for name in _CASED:
        if name not in case.text or name.upper() not in case.text:
            continue
        forms = Counter(case.words_at(span) for span in case.spans_of(name) if case.in_work(span.start))
        low, high = forms.get(name, 0), forms.get(name.upper(), 0)
        few, usual = (name.upper(), name) if low >= high else (name, name.upper())
        if 0 < forms[few] <= 2 and forms[few] <= _FEW * forms[usual]:
            place = next(
                span
                for span in case.spans_of(name)
                if case.words_at(span) == few and case.in_work(span.start)
            )
            yield Hit(place, {"form": few, "usual": usual})


# ----------------------------------------------------------------------------- F4, F5, F6, F7


@check("terms-not-stated", "F4", Level.NOTE)
def terms_not_stated(case: Case) -> Iterator[Hit]:
    """The pattern says whether its terms are US or UK.

    Why: dc and tr are other stitches in the other terms, and the fabric comes out half as high.

    Wrong:
        Row 1: Ch 23, tr in 4th ch from hook and in each ch across, turn
        Row 2: Ch 3, tr in each st across, turn
        Row 3: Ch 3, dc in each st across, turn
    Right:
        Terms: UK
        Row 1: Ch 23, tr in 4th ch from hook and in each ch across, turn
        Row 2: Ch 3, tr in each st across, turn
        Row 3: Ch 3, dc in each st across, turn

    Limits: said only where no word of the text tells the terms (sc, hdc, skip and gauge are US;
    htr, miss and tension are UK), and the note names the terms that were used.

    Trade checks: F4.
    """
    if case.draft.terms_from != "default":
        return
    telling = ("sc", "hdc", "single", "htr", "tension", "miss", "skip", "sk", "gauge", "esc", "fsc")
    first = next((work for _, work in case.works if _base(work) in {"dc", "tr", "dtr"}), None)
    if first is not None and not case.says_any(*telling):
        yield Hit(first.span, {"word": first.written or first.stitch.name})


def _base(work: Work) -> str:
    return (work.written or "").lower().strip()


@check("terms-mixed", "F5", Level.ERROR)
def terms_mixed(case: Case) -> Iterator[Hit]:
    """A pattern keeps to one system of terms.

    Why: sc stands only in US terms and htr only in UK terms; with both, every dc may be either
    stitch.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 htr in each st around (12)
        Rnd 3: sc in each st around (12)
    Right:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 hdc in each st around (12)
        Rnd 3: sc in each st around (12)

    Limits: stitches decide; "miss" and "tension" are used by US houses too. A text that gives both
    terms side by side, as in "sc [UK dc]", is left alone.

    Trade checks: F5.
    """
    uk = _first_written(case, "htr", "exhtr")
    us = _first_written(case, "sc", "hdc", "esc") if uk else None
    if us and uk and not _both_on_purpose(case):
        later = max((us, uk), key=lambda found: found[1].start)
        other = us if later is uk else uk
        values = {
            "here": later[0],
            "other": other[0],
            "here_terms": _terms_of(later[0]),
            "other_terms": _terms_of(other[0]),
        }
        yield Hit(later[1], values)


def _first_written(case: Case, *names: str) -> tuple[str, Span] | None:
    found = [(name, span) for name in names for span in case.spans_of(name) if case.in_work(span.start)]
    return min(found, key=lambda pair: pair[1].start) if found else None


def _terms_of(name: str) -> str:
    return "UK" if "htr" in name else "US"


def _both_on_purpose(case: Case) -> bool:
    return case.says_any("uk") and case.says_any("us")


_YARN_OVERS = re.compile(
    r"^\s{0,9}[(\[]?\s{0,4}(?:y ?oh?|yrh|yarn (?:over|round)(?: hook)?)\b[)\]]?\s{0,4}"
    r"(?P<times>once|twice|(?:\d|three|two|four) times|x ?\d)?",
    re.IGNORECASE,
)
_TIMES = {"once": 1, "twice": 2, "two": 2, "three": 3, "four": 4}


@check("definition-in-other-terms", "F6", Level.ERROR, needs="abbreviations")
def definition_in_other_terms(case: Case) -> Iterator[Hit]:
    """A stitch is defined as the terms of the pattern name it.

    Why: "tr: yarn over once" is a US double crochet; a file that calls itself US means two yarn
    overs.

    Wrong:
        Terms: US
        Abbreviations: ch = chain; sc = single crochet; tr = Yo once, insert hook, yo and pull up a
        loop, (yo, pull through 2 loops) twice
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 tr in each st around (12)
    Right:
        Terms: US
        Abbreviations: ch = chain; sc = single crochet; tr = Yo twice, insert hook, yo and pull up a
        loop, (yo, pull through 2 loops) three times
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: 2 tr in each st around (12)

    Limits: counts the yarn overs before the hook goes in, for the plain stitches only.

    Trade checks: F6.
    """
    for item in case.facts.abbreviations:
        name = item.short.lower().strip()
        match = _YARN_OVERS.match(item.meaning)
        expected = _yarn_overs(name, case.draft.terms)
        if match is None or expected is None:
            continue
        said = _times(match["times"])
        if said != expected:
            values = {"short": item.short, "said": said, "expected": expected}
            yield Hit(item.span, {**values, "terms": (case.draft.terms or "us").upper()})


def _times(word: str | None) -> int:
    if not word:
        return 1
    first = word.lower().split()[0].removeprefix("x")
    return int(first) if first.isdigit() else _TIMES.get(first, 1)


def _yarn_overs(name: str, terms: str | None) -> int | None:
    """Yarn overs before the hook goes in, for a plain stitch of these terms."""
    if name not in {"dc", "tr", "dtr", "htr", "hdc", "trtr"}:
        return None
    try:
        return (uk_stitch(name) if terms == "uk" else stitch(name)).yarn_overs
    except UnknownTermError:
        return None


@check("chains-speak-for-other-terms", "F7", Level.WARNING)
def chains_speak_for_other_terms(case: Case) -> Iterator[Hit]:
    """The turning chains fit the height of the stitches in the terms that the pattern states.

    Why: three chains before every dc speak for US double crochet; a UK dc is turned with one.

    Wrong:
        Terms: UK
        Row 1: Ch 23, dc in 4th ch from hook and in each ch across, turn (21)
        Row 2: Ch 3, dc in next 20 sts, turn (21)
        Row 3: Ch 3, dc in next 20 sts, turn (21)
    Right:
        Terms: UK
        Row 1: Ch 23, tr in 4th ch from hook and in each ch across, turn (21)
        Row 2: Ch 3, tr in next 20 sts, turn (21)
        Row 3: Ch 3, tr in next 20 sts, turn (21)

    Limits: needs two lines or more that begin so, and no line that fits the stated terms.

    Trade checks: F7.
    """
    stated = case.facts.terms
    if stated is None:
        return
    starts = [(line.span, *start) for line in case.lines if (start := _start(line.steps))]
    wrong = [(span, chains, work) for span, chains, work in starts if _fits_other(chains, work, stated)]
    right = [1 for _, chains, work in starts if _height(work, stated) == chains]
    if len(wrong) >= 2 and not right:
        span, chains, work = wrong[0]
        values = {"chains": chains, "word": work.written, "terms": stated.upper(), "times": len(wrong)}
        yield Hit(Span(span.start, work.span.end), {**values, "other": "US" if stated == "uk" else "UK"})


def _start(steps: tuple[object, ...]) -> tuple[int, Work] | None:
    """A line's starting chain and the first stitch after it."""
    chain = steps[0] if steps else None
    work = next((step for step in steps[1:3] if isinstance(step, Work)), None)
    if isinstance(chain, Chain) and work and chain.number and chain.number[0] and chain.number[0] <= 6:
        return chain.number[0], work
    return None


def _height(work: Work, terms: str) -> int | None:
    try:
        return (uk_stitch if terms == "uk" else stitch)(work.written).turning_chain
    except UnknownTermError:
        return None


def _fits_other(chains: int, work: Work, stated: str) -> bool:
    other = "us" if stated == "uk" else "uk"
    return _height(work, other) == chains and (_height(work, stated) or chains) != chains


# --------------------------------------------------------------------------------- F9, F10


@check("one-form-two-meanings", "F9", Level.WARNING, needs="abbreviations")
def one_form_two_meanings(case: Case) -> Iterator[Hit]:
    """One abbreviation has one meaning.

    Why: M for marker and M for main colour stand side by side in "with M to M".

    Wrong:
        Abbreviations: ch = chain; sc = single crochet; m = marker; M = main colour
        Rnd 1: With M, 6 sc in magic ring (6)
    Right:
        Abbreviations: ch = chain; sc = single crochet; m = marker; MC = main colour
        Rnd 1: With MC, 6 sc in magic ring (6)

    Limits: compares the entries of the pattern's own list, capitals apart.

    Trade checks: F9.
    """
    first: dict[str, tuple[str, str]] = {}
    for item in case.facts.abbreviations:
        key, meaning = item.short.lower().strip(" ."), _meaning(item.meaning)
        if not key or not meaning or not re.fullmatch(r"[a-z][\w -]*", key):
            continue
        if key in first and not _alike(first[key][1], meaning):
            values = {"short": item.short, "first": first[key][0], "second": quoted(case, *item.span)}
            yield Hit(item.span, values)
        first.setdefault(key, (f"{item.short} = {item.meaning.strip()[:40]}", meaning))


def _meaning(words: str) -> str:
    return re.sub(r"[^a-z]", "", words.lower())[:24]


def _alike(first: str, second: str) -> bool:
    return first.startswith(second[:5]) or second.startswith(first[:5])


_OWN_RULE = re.compile(
    r"number (?:before|in front of) (?:a|the) stitch[^.\n]*(?P<same>same|one|each)|"
    r"[\"“]?\d ?(?:sc|dc)[\"”]? means[^.\n]*(?:in(?:to)? (?P<one>the same|one|the next st)|each)",
    re.IGNORECASE,
)


@check("number-and-stitch-ambiguous", "F10", Level.NOTE)
def number_and_stitch_ambiguous(case: Case) -> Iterator[Hit]:
    """The words "3 dc" and "dc 3" are used in one sense, and where both senses fit, the pattern says
    which.

    Why: "(2 sc, 4 dc) x 4" may put two stitches into one or into two; the counts decide only where
    they are printed.

    Wrong:
        Rnd 1: 6 sc in magic ring
        Rnd 2: dc 2 in next, dc in next 5
    Right:
        Rnd 1: 6 sc in magic ring
        Rnd 2: 2 dc in next st, dc in next 5 sts

    Limits: a bare "3 sc" is one in each of the next three in nearly all patterns and is not
    mentioned; only words that the reader had to weigh are.

    Trade checks: F10.
    """
    for spot, work in case.works:
        if work.ambiguous and not _settled(case, spot.line):
            if case.says_any("means", "before", "front") and _OWN_RULE.search(case.text):
                return
            values = {"words": quoted(case, *work.span), "here": line_name(spot.line)}
            yield Hit(work.span, {**values, "read": _read_as(work)})
            return


def _settled(case: Case, line: object) -> bool:
    """Whether the printed count of the line agrees, which settles the sense."""
    rounds = case.rounds_by_line.get(id(line), ())
    return any(r.verdict.value == "agrees" for r in rounds)


def _read_as(work: Work) -> str:
    each = work.each[0] if work.each else 1
    number = work.place.number[0] if work.place.number else 1
    return f"{each} in one stitch" if (each or 1) > 1 else f"one in each of {number} stitches"
