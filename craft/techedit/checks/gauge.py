"""Group D: gauge."""

from __future__ import annotations

import re
from collections.abc import Iterator
from statistics import median

from craft.notation.tree import Span
from craft.techedit.case import Case
from craft.techedit.checks.words import listed, quoted
from craft.techedit.facts import Gauge, Measure, fact_slot
from craft.techedit.finding import Level
from craft.techedit.registry import Hit, check
from craft.techedit.worked_sizes import held_of, is_alike


@check("gauge-incomplete", "D1", Level.WARNING, needs="gauges")
def gauge_incomplete(case: Case) -> Iterator[Hit]:
    """A gauge gives stitches and rows over a length, and names the stitch or the pattern that is
    measured.

    Why: "16 sts = 10 cm" can be met in any stitch, and without rows no length can be planned.

    Wrong:
        Gauge: 16 sts = 10 cm
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: hdc in each st around (6)
    Right:
        Gauge: 16 sc and 18 rows = 10 cm
        Rnd 1: 6 sc in magic ring (6)
        Rnd 2: hdc in each st around (6)

    Limits: a gauge by motif or by repeats is left alone, and the stitch need not be named where the
    pattern works in only one.

    Trade checks: D1.
    """
    gauges = case.facts.gauges
    if not gauges[0].stitches or any(gauge.repeats for gauge in gauges) or _unimportant(case):
        return
    missing = []
    if not any(gauge.rows for gauge in gauges):
        missing.append("the rows")
    named = any(gauge.stitch or gauge.fabric or _in_own_stitch(case, gauge) for gauge in gauges)
    if not named and len(case.main_stitches) > 1:
        missing.append("the stitch")
    if missing:
        values = {"gauge": quoted(case, *gauges[0].span), "missing": listed(missing)}
        level = Level.WARNING if len(missing) > 1 else Level.NOTE
        yield Hit(gauges[0].span, values, level=level)


def _in_own_stitch(case: Case, gauge: Gauge) -> bool:
    """Whether the gauge is in a stitch that the pattern itself explains ("in wave st", "in splsc")."""
    words = case.words_at(gauge.span).lower()
    own = {d.written.lower() or d.name.lower() for d in case.draft.definitions}
    own |= {a.short.lower() for a in case.facts.abbreviations if len(a.short) > 3}
    return any(f"in {name}" in words for name in own if name)


def _unimportant(case: Case) -> bool:
    return bool(re.search(r"\bgauge is not\b|\bnot (?:critical|important)\b", case.text, re.IGNORECASE))


@check("gauge-in-other-stitch", "D2", Level.WARNING, needs="gauges")
def gauge_in_other_stitch(case: Case) -> Iterator[Hit]:
    """There is a gauge in the stitch that most of the fabric is worked in.

    Why: a gauge in single crochet tells nothing about a body in shells of double crochet.

    Wrong:
        Gauge: 16 sc and 18 rows = 10 cm
        Row 1: Ch 42, dc in 4th ch from hook and in each ch across, turn (40)
        Row 2: Ch 3 (counts as dc), dc in next 39 sts, turn (40)
        Row 3: Ch 3 (counts as dc), dc in next 39 sts, turn (40)
    Right:
        Gauge: 16 dc and 8 rows = 10 cm
        Row 1: Ch 42, dc in 4th ch from hook and in each ch across, turn (40)
        Row 2: Ch 3 (counts as dc), dc in next 39 sts, turn (40)
        Row 3: Ch 3 (counts as dc), dc in next 39 sts, turn (40)

    Limits: said only where the stitch of the gauge makes up less than a twentieth of the stitches
    counted.

    Trade checks: D2.
    """
    named = {gauge.stitch for gauge in case.facts.gauges}
    if None in named or any(g.fabric or g.repeats for g in case.facts.gauges):
        return
    shares = case.stitch_shares
    if not shares or sum(shares.get(stitch or "", 0.0) for stitch in named) > 0.05:
        return
    main = max(shares, key=lambda name: shares[name])
    if shares[main] > 0.6 and main in {"sc", "hdc", "dc", "tr"}:
        values = {
            "stitch": listed(sorted(s for s in named if s)),
            "main": main,
            "share": f"{shares[main]:.0%}",
        }
        yield Hit(case.facts.gauges[0].span, values)


@check("gauge-by-repeats-disagrees", "D3", Level.ERROR, needs="gauges")
def gauge_by_repeats_disagrees(case: Case) -> Iterator[Hit]:
    """A gauge by repeats gives the same width as the gauge by stitches.

    Why: 3 shells of 6 stitches to 10 cm are 18 stitches; sizes planned at 16 come out too narrow.

    Wrong:
        Gauge: 16 sts and 9 rows = 10 cm in pattern
        Gauge: 3 shells of 6 sts = 10 cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Gauge: 18 sts and 9 rows = 10 cm in pattern
        Gauge: 3 shells of 6 sts = 10 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: needs the stitches of one repeat; gauges that each name a stitch of their own are not
    compared.

    Trade checks: D3.
    """
    by_stitch = [g for g in case.facts.gauges if g.stitches_per_10_cm and not g.stitch]
    for gauge in case.facts.gauges:
        if not (gauge.repeats and gauge.stitches_per_repeat and gauge.width_cm):
            continue
        rate = gauge.repeats * gauge.stitches_per_repeat * 10 / gauge.width_cm
        for other in by_stitch:
            printed = other.stitches_per_10_cm or rate
            if abs(printed - rate) > 0.05 * rate:
                values = {"repeats": f"{gauge.repeats:g}", "each": f"{gauge.stitches_per_repeat:g}"}
                yield Hit(gauge.span, {**values, "rate": f"{rate:.3g}", "printed": f"{printed:.3g}"})
                return


@check("gauge-units-disagree", "D4", Level.ERROR)
def gauge_units_disagree(case: Case) -> Iterator[Hit]:
    """The span of a gauge in centimetres and in inches is the same span.

    Why: "16 sts = 10 cm (3 in)" makes two different garments.

    Wrong:
        Gauge: 16 sc and 18 rows = 10 cm (3 in)
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Gauge: 16 sc and 18 rows = 10 cm (4 in)
        Rnd 1: 6 sc in magic ring (6)

    Limits: 4 in and 10 cm are taken as the same, as the trade does.

    Trade checks: D4.
    """
    spans = [fact.span for fact in case.draft.facts if fact_slot(fact.name) == "gauge"]
    for first, second in case.amount_pairs:
        if any(span.start <= first.span.start < span.end for span in spans) and case.lengths_differ(
            first, second
        ):
            pair = case.closed(Span(first.span.start, second.span.end))
            yield Hit(pair, {"pair": quoted(case, *pair), **case.lengths_compared(first, second)})


_SWATCH = re.compile(r"\bch(?:ain)? (?P<chains>\d+)\b", re.IGNORECASE)


@check("swatch-too-small", "D5", Level.WARNING, needs="gauges")
def swatch_too_small(case: Case) -> Iterator[Hit]:
    """The swatch is wider than the span that is measured on it.

    Why: edges draw in, so a gauge of 16 stitches cannot be measured on a swatch of 14.

    Wrong:
        Gauge: 16 sc and 18 rows = 10 cm. For the swatch, ch 15 and work 20 rows of sc.
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Gauge: 16 sc and 18 rows = 10 cm. For the swatch, ch 23 and work 22 rows of sc.
        Rnd 1: 6 sc in magic ring (6)

    Limits: looks at the foundation chain named in the gauge line.

    Trade checks: D5.
    """
    stitches = next((g.stitches for g in case.facts.gauges if g.stitches), None)
    for fact in case.draft.facts:
        if fact_slot(fact.name) not in {"gauge", "swatch"} or stitches is None:
            continue
        match = _SWATCH.search(case.text, fact.span.start, fact.span.end)
        if match and 6 <= int(match["chains"]) <= stitches + 2:
            values = {"chains": match["chains"], "stitches": f"{stitches:g}"}
            yield Hit(Span(match.start(), match.end()), values)


@check("gauge-explains-no-size", "D6", Level.WARNING, needs="gauges measures sizes")
def gauge_explains_no_size(case: Case) -> Iterator[Hit]:
    """The widths printed for all sizes come from the stitches and the gauge printed.

    Why: all widths out by the same part mean that the gauge has a slip: 4 typed for 4.5.

    Wrong:
        Sizes: S (M, L)
        Finished circumference: 45 (51, 57) cm
        Gauge: 12 sc and 16 rows = 10 cm
        Rnd 1: Ch 72 (80, 88), join with sl st to form a ring.
        Rnd 2: Ch 1, sc in each ch around, join (72, 80, 88)
    Right:
        Sizes: S (M, L)
        Finished circumference: 45 (50, 55) cm
        Gauge: 16 sc and 16 rows = 10 cm
        Rnd 1: Ch 72 (80, 88), join with sl st to form a ring.
        Rnd 2: Ch 1, sc in each ch around, join (72, 80, 88)

    Limits: needs three sizes or more and one circumference or width, for which it takes the widest round
    of the first part, or a height or depth of a piece in rounds; it only asks.

    Trade checks: D6.
    """
    yield from _rows_explain_no_size(case)
    gauge = case.facts.gauge
    rate = gauge.stitches_per_10_cm if gauge else None
    measure = next((m for m in case.facts.measures if _is_width(m)), None)
    widest = case.widest_round
    sizes = len(case.draft.sizes)
    if rate is None or measure is None or widest is None or sizes < 3 or len(measure.cm) != sizes:
        return
    ratios = [
        cm / (sized.total * 10 / rate)
        for cm, sized in zip(measure.cm, widest.per_size, strict=False)
        if sized and sized.total
    ]
    if len(ratios) < 3:
        return
    middle = median(ratios)
    alike = all(abs(ratio - middle) <= 0.04 * middle for ratio in ratios)
    if alike and 0.06 < abs(middle - 1) < 0.45:
        values = {"measure": measure.name, "part": f"{abs(middle - 1):.0%}", "rate": f"{rate:.3g}"}
        values |= {"way": "wider" if middle > 1 else "narrower", "fits": f"{rate / middle:.3g}"}
        yield Hit(measure.span, values)


def _rows_explain_no_size(case: Case) -> Iterator[Hit]:
    """The same for a height or depth of a piece in rounds and the row gauge."""
    rate = case.facts.gauge.rows_per_10_cm if case.facts.gauge else None
    for held in held_of(case) if rate else ():
        if held.upright and len(held.off) == len(held.by_size) and is_alike(held) and rate:
            part = abs(held.ratio - 1)
            if part < 0.45:
                values = {"measure": held.measure.name, "part": f"{part:.0%}", "rate": f"{rate:.3g}"}
                values["way"] = "longer" if held.ratio > 1 else "shorter"
                yield Hit(held.measure.span, {**values, "fits": f"{rate / held.ratio:.3g}"}, "rows")


def _is_width(measure: Measure) -> bool:
    words = measure.name
    return "fit" not in words and any(w in words for w in ("circumference", "around", "width", "wide"))
