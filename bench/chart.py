"""A symbol chart from stitches to file: a disc of 20,000 stitches, and what a page draws of it at most.

Processor time for the signs from the stitch graph, the layout and the SVG, and as a ratio to building the
stitch graph itself, which must be there first.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TypeVar

from craft.charting import MOST_SIGNS, Style, Words, lay_out, only, parts_of, svg_of
from craft.charting.from_fabric import pieces_of
from craft.fabric import work
from craft.fabric.graph import stitch_graph
from craft.notation import read

Result = TypeVar("Result")


def disc(rounds: int) -> str:
    lines = ["Rnd 1: 6 sc in magic ring. (6)", "Rnd 2: 2 sc in each st around. (12)"]
    lines += [
        f"Rnd {n}: [Sc in next {n - 2} sts, 2 sc in next st] 6 times. ({6 * n})" for n in range(3, rounds)
    ]
    return "\n".join(lines) + "\n"


def best(act: Callable[[], Result], times: int = 3) -> tuple[float, Result]:
    """Least processor time of a few runs, and the last result."""
    found = []
    for _ in range(times):
        start = time.process_time()
        result = act()
        found.append(time.process_time() - start)
    return min(found), result


def main() -> None:
    fabric = work(read(disc(82)))
    graph_s, graph = best(lambda: stitch_graph(fabric, part=0, size=0))
    signs_s, pieces = best(lambda: pieces_of(fabric))
    layout_s, placed = best(lambda: lay_out(pieces[0]))
    svg_s, svg = best(lambda: svg_of(placed, Words("Disc", "A disc."), Style()))
    start, stop = parts_of(pieces[0])[0]
    keys = frozenset(course.key for course in pieces[0].courses[start:stop])
    part_s, part = best(lambda: svg_of(only(placed, keys), Words("Disc", "A disc."), Style()))
    whole = signs_s + layout_s + svg_s
    print(f"stitches              {graph.size}")
    print(f"stitch graph          {graph_s:.2f} s")
    print(f"signs (with graph)    {signs_s:.2f} s")
    print(f"layout                {layout_s:.2f} s")
    print(f"SVG of all            {svg_s:.2f} s, {len(svg) / 1e6:.2f} MB")
    print(f"SVG of at most {MOST_SIGNS}   {part_s:.2f} s, {len(part) / 1e6:.2f} MB")
    print(f"ratio to the graph    {whole / graph_s:.1f}")


if __name__ == "__main__":
    main()
