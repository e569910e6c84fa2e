"""Lines that look like slips and are none: each check stays silent on what the trade's writing allows."""

from __future__ import annotations

import pytest

from craft import fabric, notation, techedit
from craft.techedit import Finding, Level


def findings(text: str) -> list[Finding]:
    draft = notation.read(text)
    return techedit.check(draft, fabric.work(draft))


RING = "Rnd 1: 12 sc in magic ring, join (12)\n"
ROWS = "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)\n"

NEAR = [
    # what makers leave to the trade
    ("stitches-lacking", RING + "Rnd 2: Ch 3, dc in next 11 sts, join to top of ch-3 12 dc.\n"),
    ("stitches-left-over", "Ch 3.\nRnd 1: 8 hdc in 2nd ch from hook, join (8)\n"),
    ("permission-contradicts", RING + "You may sell what you make. The pattern is not for sale.\n"),
    ("permission-contradicts", RING + "For personal use only. Please do not sell the pattern.\n"),
    ("care-against-fibre", "Yarn: Gull DK, 100% cotton\n" + RING + "Care: machine wash at 40 °C.\n"),
    ("care-against-fibre", "Yarn: Gull DK, 100% superwash wool\n" + RING + "Care: machine wash at 40 °C.\n"),
    ("care-against-fibre", "Yarn: Gull DK, 100% wool\n" + RING + "Care: do not machine wash.\n"),
    ("heat-against-fibre", "Yarn: Gull DK, 100% acrylic\n" + RING + "Care: wash cool. Do not iron.\n"),
    ("joined-sides-differ", "FRONT\n" + ROWS + "Rows 2-50: Ch 1, sc in each st across, turn (10)\n\n"
     "BACK\n" + ROWS + "Rows 2-52: Ch 1, sc in each st across, turn (10)\n\nFINISHING\nSew side seams.\n"),
    ("sleeve-does-not-fit-armhole", "Measurements: sleeve top 40 cm, armhole depth 20 cm\n" + RING),
    ("title-varies", "Title: Tideline Beanie\nYarn: Tideline Worsted, 2 balls\n" + RING),
    ("abbreviation-not-defined", "Abbreviations: ch = chain; st = stitch; sc = single crochet; "
     "Cl (3 dc cluster);\n" + RING + "Rnd 2: (ch 3, cl in next st) around\n"),
    ("gauge-incomplete", "Gauge: 12 sts and 12 rows = 10 cm in wave stitch pattern\n" + RING
     + "Rnd 2: (sc in next st, dc in next st) 6 times (12)\n"),
    # numbers
    ("number-out-of-order", RING + "Rnd 2 and every alt rnd: sc in each st around\n"
     "Rnd 3: 2 sc in each st around (24)\n"),
    ("number-out-of-order", RING + "Work 3 more rounds even.\nRnd 5: 2 sc in each st around (24)\n"),
    ("number-out-of-order", RING + "Next rnd: sc in each st around (12)\n"
     "Rnd 4: sc in each st around (12)\n"),
    ("number-out-of-order", "HEAD\n" + RING + "\nEAR\n" + RING),
    ("range-states-other-number", RING + "Rnds 2-4 (3 rnds): sc in each st around (12)\n"),
    ("repeats-do-not-fill-range", ROWS + "Row 2: Ch 1, sc in each st across, turn (10)\n"
     "Rows 3-8: Repeat Rows 1 and 2 twice more.\n"),
    ("row-or-round", RING + "Rnd 2: sc in each st around (12)\nRow 3: Ch 1, sc in next 6 sts, turn (6)\n"
     "Rnd 4: sc in each st around (6)\n"),
    # fitting
    ("stitches-left-over", ROWS + "Row 2: Ch 1, sc in next 6 sts, leave rem sts unworked, turn (6)\n"),
    ("count-differs", "Row 1: Ch 12, dc in 4th ch from hook and in each ch across, turn (10)\n"),
    ("count-differs", RING + "Rnd 2: (sc in next st, ch 1, skip 1 st) 6 times (12)\n"),
    ("repeat-does-not-fit", RING + "Rnd 2: *sc in next 4 sts, 2 sc in next st; rep from * to last 2 "
     "sts, sc in last 2 sts\n"),
    ("times-one-out", RING + "Rnd 2: *sc in next st, 2 sc in next st; rep from * 5 times (18)\n"),
    # marks
    ("bracket-not-closed", RING + "Rnd 2: (sc in next st, 2 sc in next st) 6 times :) (18)\n"),
    ("star-without-return", RING + "Rnd 2: (sc, inc) * 6 (18)\n"),
    ("star-missing", RING + "Rnd 2: *sc in next st, 2 sc in next st* repeat from * to * around (18)\n"),
    # colour and yarn
    ("colour-not-used", "Yarn: A: Gull DK, 2 balls sand; B: Gull DK, 1 ball sea\nWith A, ch 4.\n"
     "Notes: Use B for the face.\n" + RING),
    ("fibres-do-not-add-up", "Yarn: Gull DK, 100% wool and Harbour DK, 100% cotton\n" + RING),
    ("metres-and-yards-disagree", "Yarn: Gull DK, 50 g / 120 m (131 yd)\n" + RING),
    ("centimetres-and-inches-disagree", "Finished size: 10 cm (4 in) wide\n" + RING),
    ("gauge-unlike-yarn", "Title: Pip the Toy Gull\nYarn: Gull DK, class 3\nHook: 2 mm\n"
     "Gauge: 32 sc and 34 rows = 10 cm\n" + RING),
    ("hook-name-mismatch", "Hook: 5.5 mm (I-9)\n" + RING),
    ("hook-not-listed", ("Hook: 5 mm\n"
     "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn (10)\n")),
    # sizes
    ("list-of-other-length", "Sizes: S (M, L)\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n"),
    ("list-of-other-length", "Sizes: S (M, L, XL)\n" + RING + "Sizes L and XL only\n"
     "Rnd 2: (sc 1, inc) x 6 (18)\n"),
    ("measure-falls", "Sizes: S (M, L)\nFinished length: 24 (24, 26) cm\n" + RING),
    # terms
    ("terms-mixed", "Rnd 1: 6 sc in magic ring (6)\nRnd 2: miss 1 st, 2 hdc in each of next 5 sts\n"),
    ("abbreviation-not-defined", ("Abbreviations: sc = single crochet; st = stitch; ch = chain\n"
     "Rnd 1: 6 single crochet in magic ring (6)\n")),
    ("loops-do-not-come-out", "Special stitches: Cluster: (Yo and draw up a loop in same st, yo and "
     "draw through 2 loops) 3 times, "
     "yo and draw through all loops.\n" + RING),
    ("legs-disagree-with-name", "Special stitches: 3-dc cluster: Ch 2, (yo, insert hook, yo and "
     "pull up a loop, yo, pull through "
     "2 loops) 2 times in same st, yo, pull through all loops.\n" + RING),
    # joins and turns
    ("joins-against-note", ("Notes: Work in a continuous spiral, do not join.\n"
     "Rnd 1: 6 sc in magic ring (6)\n"
     "Rnd 2: inc x 6, join with sl st to first sc (12)\n")),
    ("one-round-not-joined", RING + "Rnd 2: Ch 1, (sc in next st, ch 3, skip 1 st) 5 times, sc in "
     "next st, ch 1, dc in first sc\n"),
    ("join-target-not-there", ("Rnd 1: Ch 6 (counts as dc and ch 3), 11 dc in magic ring, join with "
     "sl st to top of ch-3\n")),
    ("chain-too-short", ("Row 1: Ch 12, dc in 3rd ch from hook and in each ch across, turn (10)\n"
     "Row 2: Ch 2, dc in each st across, turn (10)\n")),
    # making up, words
    ("position-beyond-last-round", RING + "Rnds 2-8: sc in each st around (12)\n"
     "Place eyes between Rnds 6 and 7.\n"),
    ("stuffed-after-closing", ("Rnd 1: 6 sc in magic ring (6)\nStuff the body.\n"
     "Rnd 2: sc in each st around (6)\nClose the opening.\n")),
    ("vague-words", RING + "Work to desired length.\n"),
    ("spelling-slip", RING + "Rnd 2: sc in next st, skip next st, repeat around\n"),
    ("scanned-letters", RING + "Rnd 2: sc in 10 next sts\n"),
    ("scanned-letters", RING + "Rnds 2-15: sc in each st around (12)\n"),
]  # fmt: skip


@pytest.mark.parametrize(("slug", "text"), NEAR, ids=[slug for slug, _ in NEAR])
def test_a_near_miss_stays_silent(slug: str, text: str) -> None:
    assert [finding.says for finding in findings(text) if finding.check == slug] == []


@pytest.mark.parametrize(
    ("damaged", "right"),
    [("(245C)", "24 sc"), ("(24 5T)", "24 sts"), ("(2O sc)", "20"), ("(l8 sc)", "18")],
)
def test_a_scanned_letter_is_found(damaged: str, right: str) -> None:
    found = findings(RING + f"Rnd 2: sc in each st around {damaged}\n")
    (scanned,) = [finding for finding in found if finding.check == "scanned-letters"]
    assert f"“{right}”" in scanned.says


def test_a_scanned_letter_is_offered_only_where_its_line_comes_out() -> None:
    (right,) = [
        f for f in findings(RING + "Rnd 2: 2 sc in each st around (245C)\n") if f.check == "scanned-letters"
    ]
    (wrong,) = [
        f for f in findings(RING + "Rnd 2: 2 sc in each st around (255C)\n") if f.check == "scanned-letters"
    ]
    assert right.suggestion is not None
    assert wrong.suggestion is None


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "\n\n",
        "Just a note about yarn.",
        "((((",
        "* * *",
        "Rnd 1:",
        "Sizes: S (M,",
        "Gauge: = cm",
        "\N{SNOWMAN} 5 in",
    ],
)
def test_odd_texts_are_no_trouble(text: str) -> None:
    assert all(f.level is not Level.ERROR or f.check == "bracket-not-closed" for f in findings(text))


def test_what_is_not_checked_is_listed_with_what_it_lacks() -> None:
    draft = notation.read(RING)
    lacking = {item.check: item.missing for item in techedit.not_checked(draft, fabric.work(draft))}
    assert lacking["gauge-unlike-yarn"] == ("yarns", "gauges")
    assert lacking["amount-against-estimate"] == ("yarns", "needed_m")
    assert "count-differs" not in lacking


def test_findings_come_in_the_order_of_the_text() -> None:
    text = RING + "Rnd 2: 2 sc in each stich around (25)\nRnd 4: sc in each st around (24)\n"
    found = findings(text)
    assert [finding.span.start for finding in found] == sorted(finding.span.start for finding in found)
    assert len(found) >= 3
