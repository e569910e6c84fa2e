"""Reading, working and checking a pattern, as ratios to one pass of a token regex over the same text.

The floor is one `finditer` of a named-group token regex, measured in the same run on the same text.
Bounds kept in mind: 100 rounds of one size at most 30 floors; five sizes at most 3 times one size;
ten times the rounds at most 11 times the time; a plain round of 1,000,000 stitches as one of 10.
"""

from __future__ import annotations

import platform
import re
import time
from collections.abc import Callable

from craft import fabric, notation, techedit

TOKEN = re.compile(
    r"(?P<number>\d+)|(?P<word>[A-Za-z][A-Za-z'-]*)|(?P<open>[(\[{])|(?P<close>[)\]}])"
    r"|(?P<star>\*+)|(?P<stop>[.;:,])|(?P<space>\s+)|(?P<other>.)"
)
SIZE_NAMES = ("XS", "S", "M", "L", "XL")


def disc_and_tube(rounds: int, sizes: int = 1) -> str:
    """A clean pattern: a disc of twelve increase rounds, then plain and shaped rounds in turn."""
    head = "Terms: US\n"
    if sizes > 1:
        head += f"Sizes: {SIZE_NAMES[0]} ({', '.join(SIZE_NAMES[1:sizes])})\n"
    lines = [head, "Body", "Rnd 1: 6 sc in magic ring. (6 sc)", "Rnd 2: 2 sc in each st around. (12 sc)"]
    lines += [
        f"Rnd {n}: *Sc in next {n - 2} sts, 2 sc in next st; rep from * around. ({6 * n} sc)"
        for n in range(3, 13)
    ]
    for n in range(13, rounds + 1):
        count = _per_size([72] * sizes)
        if n % 3:
            lines.append(
                f"Rnd {n}: Ch 1, sc in each of next {_per_size(_tens(sizes))} sts, sc around. ({count} sc)"
            )
        else:
            lines.append(
                f"Rnd {n}: (Sc in next 4 sts, sc2tog, 2 sc in next, sc in next 2) 8 times. ({count} sc)"
            )
    return "\n".join(lines) + "\n"


def _tens(sizes: int) -> list[int]:
    return [10 + k for k in range(sizes)]


def _per_size(values: list[int]) -> str:
    if len(values) == 1:
        return str(values[0])
    return f"{values[0]} ({', '.join(map(str, values[1:]))})"


def best_s(act: Callable[[], object], passes: int = 7) -> float:
    """The fastest of several passes, in seconds: the least disturbed one."""
    times = []
    for _ in range(passes):
        start = time.perf_counter()
        act()
        times.append(time.perf_counter() - start)
    return min(times)


def whole(text: str) -> list[techedit.Finding]:
    draft = notation.read(text)
    worked = fabric.work(draft)
    return techedit.check(draft, worked)


def row(name: str, ratio: float, bound: float) -> None:
    print(f"{name:62} {ratio:8.2f}   (aim: at most {bound:g})")


def main() -> None:
    print(f"Python {platform.python_version()}, {platform.machine()}")
    text = disc_and_tube(100)
    floor = best_s(lambda: [m.lastgroup for m in TOKEN.finditer(text)])
    read = best_s(lambda: notation.read(text))
    draft = notation.read(text)
    work = best_s(lambda: fabric.work(draft))
    one = best_s(lambda: whole(text))
    print(f"floor: one finditer pass over {len(text)} characters, {floor * 1000:.2f} ms")
    row("read 100 rounds / floor", read / floor, 30)
    row("work 100 rounds / floor", work / floor, 30)
    row("read, work and check 100 rounds / floor", one / floor, 30)
    row("five sizes / one size", best_s(lambda: whole(disc_and_tube(100, 5))) / one, 3)
    row("1,000 rounds / 100 rounds", best_s(lambda: whole(disc_and_tube(1000)), 3) / one, 11)
    small, large = (
        f"Rnd 1: {n} sc in magic ring. ({n})\nRnd 2: Sc in each st around. ({n})\n" for n in (10, 1_000_000)
    )
    row(
        "plain round of 1,000,000 stitches / of 10",
        best_s(lambda: whole(large)) / best_s(lambda: whole(small)),
        1.5,
    )


if __name__ == "__main__":
    main()
