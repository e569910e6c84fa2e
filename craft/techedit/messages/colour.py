"""Sentences about colour."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    "change-place-not-said": N_(
        "“{words}” in {here}: nothing says where in the stitch the colour changes. A sentence in "
        "the notes does it, as in “change at the last yarn over of the stitch before”."
    ),
    "part-without-colour": N_("“{part}” does not say which colour it begins with: {labels}. Add it."),
    "long-carry": N_(
        "{here} takes {label} up again after {stitches:stitch}. Carried that far it catches and "
        "pulls: say to use a second ball, or to work over it."
    ),
    "stripes-do-not-add-up": N_(
        "“{words}”: {stripes} stripes of {rows:row} make {makes}, not {said}. Mend one."
    ),
    "letter-and-name-disagree": N_("{label} is {name} here and {before} before. Mend one of the two."),
    "many-ends": N_("About {ends:end} will have to be woven in. Say so, or how to work over them."),
}
