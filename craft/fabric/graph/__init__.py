"""The stitch graph: every stitch of a worked part, its neighbours, and what it is worked into.

from craft.fabric import work
from craft.fabric.graph import stitch_graph
from craft.notation import read

graph = stitch_graph(work(read(text)), part=0, size=0)
"""

from craft.fabric.graph.build import MOST_STITCHES, TooManyStitchesError, pieces, stitch_graph, stitches_in
from craft.fabric.graph.values import Along, Flag, GraphRound, Into, StitchGraph

__all__ = [
    "MOST_STITCHES",
    "Along",
    "Flag",
    "GraphRound",
    "Into",
    "StitchGraph",
    "TooManyStitchesError",
    "pieces",
    "stitch_graph",
    "stitches_in",
]
