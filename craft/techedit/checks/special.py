"""Group G: special stitches and their definitions."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from craft.notation.tree import Definition, How, Span, Work
from craft.techedit.case import Case
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check

# ----------------------------------------------------------------------------------- G1, G4


def _uses(case: Case, definition: Definition) -> list[Work]:
    names = {definition.name.lower(), definition.stitch.name.lower()}
    return [work for _, work in case.works if work.stitch.name.lower() in names]


@check("defined-after-use", "G1", Level.WARNING)
def defined_after_use(case: Case) -> Iterator[Hit]:
    """A special stitch is defined before it is worked for the first time.

    Why: a definition three lines after the bobble comes when the bobble has been guessed already.

    Wrong:
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (bobble in next st, sc in next st) 3 times (6)
        Special stitches: Bobble: (yo, insert hook, yo and pull up a loop, yo, pull through 2 loops)
        4 times in same st, yo, pull through 5 loops.
        Rnd 3: sc in each st around (6)
    Right:
        Special stitches: Bobble: (yo, insert hook, yo and pull up a loop, yo, pull through 2 loops)
        4 times in same st, yo, pull through 5 loops.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (bobble in next st, sc in next st) 3 times (6)
        Rnd 3: sc in each st around (6)

    Limits: a definition within the line that first uses the stitch is in time.

    Trade checks: G1.
    """
    for definition in case.draft.definitions:
        uses = _uses(case, definition)
        if not uses:
            continue
        first = min(uses, key=lambda work: work.span.start)
        line = case.line_at(first.span.start)
        late = definition.span.start > (line.span.end if line else first.span.end)
        if late:
            yield Hit(definition.span, {"name": definition.name, "line": case.places.line(first.span.start)})


@check("special-stitch-not-defined", "G1", Level.WARNING)
def special_stitch_not_defined(case: Case) -> Iterator[Hit]:
    """A stitch with a name of the pattern's own is defined in it.

    Why: "crab bloom in next st" means nothing until the pattern says how it is made and what it
    counts as.

    Wrong:
        Special stitches: Bobble: 5 dc together in same st.
        Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn (11)
        Row 2: Ch 1, sc in next 5 sts, crab bloom in next st, sc in next 5 sts, turn (11)
    Right:
        Special stitches: Bobble: 5 dc together in same st.
        Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn (11)
        Row 2: Ch 1, sc in next 5 sts, bobble in next st, sc in next 5 sts, turn (11)

    Limits: only stitches whose width neither the trade nor the pattern gives; they stop the count,
    which is why this is worth a word.

    Trade checks: G1.
    """
    seen: set[str] = set()
    for _, work in case.works:
        named = _SPECIAL.search(work.stitch.name) or work.place.how in {How.NEXT, How.EACH}
        unknown = not work.stitch.known and not _NO_STITCH.search(work.stitch.name)
        if unknown and named and work.stitch.name not in seen and not _beginning(work):
            seen.add(work.stitch.name)
            yield Hit(work.span, {"name": work.written or work.stitch.name})


_SPECIAL = re.compile(
    r"\b(?:shell|fan|v-?st|cluster|cl|bobble|popcorn|pc|puff|picot|cable|block|bloom|petal|star)s?\b",
    re.IGNORECASE,
)
_NO_STITCH = re.compile(
    r"\b(?:work|worked|working|back|strand|leaves|leaf|times|double|even|increases?)\b|^.$", re.IGNORECASE
)


def _beginning(work: Work) -> bool:
    return re.match(r"beg(?:inning)?\b", work.written or "", re.IGNORECASE) is not None


_BEG = re.compile(
    r"\bbeg(?:inning)?[ -](?P<name>cl\b|cluster|shell|bobble|popcorn|pc\b|puff|v-?st|block)", re.IGNORECASE
)


_DEFINES = re.compile(r"\s{0,4}(?:\([^)\n]{1,12}\)\s{0,4})?[:=]")


@check("beginning-form-not-defined", "G4", Level.WARNING)
def beginning_form_not_defined(case: Case) -> Iterator[Hit]:
    """Where the first cluster of a round is made another way, that way is defined too.

    Why: "beg cluster" starts with a chain in one house and with a standing stitch in another.

    Wrong:
        Special stitches: Cluster (cl): (yo, insert hook, yo and pull up a loop, yo, pull through 2
        loops) 3 times in same st, yo, pull through 4 loops.
        Rnd 1: 6 sc in magic ring, join (6)
        Rnd 2: Beg cl in same st, (ch 2, cl in next st) 5 times, ch 2, join
    Right:
        Special stitches: Cluster (cl): (yo, insert hook, yo and pull up a loop, yo, pull through 2
        loops) 3 times in same st, yo, pull through 4 loops.
        Beg cl: Ch 2, (yo, insert hook, yo and pull up a loop, yo, pull through 2 loops) 2 times in
        same st, yo, pull through 3 loops.
        Rnd 1: 6 sc in magic ring, join (6)
        Rnd 2: Beg cl in same st, (ch 2, cl in next st) 5 times, ch 2, join

    Limits: a definition is any place where the name is followed by a colon, an equals sign or a
    bracket.

    Trade checks: G4.
    """
    if not case.says_any("beg", "beginning", "beg-cl"):
        return
    found = list(_BEG.finditer(case.text))
    defined = {m["name"].lower() for m in found if _DEFINES.match(case.text, m.end())}
    for match in found:
        if match["name"].lower() not in defined and case.in_work(match.start()):
            yield Hit(Span(match.start(), match.end()), {"name": match[0]})
            return


# ---------------------------------------------------------------------------------- G2, G5


@dataclass(frozen=True, slots=True)
class _Recipe:
    """The words that define a stitch, with where they stand."""

    name: str
    words: str
    span: Span


def _recipes(case: Case) -> list[_Recipe]:
    """Definitions spelled out with loops, in the list of abbreviations and in lines of their own."""
    found = [
        _Recipe(item.short, item.meaning, item.span)
        for item in case.facts.abbreviations
        if "loop" in item.meaning.lower()
    ]
    spans = {recipe.span for recipe in found}
    for definition in case.draft.definitions:
        words = case.words_at(definition.span)
        name, _, rest = words.partition(":") if ":" in words[:40] else words.partition("=")
        if definition.span not in spans and "loop" in rest.lower():
            found.append(_Recipe(name.strip() or definition.name, rest, definition.span))
    return found


_COUNTS = re.compile(r"\bcount|\bdoes not\b|\bclos|\bsecure|\block", re.IGNORECASE)


@check("closing-chain-not-counted", "G2", Level.NOTE)
def closing_chain_not_counted(case: Case) -> Iterator[Hit]:
    """A definition that ends with a chain says whether that chain counts.

    Why: the chain that closes a popcorn is worked into by some and skipped by others, and the count
    moves by one for every popcorn.

    Wrong:
        Special stitches: Popcorn (pc): 5 dc in same st, drop loop, insert hook in first dc, pull
        loop through, ch 1.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (pc in next st, sc in next st) 3 times (6)
    Right:
        Special stitches: Popcorn (pc): 5 dc in same st, drop loop, insert hook in first dc, pull
        loop through, ch 1 to close (does not count).
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (pc in next st, sc in next st) 3 times (6)

    Limits: asked of definitions in lines of their own that end with "ch 1".

    Trade checks: G2.
    """
    for definition in case.draft.definitions:
        words = case.words_at(definition.span)
        if re.search(r"\bch 1\s*\.?\s*$", words) and not _COUNTS.search(words):
            yield Hit(definition.span, {"name": definition.name})


_LEGS_IN_NAME = re.compile(
    r"^\s*(?:(?P<first>\d)[ -]?(?:dc|hdc|tr|sc)|(?:dc|hdc|tr|sc)(?P<after>\d)tog|(?P<cl>\d)(?:dc|tr)cl)",
    re.IGNORECASE,
)
_LEGS_WORKED = re.compile(
    r"[)\]]\s*(?:in (?:the )?same (?:st|sp|ch)\w*\s*)?(?P<times>\d+|twice|three|four|five|six)\s*(?:times)?",
    re.IGNORECASE,
)
_NUMBERS = {"twice": 2, "three": 3, "four": 4, "five": 5, "six": 6, "once": 1, "two": 2}


@check("legs-disagree-with-name", "G5", Level.ERROR)
def legs_disagree_with_name(case: Case) -> Iterator[Hit]:
    """The number in a stitch's name is the number of legs that its definition makes.

    Why: a "3-dc cluster" defined with four legs is thicker than its neighbours, or its name is
    wrong.

    Wrong:
        Special stitches: 3-dc cluster: (Yo, insert hook, yo and pull up a loop, yo, pull through 2
        loops) 4 times in same st, yo, pull through all loops.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (3-dc cluster in next st, ch 1) 6 times
    Right:
        Special stitches: 3-dc cluster: (Yo, insert hook, yo and pull up a loop, yo, pull through 2
        loops) 3 times in same st, yo, pull through all loops.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (3-dc cluster in next st, ch 1) 6 times

    Limits: reads definitions made of one bracket worked a number of times.

    Trade checks: G5.
    """
    for recipe in _recipes(case):
        named = _LEGS_IN_NAME.match(recipe.name)
        worked = list(_LEGS_WORKED.finditer(recipe.words))
        if named is None or len(worked) != 1 or recipe.words.count("(") + recipe.words.count("[") != 1:
            continue
        legs = int(named["first"] or named["after"] or named["cl"])
        times = worked[0]["times"].lower()
        made = int(times) if times.isdigit() else _NUMBERS[times]
        if legs != made and not _chain_is_leg(recipe.words, legs, made):
            yield Hit(recipe.span, {"name": recipe.name.strip(), "legs": legs, "made": made})


def _chain_is_leg(words: str, legs: int, made: int) -> bool:
    """A beginning form: its chain stands for one leg."""
    return made == legs - 1 and re.search(r"\bch \d", words, re.IGNORECASE) is not None


# --------------------------------------------------------------------------------------- G3

_TIMES = r"(?:\d+|once|twice|two|three|four|five|six)"
_ACT = re.compile(
    r"(?P<open>[(\[])"
    rf"|(?P<close>[)\]])\s*(?:in (?:the )?(?:same|next|first|indicated)[\w\s]{{0,20}}?)?"
    rf"(?:(?P<times>{_TIMES})(?:\s*(?:more )?times\b)?)?"
    r"|(?P<insert>\binsert(?:ing)?\b[^.,;()]*?\bhook\b|\binsert\b)"
    r"|(?P<through>\b(?:draw|pull)(?:ing)?\s+(?:yarn |loop )?through\s+"
    r"(?:(?:the\s+)?(?:all|remaining|rem|both)\b"
    r"|(?:first\s+|next\s+)?(?P<n>\d+|one|two|three|four|five|six)\b|(?P<unclear>\S+))"
    rf"(?:\s*(?:loops?|lps?)?\s*(?:on (?:the )?hook)?\s+(?P<ttimes>{_TIMES})(?: times)?\b)?)"
    r"|(?P<loop>\b(?:draw|pull)(?:ing)?\s+up\s+(?:a\s+|1\s+)?(?P<many>\d+\s+)?(?:long\s+)?(?:loop|lp)s?\b)"
    r"|(?P<yo>\b(?:yoh?|yrh|y oh|yarn over(?: hook)?|yarn round hook)\b"
    r"\s*(?P<ytimes>once|twice|\d times|\d x|three times)?)",
    re.IGNORECASE,
)


@check("loops-do-not-come-out", "G3", Level.ERROR)
def loops_do_not_come_out(case: Case) -> Iterator[Hit]:
    """A definition can be carried out: it pulls through no more loops than there are, and leaves one.

    Why: one missing yarn over in a definition has cost beginners evenings, because they blamed
    themselves.

    Wrong:
        Special stitches: Cluster: (Yo, insert hook, yo and pull up a loop, yo, pull through 2
        loops) 3 times in same st,
        yo, pull through 5 loops.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (Cluster in next st, ch 1) 6 times
    Right:
        Special stitches: Cluster: (Yo, insert hook, yo and pull up a loop, yo, pull through 2
        loops) 3 times in same st,
        yo, pull through 4 loops.
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: (Cluster in next st, ch 1) 6 times

    Limits: follows yarn overs, loops pulled up and loops pulled through, brackets included. "Yo and
    pull up a loop" may mean one loop or two; a definition that comes out either way is let pass,
    and one with other acts (dropping a loop, a star) is left alone.

    Trade checks: G3.
    """
    for recipe in _recipes(case):
        if _OTHER_ACTS.search(recipe.words):
            continue
        acts = _unfolded(list(_ACT.finditer(recipe.words)))
        if acts is None or not any(act["through"] for act in acts):
            continue
        faults = [_simulate(acts, one_loop=one_loop) for one_loop in (False, True)]
        if all(faults):
            words, on_hook, asked = faults[0] or ("", 0, 0)
            values = {"name": recipe.name.strip(), "words": words, "on_hook": on_hook, "asked": asked}
            yield Hit(recipe.span, values, "" if asked else "left")


_OTHER_ACTS = re.compile(
    r"\bdrop|\bremove|\bsl st|\bpicot|\bknit|\btwist|\bdc\b.*\bdc\b|\bwrap|\*|\brep", re.IGNORECASE
)


class _Hand:
    """The loops on the hook while a definition is worked; `one_loop` reads "yo and pull up a loop" as
    one.
    """

    def __init__(self, *, one_loop: bool) -> None:
        self.one_loop = one_loop
        self.loops = 1
        self.inserted = False
        self.over = 0  # yarn overs just made, which the next act may use up
        self.last = ""

    def act(self, act: re.Match[str]) -> tuple[str, int, int] | None:
        """Do one act; return what cannot be done."""
        if act["insert"]:
            self.inserted, self.over = True, 0
        elif act["yo"]:
            self.over = _many(act["ytimes"] or "once")
            # After the hook went in, the yarn over is the loop that is pulled up.
            self.loops += 0 if self.inserted else self.over
        elif act["loop"]:
            merged = self.one_loop and self.over and not self.inserted
            self.loops += int(act["many"] or 1) - (1 if merged else 0)
            self.inserted, self.over = False, 0
        else:
            return self._through(act)
        return None

    def _through(self, act: re.Match[str]) -> tuple[str, int, int] | None:
        # "Yo and pull through": the yarn over is the loop that comes through, not one on the hook.
        self.loops -= self.over if not self.inserted else 0
        for _ in range(_many(act["ttimes"] or "once")):
            taken = _many(act["n"]) if act["n"] else self.loops
            if taken > self.loops:
                return act[0], self.loops, taken
            self.loops -= taken - 1
        self.last, self.inserted, self.over = act[0], False, 0
        return None


def _simulate(acts: list[re.Match[str]], *, one_loop: bool) -> tuple[str, int, int] | None:
    """The act that cannot be done with the loops then on the hook; asked 0: loops left at the end."""
    if any(act["unclear"] for act in acts):
        return None
    hand = _Hand(one_loop=one_loop)
    for act in acts:
        if fault := hand.act(act):
            return fault
    return (hand.last, hand.loops, 0) if hand.loops != 1 else None


def _many(word: str) -> int:
    first = word.lower().split()[0]
    return int(first) if first.isdigit() else _NUMBERS.get(first, 1)


def _unfolded(acts: list[re.Match[str]]) -> list[re.Match[str]] | None:
    """The acts with brackets worked as often as they say; None where brackets are not closed."""
    stack: list[list[re.Match[str]]] = [[]]
    for act in acts:
        if act["open"]:
            stack.append([])
        elif act["close"]:
            if len(stack) == 1:
                return None
            inner = stack.pop()
            stack[-1] += inner * min(_many(act["times"] or "once"), 20)
        else:
            stack[-1].append(act)
    return stack[0] if len(stack) == 1 else None
