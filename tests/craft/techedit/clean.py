"""Patterns made up of lines that are right by construction, and slips planted in them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hypothesis import strategies as st


@dataclass(frozen=True)
class Made:
    """One line: what is worked between label and count, and its count for each size."""

    steps: str
    counts: tuple[int, ...]
    slip: str = ""  # the same line with a repeat that does not fit


@dataclass(frozen=True)
class Text:
    """A clean pattern: the lines above it, and its numbered lines."""

    head: tuple[str, ...]
    kind: str
    lines: tuple[Made, ...]

    def written(self) -> str:
        return "\n".join([*self.head, *(self.line(at) for at in range(len(self.lines)))]) + "\n"

    def line(self, at: int, number: int | None = None) -> str:
        made = self.lines[at]
        return f"{self.kind} {number or at + 1}: {made.steps} ({by_size(made.counts)})"

    def line_number(self, at: int) -> int:
        return len(self.head) + at + 1

    def with_line(self, at: int, made: Made) -> Text:
        return replace(self, lines=(*self.lines[:at], made, *self.lines[at + 1 :]))


def by_size(numbers: tuple[int, ...]) -> str:
    """18, or "18 (24, 30)"; one number where all sizes share it."""
    if len(set(numbers)) == 1:
        return str(numbers[0])
    return f"{numbers[0]} ({', '.join(map(str, numbers[1:]))})"


SIZES = ("S", "M", "L", "XL", "2X")


@st.composite
def rounds(draw: st.DrawFn, *, sizes: int = 1) -> Text:
    """A piece in the round: grown from a ring, worked plain, drawn in again."""
    start = draw(st.integers(4, 8))
    style = draw(st.sampled_from(("x", "times", "star")))
    grown = [draw(st.integers(2, 5)) for _ in range(sizes)]
    base = min(grown)
    lines = [Made(f"{start} sc in magic ring", (start,) * sizes), _all(start, sizes)]
    plain = 1
    for _ in range(base):
        lines.append(_grow(start, (plain,) * sizes, style))
        plain += 1
    more = tuple(sorted(size - base for size in grown))
    width = plain + 1  # stitches in one group now, for all sizes
    if sizes > 1 and len(set(more)) > 1:
        counts = tuple((width + extra) * start for extra in more)
        times = by_size(more)
        lines.append(_spread(start, width, more, times))
        widths = tuple(count // start for count in counts)
    else:
        widths = (width,) * sizes
    around = Made("sc in each st around", tuple(start * w for w in widths))
    lines += [around] * draw(st.integers(1, 4))
    for _ in range(draw(st.integers(0, min(widths) - 2))):
        lines.append(_shrink(start, widths, style))
        widths = tuple(w - 1 for w in widths)
    head = () if sizes == 1 else (f"Sizes: {SIZES[0]} ({', '.join(SIZES[1:sizes])})",)
    return Text(head, "Rnd", tuple(lines))


def _all(start: int, sizes: int) -> Made:
    return Made(f"inc x {start}", (2 * start,) * sizes, f"inc x {start - 1}")


def _spread(start: int, width: int, more: tuple[int, ...], times: str) -> Made:
    """Every size grows by its own number in each group."""
    steps = f"(sc in next {width - 1} sts, {by_size(tuple(m + 1 for m in more))} sc in next st) {start} times"
    counts = tuple((width + m) * start for m in more)
    wrong = f"(sc in next {width} sts, {by_size(tuple(m + 1 for m in more))} sc in next st) {start} times"
    return Made(steps, counts, wrong)


def _grow(start: int, plain: tuple[int, ...], style: str) -> Made:
    counts = tuple((p + 2) * start for p in plain)
    return Made(
        _group(f"sc in next {by_size(plain)} sts", "2 sc in next st", start, style),
        counts,
        _group(f"sc in next {by_size(tuple(p + 1 for p in plain))} sts", "2 sc in next st", start, style),
    )


def _shrink(start: int, widths: tuple[int, ...], style: str) -> Made:
    plain = tuple(w - 2 for w in widths)
    counts = tuple((w - 1) * start for w in widths)
    if 0 in plain:
        return Made(f"sc2tog {start} times", counts, f"sc2tog {start + 1} times")
    return Made(
        _group(f"sc in next {by_size(plain)} sts", "sc2tog", start, style),
        counts,
        _group(f"sc in next {by_size(tuple(p + 1 for p in plain))} sts", "sc2tog", start, style),
    )


def _group(first: str, last: str, times: int, style: str) -> str:
    if style == "x":
        return f"({first}, {last}) x {times}"
    if style == "times":
        return f"({first}, {last}) {times} times"
    return f"*{first}, {last}; rep from * {times - 1} more times"


@st.composite
def rows(draw: st.DrawFn) -> Text:
    """A piece to and fro: a foundation, plain rows, rows of two stitches in turn."""
    repeats, edge = draw(st.integers(3, 9)), draw(st.integers(0, 2))
    count = 4 * repeats + edge
    lines = [Made(f"Ch {count + 1}, sc in 2nd ch from hook and in each ch across, turn", (count,))]
    for _ in range(draw(st.integers(2, 8))):
        rest = f", sc in last {edge} sts" if edge else ""
        to = f"rep from * to last {edge} sts" if edge else "rep from * across"
        pattern = f"Ch 1, *sc in next 3 sts, hdc in next st; {to}{rest}, turn"
        wrong = f"Ch 1, *sc in next 3 sts, hdc in next st; rep from * to last {edge + 1} sts{rest}, turn"
        wrong = wrong if edge else ""
        plain = Made("Ch 1, sc in each st across, turn", (count,))
        lines.append(draw(st.sampled_from((plain, Made(pattern, (count,), wrong)))))
    return Text((), "Row", tuple(lines))


def one_size() -> st.SearchStrategy[Text]:
    return st.one_of(rounds(), rows())


def several_sizes() -> st.SearchStrategy[Text]:
    return rounds(sizes=5)
