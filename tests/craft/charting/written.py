"""Patterns for the charts: some by hand, any number drawn by hypothesis. All texts are our own."""

from __future__ import annotations

from hypothesis import strategies as st

from craft.charting.from_fabric import pieces_of
from craft.charting.model import Piece
from craft.fabric import work
from craft.notation import read

GRANNY = """Granny square
Rnd 1: Ch 4, join with sl st to form ring, ch 3 (counts as dc), 2 dc in ring, ch 2, *3 dc in ring, \
ch 2; rep from * 2 more times; join with sl st to top of ch 3. (12 dc, 4 ch-2 sps)
Rnd 2: Sl st in next 2 dc and in ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, *(3 dc, ch 2, \
3 dc) in next ch-2 sp, ch 1; rep from * around; join. (24 dc)
Rnd 3: Sl st in next 2 dc and in ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, 3 dc in next \
ch-1 sp, ch 1, *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1; rep from * \
around; join. (36 dc)
"""

FANS = """Row 1: Ch 26, sc in 2nd ch from hook, *sk next 3 ch, 7 dc in next ch, sk next 3 ch, sc \
in next ch; rep from * across.
Row 2: Ch 3 (counts as dc), turn, 3 dc in first sc, *sk next 3 dc, sc in next dc, sk next 3 dc, 7 \
dc in next sc; rep from * once more, sk next 3 dc, sc in next dc, sk next 3 dc, 4 dc in last sc.
Row 3: Ch 1, turn, sc in first dc, *sk next 3 dc, 7 dc in next sc, sk next 3 dc, sc in next dc; \
rep from * across.
"""

HEXAGON = """Rnd 1: 6 sc in magic ring. (6)
Rnd 2: *3 sc in next st; rep from * around. (18)
Rnd 3: *Sc in next st, 3 sc in next st, sc in next st; rep from * around. (30)
Rnd 4: *Sc in next 2 sts, 3 sc in next st, sc in next 2 sts; rep from * around. (42)
"""

OVAL = """Ch 12.
Rnd 1: Sc in 2nd ch from hook, sc in next 9 ch, 3 sc in last ch; working along other side of \
chain, sc in next 9 ch, 2 sc in last ch. (24 sts)
Rnd 2: 2 sc in next st, sc in next 9 sts, 2 sc in each of next 3 sts, sc in next 9 sts, 2 sc in \
each of next 2 sts. (30 sts)
Rnd 3: Sc in next 5 sts, ch 20, sk next 5 sts, sc in next 10 sts, ch 20, sk next 5 sts, sc in next \
5 sts. (20 sc, 40 ch)
Rnd 4: Sc in next 5 sts, sc in next 20 ch, sc in next 10 sts, sc in next 20 ch, sc in next 5 sts. \
(60 sts)
"""

YOKE = """Sizes: XS (S, M, L, XL)

Yoke
Ch 60 (64, 68, 72, 76), join with sl st to form a ring.
Rnd 1: Ch 3 (counts as dc), dc in next 8 (9, 10, 11, 12) ch, (2 dc, ch 2, 2 dc) in next ch, dc in \
next 18 (19, 20, 21, 22) ch, (2 dc, ch 2, 2 dc) in next ch, dc in next 10 ch, (2 dc, ch 2, 2 dc) \
in next ch, dc in next 18 (19, 20, 21, 22) ch, (2 dc, ch 2, 2 dc) in next ch, dc in next 1 (2, 3, \
4, 5) ch, join with sl st in top of beg ch-3.
Rnd 2: Ch 3 (counts as dc), *dc in each dc to next ch-2 sp, (2 dc, ch 2, 2 dc) in ch-2 sp; rep \
from * 3 more times, dc in each dc to end, join with sl st in top of beg ch-3.
"""

SCARF = """Scarf
Row 1: Ch 25, dc in 4th ch from hook and in each ch across. (23)
Row 2: Ch 3 (counts as dc), turn, sk first st, dc in each st across. (23)
Rows 3-60: Rep Row 2.
Row 61: Ch 1, turn, sc in each st across. (23)
"""


def piece(text: str, size: int = 0, number: int = 0) -> Piece:
    return pieces_of(work(read(text)), size)[number]


def _round(number: int, count: int, kind: str, share: int) -> tuple[str, int]:
    """One round over `count` stitches -> its words and the stitches that it leaves."""
    rest = count // share
    match kind:
        case "grow":
            return f"Rnd {number}: [Sc in next {share - 1} sts, 2 sc in next st] {rest} times.", count + rest
        case "shrink" if share > 2:
            return f"Rnd {number}: [Sc in next {share - 2} sts, sc2tog] {rest} times.", count - rest
        case "mesh" if share > 2:
            return f"Rnd {number}: *Ch {share}, sk next {share - 1} sts, sc in next st; rep from * around.", 0
        case "shell" if share > 2:
            words = f"*Sk next {share - 1} sts, 5 dc in next st; rep from * around."
            return f"Rnd {number}: {words}", 5 * rest
    return f"Rnd {number}: Dc in each st around.", count


@st.composite
def rounds(draw: st.DrawFn) -> str:
    """A piece in the round: plain rounds, increases, decreases, shells, and a mesh to end with."""
    count = draw(st.integers(4, 12))
    lines = [f"Rnd 1: {count} sc in magic ring."]
    for number in range(2, draw(st.integers(3, 7))):
        shares = [share for share in range(2, 7) if count % share == 0] or [1]
        words, count = _round(number, count, draw(st.sampled_from(KINDS)), draw(st.sampled_from(shares)))
        lines.append(words)
        if not count:
            lines.append(f"Rnd {number + 1}: 3 sc in each ch-sp around.")
            break
    return "\n".join(lines) + "\n"


KINDS = ("grow", "shrink", "plain", "mesh", "shell")


@st.composite
def rows(draw: st.DrawFn) -> str:
    """A flat piece: plain rows of one stitch or another, some in one loop, some with increases."""
    count = draw(st.integers(2, 14))
    lines = [f"Row 1: Ch {count + 1}, sc in 2nd ch from hook and in each ch across."]
    for number in range(2, draw(st.integers(3, 8))):
        name, chains = draw(st.sampled_from((("sc", 1), ("hdc", 1), ("tr", 1))))
        words = draw(st.sampled_from((
            f"{name} in each st across", f"{name} in back loop only of each st across",
            f"2 {name} in first st, {name} in each st across",
        )))  # fmt: skip
        lines.append(f"Row {number}: Ch {chains}, turn, {words}.")
    return "\n".join(lines) + "\n"
