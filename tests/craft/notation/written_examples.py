"""Texts of our own for what is written back: every kind of line that patterns have, alone and as a whole."""

from __future__ import annotations

SHAWL = """Harbour Shawl
Sizes: S (M, L)
Gauge: 18 sc = 10 cm
Finished width: 120 (140, 160) cm
Abbreviations
sc = single crochet
shell = 5 dc in next st

Notes: Ch 3 counts as dc throughout.

Crown (worked top down)
Rnd 1: Make a magic ring, 6 (7, 8) sc in ring. (6 (7, 8))
Rnd 2: 2 sc in each st around. (12 (14, 16))
3rd rnd: *1 sc in next sc. 2 sc in next sc. Rep from * around. 18 (21, 24) sc.
Size L only:
Rnd 4: *sc in next 2 sts, 2 sc in next st; rep from * around. (32)
All sizes:
Rnds 5-8 (4 rnds): Sc in each st around.
Rnd 9: Ch 3, *skip next 2 sts, shell in next st, skip next 2 sts, dc in next st; rep from * to last 3 sts,
dc in last 3 sts, join with sl st to top of beg ch-3. Stuff lightly with clean fleece.
Rep Rnds 5-6 twice more.
Fasten off, leaving a long tail.

Edging
Row 1 (RS): With A, ch 41 (46, 51), dc in 4th ch from hook (skipped ch counts as dc), dc in each
ch across, turn.
Row 2: Ch 1, (dc, ch 2, dc) in first st, *ch 1, **skip next st, dc in next st; rep from * across, ending
last rep at **. (24 dc, 12 ch-1 sps)
Next row: Working in back loops only, hdc in each st to last 2 sts, hdc2tog. Change to white.
"""

LINES = (
    "6 sc in magic ring (6)",
    "inc x 6 (12)",
    "(sc, inc) x 6 (18)",
    "[2 sc, dec] 6 times, sl st in first st to join.",
    "sc 5, hdc 3, dc in next 4 sts",
    "2 dc in each st around. 24 dc.",
    "fpdc around next dc, bpdc around each of next 3 dc, turn",
    "Ch 3 (counts as dc), dc in each st to last 2 sts, dc2tog over next 2 sts, turn.",
    "Ch 1 (does not count as st), sc in back loop of each st around.",
    "*sc in next 2 sts, [ch 3, sk next 2 sts, dc in next st] twice; rep from * 5 times more.",
    "*dc in next st, ch 1, sk next st; rep from * to last 2 sts, dc in last 2 sts.",
    "(3 dc, ch 2, 3 dc) in each corner sp, sc in each st to next corner.",
    "Sk next 2 sts, (2 dc, ch 1, 2 dc) in next ch-1 sp, ch 2, sc in same sp.",
    "Sl st in next 3 sts, ch 4, dc in next ch-2 sp, join with sl st to 3rd ch of beg ch-4.",
    "Sc in 2nd ch from hook, sc in each ch across, ch 1, turn. (20)",
    "Inc 6 evenly around. (36)",
    "Dec 1 st at each end of row.",
    "Bobble in next st, 5 bobbles, sc in next st 2 rows below, puff st in first st",
    "Leave last 4 sts unworked, fasten off. Sew the ear to the head.",
    "dtr in next st, tr in every other st around, trtr in last st",
    "Join B with sl st to any st, ch 1, sc evenly around.",
    "Mind the gap between the gulls, sc in next 4 sts, flumble in next st.",
)

BAND = """Sizes: S (M, L)

Band
Row 1: Ch 13 (15, 17), sc in 2nd ch from hook and in each ch across. 12 (14, 16) sc.
Rows 2-4 (5, 6): Ch 1, turn, sc in each st across.
Next row: Ch 1, turn, dec 0 (1, 2) times, sc in each st across.
Sizes M and L only:
Next row: Ch 1, turn, 2 sc in first st, sc in each st to last st, 2 sc in last st.
All sizes:
Next row: Ch 1, turn, *sc in next st, sk next st, 2 sc in next st; rep from * to last 0 (2, 1) sts.
Fasten off.
"""
