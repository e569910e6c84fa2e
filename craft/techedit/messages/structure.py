"""Sentences about numbers of rounds, references and making up."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    "number-out-of-order/gap": N_(
        "{here} follows {before}: {missing} is missing. Write it, or number this line {expected} "
        "and those after it to match."
    ),
    "number-out-of-order/odd": N_(
        "{here} stands where {expected} should: {before} goes before it and the next line goes on"
        " from {expected}. Number it {expected}."
    ),
    "number-out-of-order/twice": N_(
        "{here} stands twice. If this is another line, number it {expected} and those after it to match."
    ),
    "number-out-of-order/back": N_(
        "{here} follows {before}: the numbers go back. The next number is {expected}."
    ),
    "range-overlaps": N_(
        "{here} is already part of {before}. End that range earlier, or number this line {expected}."
    ),
    "numbering-restarts": N_(
        "After {before} the numbers start again at {here} with no heading. Give the new part a "
        "heading that names it, so that nobody works it onto the part before."
    ),
    "row-or-round": N_(
        "{here} is called a {found} between lines that are each called a {word}. Call it a "
        "{word}, or say that the work is turned."
    ),
    "face-does-not-alternate": N_(
        "{here} is marked {side}, but by the turns of the rows around it this row is {other}. "
        "Change the mark, or say where the work is not turned."
    ),
    "range-states-other-number": N_(
        "There are {covers} {kind} in {here}, yet the label says {said}. Change one of the two."
    ),
    "repeats-do-not-fill-range": N_(
        "There are {covers:row} in {here}, and {block:row} worked {times:time} make {filled}. "
        "Change the number of times or the range."
    ),
    "length-and-rows-disagree": N_(
        "“{length}” takes about {by_gauge:row} at your row gauge, yet the last of {here} is row "
        "{rows}. Change the length or the last row."
    ),
    # group N, references
    "repeated-row-not-there": N_(
        "{here} repeats row {missing}, and this part goes only to {last}. Name the row that is meant."
    ),
    "repeated-row-does-not-fit": N_(
        "“{words}” in {here} was written for another count: on {available} stitches, {left} are "
        "{way}. Write the row out for this count, or mend the row before it."
    ),
    "mirror-not-said": N_("“{words}” makes two pieces for the same side. Say what is reversed."),
    "as-before-has-two-meanings": N_(
        "“{words}” may mean any of {times} parts called “{name}”. Give them different headings and name one."
    ),
    "picture-missing-in-sequence": N_(
        "{words} follows, and {missing} is missing. Number the pictures in order."
    ),
    "marker-never-placed": N_(
        "“{words}” goes to a marker that no line has placed. Say where and when it is placed."
    ),
    "unworked-never-taken-up": N_(
        "{here} leaves {left:stitch} unworked, and no later line speaks of them. Say what becomes of them."
    ),
    # group O, shape
    "disc-does-not-lie-flat/ruffles": N_(
        "Up to {here} the disc grows by {rate:stitch} a round; at this gauge it lies flat with "
        "about {exact}, so it will wave. Use fewer increases, or say that it is meant."
    ),
    "disc-does-not-lie-flat/bowls": N_(
        "Up to {here} the disc grows by {rate:stitch} a round; at this gauge it lies flat with "
        "about {exact}, so it will cup. Use more increases, or say that it is meant."
    ),
    "increases-stacked": N_(
        "{rounds:round} up to {here} increase at the same place, which makes {corners} corners. "
        "For a circle, begin every other round with {half:stitch} and an increase, and end it "
        "with the rest of the group."
    ),
    "shaping-needs-more-rows": N_(
        "“{words}”: {times} times every {every} rows takes {needs:row}, and there are {rows}. "
        "{fits:time} fit."
    ),
    "pick-up-rate-off": N_(
        "“{words}” along row ends {way}: at your gauge {right} lie flat. Change the rate, or say "
        "that it was tried."
    ),
    "evenly-without-spacing": N_(
        "“{words}” in {here}: on {total} stitches, {change} to {way} are {groups}, each group "
        "ending with one. Written out, nobody has to reckon."
    ),
    "openings-off-centre": N_(
        "The two openings of {here} have {first} stitches between them on one side and {second} "
        "on the other. {even} on each side would set them opposite."
    ),
    "stuffed-after-closing": N_(
        "{part} is stuffed here, after “{words}”. Move the stuffing before the closing."
    ),
    # group P, making up
    "pieces-made-and-sewn-differ": N_(
        "“{part}” makes {made}, and “{words}” takes {sewn}. Make the two the same."
    ),
    "no-tail-for-sewing": N_(
        "“{words}” follows later, and “{part}” leaves no tail for it. Add “leaving a long tail” "
        "where it is fastened off."
    ),
    "position-beyond-last-round": N_(
        "“{words}” names rounds that no part has: the highest is {highest}. Look at the numbers."
    ),
    "heat-against-fibre": N_(
        "“{words}” stands here, and the yarn is mostly {fibre}, which heat makes limp for good. "
        "Say wet block, or block without heat."
    ),
    "size-and-gauge-blocked-differently": N_(
        "The finished size is {size} and the gauge {gauge}. Measure both in the same state, or "
        "give both states."
    ),
    "stuffing-without-amount": N_(
        "“{word}” is listed with no amount. Weigh what the sample took and print it."
    ),
}
