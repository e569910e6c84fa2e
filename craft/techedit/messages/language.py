"""Sentences about abbreviations, terms, special stitches, notes and wording."""

from __future__ import annotations

from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES"]

MESSAGES: dict[str, str] = {
    # group F, abbreviations and terms
    "abbreviation-not-defined": N_(
        "“{short}” is worked here and is not in the list of abbreviations. Add it with its meaning."
    ),
    "abbreviation-not-used": N_(
        "“{short}” is in the list of abbreviations and is never worked. Take it out, or look "
        "whether its line is missing."
    ),
    "two-forms-for-one-idea": N_(
        "“{form}” stands here, and “{usual}” {times:time} elsewhere for the same thing. Use one of the two."
    ),
    "capitals-vary": N_(
        "“{form}” stands here and “{usual}” elsewhere. Write it with the same capitals throughout."
    ),
    "terms-not-stated": N_(
        "Nothing tells whether “{word}” is meant in US or UK terms; it was read as US. Write "
        "“Terms: US” or “Terms: UK” above."
    ),
    "terms-mixed": N_(
        "“{here}” is a {here_terms} term and “{other}” a {other_terms} term: in one pattern, "
        "every dc and tr may then be either stitch. Write all in one system."
    ),
    "definition-in-other-terms": N_(
        "“{short}” is defined with {said:yarnover} before the hook goes in; in {terms} terms it "
        "has {expected}. Mend the name or the definition."
    ),
    "chains-speak-for-other-terms": N_(
        "The pattern states {terms} terms, and {times:line} begin with {chains:chain} before "
        "“{word}”, which is right for {other} terms. Look whether the stitches are named in "
        "{terms} terms."
    ),
    "one-form-two-meanings": N_(
        "“{short}” has two meanings in the list: “{first}” and “{second}”. Give one of them another form."
    ),
    "number-and-stitch-ambiguous": N_(
        "“{words}” in {here} can be read two ways; it was read as {read}. Write the place out, as"
        " in “2 dc in next st” or “dc in next 2 sts”."
    ),
    # group G, special stitches
    "defined-after-use": N_(
        "“{name}” is worked in line {line} and defined only here. Move the definition above its first use."
    ),
    "special-stitch-not-defined": N_(
        "“{name}” is not a stitch that the trade's lists know, and the pattern does not define "
        "it. Say how it is worked and what it counts as."
    ),
    "beginning-form-not-defined": N_(
        "“{name}” is worked here and not defined. Say how the first one of a round is made."
    ),
    "closing-chain-not-counted": N_(
        "The definition of “{name}” ends with a chain. Say whether that chain counts as a stitch."
    ),
    "loops-do-not-come-out": N_(
        "In the definition of “{name}”, “{words}” asks for {asked:loop} with {on_hook} on the "
        "hook. Look for a yarn over too few or a number that is wrong."
    ),
    "loops-do-not-come-out/left": N_(
        "The definition of “{name}” ends with {on_hook:loop} on the hook after “{words}”; one "
        "should be left. Look for an act that is missing."
    ),
    "legs-disagree-with-name": N_(
        "“{name}” is named for {legs:leg}, and its definition makes {made}. Change the name or "
        "the number of times."
    ),
    # group H, notes
    "construction-not-stated/round": N_(
        "Nothing says whether the {kind} are joined or run on in a spiral; they were read as a "
        "spiral. Say it in the notes."
    ),
    "construction-not-stated/row": N_(
        "Nothing says that the work is turned after each row; it was read so. Write “turn” at the"
        " end of the rows or in the notes."
    ),
    "chain-rule-not-followed/does": N_(
        "The notes say that the chain counts (“{note}”), and {lines:line} come out only if it "
        "does not. Change the note or the counts."
    ),
    "chain-rule-not-followed/does-not": N_(
        "The notes say that the chain does not count (“{note}”), and {lines:line} come out only "
        "if it does. Change the note or the counts."
    ),
    "joins-against-note": N_(
        "{here} is joined here, and the pattern says that rounds are not joined. Take the join "
        "out, or change the note."
    ),
    "note-too-late": N_(
        "“{words}” stands after the last line of work. Move the note above {first}, where it is needed."
    ),
    "as-established-too-soon": N_(
        "{here} says “{words}”, and nothing is established yet. Write the line out."
    ),
    # group A, front matter
    "title-varies": N_("The title is “{title}”, and “{other}” stands here. Use one name everywhere."),
    "placeholder-left": N_("“{words}” was left open. Fill it in or take it out."),
    "word-of-another-piece": N_(
        "“{word}” stands here, and this is a {kind}. If it was left over from another pattern, take it out."
    ),
    "front-matter-missing": N_("The text has all that makers look for first but {missing}. Add it."),
    "level-below-techniques": N_(
        "The level is “{level}”, and the pattern asks for {what}. Raise the level, or list the "
        "skills beside it."
    ),
    "claim-is-not-true": N_("“{words}” is said here, and the pattern has {count:size}. Mend one of the two."),
    "reference-leads-nowhere": N_(
        "“{words}” leads nowhere: the text has no part called “{what}”. Add it or take the words out."
    ),
    # group S, language
    "scanned-letters": N_(
        "“{words}” in {here} looks like “{right}” with a letter read as a digit. Put it right if so."
    ),
    "spelling-slip": N_("“{word}” is probably “{right}”."),
    "spelling-slip/doubled": N_("“{word}” stands twice. Keep one."),
    "not-imperative": N_(
        "“{words}”: the shorter form tells the maker the same. Write the step as a plain request."
    ),
    "capitals-after-label-vary": N_(
        "{lines:line} begin with {style} after the label, and {here} does not. Write all alike."
    ),
    "unit-spacing-varies": N_(
        "“{form}” stands here and “{usual}” elsewhere. Set numbers and units in one way."
    ),
    "one-unit-only": N_("“{words}” has no {missing}, and the other lengths have both. Add it."),
    "fraction-forms-vary": N_("“{form}” stands here and “{other}” elsewhere. Write fractions in one form."),
    "vague-words": N_("“{words}” gives every maker another number. Write the number that your sample has."),
    "line-too-deep": N_(
        "{here} has {depth} repeats inside each other. Write the inner one out, or make it a special stitch."
    ),
    "loaded-size-words": N_("“{words}” says little and may hurt. Write {better} instead."),
    "ways-to-say-fasten-off": N_(
        "“{form}” stands here and “{usual}” elsewhere for the same act. Keep one phrase."
    ),
}
