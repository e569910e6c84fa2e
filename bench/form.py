"""Settling 10,000 stitches from the exact profile, against one bare solve of the coupled system.

The floor is one `scipy.sparse.linalg.spsolve` of the sparse 3N x 3N system of the same net's springs, with
x, y and z coupled as in a step of Newton's method. Bound kept in mind: at most 20 floors.
"""

from __future__ import annotations

import platform
import sys
import time
from pathlib import Path

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve

sys.path.insert(0, str(Path(__file__).parents[1]))

from craft.fabric import work
from craft.fabric.gauge import Gauge
from craft.fabric.graph import stitch_graph
from craft.form import settle_piece
from craft.form.net import Net, net_of
from craft.form.shape import Form
from craft.notation import read
from tests.craft.form import bodies

GAUGE = Gauge(6.0, 6.0)


def coupled(net: Net, form: Form) -> sparse.csc_matrix:
    """The stiffness of all springs along their own directions, with a little in every direction."""
    pairs = np.concatenate((net.along, np.column_stack((net.up_child, net.up_edge[:, 0]))))
    pairs = np.concatenate((pairs, np.column_stack((net.up_child, net.up_edge[:, 1]))))
    way = form.position[pairs[:, 1]] - form.position[pairs[:, 0]]
    way /= np.maximum(np.linalg.norm(way, axis=1, keepdims=True), 1e-9)
    blocks = way[:, :, None] * way[:, None, :] + 0.01 * np.eye(3)
    axes = np.arange(3)
    rows, columns, values = [], [], []
    for one, two, sign in ((0, 0, 1.0), (1, 1, 1.0), (0, 1, -1.0), (1, 0, -1.0)):
        rows.append(np.repeat(3 * pairs[:, one][:, None] + axes, 3, axis=1).ravel())
        columns.append(np.tile(3 * pairs[:, two][:, None] + axes, (1, 3)).ravel())
        values.append(sign * blocks.ravel())
    size = 3 * net.size
    matrix = sparse.coo_matrix(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=(size, size)
    )
    return (matrix + 0.01 * sparse.identity(size)).tocsc()


def main() -> None:
    print(f"{platform.machine()}, Python {platform.python_version()}")
    text = bodies.ball(169, 6, 6)
    fabric = work(read(text))
    start = time.process_time()
    graph = stitch_graph(fabric)
    graph_s = time.process_time() - start
    start, wall = time.process_time(), time.perf_counter()
    form = settle_piece(fabric, (0,), 0, GAUGE)
    settle_s, wall_s = time.process_time() - start, time.perf_counter() - wall
    net = net_of(graph, GAUGE)
    matrix = coupled(net, form)
    right = np.random.default_rng(1).normal(size=matrix.shape[0])
    start = time.process_time()
    spsolve(matrix, right)
    floor_s = time.process_time() - start
    print(
        f"{graph.size} stitches, graph {graph_s:.2f} s, whole {settle_s:.2f} s, by the clock {wall_s:.2f} s"
    )
    ratio = settle_s / floor_s
    print(f"one bare solve of {matrix.shape[0]} unknowns {floor_s:.2f} s; ratio {ratio:.1f} (bound 20)")
    ideal = 4 / 3 * np.pi * 169**3
    print(f"volume against the ball's {form.volume_mm3 / ideal - 1:+.1%}, worst {form.worst(1)}")


if __name__ == "__main__":
    main()
