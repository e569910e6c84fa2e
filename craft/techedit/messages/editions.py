"""Sentences about licence, care, cautions, and what the pattern's fields say beside the text."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    # group T
    "permission-contradicts": N_(
        "“{allowed}” stands in the text, and “{denied}” here. Say once whether what is made may be sold."
    ),
    "care-against-fibre": N_(
        "“{words}” stands here, and the yarn holds {fibre}, for which the careful advice is: {advice}. "
        "Take the most delicate fibre's care, or say that the ball band allows more."
    ),
    "small-parts-denied": N_(
        "The facts say that there are no small parts, and “{what}” is listed. Look at that fact again: the "
        "cautions are printed by it, and the rules of the place of sale decide what must be said."
    ),
    "fields-and-text-disagree": N_(
        "The text gives {what} as “{printed}”, and the pattern's own field says “{field}”. Make the two the "
        "same, or take the line out of the text: the page prints the field."
    ),
    # group O, pieces that are joined
    "joined-sides-differ": N_(
        "“{one}” is {first:row} high and “{other}” {second:row}, and “{words}” joins their sides. If they "
        "are to meet, make the two the same, or say where the longer one is eased in."
    ),
    "sleeve-does-not-fit-armhole": N_(
        "The sleeve is {sleeve} cm at its top and the armhole {armhole} cm around{sizes}. Look at the two "
        "numbers, or say how the difference is taken in."
    ),
}
