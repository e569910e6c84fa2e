"""Sentences about numbers of rounds, references and making up."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    "number-out-of-order/gap": N_(
        "{here} follows {before}: {missing} is missing. Write it, or number this line {expected} and "
        "those after it to match."
    ),
    "number-out-of-order/odd": N_(
        "{here} stands where {expected} should: {before} goes before it and the next line goes on from "
        "{expected}. Number it {expected}."
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
        "After {before} the numbers start again at {here} with no heading. Give the new part a heading that "
        "names it, so that nobody works it onto the part before."
    ),
    "row-or-round": N_(
        "{here} is called a {found} between lines that are each called a {word}. Call it a {word}, or say that the "
        "work is turned."
    ),
    "face-does-not-alternate": N_(
        "{here} is marked {side}, but by the turns of the rows around it this row is {other}. Change the mark, "
        "or say where the work is not turned."
    ),
    "range-states-other-number": N_(
        "{here} covers {covers} {kind}, yet the label says {said}. Change one of the two."
    ),
    "repeats-do-not-fill-range": N_(
        "{here} covers {covers:row}, but {block:row} worked {times:time} make {filled}. Change the number of "
        "times or the range."
    ),
    "length-and-rows-disagree": N_(
        "“{length}” takes about {by_gauge:row} at your row gauge, yet {here} ends with row {rows}. Change the "
        "length or the last row."
    ),
}
