"""Sentences about yarn, hooks, notions, gauge and sizes."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    # group B, yarn
    "colour-not-listed": N_(
        "Colour {label} is used here, and the list of yarns has only {known}. Add {label} to the "
        "list, or write the colour that is meant."
    ),
    "colour-not-used": N_(
        "Colour {label} stands in the list of yarns and is not used in the work. Take it out, or "
        "write where it comes in."
    ),
    "yarn-record-incomplete": N_(
        "This yarn lacks: {missing}. A maker needs it to find another yarn that does."
    ),
    "fibres-do-not-add-up": N_(
        "The fibres come to {total} %, not 100: {shares}. Look at the ball band again."
    ),
    "balls-do-not-cover-amount": N_(
        "{balls} balls of {each} m hold {held} m, and {needed} m are needed. List {right:ball}, "
        "or look at the amount."
    ),
    "yarn-amounts-by-size/length": N_(
        "The amounts {list} are {found:number} for {sizes:size}. Give one for each size."
    ),
    "yarn-amounts-by-size/falls": N_(
        "The amounts {list} fall at {size}. A larger size takes no less yarn: look whether two "
        "numbers changed places."
    ),
    "amount-against-estimate/short": N_(
        "The yarn list gives {printed} m, and the stitches come to about {estimate} m with the "
        "margin. Raise the amount, or weigh the sample again."
    ),
    "amount-against-estimate/much": N_(
        "The yarn list gives {printed} m, and the stitches come to about {estimate} m. If the "
        "list is right, a piece may be missing from the text."
    ),
    "colour-split": N_(
        "Colour {label} is {listed} of the yarn listed, and {worked} of the stitches are worked "
        "in it. Look at the amounts of the colours."
    ),
    "metres-and-yards-disagree": N_("“{pair}” are not the same length: {first} is {right} {unit}."),
    "grams-and-ounces-disagree": N_("“{pair}” are not the same weight: {first} is {right} {unit}."),
    "weight-names-disagree": N_(
        "This yarn is called {name}, which is class {class}, and class {printed}. Keep the one on"
        " the ball band."
    ),
    "strands-not-declared": N_(
        "“{words}” is asked for here, and the yarn list, gauge and notes do not speak of it. Say "
        "it above and see whether the amount listed is for all strands."
    ),
    "no-word-on-dye-lot": N_(
        "The yarn list does not say whether its amounts hold a margin, nor to buy one dye lot. A "
        "sentence saves makers a second order."
    ),
    "gauge-unlike-yarn/hook": N_(
        "The {hook} mm hook is far from what {weight} yarn is worked with. If that is meant, a "
        "word about it helps; if not, look at the hook and the yarn weight."
    ),
    "gauge-unlike-yarn/width": N_(
        "{rate} {stitch} to 10 cm on the {hook} mm hook is far from what {weight} yarn gives, "
        "which is about {expected}. Look at the gauge, the hook and the yarn weight."
    ),
    # group C, hooks and notions
    "hook-not-listed": N_(
        "The {hook} mm hook is asked for here, and the list has {known}. Add it to the list, or "
        "write the hook that is meant."
    ),
    "hook-not-used": N_(
        "The {hook} mm hook is listed, and no part says that it is used. Write where it comes in,"
        " or take it out."
    ),
    "hook-name-mismatch": N_(
        "{mm} mm is not {us}: {us} is {is} mm, and {mm} mm is {right}. The millimetre is the "
        "size; mend the one that is wrong."
    ),
    "hook-name-mismatch/none": N_(
        "{mm} mm is not {us}: {us} is {is} mm, and {mm} mm has no letter. Mend the one that is wrong."
    ),
    "hook-without-millimetres": N_(
        "The hook is given as {us} alone. Letters and numbers differ by maker and country: write "
        "the millimetres first ({mm})."
    ),
    "notion-not-listed": N_(
        "“{word}” stands here, and the list of notions has no {what}. Add it, so that it is at hand."
    ),
    "notion-not-used": N_("“{what}” is listed, and no step uses it. Take it out, or write its step."),
    "buttons-and-holes": N_(
        "The list has {buttons} buttons, and the band has {holes:hole}. Make the two the same."
    ),
    "button-does-not-fit-hole": N_(
        "The button is {button} mm wide, and the hole here is {stitches:stitch}, about {hole} mm "
        "at your gauge. Change the button or the hole."
    ),
    "hook-not-changed-back": N_(
        "“{change}” stands here and no change back. Say which hook {part} is worked with."
    ),
    # group D, gauge
    "gauge-incomplete": N_(
        "The gauge “{gauge}” does not give {missing}. Without it nobody can tell whether the fabric is right."
    ),
    "gauge-in-other-stitch": N_(
        "The gauge is in {stitch}, and {share} of the stitches are {main}. Give a gauge in {main} as well."
    ),
    "gauge-by-repeats-disagrees": N_(
        "{repeats} repeats of {each} stitches come to {rate} stitches to 10 cm, and the gauge by "
        "stitches says {printed}. Measure the swatch again and mend one."
    ),
    "gauge-units-disagree": N_("“{pair}” are not the same: {first} is {right}, not {second}."),
    "swatch-too-small": N_(
        "A swatch on {chains:chain} is no wider than the {stitches} stitches to be measured on "
        "it. Start with at least a quarter more."
    ),
    "gauge-explains-no-size": N_(
        "All sizes of “{measure}” are {part} {way} than their stitches at {rate} to 10 cm. A "
        "gauge of {fits} would give the printed sizes: look at the gauge."
    ),
    "gauge-explains-no-size/rows": N_(
        "All sizes of “{measure}” are {part} {way} than their rounds at {rate} to 10 cm. A row "
        "gauge of {fits} would give the printed sizes: look at the gauge."
    ),
    # group E, sizes
    "list-of-other-length/short": N_(
        "“{list}” has {found:number} for {sizes:size}: one is missing. Write one for each size."
    ),
    "list-of-other-length/long": N_(
        "“{list}” has {found:number} for {sizes:size}: there is one too many. Write one for each size."
    ),
    "lists-grouped-differently": N_(
        "“{list}” is bracketed another way than the other lists (“{usual}”). Bracket all alike, "
        "so that a size keeps its place."
    ),
    "width-against-gauge": N_(
        "“{words}”, yet {stitches} stitches of {row} at {rate} to 10 cm come to {cm} cm. Mend the"
        " width, the count or the gauge."
    ),
    "width-against-gauge/piece": N_(
        "“{words}” ({name}), yet by stitches and gauge the piece comes to {cm} cm {what}. Mend the "
        "measurement, the counts or the gauge."
    ),
    "width-against-gauge/piece-in-sizes": N_(
        "“{words}” ({name}) gives {stated} cm for {size}, yet by stitches and gauge that size comes to {cm} "
        "cm {what}. Mend the measurement, the counts or the gauge."
    ),
    "length-against-gauge/piece": N_(
        "“{words}” ({name}), yet by rounds and gauge the piece comes to {cm} cm {what}. Mend the "
        "measurement, the rounds or the gauge."
    ),
    "length-against-gauge/piece-in-sizes": N_(
        "“{words}” ({name}) gives {stated} cm for {size}, yet by rounds and gauge that size comes to {cm} cm "
        "{what}. Mend the measurement, the rounds or the gauge."
    ),
    "length-against-gauge": N_(
        "“{words}” long, yet {rows} rows at {rate} to 10 cm come to {cm} cm. Mend the length, the"
        " rows or the gauge."
    ),
    "ease-does-not-add-up": N_(
        "To fit {body} cm with {ease} cm of ease makes {right} cm, and the finished size says "
        "{finished}. Mend one of the three."
    ),
    "measure-falls": N_(
        "“{list}” falls at {size}. Look whether two numbers changed places or one is mistyped."
    ),
    "uneven-steps-between-sizes": N_(
        "“{list}” grows by {step} cm at {size}, and by about {usual} cm elsewhere. Look whether a"
        " number is wrong or a size is left out."
    ),
    "centimetres-and-inches-disagree": N_("“{pair}” are not the same: {first} is {right}, not {second}."),
    "hat-proportions": N_(
        "A hat {height} cm high on {around} cm round is {part} of its circumference; about "
        "{usual} cm is usual. Look at both numbers."
    ),
    "sizes-in-letters-alone": N_(
        "The sizes are {sizes} with no measurement. Give what each is to fit, in centimetres and inches."
    ),
    "skipped-size-marked-two-ways": N_(
        "A size that leaves a step out is marked with 0 in “{zero}” and with a dash in “{dash}”. "
        "Use one of the two throughout."
    ),
    "rows-differ-in-parity": N_(
        "“{list} rows” is odd for some sizes ({odd}) and even for others, so they end on "
        "different faces. Make all even or all odd."
    ),
    "rule-for-one-number-missing": N_(
        "The pattern has several sizes and does not say that one number alone serves all of them."
        " A sentence in the notes does it."
    ),
}
