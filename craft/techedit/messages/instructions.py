"""Sentences about stitches, repeats, multiples, turning chains and joins."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    # group J, fitting the round below
    "stitches-left-over": N_(
        "{here} uses {used} of the {available} stitches of {below}: {left:stitch} left over after"
        " “{words}”. Add the missing step, or say that the rest stays unworked."
    ),
    "stitches-left-over/mend": N_(
        "{here} uses {used} of the {available} stitches of {below}. “{mended}” would use all "
        "{available} and {gives}."
    ),
    "stitches-lacking": N_(
        "{here} asks for more stitches than {below} has: all {available} are used up, and "
        "“{words}” needs {left} more. Take a step out, or look at the count of {below}."
    ),
    "stitches-lacking/mend": N_(
        "{here} asks for {left} more stitches than the {available} of {below}. “{mended}” would "
        "use all {available} and {gives}."
    ),
    "repeat-number-does-not-fit/over": N_(
        "{here} uses {used} of the {available} stitches of {below}: “{words}” leaves {left} "
        "over{makes}. Change the number of times or the stitches between."
    ),
    "repeat-number-does-not-fit/over-mend": N_(
        "{here} uses {used} of the {available} stitches of {below}: “{words}” leaves {left} "
        "over{makes}. “{mended}” would use all {available} and {gives}."
    ),
    "repeat-number-does-not-fit/lacking": N_(
        "{here} asks for {left} more stitches than the {available} of {below}: “{words}” does not"
        " fit. Change the number of times or the stitches between."
    ),
    "repeat-number-does-not-fit/lacking-mend": N_(
        "{here} asks for {left} more stitches than the {available} of {below}: “{words}” does not"
        " fit. “{mended}” would use all {available} and {gives}."
    ),
    "times-one-out/over": N_(
        "{here} leaves {left} of the {available} stitches of {below} over, just one pass of "
        "“{words}”. Work it one time more."
    ),
    "times-one-out/over-mend": N_(
        "{here} leaves {left} of the {available} stitches of {below} over, just one pass of "
        "“{words}”. “{mended}” would use all {available} and {gives}."
    ),
    "times-one-out/lacking": N_(
        "{here} runs out of stitches: {below} has {available}, and “{words}” asks for one pass "
        "more than fits. Work it one time less; “n more times” is one pass more than “n times”."
    ),
    "times-one-out/lacking-mend": N_(
        "{here} runs out of stitches: {below} has {available}, and “{words}” asks for one pass "
        "more than fits. “{mended}” would use all {available} and {gives}."
    ),
    "repeat-does-not-fit": N_(
        "The repeat of {here} takes {uses:stitch}, and {below} has {available}: {passes:time} "
        "leave {left} over. Change the repeat, or say what happens to the rest."
    ),
    "repeat-does-not-fit/mend": N_(
        "The repeat of {here} takes {uses:stitch}, and {below} has {available}: {passes:time} "
        "leave {left} over. “{mended}” would use all {available} and {gives}."
    ),
    "to-last-leaves-another": N_(
        "“{words}” in {here} does not come out: {below} has {available} stitches, one pass takes "
        "{uses}, and the last one breaks off {left} short or over. Change “to last …” or the "
        "steps after it."
    ),
    "to-last-leaves-another/mend": N_(
        "“{words}” in {here} does not come out on the {available} stitches of {below}. “{mended}”"
        " would use all {available} and {gives}."
    ),
    "repeat-fits-some-sizes": N_(
        "The repeat of {here} does not fit {sizes}: it takes {uses:stitch}, {below} has "
        "{available}, and {left} would be left over. Change the count of that size, or give it "
        "stitches before or after the repeat."
    ),
    "repeat-fits-some-sizes/mend": N_(
        "The repeat of {here} does not fit {sizes}: {below} has {available} stitches. “{mended}” "
        "would use them all and {gives}."
    ),
    "border-repeat-does-not-fit": N_(
        "The repeat of the border takes {uses:stitch}, and the edge has {available}: {left} would"
        " be left over in {here}. Work the edge to another count first, or change the repeat."
    ),
    "border-repeat-does-not-fit/mend": N_(
        "The repeat of the border takes {uses:stitch}, and the edge has {available}. “{mended}” "
        "would use all and {gives}."
    ),
    # group J, printed counts
    "count-differs": N_(
        "{here} makes {made}{what}{sizes}, and {printed} is printed. Print {made}, or look at “{words}”."
    ),
    "count-differs/steps": N_(
        "{here} makes {made}{what}{sizes}, and {printed} is printed, which is what the next line "
        "needs. Look at “{words}”: a step or a number is wrong there."
    ),
    "count-differs/unlike": N_(
        "{here} makes {made}, and “{printed}” is printed. Print what it makes, or look at “{words}”."
    ),
    "count-by-kind-differs": N_(
        "{here} makes {made}{what}{sizes}, and {printed}{what} are printed. Print {made}, or look"
        " at “{words}”."
    ),
    "count-by-kind-differs/steps": N_(
        "{here} makes {made}{what}{sizes}, and {printed}{what} are printed, which is what the "
        "next line needs. Look at “{words}”."
    ),
    "oval-count-differs": N_(
        "{here} makes {made}{what}{sizes} along both sides of the chain and round its ends, and "
        "{printed} is printed. Count both sides and both ends, and mend one."
    ),
    "oval-count-differs/steps": N_(
        "{here} makes {made}{what}{sizes} along both sides of the chain, and {printed} is "
        "printed, which is what the next line needs. Look at “{words}”."
    ),
    "one-out-at-the-join": N_(
        "{here} makes {made}{what}{sizes}, and {printed} is printed: one out in a joined round. "
        "Look whether the first stitch was lost or worked twice at the join, or print {made}."
    ),
    "one-out-at-the-join/steps": N_(
        "{here} makes {made}{what}{sizes}, and {printed} is printed, which is what the next line "
        "needs. Look at the first and the last stitch at the join."
    ),
    "chain-counts-otherwise": N_(
        "{here} makes {made}{what}{sizes}, and the {printed} printed comes out only if its "
        "starting chain is counted the other way than in the lines around it. Mend the count or "
        "the step."
    ),
    "chain-counts-otherwise/steps": N_(
        "{here} makes {made}{what}{sizes}; {printed} is printed and the next line needs it, which"
        " comes out only if the starting chain is counted the other way than elsewhere. Mend the "
        "step."
    ),
    "change-differs": N_(
        "{here} goes from {before} to {after}, which is {real}, and {said} is printed beside it. Mend one."
    ),
    # group J, marks
    "bracket-not-closed": N_(
        "“{mark}” in {here} is opened and never closed. Close it where the repeat or group ends."
    ),
    "bracket-not-closed/closed": N_(
        "“{mark}” in {here} closes a bracket that was never opened. Open it where the repeat or group begins."
    ),
    "bracket-not-closed/crossed": N_(
        "“{mark}” in {here} has no partner, and neither has a “{other}”: one of the two was meant to be "
        "of the other kind. Use a pair that matches."
    ),
    "star-missing": N_(
        "{here} repeats from a star that does not stand in the line. Put the star where the repeat begins."
    ),
    "star-without-return": N_(
        "{here} has a star and does not say how often to repeat from it. Add “rep from * …”, or "
        "take the star out."
    ),
    # group J, places
    "place-not-there": N_(
        "“{words}” in {here} has no such place: {below} gives {has}. Look which of the two rounds"
        " was changed."
    ),
    "skip-over-nothing": N_(
        "“{words}” in {here} skips what is not there: {below} gives {has}. Look which of the two "
        "rounds was changed."
    ),
    "post-without-post": N_(
        "“{words}” in {here} has no post to go round: it is worked over {below}, which gives "
        "{has}. Begin the post stitches a row later."
    ),
    "loops-not-left": N_(
        "{here} works into loops left free of round {named}, and {above} took both. Work {above} "
        "in one loop only, or name another round."
    ),
    "count-missing": N_(
        "{here} changes the count and does not print it, as the other lines do. It makes {made}."
    ),
    "sides-not-alike": N_(
        "{here} has {left} stitches on one side and {right} on the other, where the rows around "
        "it are alike on both sides. Look whether that is meant."
    ),
    # group K, multiples
    "multiple-is-another": N_(
        "“{note}” says {multiple}, and the repeat of {here} (“{words}”) takes {repeat:stitch}. "
        "Change the note or the repeat."
    ),
    "chain-is-no-multiple": N_(
        "A chain of {chain} is no multiple of {m} + {e}, with or without the {skipped:chain} that"
        " the first row skips. {below} or {above} would be, the skipped ones taken in."
    ),
    "pattern-resumes-off-multiple": N_(
        "“{words}”: {count} is no multiple of {m} + {e}. {below} or {above} would keep the pattern whole."
    ),
    "chart-width-does-not-divide": N_(
        "{here} has {total} stitches, and a motif of {motif} fits {times:time} with {rest} left "
        "over. Change the count or the motif."
    ),
    # group L, turning chains, joins, ends
    "chain-too-short": N_(
        "{here} begins with {chains:chain} before {stitch}, which is about {usual} high: the edge"
        " pulls in. Chain more, or say in the notes that it is meant."
    ),
    "turning-chain-not-worked": N_(
        "{here} uses {used} of {available} stitches: the top of the turning chain is left, and it"
        " counts. Work the last stitch into it."
    ),
    "join-target-not-there": N_(
        "{here} is joined to the top of a chain of {named} and begins with a chain of {chains}. "
        "Mend one of the two."
    ),
    "one-round-not-joined": N_(
        "{here} is not joined, and {joined:round} of this part are. Write the join, or say that "
        "this round runs on."
    ),
    "turn-not-said": N_(
        "{here} does not say “turn”, and the rows around it do. Add it, or say “do not turn”."
    ),
    "first-stitch-place-varies": N_(
        "{here} begins with “{words}”, where the rounds around it begin in the same stitch as the"
        " join. Say which stitch is meant."
    ),
    "seam-drift-not-foreseen": N_(
        "{here} sets two openings after {rounds:round} of a spiral, whose start has moved by "
        "about {drift:stitch}. Say how to find the sides: flatten the work and move the marker."
    ),
    "start-away-from-space": N_(
        "{here} begins with “{words}”, and {below} ends at its first stitch, not at a space. Slip"
        " stitch to the space first."
    ),
    "yarn-never-cut": N_(
        "{labels} colours are taken up, and nothing says that any is cut, carried or fastened "
        "off. Say what happens to each."
    ),
}
