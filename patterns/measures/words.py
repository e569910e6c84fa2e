"""Sentences about measurements, flatness and form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from craft.fabric.flatness import Band, Drift, Flatness, WhyOpen
from craft.fabric.increases import Stack
from craft.fabric.levels import Level
from craft.fabric.measure import What
from craft.standards.printed_lengths import centimetres, inches
from patterns.measures.gauges import Basis, GaugeInUse

__all__ = [
    "BASIS",
    "NAMES",
    "band_sentence",
    "both_units",
    "drift_sentence",
    "gap_sentence",
    "gauge_words",
    "open_sentence",
    "rounds_named",
    "stack_sentence",
    "verdict_word",
]

NAMES: Final[Mapping[What, str | Promise]] = {
    What.DIAMETER: gettext_lazy("Across"),
    What.ACROSS: gettext_lazy("Across, side to side"),
    What.SIDE: gettext_lazy("Each side"),
    What.CIRCUMFERENCE: gettext_lazy("Around the widest round"),
    What.OPENING: gettext_lazy("Around the last round"),
    What.WIDTH: gettext_lazy("Wide"),
    What.NARROWEST: gettext_lazy("Wide at the narrowest"),
    What.LENGTH: gettext_lazy("Long"),
    What.HEIGHT: gettext_lazy("High"),
    What.DEPTH: gettext_lazy("Deep, from the middle to the edge"),
}

BASIS: Final[Mapping[Basis, str | Promise]] = {
    Basis.STATED: gettext_lazy("From the gauge of the pattern: %(gauge)s."),
    Basis.NO_ROWS: gettext_lazy(
        "From the gauge of the pattern: %(gauge)s. It has no rows, so heights are estimates. "
        "Count the rows of the swatch and put them into the facts."
    ),
    Basis.HOOK_AND_YARN: gettext_lazy(
        "No gauge is given, so these are estimates from hook and yarn: about %(gauge)s. Four pieces in five "
        "come out within the ranges. Put the gauge of your swatch into the facts for one number."
    ),
    Basis.HOOK: gettext_lazy(
        "No gauge and no yarn are given, so these are estimates from the hook alone: about %(gauge)s. Put "
        "the gauge of your swatch into the facts for one number."
    ),
    Basis.WEIGHT: gettext_lazy(
        "No gauge and no hook are given, so these are estimates from the weight of the yarn alone: about "
        "%(gauge)s. Put the gauge of your swatch into the facts for one number."
    ),
    Basis.NOTHING: gettext_lazy(
        "No gauge, hook or yarn is given, so these are wide guesses for a light to medium yarn. Put the "
        "gauge of your swatch into the facts."
    ),
}

_VERDICTS: Final[Mapping[Band, str | Promise]] = {
    Band.BOWL: gettext_lazy("Draws up into a bowl or cone"),
    Band.CUPS: gettext_lazy("Cups a little"),
    Band.FLAT: gettext_lazy("Lies flat"),
    Band.MAY_WAVE: gettext_lazy("May wave"),
    Band.RUFFLES: gettext_lazy("Ruffles"),
}
_RANGES: Final[Mapping[Band, str | Promise]] = {
    Band.BOWL: gettext_lazy("a bowl or cone"),
    Band.CUPS: gettext_lazy("slightly cupped"),
    Band.FLAT: gettext_lazy("flat"),
    Band.MAY_WAVE: gettext_lazy("a little wavy"),
    Band.RUFFLES: gettext_lazy("ruffled"),
}
_WHY_OPEN: Final[Mapping[WhyOpen, str | Promise]] = {
    WhyOpen.FLAT_GAUGE: gettext_lazy(
        "The gauge was measured on a flat swatch, and this is worked in the round."
    ),
    WhyOpen.NOT_SAID: gettext_lazy("The gauge does not say whether its swatch was worked in the round."),
    WhyOpen.ESTIMATE: gettext_lazy("The gauge is an estimate."),
    WhyOpen.LACE: gettext_lazy(
        "Chains make up much of the last round, and how far they stretch is not known."
    ),
    WhyOpen.OTHER_STITCH: gettext_lazy("Most of these rounds are in another stitch than the gauge."),
}


def both_units(mm: float) -> str:
    """As in "43 cm (17 in)"."""
    return _("%(cm)s cm (%(inches)s in)") % {"cm": centimetres(mm), "inches": inches(mm)}


def gauge_words(in_use: GaugeInUse) -> str:
    """As in "14 sc and 16 rows to 10 cm, in the round"."""
    gauge = in_use.gauge
    numbers = {"stitches": f"{100 / gauge.stitch_mm:.3g}", "stitch": gauge.stitch}
    if in_use.basis is Basis.NO_ROWS:
        words = _("%(stitches)s %(stitch)s to 10 cm") % numbers
    else:
        rows = {**numbers, "rows": f"{100 / gauge.row_mm:.3g}"}
        words = _("%(stitches)s %(stitch)s and %(rows)s rows to 10 cm") % rows
    how = {True: _(", in the round"), False: _(", flat"), None: ""}
    return words + how[gauge.in_round]


def rounds_named(levels: Sequence[Level]) -> str:
    """Such as "Rnd 4", "Rnds 4 and 5", "Rows 3, 4 and 9", or how many where they have no numbers."""
    numbers = [str(level.number) for level in levels if level.number is not None]
    if len(numbers) < len(levels):
        return ngettext("%(number)d round or row", "%(number)d rounds or rows", len(levels)) % {
            "number": len(levels)
        }
    rows = levels[0].kind == "row"
    if len(numbers) == 1:
        return (_("Row %s") if rows else _("Rnd %s")) % numbers[0]
    listed = _("%(first)s and %(last)s") % {"first": ", ".join(numbers[:-1]), "last": numbers[-1]}
    return (_("Rows %s") if rows else _("Rnds %s")) % listed


def gap_sentence(gaps: Sequence[Level]) -> str:
    """What is not known, and what to do; "" where all is."""
    if not gaps:
        return ""
    return _(
        "%(rounds)s could not be worked out: lengths along the part are at least as given, and the drawing "
        "leaves a gap. See the remarks at that line."
    ) % {"rounds": rounds_named(gaps)}


def verdict_word(flat: Flatness) -> str:
    return str(_VERDICTS[flat.band]) if flat.band else _("No verdict")


def _last(flat: Flatness) -> str:
    return rounds_named([flat.rounds[-1].level])


def band_sentence(flat: Flatness) -> str:
    """The verdict with its figures."""
    values = {
        "round": _last(flat), "percent": f"{100 * flat.index:.0f}", "usual": f"{flat.usual:.3g}",
        "grows": f"{flat.grows:.3g}", "angle": f"{flat.half_angle or 0:.0f}",
    }  # fmt: skip
    sentence = _(
        "Up to %(round)s it has %(percent)s %% of the length that lies flat; it grows by %(grows)s stitches "
        "a round, and %(usual)s lie flat at this gauge."
    )
    if flat.band in {Band.BOWL, Band.CUPS}:
        sentence += " " + _(
            "It draws up into a cone whose sides stand %(angle)s° from the axis. If it is meant to be flat, "
            "increase more or use a lower stitch."
        )
    elif flat.band in {Band.MAY_WAVE, Band.RUFFLES}:
        sentence += " " + _("If waves are not meant, increase less or use a taller stitch.")
    return sentence % values


def open_sentence(flat: Flatness) -> str:
    """Why there is no verdict, and the range; "" where there is one."""
    if flat.why_open is None:
        return ""
    touched = [str(_RANGES[band]) for band in flat.bands]
    values = {
        "why": _WHY_OPEN[flat.why_open], "round": _last(flat), "low": f"{100 * flat.low:.0f}",
        "high": f"{100 * flat.high:.0f}", "from": touched[0], "to": touched[-1],
    }  # fmt: skip
    if len(touched) == 1:
        sentence = _(
            "%(why)s At %(round)s it has %(low)s to %(high)s %% of the length that lies flat: %(from)s."
        )
    else:
        sentence = _(
            "%(why)s At %(round)s it has %(low)s to %(high)s %% of the length that lies flat: from %(from)s "
            "to %(to)s."
        )
    return sentence % values


def stack_sentence(stack: Stack) -> str:
    first, last = stack.rounds[0].number, stack.rounds[-1].number
    return _(
        "From Rnd %(first)s to Rnd %(last)s the increases stand above one another: %(corners)d corners, "
        "which reach %(part).0f %% farther out than the sides. For a circle, stagger them."
    ) % {"first": first, "last": last, "corners": stack.corners, "part": 100 * stack.sticks_out}


def drift_sentence(drift: Drift) -> str:
    values = {
        "stitches": f"{drift.stitches:g}", "length": both_units(drift.mm), "degrees": f"{drift.degrees:.0f}",
        "rounds": drift.rounds,
    }  # fmt: skip
    if drift.joined:
        return (
            _(
                "Worked without turning, the join leans: half a stitch a round, %(stitches)s stitches or "
                "%(length)s over %(rounds)d rounds, %(degrees)s° from upright."
            )
            % values
        )
    return (
        _(
            "In a spiral the start of the round walks half a stitch a round: %(stitches)s stitches or "
            "%(length)s over %(rounds)d rounds, %(degrees)s° from upright."
        )
        % values
    )
