"""Small patterns drawn by number, for tests that hold over many of them."""

from __future__ import annotations

import random

__all__ = ["generated"]


def generated(number: int) -> str:
    """One of many plain patterns; the same number gives the same text."""
    draw = random.Random(number)
    kinds = (_shaped, _rows, _net, _granny, _oval, _lace_rows)
    return kinds[number % len(kinds)](draw)


def _shaped(draw: random.Random) -> str:
    """Rounds from a ring that gain, lose and stay."""
    stitch = draw.choice(["sc", "hdc", "dc"])
    start = draw.choice([5, 6, 8])
    lines = [f"Rnd 1: {start} {stitch} in magic ring. ({start})", f"Rnd 2: 2 {stitch} in each st around."]
    each = 2
    for number in range(3, draw.randint(6, 14)):
        act = draw.choice(["inc", "dec", "plain", "evenly", "back"])
        if act == "inc" or (act == "dec" and each < 3):
            lines.append(f"Rnd {number}: ({stitch} {each - 1}, 2 {stitch} in next st) x {start}")
            each += 1
        elif act == "dec":
            lines.append(f"Rnd {number}: ({stitch} {each - 2}, {stitch}2tog) x {start}")
            each -= 1
        elif act == "evenly":
            lines.append(f"Rnd {number}: {stitch} around, increasing {start} sts evenly.")
            each += 1
        else:
            place = "in back loop only of each st" if act == "back" else "in each st"
            lines.append(f"Rnd {number}: {stitch} {place} around.")
    return "\n".join(lines) + "\n"


def _rows(draw: random.Random) -> str:
    width = draw.randint(6, 40)
    lines = [f"Row 1: Ch {width + 1}, sc in 2nd ch from hook and in each ch across, turn. ({width})"]
    for number in range(2, draw.randint(4, 12)):
        if draw.random() < 0.4:
            lines.append(f"Row {number}: Ch 3 (counts as dc), dc in next st and in each st across, turn.")
        else:
            lines.append(f"Row {number}: Ch 1, sc in each st across, turn.")
    return "\n".join(lines) + "\n"


def _net(draw: random.Random) -> str:
    loops = draw.randint(5, 20)
    chains = draw.choice([3, 5])
    return (
        f"Rnd 1: {3 * loops} sc in magic ring. ({3 * loops})\n"
        f"Rnd 2: *Ch {chains}, skip next 2 sts, sc in next st; rep from * around.\n"
        f"Rnd 3: *{chains} sc in next ch-{chains} sp; rep from * around.\n"
        "Rnd 4: Sc in each sc around.\n"
    )


def _granny(draw: random.Random) -> str:
    first = (
        "Rnd 1: Ch 4, join with sl st to form a ring. Ch 3 (counts as dc), 2 dc in ring, ch 2, "
        "*3 dc in ring, ch 2; rep from * 2 more times, join with sl st to top of ch-3."
    )
    lines = [first]
    for number in range(2, draw.randint(3, 7)):
        sides = "ch 1, " + "3 dc in next ch-1 sp, ch 1, " * (number - 2)
        lines.append(
            f"Rnd {number}: Sl st in next 2 dc and into ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, "
            f"*{sides}(3 dc, ch 2, 3 dc) in next ch-2 sp; rep from * 2 more times, {sides}join."
        )
    return "\n".join(lines) + "\n"


def _oval(draw: random.Random) -> str:
    straight = draw.randint(3, 20)
    first = (
        f"Rnd 1: 2 sc in 2nd ch from hook, sc in next {straight - 1} ch, 4 sc in last ch, working along "
        f"other side of ch, sc in next {straight - 1} ch, 2 sc in last ch."
    )
    plain = [f"Rnd {number}: Sc in each st around." for number in range(2, draw.randint(3, 8))]
    return "\n".join((f"Ch {straight + 2}.", first, *plain)) + "\n"


def _lace_rows(draw: random.Random) -> str:
    chains = 3 * draw.randint(2, 10) + 2
    row_1 = f"Row 1: Ch {chains + 1}, sc in 2nd ch from hook and in each ch across."
    row_2 = (
        "Row 2: Ch 3, turn, *skip next st, (dc, ch 1, dc) in next st, skip next st; rep from * across, "
        "dc in last st."
    )
    rest = [
        f"Row {number}: Ch 3, turn, *(dc, ch 1, dc) in next ch-1 sp; rep from * across, dc in last st."
        for number in range(3, draw.randint(4, 9))
    ]
    return "\n".join((row_1, row_2, *rest)) + "\n"
