"""Group B: yarn."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from craft.notation.tree import Colour, Span
from craft.standards.yarn_weights import weight_category
from craft.techedit.case import Case
from craft.techedit.checks.words import listed, quoted, size_words
from craft.techedit.facts import WEIGHT_NAMES, Gauge, YarnFact
from craft.techedit.facts.published import (
    CLASS_METRES_PER_100G,
    WIDTH_FITS,
    expected_width_mm,
    usual_hooks_mm,
)
from craft.techedit.finding import Level
from craft.techedit.quantities import G_PER_OUNCE, M_PER_YARD, Amount
from craft.techedit.registry import Hit, check

_LETTER = re.compile(r"[A-H]|MC|CC\d?|C\d")


# ---------------------------------------------------------------------------------- B1, B2


def _labelled(case: Case) -> dict[str, YarnFact]:
    return {yarn.label: yarn for yarn in case.facts.yarns if yarn.label}


def _used(case: Case) -> dict[str, Span]:
    """The colour letters used in the work, with the first place of each."""
    used: dict[str, Span] = {}
    for spot in case.spots:
        if isinstance(spot.step, Colour) and _LETTER.fullmatch(spot.step.label):
            used.setdefault(spot.step.label, spot.step.span)
    return used


@check("colour-not-listed", "B1", Level.ERROR, needs="yarns")
def colour_not_listed(case: Case) -> Iterator[Hit]:
    """Every colour letter used in the work stands in the list of yarns.

    Why: a maker buys by the list. "With C" where only A and B are listed stops the work on a Sunday
    evening.

    Wrong:
        Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea
        Rnd 1: With A, 6 sc in magic ring (6)
        Rnd 2: With B, inc x 6 (12)
        Rnd 3: With C, (sc, inc) x 6 (18)
    Right:
        Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea
        Rnd 1: With A, 6 sc in magic ring (6)
        Rnd 2: With B, inc x 6 (12)
        Rnd 3: With A, (sc, inc) x 6 (18)

    Limits: only letters (A to H, MC, CC) are followed, and only where the list gives letters too.

    Trade checks: B1.
    """
    known = _labelled(case)
    if not known:
        return
    for label, span in _used(case).items():
        if label not in known:
            yield Hit(span, {"label": label, "known": listed(known)})


@check("colour-not-used", "B2", Level.WARNING, needs="yarns")
def colour_not_used(case: Case) -> Iterator[Hit]:
    """Every colour letter of the list is used in the work.

    Why: a ball bought for nothing, or a stripe forgotten in the text.

    Wrong:
        Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea
        Rnd 1: With A, 6 sc in magic ring (6)
        Rnd 2: inc x 6 (12)
    Right:
        Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea
        Rnd 1: With A, 6 sc in magic ring (6)
        Rnd 2: With B, inc x 6 (12)

    Limits: a letter that stands anywhere in the notes or instructions counts as used; where the list has
    one letter only, nobody need name it.

    Trade checks: B2.
    """
    known = _labelled(case)
    for label, yarn in known.items() if len(known) > 1 else ():
        elsewhere = [s for s in case.spans_of(label.lower()) if not _within(s, yarn.span)]
        named = any(
            case.words_at(span) == label and case.text[span.start - 2 : span.start] != "\n"
            for span in elsewhere
        )
        if label not in _used(case) and not named:
            yield Hit(yarn.span, {"label": label})


def _within(inner: Span, outer: Span) -> bool:
    return outer.start - 6 <= inner.start and inner.end <= outer.end


# ---------------------------------------------------------------------------------- B3, B4


@check("yarn-record-incomplete", "B3", Level.WARNING, needs="yarns")
def yarn_record_incomplete(case: Case) -> Iterator[Hit]:
    """A yarn is described so that another can take its place: weight, fibre, grams and metres a ball,
    amount.

    Why: makers seldom find the very yarn. Metres to a ball and fibre let them choose another.

    Wrong:
        Yarn: Gull DK, 100% wool, 50 g balls, 3 balls
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull DK, 100% wool, 50 g / 120 m balls, 3 balls
        Rnd 1: 6 sc in magic ring (6)

    Limits: said once for all colours of one yarn; silent where the line names a colour and nothing
    else.

    Trade checks: B3.
    """
    seen: set[tuple[str, ...]] = set()
    for yarn in case.facts.yarns:
        missing = tuple(_missing(yarn))
        if len(missing) < 4 and missing and missing not in seen:
            seen.add(missing)
            yield Hit(yarn.span, {"missing": listed(missing)})


def _missing(yarn: YarnFact) -> Iterator[str]:
    if yarn.weight_class is None and not yarn.weight_names:
        yield "weight"
    if not yarn.fibres:
        yield "fibre"
    if not (yarn.grams or yarn.ounces):
        yield "grams to a ball"
    if not (yarn.metres or yarn.yards):
        yield "metres to a ball"
    if not (yarn.balls or yarn.needed or yarn.amount_worked_out):
        yield "amount needed"


@check("fibres-do-not-add-up", "B4", Level.ERROR, needs="yarns")
def fibres_do_not_add_up(case: Case) -> Iterator[Hit]:
    """The shares of the fibres of a yarn add up to 100 per cent.

    Why: a ball band must add up, and care and allergy depend on it.

    Wrong:
        Yarn: Harbour Cotton DK, 60% cotton, 30% acrylic, 50 g / 120 m
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Harbour Cotton DK, 60% cotton, 40% acrylic, 50 g / 120 m
        Rnd 1: 6 sc in magic ring (6)

    Limits: several yarns in one line may come to 200 or 300.

    Trade checks: B4.
    """
    seen: set[tuple[object, ...]] = set()
    for yarn in case.facts.yarns:
        total = sum(fibre.percent for fibre in yarn.fibres)
        off = abs(total - round(total / 100) * 100)
        if yarn.fibres not in seen and total and (off > 1 or total < 50):
            words = " + ".join(f"{fibre.percent:g} {fibre.name}" for fibre in yarn.fibres)
            yield Hit(yarn.span, {"shares": words, "total": f"{total:g}"})
        seen.add(yarn.fibres)


# ------------------------------------------------------------------------------ B5, B8, B9


def _metres(yarn: YarnFact) -> float | None:
    """Metres to a ball."""
    return yarn.metres or (yarn.yards * M_PER_YARD if yarn.yards else None)


def _needed_m(yarn: YarnFact) -> tuple[float, ...]:
    if yarn.needed is None:
        return ()
    factor = M_PER_YARD if yarn.needed.unit == "yd" else 1.0
    return tuple(value * factor for value in yarn.needed.values)


def _listed_m(yarn: YarnFact) -> tuple[float, ...]:
    """Metres that the listed balls hold, by size."""
    each = _metres(yarn)
    return tuple(balls * each for balls in yarn.balls) if each else ()


@check("balls-do-not-cover-amount", "B5", Level.ERROR, needs="yarns")
def balls_do_not_cover_amount(case: Case) -> Iterator[Hit]:
    """The balls listed hold the length that the pattern says it takes.

    Why: two balls of 120 m are 25 m short of 265 m, and the third may be of another dye lot.

    Wrong:
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 2 balls; needs 265 m
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 3 balls; needs 265 m
        Rnd 1: 6 sc in magic ring (6)

    Trade checks: B5.
    """
    for yarn in case.facts.yarns:
        need, have, each = _needed_m(yarn), _listed_m(yarn), _metres(yarn)
        if not need or not have or not each or len(need) != len(have):
            continue
        short = [at for at, (n, h) in enumerate(zip(need, have, strict=True)) if h < n * 0.995]
        if short:
            at = short[0]
            values = {
                "needed": f"{need[at]:.0f}",
                "balls": f"{yarn.balls[at]:g}",
                "each": f"{each:.0f}",
                "held": f"{have[at]:.0f}",
                "right": math.ceil(need[at] / each),
            }
            yield Hit(yarn.span, values, sizes=tuple(short) if len(need) > 1 else None)


@check("yarn-amounts-by-size", "B8", Level.ERROR, needs="yarns sizes")
def yarn_amounts_by_size(case: Case) -> Iterator[Hit]:
    """There is an amount of yarn for every size, and a larger size takes no less.

    Why: an amount that falls from one size to the next is nearly always two numbers swapped.

    Wrong:
        Sizes: S (M, L, XL)
        Yarn: Gull DK, 300 (340, 330, 380) m
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Sizes: S (M, L, XL)
        Yarn: Gull DK, 300 (330, 340, 380) m
        Rnd 1: 6 sc in magic ring (6)

    Limits: a list that is too short must be mended; one that falls is asked to be looked at again.

    Trade checks: B8.
    """
    count = len(case.draft.sizes)
    for yarn in case.facts.yarns:
        for values in (yarn.balls, yarn.needed.values if yarn.needed else ()):
            if len(values) < 2 or count < 2:
                continue
            words = ", ".join(f"{value:g}" for value in values)
            if len(values) != count:
                yield Hit(yarn.span, {"list": words, "found": len(values), "sizes": count}, "length")
            elif falls := [at for at in range(1, count) if values[at] < values[at - 1]]:
                here = {"list": words, "size": size_words(case, falls[:1])}
                yield Hit(yarn.span, here, "falls", Level.WARNING, sizes=tuple(falls))


@check("amount-against-estimate", "B9", Level.WARNING, needs="yarns needed_m")
def amount_against_estimate(case: Case) -> Iterator[Hit]:
    """The amount printed is what the stitches take, with a margin.

    Why: an amount copied from an earlier draft leaves makers short, or sells them a ball they never
    open.

    Wrong: the text says 150 m, and 9,400 stitches at your gauge come to 244 m.
    Right: the text says 270 m.

    Limits: needs the estimate of the yarn page; an amount from 5 % below to 60 % above it is let
    pass.

    Trade checks: B9.
    """
    yarns = [yarn for yarn in case.facts.yarns if _needed_m(yarn) or _listed_m(yarn)]
    need = case.facts.needed_m
    totals = [_needed_m(yarn) or _listed_m(yarn) for yarn in yarns]
    if not totals or any(len(total) not in {1, len(need)} for total in totals):
        return
    for at, estimate in enumerate(need):
        printed = sum(total[at if len(total) > 1 else 0] for total in totals)
        if not 0.95 * estimate <= printed <= 1.6 * estimate:
            values = {"printed": f"{printed:.0f}", "estimate": f"{estimate:.0f}"}
            variant = "short" if printed < estimate else "much"
            yield Hit(yarns[0].span, values, variant, sizes=(at,) if len(need) > 1 else None)


@check("colour-split", "B10", Level.WARNING, needs="yarns")
def colour_split(case: Case) -> Iterator[Hit]:
    """The amounts of the colours stand to each other as the stitches worked in them.

    Why: a colour listed at 20 m that is worked in half the rounds will run out.

    Wrong:
        Yarn: A: Gull DK, needs 180 m; B: Gull DK, needs 20 m
        Rnd 1: With A, 60 sc in magic ring (60)
        Rnd 2: With B, sc in each st around (60)
        Rnd 3: sc in each st around (60)
    Right:
        Yarn: A: Gull DK, needs 60 m; B: Gull DK, needs 110 m
        Rnd 1: With A, 60 sc in magic ring (60)
        Rnd 2: With B, sc in each st around (60)
        Rnd 3: sc in each st around (60)

    Limits: compares shares of stitches, so a share is only called wrong when it is out by more than
    two and a half times; needs lengths or balls for at least two letters.

    Trade checks: B10.
    """
    amounts = {
        label: (_needed_m(yarn) or _listed_m(yarn) or (0.0,))[0] for label, yarn in _labelled(case).items()
    }
    worked = {label: sum(n for name, n in tally if name != "sl st") for label, tally in _by_colour(case)}
    both = [label for label in amounts if amounts[label] and worked.get(label)]
    if len(both) < 2 or any(label not in both for label in worked if worked[label]):
        return
    all_m, all_stitches = sum(amounts[b] for b in both), sum(worked[b] for b in both)
    for label in both:
        listed_share, worked_share = amounts[label] / all_m, worked[label] / all_stitches
        if listed_share * 2.5 < worked_share and worked_share > 0.1:
            values = {
                "label": label,
                "listed": f"{listed_share:.0%}",
                "worked": f"{worked_share:.0%}",
            }
            yield Hit(_labelled(case)[label].span, values)


def _by_colour(case: Case) -> tuple[tuple[str, tuple[tuple[str, int], ...]], ...]:
    return case.fabric.by_colour[0] if case.fabric.by_colour else ()


# ------------------------------------------------------------------------------ B6, B7, B14


@check("metres-and-yards-disagree", "B6", Level.ERROR)
def metres_and_yards_disagree(case: Case) -> Iterator[Hit]:
    """A length of yarn in metres and in yards is the same length: 1 yd = 0.9144 m.

    Why: 200 m printed as 183 yd was multiplied the wrong way round; buyers in yards end up a ball
    short.

    Wrong:
        Yarn: Gull DK, 100 g / 200 m (183 yd)
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull DK, 100 g / 200 m (219 yd)
        Rnd 1: 6 sc in magic ring (6)

    Limits: a difference of 3 % or 1.5 m is taken for rounding.

    Trade checks: B6.
    """
    yield from _converted(case, "m", "yd", M_PER_YARD, 0.03, 1.5)


@check("grams-and-ounces-disagree", "B7", Level.WARNING)
def grams_and_ounces_disagree(case: Case) -> Iterator[Hit]:
    """A mass in grams and in ounces is the same mass: 1 oz = 28.35 g.

    Why: 100 g is 3.5 oz; "100 g (2.5 oz)" has a slip in one of the two.

    Wrong:
        Yarn: Gull DK, 100 g (2.5 oz) / 200 m
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull DK, 100 g (3.5 oz) / 200 m
        Rnd 1: 6 sc in magic ring (6)

    Limits: a difference of 4 % or 1.5 g is taken for rounding.

    Trade checks: B7.
    """
    yield from _converted(case, "g", "oz", G_PER_OUNCE, 0.04, 1.5)


def _converted(
    case: Case, metric: str, other: str, factor: float, part: float, least: float
) -> Iterator[Hit]:
    """Pairs of amounts whose second unit is `factor` of the first and that differ by more."""
    for first, second in case.amount_pairs:
        if {first.unit, second.unit} != {metric, other} or len(first.values) != len(second.values):
            continue
        left, right = _in_metric(first, other, factor), _in_metric(second, other, factor)
        if any(abs(a - b) > max(least, part * a) for a, b in zip(left, right, strict=True)):
            pair = case.closed(Span(first.span.start, second.span.end))
            right_value = left[0] / factor if second.unit == other else left[0]
            values = {
                "pair": quoted(case, *pair),
                "first": quoted(case, *first.span),
                "right": f"{right_value:.3g}",
                "unit": second.unit,
            }
            yield Hit(pair, values)


def _in_metric(amount: Amount, other: str, factor: float) -> tuple[float, ...]:
    return tuple(value * (factor if amount.unit == other else 1) for value in amount.values)


@check("weight-names-disagree", "B14", Level.WARNING, needs="yarns")
def weight_names_disagree(case: Case) -> Iterator[Hit]:
    """The weight names of a yarn mean the same class.

    Why: DK is class 3; "DK, class 4" sends one half of the buyers to the wrong shelf.

    Wrong:
        Yarn: Gull DK, class 4, 50 g / 120 m
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull DK, class 3, 50 g / 120 m
        Rnd 1: 6 sc in magic ring (6)

    Limits: names of the United States, Britain and Australia; a name in use for two classes fits
    both.

    Trade checks: B14.
    """
    for yarn in case.facts.yarns:
        for name in yarn.weight_names:
            classes = WEIGHT_NAMES[name]
            if yarn.weight_class is not None and yarn.weight_class not in classes:
                values = {
                    "name": name,
                    "class": " or ".join(str(c) for c in sorted(classes)),
                    "printed": yarn.weight_class,
                }
                yield Hit(yarn.span, values)
                break


# ---------------------------------------------------------------------------- B11, B12, B13

_STRANDS = re.compile(
    r"\b(?:(?:2|3|4|two|three|four) strands?\b[^.\n]{0,30}\b(?:held|together|tog)\b"
    r"|yarn (?:held )?double[d]?\b"
    r"|double strand(?:ed)?\b|held double\b)",
    re.IGNORECASE,
)


@check("strands-not-declared", "B11", Level.WARNING, needs="yarns")
def strands_not_declared(case: Case) -> Iterator[Hit]:
    """Working with several strands held together is told above, where the yarn is listed.

    Why: a maker who reads it at Rnd 1 has bought half of what she needs.

    Wrong:
        Yarn: Gull DK, 50 g / 120 m, 3 balls
        Gauge: 12 sc and 13 rows = 10 cm
        BASE
        With 2 strands held together, make a magic ring.
        Rnd 1: 6 sc in ring (6)
    Right:
        Yarn: Gull DK, 50 g / 120 m, 6 balls (held double throughout)
        Gauge: 12 sc and 13 rows = 10 cm with 2 strands held together
        BASE
        With 2 strands held together, make a magic ring.
        Rnd 1: 6 sc in ring (6)

    Limits: whether the amount was doubled can only be asked.

    Trade checks: B11.
    """
    found = (
        list(_STRANDS.finditer(case.text)) if case.says_any("strands", "strand", "double", "doubled") else []
    )
    facts = [fact.span for fact in case.draft.facts]
    declared = any(span.start <= match.start() < span.end for match in found for span in facts)
    if found and not declared:
        yield Hit(Span(found[0].start(), found[0].end()), {"words": found[0][0]})


@check("no-word-on-dye-lot", "B12", Level.NOTE, needs="yarns")
def no_word_on_dye_lot(case: Case) -> Iterator[Hit]:
    """The list of yarns says what margin its amounts hold, or to buy one dye lot.

    Why: a printed amount that is the bare weight of the sample leaves the next maker a round short.

    Wrong:
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 3 balls
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull DK, 100% wool, 50 g / 120 m, 3 balls of one dye lot; amounts allow 10 % to spare
        Rnd 1: 6 sc in magic ring (6)

    Limits: asks only whether the words stand there, and only where balls or lengths are listed.

    Trade checks: B12.
    """
    amounts = [yarn for yarn in case.facts.yarns if yarn.balls or yarn.needed]
    if amounts and not case.says_any(
        "lot", "lots", "margin", "spare", "extra", "allow", "allows", "include", "includes"
    ):
        yield Hit(amounts[0].span)


_EXEMPT_KINDS = frozenset({"toy", "shawl"})


@check("gauge-unlike-yarn", "B13", Level.WARNING, needs="yarns gauges")
def gauge_unlike_yarn(case: Case) -> Iterator[Hit]:
    """Yarn weight, hook and gauge go together.

    Why: 20 sc to 10 cm with the finest yarn on an 8 mm hook cannot be worked; one of the three is a
    slip.

    Wrong:
        Yarn: Gull Fine, class 1, 50 g / 200 m
        Hook: 8 mm
        Gauge: 28 sc and 30 rows = 10 cm
        Rnd 1: 6 sc in magic ring (6)
    Right:
        Yarn: Gull Fine, class 1, 50 g / 200 m
        Hook: 3 mm
        Gauge: 26 sc and 28 rows = 10 cm
        Rnd 1: 6 sc in magic ring (6)

    Limits: measured against the spread of more than a thousand published gauges, not against one
    table, so only what lies far outside it is mentioned. Toys, lace and several strands held
    together are left alone.

    Trade checks: B13.
    """
    yarn, gauge = case.facts.yarns[0], case.facts.gauge
    weight = _metres_per_100g(yarn)
    hooks = [hook.mm for hook in case.facts.hooks if hook.mm]
    if weight is None or gauge is None or case.facts.kind in _EXEMPT_KINDS or _STRANDS.search(case.text):
        return
    hook_mm = gauge.hook_mm or (hooks[0] if hooks else None)
    values = {"hook": f"{hook_mm:g}" if hook_mm else "?", "weight": _weight_words(yarn)}
    if hook_mm and yarn.weight_class and _hook_far(yarn.weight_class, hook_mm):
        yield Hit(yarn.span, values, "hook")
    elif hook_mm and (wrong := _width_far(gauge, hook_mm, weight)):
        yield Hit(gauge.span, {**values, **wrong}, "width")


def _metres_per_100g(yarn: YarnFact) -> float | None:
    metres = _metres(yarn)
    if metres and yarn.grams:
        return metres * 100 / yarn.grams
    return CLASS_METRES_PER_100G.get(yarn.weight_class or 0)


def _weight_words(yarn: YarnFact) -> str:
    if yarn.weight_class is not None:
        return f"class {yarn.weight_class} ({weight_category(yarn.weight_class).name})"
    return " ".join(yarn.weight_names) or "this yarn"


def _hook_far(weight_class: int, hook_mm: float) -> bool:
    """Whether a hook lies outside both the council's range and the published one, with room to spare."""
    usual = usual_hooks_mm(weight_class)
    advised = weight_category(weight_class).hook_mm
    if usual is None:
        return False
    low = min(usual[0], float(advised.low or usual[0]))
    high = max(usual[1], float(advised.high or usual[1]))
    return hook_mm < low / 1.4 or hook_mm > high * 1.6


def _width_far(gauge: Gauge, hook_mm: float, metres_per_100g: float) -> dict[str, str]:
    """The expected and the stated stitches to 10 cm, where they are far apart."""
    rate = gauge.stitches_per_10_cm
    expected = expected_width_mm(gauge.stitch or "", hook_mm, metres_per_100g)
    if rate is None or expected is None:
        return {}
    spread = 3 * WIDTH_FITS[gauge.stitch or ""].log_spread + 0.10
    if abs(math.log(100 / rate / expected)) <= spread:
        return {}
    return {"rate": f"{rate:.3g}", "expected": f"{100 / expected:.0f}", "stitch": gauge.stitch or ""}
