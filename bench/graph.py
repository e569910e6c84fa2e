"""Building the stitch graph of 20,000 stitches, in seconds of one processor.

Bound kept in mind: 20,000 stitches in at most 1 s on the machine at hand.
"""

from __future__ import annotations

import platform
import time
from collections.abc import Callable

from craft.fabric import work
from craft.fabric.graph import stitch_graph
from craft.notation import read


def ball(rounds: int) -> str:
    """Rounds of 200 stitches with increases and decreases in turn."""
    lines = ["Rnd 1: 200 sc in magic ring. (200)"]
    lines += [f"Rnd {n}: (Sc in next 2, 2 sc in next, sc2tog) 40 times. (200)" for n in range(2, rounds + 1)]
    return "\n".join(lines) + "\n"


def net(rounds: int) -> str:
    """Loops of five chains over loops."""
    lines = [
        "Rnd 1: 120 sc in magic ring. (120)",
        "Rnd 2: *Ch 5, skip next 2 sts, sc in next st; rep from * around.",
    ]
    lines += [f"Rnd {n}: *Ch 5, sc in next ch-5 sp; rep from * around." for n in range(3, rounds + 1)]
    return "\n".join(lines) + "\n"


def shells(rows: int) -> str:
    """Groups in one place, row over row."""
    lines = [
        "Row 1: Ch 304, sc in 2nd ch from hook and in each ch across. (303)",
        "Row 2: Ch 3, turn, *skip next st, (dc, ch 1, dc) in next st, skip next st; rep from * across.",
    ]
    lines += [
        f"Row {n}: Ch 3, turn, *(dc, ch 1, dc) in next ch-1 sp; rep from * across."
        for n in range(3, rows + 1)
    ]
    return "\n".join(lines) + "\n"


def best_s(act: Callable[[], object], passes: int = 3) -> float:
    times = []
    for _ in range(passes):
        start = time.process_time()
        act()
        times.append(time.process_time() - start)
    return min(times)


def main() -> None:
    print(f"{platform.machine()}, Python {platform.python_version()}")
    for name, text in (("ball", ball(100)), ("net", net(84)), ("shells", shells(66))):
        fabric = work(read(text))
        number = stitch_graph(fabric).size
        built = best_s(lambda fabric=fabric: stitch_graph(fabric))  # type: ignore[misc]  # bound as default
        scaled = built / number * 20_000
        print(f"{name:8}{number:8} stitches  {built:.3f} s   {scaled:.3f} s for 20,000 (bound 1)")


if __name__ == "__main__":
    main()
