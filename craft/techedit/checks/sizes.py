"""Group E: sizes and measurements."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median

from craft.fabric.measure import What
from craft.notation.tree import Line, Span
from craft.techedit.case import Case
from craft.techedit.checks.words import line_name, listed, quoted, size_words
from craft.techedit.facts import Measure, fact_slot
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check
from craft.techedit.worked_sizes import held_of, is_alike

# ----------------------------------------------------------------------------------- E1, E2

_LIST = re.compile(
    r"(?<![\w.,/–-])\d+(?:\.\d+)?(?:\s?[(\[]\s?(?:\d+(?:\.\d+)?|[-–—])(?:\s?[,;–-]\s?(?:\d+(?:\.\d+)?"
    r"|[-–—]))*\s?[)\]])+"
    r"|(?<![\w.,/(\[½¼¾–-])\d+(?:-\d+){2,}(?![\w-])"
)
_DIGITS = re.compile(r"\d+(?:\.\d+)?")
_ENTRY = re.compile(r"\d+(?:\.\d+)?|(?<=[(\[,;\s])[-–—](?=[,;)\]\s])")


@dataclass(frozen=True, slots=True)
class _List:
    span: Span
    entries: tuple[str, ...]
    shape: str


def _size_lists(case: Case) -> Iterator[_List]:
    """Every list of numbers by size in the lines that are for all sizes."""
    for line in case.lines:
        if line.label.sizes or case.for_some_sizes(line):
            continue
        for match in _LIST.finditer(case.text, *line.span):
            if match.start() < line.label.span.end:
                continue  # a range of rounds by size
            entries = tuple((_ENTRY if "," in match[0] else _DIGITS).findall(match[0]))
            shape = re.sub(r"\s", "", _ENTRY.sub("n", match[0]))
            yield _List(Span(match.start(), match.end()), entries, shape)


@check("list-of-other-length", "E1", Level.ERROR, needs="sizes")
def list_of_other_length(case: Case) -> Iterator[Hit]:
    """Every list by size has a number for every size.

    Why: with four numbers for five sizes nobody knows which is missing, and the sizes behind it
    shift.

    Wrong:
        Sizes: S (M, L, XL)
        Row 1: Ch 11 (13, 15, 17), sc in 2nd ch from hook and in each ch across (10 (12, 14, 16) sc)
        Row 2: Ch 1, sc in next 4 (5, 6) sts, hdc in each st to end, turn
    Right:
        Sizes: S (M, L, XL)
        Row 1: Ch 11 (13, 15, 17), sc in 2nd ch from hook and in each ch across (10 (12, 14, 16) sc)
        Row 2: Ch 1, sc in next 4 (5, 6, 7) sts, hdc in each st to end, turn

    Limits: lists under "size M only" and the like are left alone; one number alone serves all
    sizes.

    Trade checks: E1.
    """
    count = len(case.draft.sizes)
    # "x 4 (16)" is a number of times and a count, no list
    lists = [f for f in _size_lists(case) if len(f.entries) > 2 or count == 2] if count > 1 else []
    whole = sum(len(found.entries) == count for found in lists)
    for found in lists if 2 * whole >= len(lists) else ():
        length = len(found.entries)
        if length != count and (length > 2 or (count == 2 and length == 3)):
            values = {"list": case.words_at(found.span), "found": length, "sizes": count}
            yield Hit(found.span, values, _too(length, count))


def _too(length: int, count: int) -> str:
    return "short" if length < count else "long"


@check("lists-grouped-differently", "E2", Level.WARNING, needs="sizes")
def lists_grouped_differently(case: Case) -> Iterator[Hit]:
    """All lists by size are bracketed in one way.

    Why: a maker finds her size by its place; "1 (2, 3) (4, 5)" among "1 (2, 3, 4, 5)" makes her
    count anew.

    Wrong:
        Sizes: XS (S, M, L)
        Row 1: Ch 11 (13, 15, 17), sc in 2nd ch from hook and in each ch across (10 (12, 14, 16) sc)
        Row 2: Ch 1, sc in next 4 (5) (6, 7) sts, hdc in each st to end, turn (10 (12, 14, 16) sts)
    Right:
        Sizes: XS (S, M, L)
        Row 1: Ch 11 (13, 15, 17), sc in 2nd ch from hook and in each ch across (10 (12, 14, 16) sc)
        Row 2: Ch 1, sc in next 4 (5, 6, 7) sts, hdc in each st to end, turn (10 (12, 14, 16) sts)

    Limits: compares lists of full length; the commoner form is taken as the house's own.

    Trade checks: E2.
    """
    count = len(case.draft.sizes)
    full = [found for found in _size_lists(case) if len(found.entries) == count and count > 2]
    shapes = Counter(found.shape.replace("[", "(").replace("]", ")") for found in full)
    if len(shapes) < 2:
        return
    usual, times = shapes.most_common(1)[0]
    odd = [f for f in full if f.shape.replace("[", "(").replace("]", ")") != usual]
    if len(odd) * 3 <= times:
        example = next(f for f in full if f not in odd)
        for found in odd[:3]:
            values = {"list": case.words_at(found.span), "usual": case.words_at(example.span)}
            yield Hit(found.span, values)


# ----------------------------------------------------------------------------------- E3, E4

_SHOULD_MEASURE = re.compile(
    r"\b(?:piece|work|it|strip|panel|row|circle|base|hat|square|motif)?\s*(?:should "
    r"|will )?(?:now )?measures?\s+"
    r"(?:about |approx(?:imately|\.)? ?)?(?P<number>\d+(?:\.\d+)?)\s?(?P<unit>cm|mm|in(?:ches)?\b|[\"”])"
    r"\s*(?P<way>wide|across|long|tall|high|from (?:the )?(?:beg|start|foundation))?",
    re.IGNORECASE,
)
_CM = {"cm": 1.0, "mm": 0.1}


@check("width-against-gauge", "E3", Level.WARNING, needs="gauges")
def width_against_gauge(case: Case) -> Iterator[Hit]:
    """A width given for a row is its stitches at the gauge.

    Why: 88 stitches at 16 to 10 cm are 55 cm; a table that says 48 was made for another gauge.

    Wrong:
        Gauge: 16 sc and 18 rows = 10 cm
        Row 1: Ch 33, sc in 2nd ch from hook and in each ch across, turn (32)
        The piece should measure 28 cm wide.
        Row 2: Ch 1, sc in each st across, turn (32)
    Right:
        Gauge: 16 sc and 18 rows = 10 cm
        Row 1: Ch 33, sc in 2nd ch from hook and in each ch across, turn (32)
        The piece should measure 20 cm wide.
        Row 2: Ch 1, sc in each st across, turn (32)

    Limits: reads a measurement that stands right after a row, finished widths of a piece worked straight
    (one stitch in twenty is let pass), and finished widths of a piece that is nearly all one part in
    rounds, by its profile (one part in ten, half a stitch and the rounding are let pass).

    Trade checks: E3.
    """
    rate = next((g.stitches_per_10_cm for g in case.facts.gauges if g.stitches_per_10_cm), None)
    if rate is None:
        return
    for span, cm, total, name in _widths(case):
        by_gauge = total * 10 / rate
        if abs(by_gauge - cm) > max(10 / rate, 0.05 * by_gauge) + 0.5:
            values = {"words": quoted(case, *span), "row": name, "stitches": total, "cm": f"{by_gauge:.3g}"}
            yield Hit(span, {**values, "rate": f"{rate:.3g}"})
    yield from _off(case, upright=False)


def _off(case: Case, *, upright: bool) -> Iterator[Hit]:
    """Finished measurements that the rounds do not give; where all sizes are off alike the gauge has the
    slip.
    """
    for held in held_of(case):
        if held.upright is not upright or not held.off or is_alike(held):
            continue
        first = held.off[0]
        values = {
            "words": quoted(case, *case.closed(held.measure.span)), "name": held.measure.name,
            "cm": f"{first.worked_cm:.3g}", "stated": f"{first.stated_cm:.3g}",
            "what": _WHATS[first.length.what],
        }  # fmt: skip
        several = len(case.draft.sizes) > 1
        if several:
            values["size"] = size_words(case, [first.size])
        sizes = tuple(each.size for each in held.off) if several else None
        yield Hit(held.measure.span, values, "piece-in-sizes" if several else "piece", sizes=sizes)


_WHATS = {
    What.DIAMETER: "across", What.ACROSS: "across", What.SIDE: "along a side", What.CIRCUMFERENCE: "around",
    What.OPENING: "around its last round", What.WIDTH: "wide", What.NARROWEST: "wide", What.LENGTH: "long",
    What.HEIGHT: "high", What.DEPTH: "deep",
}  # fmt: skip


def _widths(case: Case) -> Iterator[tuple[Span, float, int, str]]:
    """Widths with the stitches of the row that they speak of."""
    for match, line in _measured_after(case):
        rounds = case.rounds_by_line.get(id(line), ())
        sized = rounds[-1].per_size[0] if rounds and rounds[-1].per_size else None
        if match["way"] in {"wide", "across"} and sized and line.label.kind.value == "row":
            yield Span(match.start(), match.end()), _match_cm(match), sized.total, line_name(line)
    straight = case.straight_piece
    for measure in case.facts.measures if straight else ():
        if straight and len(measure.cm) == 1 and _names(measure, "width", "wide"):
            yield measure.span, measure.cm[0], straight[0], f"the piece ({straight[0]} stitches)"


def _names(measure: Measure, *words: str) -> bool:
    return any(word in measure.name.split() for word in words)


def _measured_after(case: Case) -> Iterator[tuple[re.Match[str], Line]]:
    """A measurement said in one size's text, with the line of work before it."""
    if len(case.draft.sizes) > 1 or not case.says_any("measure", "measures"):
        return
    for match in _SHOULD_MEASURE.finditer(case.text):
        before = [line for line in case.lines if line.span.start < match.start()]
        if before and not case.in_fact(match.start()):
            yield match, before[-1]


def _match_cm(match: re.Match[str]) -> float:
    return float(match["number"]) * _CM.get(match["unit"].lower(), 2.54)


@check("length-against-gauge", "E4", Level.WARNING, needs="gauges measures")
def length_against_gauge(case: Case) -> Iterator[Hit]:
    """A finished length is the rows at the row gauge.

    Why: 40 rows at 20 to 10 cm are 20 cm; a piece called 24 cm long will disappoint.

    Wrong:
        Finished size: 10 cm wide, 24 cm long
        Gauge: 16 sc and 20 rows = 10 cm
        Row 1: Ch 17, sc in 2nd ch from hook and in each ch across, turn (16)
        Rows 2-40: Ch 1, sc in each st across, turn (16)
    Right:
        Finished size: 10 cm wide, 20 cm long
        Gauge: 16 sc and 20 rows = 10 cm
        Row 1: Ch 17, sc in 2nd ch from hook and in each ch across, turn (16)
        Rows 2-40: Ch 1, sc in each st across, turn (16)

    Limits: a pattern of one piece worked straight in one stitch (one row in twenty and a border are let
    pass), or nearly all one part in rounds: its height, or along the fabric from the middle to the edge, as
    hats are measured (one part in ten and one row are let pass).

    Trade checks: E4.
    """
    rate = next((g.rows_per_10_cm for g in case.facts.gauges if g.rows_per_10_cm), None)
    straight = case.straight_piece
    if rate is None:
        return
    yield from _off(case, upright=True)
    if straight is None:
        return
    rows = straight[1]
    for measure in case.facts.measures:
        if len(measure.cm) == 1 and _names(measure, "length", "long", "tall", "height"):
            by_gauge = rows * 10 / rate
            if abs(by_gauge - measure.cm[0]) > max(20 / rate, 0.06 * by_gauge) + 0.5:
                values = {"words": quoted(case, *measure.span), "rows": rows, "cm": f"{by_gauge:.3g}"}
                yield Hit(measure.span, {**values, "rate": f"{rate:.3g}"})


# ------------------------------------------------------------------------------ E5, E6, E7


def _named_measure(case: Case, *words: str) -> Measure | None:
    return next((m for m in case.facts.measures if all(w in m.name for w in words)), None)


@check("ease-does-not-add-up", "E5", Level.ERROR, needs="measures")
def ease_does_not_add_up(case: Case) -> Iterator[Hit]:
    """Body measurement and ease make the finished measurement.

    Why: to fit 96 with 10 of ease is 106; a table that says 101 has a slip in one of the three.

    Wrong:
        To fit chest: 96 cm
        Ease: 10 cm
        Finished chest: 101 cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        To fit chest: 96 cm
        Ease: 10 cm
        Finished chest: 106 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: needs the three in lines of their own; half a centimetre is let pass, and ease may be
    negative.

    Trade checks: E5.
    """
    body, ease = _named_measure(case, "to fit"), _named_measure(case, "ease")
    finished = _named_measure(case, "finished")
    if body is None or ease is None or finished is None or len(body.cm) != len(finished.cm):
        return
    sign = -1 if "negative" in ease.name or case.text[ease.span.start - 1] in "-–−" else 1
    for at, (fit, done) in enumerate(zip(body.cm, finished.cm, strict=True)):
        allowed = ease.cm[at if len(ease.cm) > 1 else 0] * sign
        if abs(fit + allowed - done) > 0.55:
            values = {"body": f"{fit:g}", "ease": f"{allowed:g}", "finished": f"{done:g}"}
            sizes = (at,) if len(body.cm) > 1 else None
            yield Hit(finished.span, {**values, "right": f"{fit + allowed:g}"}, sizes=sizes)


_MAY_STAY = ("ease", "neck", "brim", "ribbing", "strap", "handle")


@check("measure-falls", "E6", Level.WARNING, needs="measures sizes")
def measure_falls(case: Case) -> Iterator[Hit]:
    """A measurement that grows with the size grows from each size to the next.

    Why: 24 (26, 25, 28) has two numbers swapped or one mistyped.

    Wrong:
        Sizes: S (M, L, XL)
        Finished length: 24 (26, 25, 28) cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Sizes: S (M, L, XL)
        Finished length: 24 (25, 26, 28) cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: equal neighbours are fine; ease, neck, brim, strap and handle may do as they like.

    Trade checks: E6.
    """
    for measure in case.facts.measures:
        if len(measure.cm) < 3 or any(word in measure.name for word in _MAY_STAY):
            continue
        falls = [at for at in range(1, len(measure.cm)) if measure.cm[at] < measure.cm[at - 1] - 0.01]
        if falls and len(falls) < len(measure.cm) - 1:
            values = {"list": quoted(case, *measure.span), "size": size_words(case, falls[:1])}
            yield Hit(measure.span, values, sizes=tuple(falls))


@check("uneven-steps-between-sizes", "E7", Level.WARNING, needs="measures sizes")
def uneven_steps_between_sizes(case: Case) -> Iterator[Hit]:
    """The steps from size to size are alike.

    Why: 73 (79, 91, 97, 121): one step four times another means a wrong number or a size left out.

    Wrong:
        Sizes: S (M, L, XL, 2X)
        Finished bust: 90 (100, 110, 120, 150) cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Sizes: S (M, L, XL, 2X)
        Finished bust: 90 (100, 110, 120, 130) cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: needs four sizes; a step has to be more than two and a half times the middle one and 5
    cm more.

    Trade checks: E7.
    """
    for measure in case.facts.measures:
        steps = [b - a for a, b in zip(measure.cm, measure.cm[1:], strict=False)]
        if len(steps) < 3 or min(steps) < 0:
            continue
        usual = median(steps)
        wide = [at for at, step in enumerate(steps) if step > max(2.5 * usual, usual + 5)]
        if len(wide) == 1 and usual > 0:
            at = wide[0]
            values = {
                "list": quoted(case, *measure.span),
                "step": f"{steps[at]:.3g}",
                "size": size_words(case, (at + 1,)),
                "usual": f"{usual:.3g}",
            }
            yield Hit(measure.span, values, sizes=(at + 1,))


# -------------------------------------------------------------------------------- E8 to E13


@check("centimetres-and-inches-disagree", "E8", Level.ERROR)
def centimetres_and_inches_disagree(case: Case) -> Iterator[Hit]:
    """A length in centimetres and in inches is the same length.

    Why: 24 cm is 9 1/2 in; "24 cm (10 1/4 in)" makes two sizes of one piece.

    Wrong:
        Finished size: 24 cm (10 1/4 in) wide
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Finished size: 24 cm (9 1/2 in) wide
        Rnd 1: 6 sc in magic ring (6)

    Limits: a difference of 0.8 cm or 4.5 % is taken for rounding. Gauge lines have a check of their
    own.

    Trade checks: E8.
    """
    spans = [fact.span for fact in case.draft.facts if fact_slot(fact.name) == "gauge"]
    for first, second in case.amount_pairs:
        in_gauge = any(span.start <= first.span.start < span.end for span in spans)
        if not in_gauge and case.lengths_differ(first, second):
            pair = case.closed(Span(first.span.start, second.span.end))
            yield Hit(pair, {"pair": quoted(case, *pair), **case.lengths_compared(first, second)})


@check("hat-proportions", "E9", Level.WARNING, needs="measures kind")
def hat_proportions(case: Case) -> Iterator[Hit]:
    """The height of a hat is about 0.4 of its circumference.

    Why: a beanie of 50 cm round and 30 cm high covers the eyes; one of 14 cm sits on top of the
    head.

    Wrong:
        Title: Tideline Beanie
        Finished circumference: 50 cm
        Finished height: 32 cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Title: Tideline Beanie
        Finished circumference: 50 cm
        Finished height: 21 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: from 0.3 to 0.55 is let pass, which takes in skull caps and slouchy hats; a text that
    says "slouch" or "fold" is left alone.

    Trade checks: E9.
    """
    around = _named_measure(case, "circumference") or _named_measure(case, "around")
    height = _named_measure(case, "height") or _named_measure(case, "length") or _named_measure(case, "tall")
    folded = case.says_any("slouch", "slouchy", "fold", "folded", "brim")
    if case.facts.kind != "hat" or around is None or height is None or folded:
        return
    for at, (wide, high) in enumerate(zip(around.cm, height.cm, strict=False)):
        if wide and not 0.3 <= high / wide <= 0.55:
            values = {"height": f"{high:g}", "around": f"{wide:g}", "part": f"{high / wide:.2f}"}
            sizes = (at,) if len(around.cm) > 1 else None
            yield Hit(height.span, {**values, "usual": f"{0.4 * wide:.0f}"}, sizes=sizes)


_LETTER_SIZE = re.compile(
    r"(?:X{0,4}[SL]|\dX[LS]?|M|XS|small|medium|large|(?:extra|x)[ -](?:small|large))", re.IGNORECASE
)


@check("sizes-in-letters-alone", "E10", Level.WARNING, needs="sizes")
def sizes_in_letters_alone(case: Case) -> Iterator[Hit]:
    """Sizes carry a measurement, not letters alone.

    Why: one studio's M is another's L. A chest or a head in centimetres lets a maker choose.

    Wrong:
        Sizes: S (M, L)
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Sizes: S (M, L)
        To fit head: 51 (55, 59) cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: asked only where the text has a line of sizes.

    Trade checks: E10.
    """
    letters = all(_LETTER_SIZE.fullmatch(size.strip()) for size in case.draft.sizes)
    fact = next((f for f in case.draft.facts if fact_slot(f.name) == "sizes"), None)
    by_size = any(len(m.cm) == len(case.draft.sizes) for m in case.facts.measures)
    if fact is not None and letters and len(case.draft.sizes) > 1 and not by_size:
        yield Hit(fact.span, {"sizes": listed(case.draft.sizes)})


@check("skipped-size-marked-two-ways", "E11", Level.WARNING, needs="sizes")
def skipped_size_marked_two_ways(case: Case) -> Iterator[Hit]:
    """A step that a size leaves out is marked in one way, a dash or 0, not both.

    Why: where one line has a dash and another a 0, a maker looks for the difference.

    Wrong:
        Sizes: S (M, L)
        Row 1: Ch 11 (13, 15), sc in 2nd ch from hook and in each ch across, turn (10 (12, 14) sc)
        Row 2: Ch 1, hdc in next 0 (2, 4) sts, sc in each st to end, turn (10 (12, 14) sts)
        Row 3: Ch 1, hdc in next - (2, 4) sts, sc in each st to end, turn (10 (12, 14) sts)
    Right:
        Sizes: S (M, L)
        Row 1: Ch 11 (13, 15), sc in 2nd ch from hook and in each ch across, turn (10 (12, 14) sc)
        Row 2: Ch 1, hdc in next 0 (2, 4) sts, sc in each st to end, turn (10 (12, 14) sts)
        Row 3: Ch 1, hdc in next 0 (2, 4) sts, sc in each st to end, turn (10 (12, 14) sts)

    Trade checks: E11.
    """
    zeros = [m for line in case.lines for m in _ZERO_LIST.finditer(case.text, *line.span)]
    dashes = [m for line in case.lines for m in _DASH_LIST.finditer(case.text, *line.span)]
    if zeros and dashes and len(case.draft.sizes) > 1:
        values = {"zero": zeros[0][0].strip(), "dash": dashes[0][0].strip()}
        later = max(zeros[0], dashes[0], key=lambda match: match.start())
        yield Hit(Span(later.start(), later.end()), values)


_ZERO_LIST = re.compile(
    r"(?<![\w.])0 ?\([^()\n]{1,40}\)|(?<![\w.])\d+ ?\((?:[^()\n]{0,30}[, ])?0(?:[, ][^()\n]{0,30})?\)"
)
_DASH_LIST = re.compile(
    r"(?<=\s)[-–—] ?\(\d[^()\n]{0,40}\)|(?<![\w.])\d+ ?\((?:[^()\n]{0,30}[, ])?[-–—](?:[, ][^()\n]{0,30})?\)"
)


@check("rows-differ-in-parity", "E12", Level.WARNING, needs="sizes")
def rows_differ_in_parity(case: Case) -> Iterator[Hit]:
    """Row counts of all sizes are all even or all odd where the next step names a face.

    Why: with 24 (27, 30) rows the middle size ends on the other face, and "RS facing" no longer
    holds.

    Wrong:
        Sizes: S (M, L)
        Row 1 (RS): Ch 11 (13, 15), sc in 2nd ch from hook and in each ch across, turn (10 (12, 14)
        sc)
        Row 2 (WS): Ch 1, sc in each st across, turn (10 (12, 14) sc)
        Repeat Rows 1 and 2 for 24 (27, 30) rows, ending with a WS row.
        Next row (RS): Ch 1, sc in each st across, turn (10 (12, 14) sc)
    Right:
        Sizes: S (M, L)
        Row 1 (RS): Ch 11 (13, 15), sc in 2nd ch from hook and in each ch across, turn (10 (12, 14)
        sc)
        Row 2 (WS): Ch 1, sc in each st across, turn (10 (12, 14) sc)
        Repeat Rows 1 and 2 for 24 (28, 32) rows, ending with a WS row.
        Next row (RS): Ch 1, sc in each st across, turn (10 (12, 14) sc)

    Limits: reads "n (n, n) rows" in texts that mark the faces.

    Trade checks: E12.
    """
    if not any(line.label.side for line in case.lines) or len(case.draft.sizes) < 2:
        return
    for match in _ROWS_LIST.finditer(case.text):
        numbers = [int(n) for n in re.findall(r"\d+", match["list"])]
        if len(numbers) == len(case.draft.sizes) and len({n % 2 for n in numbers}) > 1:
            span = Span(match.start(), match.end())
            yield Hit(span, {"list": match["list"], "odd": listed(str(n) for n in numbers if n % 2)})


_ROWS_LIST = re.compile(r"(?<![\w.])(?P<list>\d+ ?\(\d+(?:, ?\d+)*\)) (?:more )?rows\b", re.IGNORECASE)


@check("rule-for-one-number-missing", "E13", Level.NOTE, needs="sizes")
def rule_for_one_number_missing(case: Case) -> Iterator[Hit]:
    """A pattern in several sizes says that one number alone serves all sizes.

    Why: a new maker wonders whether "sc in next 3 sts" is for the first size only.

    Wrong:
        Sizes: S (M, L)
        To fit head: 51 (55, 59) cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Sizes: S (M, L)
        To fit head: 51 (55, 59) cm
        Notes: Where one number is given, it applies to all sizes.
        Rnd 1: 6 sc in magic ring (6)

    Limits: looks for "one number", "only one", "single number" or "all sizes"; asked only where the
    text has a line of sizes.

    Trade checks: E13.
    """
    fact = next((f for f in case.draft.facts if fact_slot(f.name) == "sizes"), None)
    said = re.search(
        r"\b(?:one|single) (?:number|figure)\b|\bonly one\b|\ball sizes\b", case.text, re.IGNORECASE
    )
    if fact is not None and len(case.draft.sizes) > 1 and not said:
        yield Hit(fact.span)
