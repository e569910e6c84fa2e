"""The facts of a pattern, as values: read from the lines above the instructions or given by the app."""

from __future__ import annotations

from dataclasses import dataclass

from craft.notation.tree import Abbreviation, Span
from craft.techedit.quantities import Amount

__all__ = ["Facts", "Fibre", "Gauge", "Hook", "Measure", "Notion", "YarnFact"]

NOWHERE = Span(0, 0)


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge. `stitches` and `rows` are what is counted over `width_cm` and `height_cm`.

    `stitch`: US name of the stitch, None for "sts". `repeats` over `width_cm`, each of
    `stitches_per_repeat`. `inches`: the span in inches where it is printed too. `in_the_round`,
    `blocked`: None where not said. `fabric`: "in pattern", "in Mesh Stitch"... as written.
    """

    span: Span
    stitches: float | None = None
    rows: float | None = None
    width_cm: float | None = None
    height_cm: float | None = None
    stitch: str | None = None
    repeats: float | None = None
    stitches_per_repeat: float | None = None
    hook_mm: float | None = None
    in_the_round: bool | None = None
    blocked: bool | None = None
    fabric: str | None = None

    @property
    def stitches_per_10_cm(self) -> float | None:
        return self.stitches * 10 / self.width_cm if self.stitches and self.width_cm else None

    @property
    def rows_per_10_cm(self) -> float | None:
        return self.rows * 10 / self.height_cm if self.rows and self.height_cm else None


@dataclass(frozen=True, slots=True)
class Hook:
    """One hook: `mm`, and `us` as printed beside it ("H-8", "7"); either may be None."""

    span: Span
    mm: float | None = None
    us: str | None = None
    steel: bool = False


@dataclass(frozen=True, slots=True)
class Fibre:
    name: str
    percent: float


@dataclass(frozen=True, slots=True)
class YarnFact:
    """One yarn or colour. Amounts per size are in metres or balls, as printed.

    `label` "A" or "MC"; `colour` the colour word beside it; `weight_class` 0 to 7, `weight_names`
    the words of the trade ("DK", "aran"); `metres`, `yards`, `grams`, `ounces` of one ball.
    `amount_worked_out`: the app works the amount out of the stitches, so that none has to be typed.
    """

    span: Span
    label: str | None = None
    colour: str | None = None
    weight_class: int | None = None
    weight_names: tuple[str, ...] = ()
    fibres: tuple[Fibre, ...] = ()
    grams: float | None = None
    ounces: float | None = None
    metres: float | None = None
    yards: float | None = None
    balls: tuple[float, ...] = ()
    needed: Amount | None = None
    amount_worked_out: bool = False


@dataclass(frozen=True, slots=True)
class Notion:
    """A thing beside yarn and hook: `what` is its plain name ("button"), `number` how many."""

    span: Span
    what: str
    number: int | None = None
    size_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """A measurement by size: "finished circumference", in cm and in inches where both stand."""

    name: str
    span: Span
    amounts: tuple[Amount, ...]

    @property
    def cm(self) -> tuple[float, ...]:
        """The values in centimetres, from the metric list where there is one."""
        metric = [amount for amount in self.amounts if amount.unit in {"cm", "mm"}]
        chosen = metric or [amount for amount in self.amounts if amount.cm]
        return chosen[0].cm if chosen else ()


@dataclass(frozen=True, slots=True)
class Facts:
    """All facts at hand. What is empty or None is not known, and no check guesses it.

    `kind`: "hat", "toy", "blanket"..., from the title or given. `needed_m`: metres worked out by
    size, given by the app. `stated`: names of the fact lines that stand in the text. `fields_end`:
    up to this place the text was made of the app's own fields (0: there are none).
    `youngest_months`, `small_parts`, `stuffed`: what the app knows of the piece and its user.
    """

    title: str | None = None
    kind: str | None = None
    level: str | None = None
    terms: str | None = None
    sizes: tuple[str, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    hooks: tuple[Hook, ...] = ()
    yarns: tuple[YarnFact, ...] = ()
    notions: tuple[Notion, ...] = ()
    measures: tuple[Measure, ...] = ()
    abbreviations: tuple[Abbreviation, ...] = ()
    needed_m: tuple[float, ...] = ()
    needed_m_by_label: tuple[tuple[str, float], ...] = ()
    stated: tuple[str, ...] = ()
    fields_end: int = 0
    youngest_months: int | None = None
    small_parts: bool | None = None
    stuffed: bool | None = None

    def has(self, need: str) -> bool:
        """Whether the fact that a check needs is known: one of the fields by its name."""
        return bool(getattr(self, need))

    @property
    def gauge(self) -> Gauge | None:
        """The main gauge: the first."""
        return self.gauges[0] if self.gauges else None
