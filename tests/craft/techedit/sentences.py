"""What each check says of the wrong example on its page, word for word: (line, sentence)."""

from __future__ import annotations

SENTENCES: dict[str, list[tuple[int, str]]] = {
    "title-varies": [
        (
            4,
            "The title is “Thistle Bowl”, and “Thistle Basket” stands here. Use one name everywhere.",
        ),
    ],
    "placeholder-left": [
        (
            1,
            "“your address here” was left open. Fill it in or take it out.",
        ),
    ],
    "word-of-another-piece": [
        (
            4,
            (
                "“sleeve” stands here, and this is a basket. If it was left over from another pattern, "
                "take it out."
            ),
        ),
    ],
    "front-matter-missing": [
        (
            2,
            "The text has all that makers look for first but the hook. Add it.",
        ),
    ],
    "level-below-techniques": [
        (
            1,
            (
                "The level is “Basic”, and the pattern asks for bobble, fpdc and 3 colours. Raise the "
                "level, or list the skills beside it."
            ),
        ),
    ],
    "claim-is-not-true": [
        (
            2,
            "“Comes in four sizes” is said here, and the pattern has 3 sizes. Mend one of the two.",
        ),
    ],
    "reference-leads-nowhere": [
        (
            2,
            (
                "“see Special Stitches” leads nowhere: the text has no part called “Special Stitches”. "
                "Add it or take the words out."
            ),
        ),
    ],
    "colour-not-listed": [
        (
            4,
            (
                "Colour C is used here, and the list of yarns has only A and B. Add C to the list, or "
                "write the colour that is meant."
            ),
        ),
    ],
    "colour-not-used": [
        (
            1,
            (
                "Colour B stands in the list of yarns and is not used in the work. Take it out, or write "
                "where it comes in."
            ),
        ),
    ],
    "yarn-record-incomplete": [
        (
            1,
            "This yarn lacks: metres to a ball. A maker needs it to find another yarn that does.",
        ),
    ],
    "fibres-do-not-add-up": [
        (
            1,
            "The fibres come to 90 %, not 100: 60 cotton + 30 acrylic. Look at the ball band again.",
        ),
    ],
    "balls-do-not-cover-amount": [
        (
            1,
            "2 balls of 120 m hold 240 m, and 265 m are needed. List 3 balls, or look at the amount.",
        ),
    ],
    "yarn-amounts-by-size": [
        (
            2,
            (
                "The amounts 300, 340, 330, 380 fall at size L. A larger size takes no less yarn: look "
                "whether two numbers changed places."
            ),
        ),
    ],
    "colour-split": [
        (
            1,
            (
                "Colour B is 10% of the yarn listed, and 67% of the stitches are worked in it. Look at "
                "the amounts of the colours."
            ),
        ),
    ],
    "metres-and-yards-disagree": [
        (
            1,
            "“200 m (183 yd)” are not the same length: 200 m is 219 yd.",
        ),
    ],
    "grams-and-ounces-disagree": [
        (
            1,
            "“100 g (2.5 oz)” are not the same weight: 100 g is 3.53 oz.",
        ),
    ],
    "weight-names-disagree": [
        (
            1,
            "This yarn is called dk, which is class 3, and class 4. Keep the one on the ball band.",
        ),
    ],
    "strands-not-declared": [
        (
            4,
            (
                "“2 strands held together” is asked for here, and the yarn list, gauge and notes do not "
                "speak of it. Say it above and see whether the amount listed is for all strands."
            ),
        ),
    ],
    "no-word-on-dye-lot": [
        (
            1,
            (
                "The yarn list does not say whether its amounts hold a margin, nor to buy one dye lot. A "
                "sentence saves makers a second order."
            ),
        ),
    ],
    "gauge-unlike-yarn": [
        (
            1,
            (
                "The 8 mm hook is far from what class 1 (Super Fine) yarn is worked with. If that is "
                "meant, a word about it helps; if not, look at the hook and the yarn weight."
            ),
        ),
    ],
    "hook-not-listed": [
        (
            3,
            (
                "The 3.5 mm hook is asked for here, and the list has 4 mm. Add it to the list, or write "
                "the hook that is meant."
            ),
        ),
    ],
    "hook-not-used": [
        (
            1,
            (
                "The 5 mm hook is listed, and no part says that it is used. Write where it comes in, or "
                "take it out."
            ),
        ),
    ],
    "hook-name-mismatch": [
        (
            1,
            (
                "5 mm is not G-6: G-6 is 4 mm, and 5 mm is H-8. The millimetre is the size; mend the one "
                "that is wrong."
            ),
        ),
    ],
    "hook-without-millimetres": [
        (
            1,
            (
                "The hook is given as H-8 alone. Letters and numbers differ by maker and country: write "
                "the millimetres first (5 mm)."
            ),
        ),
    ],
    "notion-not-listed": [
        (
            5,
            "“Stuff” stands here, and the list of notions has no stuffing. Add it, so that it is at hand.",
        ),
    ],
    "notion-not-used": [
        (
            1,
            "“zip” is listed, and no step uses it. Take it out, or write its step.",
        ),
    ],
    "buttons-and-holes": [
        (
            4,
            "The list has 5 buttons, and the band has 6 holes. Make the two the same.",
        ),
    ],
    "button-does-not-fit-hole": [
        (
            5,
            (
                "The button is 30 mm wide, and the hole here is 2 stitches, about 12 mm at your gauge. "
                "Change the button or the hole."
            ),
        ),
    ],
    "hook-not-changed-back": [
        (
            4,
            "“Change to 5 mm hook” stands here and no change back. Say which hook COLLAR is worked with.",
        ),
    ],
    "gauge-incomplete": [
        (
            1,
            (
                "The gauge “16 sts = 10 cm” does not give the rows and the stitch. Without it nobody can "
                "tell whether the fabric is right."
            ),
        ),
    ],
    "gauge-in-other-stitch": [
        (
            1,
            "The gauge is in sc, and 100% of the stitches are dc. Give a gauge in dc as well.",
        ),
    ],
    "gauge-by-repeats-disagrees": [
        (
            2,
            (
                "3 repeats of 6 stitches come to 18 stitches to 10 cm, and the gauge by stitches says 16."
                " Measure the swatch again and mend one."
            ),
        ),
    ],
    "gauge-units-disagree": [
        (
            1,
            "“10 cm (3 in)” are not the same: 10 cm is 3.94 in, not 3 in.",
        ),
    ],
    "swatch-too-small": [
        (
            1,
            (
                "A swatch on 15 chains is no wider than the 16 stitches to be measured on it. Start with "
                "at least a quarter more."
            ),
        ),
    ],
    "gauge-explains-no-size": [
        (
            2,
            (
                "All sizes of “finished circumference” are 24% narrower than their stitches at 12 to 10 "
                "cm. A gauge of 15.7 would give the printed sizes: look at the gauge."
            ),
        ),
    ],
    "list-of-other-length": [
        (
            3,
            "“4 (5, 6)” has 3 numbers for 4 sizes: one is missing. Write one for each size.",
        ),
    ],
    "lists-grouped-differently": [
        (
            3,
            (
                "“4 (5) (6, 7)” is bracketed another way than the other lists (“11 (13, 15, 17)”). "
                "Bracket all alike, so that a size keeps its place."
            ),
        ),
    ],
    "width-against-gauge": [
        (
            3,
            (
                "“piece should measure 28 cm wide”, yet 32 stitches of Row 1 at 16 to 10 cm come to 20 "
                "cm. Mend the width, the count or the gauge."
            ),
        ),
    ],
    "length-against-gauge": [
        (
            1,
            "“24 cm” long, yet 40 rows at 20 to 10 cm come to 20 cm. Mend the length, the rows or the gauge.",
        ),
    ],
    "ease-does-not-add-up": [
        (
            3,
            (
                "To fit 96 cm with 10 cm of ease makes 106 cm, and the finished size says 101. Mend one "
                "of the three."
            ),
        ),
    ],
    "measure-falls": [
        (
            2,
            (
                "“24 (26, 25, 28) cm” falls at size L. Look whether two numbers changed places or one is "
                "mistyped."
            ),
        ),
    ],
    "uneven-steps-between-sizes": [
        (
            2,
            (
                "“90 (100, 110, 120, 150) cm” grows by 30 cm at size 2X, and by about 10 cm elsewhere. "
                "Look whether a number is wrong or a size is left out."
            ),
        ),
    ],
    "centimetres-and-inches-disagree": [
        (
            1,
            "“24 cm (10 1/4 in)” are not the same: 24 cm is 9.45 in, not 10.25 in.",
        ),
    ],
    "hat-proportions": [
        (
            3,
            (
                "A hat 32 cm high on 50 cm round is 0.64 of its circumference; about 20 cm is usual. Look"
                " at both numbers."
            ),
        ),
    ],
    "sizes-in-letters-alone": [
        (
            1,
            (
                "The sizes are S, M and L with no measurement. Give what each is to fit, in centimetres "
                "and inches."
            ),
        ),
    ],
    "skipped-size-marked-two-ways": [
        (
            4,
            (
                "A size that leaves a step out is marked with 0 in “0 (2, 4)” and with a dash in “- (2, "
                "4)”. Use one of the two throughout."
            ),
        ),
    ],
    "rows-differ-in-parity": [
        (
            5,
            (
                "“24 (27, 30) rows” is odd for some sizes (27) and even for others, so they end on "
                "different faces. Make all even or all odd."
            ),
        ),
    ],
    "rule-for-one-number-missing": [
        (
            1,
            (
                "The pattern has several sizes and does not say that one number alone serves all of them."
                " A sentence in the notes does it."
            ),
        ),
    ],
    "abbreviation-not-defined": [
        (
            3,
            "“fpdc” is worked here and is not in the list of abbreviations. Add it with its meaning.",
        ),
    ],
    "abbreviation-not-used": [
        (
            1,
            (
                "“bobble” is in the list of abbreviations and is never worked. Take it out, or look "
                "whether its line is missing."
            ),
        ),
    ],
    "two-forms-for-one-idea": [
        (
            14,
            "“miss” stands here, and “skip” 6 times elsewhere for the same thing. Use one of the two.",
        ),
    ],
    "capitals-vary": [
        (
            4,
            "“SC” stands here and “sc” elsewhere. Write it with the same capitals throughout.",
        ),
    ],
    "terms-not-stated": [
        (
            1,
            (
                "Nothing tells whether “tr” is meant in US or UK terms; it was read as US. Write “Terms: "
                "US” or “Terms: UK” above."
            ),
        ),
    ],
    "terms-mixed": [
        (
            2,
            (
                "“htr” is a UK term and “sc” a US term: in one pattern, every dc and tr may then be "
                "either stitch. Write all in one system."
            ),
        ),
    ],
    "definition-in-other-terms": [
        (
            2,
            (
                "“tr” is defined with 1 yarn over before the hook goes in; in US terms it has 2. Mend the"
                " name or the definition."
            ),
        ),
    ],
    "chains-speak-for-other-terms": [
        (
            3,
            (
                "The pattern states UK terms, and 2 lines begin with 3 chains before “dc”, which is right"
                " for US terms. Look whether the stitches are named in UK terms."
            ),
        ),
    ],
    "one-form-two-meanings": [
        (
            1,
            (
                "“M” has two meanings in the list: “m = marker” and “M = main colour”. Give one of them "
                "another form."
            ),
        ),
    ],
    "number-and-stitch-ambiguous": [
        (
            2,
            (
                "“dc 2 in next” in Rnd 2 can be read two ways; it was read as 2 in one stitch. Write the "
                "place out, as in “2 dc in next st” or “dc in next 2 sts”."
            ),
        ),
    ],
    "defined-after-use": [
        (
            3,
            "“bobble” is worked in line 2 and defined only here. Move the definition above its first use.",
        ),
    ],
    "special-stitch-not-defined": [
        (
            3,
            (
                "“crab bloom” is not a stitch that the trade's lists know, and the pattern does not "
                "define it. Say how it is worked and what it counts as."
            ),
        ),
    ],
    "beginning-form-not-defined": [
        (
            4,
            "“Beg cl” is worked here and not defined. Say how the first one of a round is made.",
        ),
    ],
    "closing-chain-not-counted": [
        (
            1,
            "The definition of “popcorn” ends with a chain. Say whether that chain counts as a stitch.",
        ),
    ],
    "legs-disagree-with-name": [
        (
            1,
            (
                "“3-dc cluster” is named for 3 legs, and its definition makes 4. Change the name or the "
                "number of times."
            ),
        ),
    ],
    "loops-do-not-come-out": [
        (
            1,
            (
                "In the definition of “Cluster”, “pull through 5” asks for 5 loops with 4 on the hook. "
                "Look for a yarn over too few or a number that is wrong."
            ),
        ),
    ],
    "construction-not-stated": [
        (
            2,
            (
                "Nothing says whether the rounds are joined or run on in a spiral; they were read as a "
                "spiral. Say it in the notes."
            ),
        ),
    ],
    "chain-rule-not-followed": [
        (
            1,
            (
                "The notes say that the chain does not count (“Notes: Ch 3 does not count”), and 4 lines "
                "come out only if it does. Change the note or the counts."
            ),
        ),
    ],
    "joins-against-note": [
        (
            4,
            (
                "Rnd 3 is joined here, and the pattern says that rounds are not joined. Take the join "
                "out, or change the note."
            ),
        ),
    ],
    "note-too-late": [
        (
            4,
            (
                "“Ch 3 counts as” stands after the last line of work. Move the note above Row 1, where it"
                " is needed."
            ),
        ),
    ],
    "as-established-too-soon": [
        (
            1,
            "Row 1 says “Work even as established”, and nothing is established yet. Write the line out.",
        ),
    ],
    "number-out-of-order": [
        (
            3,
            "Rnd 4 follows Rnd 2: 3 is missing. Write it, or number this line 3 and those after it to match.",
        ),
    ],
    "range-overlaps": [
        (
            3,
            "Row 5 is already part of Rows 2-5. End that range earlier, or number this line 6.",
        ),
    ],
    "numbering-restarts": [
        (
            4,
            (
                "After Rnd 3 the numbers start again at Rnd 1 with no heading. Give the new part a "
                "heading that names it, so that nobody works it onto the part before."
            ),
        ),
    ],
    "row-or-round": [
        (
            4,
            (
                "Row 4 is called a row between lines that are each called a round. Call it a round, or "
                "say that the work is turned."
            ),
        ),
    ],
    "face-does-not-alternate": [
        (
            3,
            (
                "Row 3 is marked WS, but by the turns of the rows around it this row is RS. Change the "
                "mark, or say where the work is not turned."
            ),
        ),
    ],
    "range-states-other-number": [
        (
            2,
            "There are 5 rounds in Rnds 2-6, yet the label says 4. Change one of the two.",
        ),
    ],
    "repeats-do-not-fill-range": [
        (
            4,
            (
                "There are 8 rows in Rows 4-11, and 2 rows worked 6 times make 12. Change the number of "
                "times or the range."
            ),
        ),
    ],
    "length-and-rows-disagree": [
        (
            3,
            (
                "“Repeat Row 1 until piece measures 15 cm” takes about 30 rows at your row gauge, yet the"
                " last of Rows 2-24 is row 24. Change the length or the last row."
            ),
        ),
    ],
    "stitches-left-over": [
        (
            3,
            (
                "Rnd 3 uses 11 of the 12 stitches of Rnd 2: 1 stitch left over after “sc 5”. Add the "
                "missing step, or say that the rest stays unworked."
            ),
        ),
    ],
    "stitches-lacking": [
        (
            3,
            (
                "Rnd 3 asks for more stitches than Rnd 2 has: all 12 are used up, and “sc 7” needs 1 "
                "more. Take a step out, or look at the count of Rnd 2."
            ),
        ),
    ],
    "repeat-number-does-not-fit": [
        (
            3,
            (
                "Rnd 3 asks for 4 more stitches than the 12 of Rnd 2: “(sc 3, inc) x 4” does not fit. "
                "“(sc 1, inc) x 6” would use all 12 and give 18, the count you print."
            ),
        ),
    ],
    "times-one-out": [
        (
            3,
            (
                "Rnd 3 runs out of stitches: Rnd 2 has 12, and “Sc in next st, inc; rep from * 6 more "
                "times” asks for one pass more than fits. “Sc in next st, inc; rep from * 5 more times” "
                "would use all 12 and give 18, the count you print."
            ),
        ),
    ],
    "repeat-does-not-fit": [
        (
            3,
            (
                "The repeat of Rnd 3 takes 5 stitches, and Rnd 2 has 16: 3 times leave 1 over. Change the"
                " repeat, or say what happens to the rest."
            ),
        ),
    ],
    "to-last-leaves-another": [
        (
            2,
            (
                "“sc in next 2 sts, dc in next st; rep from * to last 3 sts” in Row 2 does not come out: "
                "Row 1 has 17 stitches, one pass takes 3, and the last one breaks off 2 short or over. "
                "Change “to last …” or the steps after it."
            ),
        ),
    ],
    "repeat-fits-some-sizes": [
        (
            3,
            (
                "The repeat of Row 2 does not fit size M: it takes 4 stitches, Row 1 has 18, and 2 would "
                "be left over. Change the count of that size, or give it stitches before or after the "
                "repeat."
            ),
        ),
    ],
    "border-repeat-does-not-fit": [
        (
            6,
            (
                "The repeat of the border takes 3 stitches, and the edge has 16: 1 would be left over in "
                "Rnd 3. Work the edge to another count first, or change the repeat."
            ),
        ),
    ],
    "count-differs": [
        (
            3,
            "Rnd 3 makes 18, and 16 is printed. Print 18, or look at “(sc, inc) x 6”.",
        ),
    ],
    "count-by-kind-differs": [
        (
            2,
            (
                "Rnd 2 makes 6 ch-2 sps, and 7 ch-2 sps are printed. Print 6, or look at “Ch 1, (sc in "
                "next st, ch 2, skip 1 st) 6 times, join”."
            ),
        ),
    ],
    "oval-count-differs": [
        (
            3,
            (
                "Rnd 1 makes 18 along both sides of the chain and round its ends, and 20 is printed. "
                "Count both sides and both ends, and mend one."
            ),
        ),
    ],
    "one-out-at-the-join": [
        (
            2,
            (
                "Rnd 2 makes 16, and 17 is printed: one out in a joined round. Look whether the first "
                "stitch was lost or worked twice at the join, or print 16."
            ),
        ),
    ],
    "chain-counts-otherwise": [
        (
            4,
            (
                "Row 4 makes 19, and the 18 printed comes out only if its starting chain is counted the "
                "other way than in the lines around it. Mend the count or the step."
            ),
        ),
    ],
    "change-differs": [
        (
            2,
            "Rnd 2 goes from 6 to 12, which is 6, and 4 is printed beside it. Mend one.",
        ),
    ],
    "bracket-not-closed": [
        (
            2,
            "“(” in Rnd 2 is opened and never closed. Close it where the repeat or group ends.",
        ),
    ],
    "star-missing": [
        (
            2,
            (
                "Rnd 2 repeats from a star that does not stand in the line. Put the star where the repeat"
                " begins."
            ),
        ),
    ],
    "star-without-return": [
        (
            2,
            (
                "Rnd 2 has a star and does not say how often to repeat from it. Add “rep from * …”, or "
                "take the star out."
            ),
        ),
    ],
    "place-not-there": [
        (
            3,
            (
                "“3 sc in next ch-2 sp” in Rnd 3 has no such place: Rnd 2 gives 12 sc. Look which of the "
                "two rounds was changed."
            ),
        ),
    ],
    "skip-over-nothing": [
        (
            2,
            (
                "“skip next ch-1 sp” in Rnd 2 skips what is not there: Rnd 1 gives 12 sc. Look which of "
                "the two rounds was changed."
            ),
        ),
    ],
    "post-without-post": [
        (
            2,
            (
                "“FPdc around next 12 ch” in Row 1 has no post to go round: it is worked over the chain, "
                "which gives chains. Begin the post stitches a row later."
            ),
        ),
    ],
    "loops-not-left": [
        (
            4,
            (
                "Rnd 4 works into loops left free of round 2, and Rnd 3 took both. Work Rnd 3 in one loop"
                " only, or name another round."
            ),
        ),
    ],
    "count-missing": [
        (
            4,
            "Rnd 4 changes the count and does not print it, as the other lines do. It makes 24.",
        ),
    ],
    "sides-not-alike": [
        (
            6,
            (
                "Row 5 has 4 stitches on one side and 5 on the other, where the rows around it are alike "
                "on both sides. Look whether that is meant."
            ),
        ),
    ],
    "multiple-is-another": [
        (
            1,
            (
                "“multiple of 4 + 1” says 4, and the repeat of Row 2 (“skip 2 sts, 5 dc in next st, skip "
                "2 sts…”) takes 6 stitches. Change the note or the repeat."
            ),
        ),
    ],
    "chain-is-no-multiple": [
        (
            2,
            (
                "A chain of 23 is no multiple of 6 + 1, with or without the 1 chain that the first row "
                "skips. 20 or 26 would be, the skipped ones taken in."
            ),
        ),
    ],
    "pattern-resumes-off-multiple": [
        (
            6,
            (
                "“Resume pattern over these 17 stitches”: 17 is no multiple of 6 + 1. 13 or 19 would keep"
                " the pattern whole."
            ),
        ),
    ],
    "chart-width-does-not-divide": [
        (
            3,
            (
                "Rnd 3 has 50 stitches, and a motif of 12 fits 4 times with 2 left over. Change the count"
                " or the motif."
            ),
        ),
    ],
    "chain-too-short": [
        (
            2,
            (
                "Row 2 begins with 1 chain before tr, which is about 4 high: the edge pulls in. Chain "
                "more, or say in the notes that it is meant."
            ),
        ),
    ],
    "turning-chain-not-worked": [
        (
            4,
            (
                "Row 3 uses 18 of 19 stitches: the top of the turning chain is left, and it counts. Work "
                "the last stitch into it."
            ),
        ),
    ],
    "join-target-not-there": [
        (
            2,
            "Rnd 2 is joined to the top of a chain of 3 and begins with a chain of 1. Mend one of the two.",
        ),
    ],
    "one-round-not-joined": [
        (
            4,
            (
                "Rnd 4 is not joined, and 5 rounds of this part are. Write the join, or say that this "
                "round runs on."
            ),
        ),
    ],
    "turn-not-said": [
        (
            4,
            "Row 4 does not say “turn”, and the rows around it do. Add it, or say “do not turn”.",
        ),
    ],
    "first-stitch-place-varies": [
        (
            6,
            (
                "Rnd 6 begins with “sc in next 8 sts”, where the rounds around it begin in the same "
                "stitch as the join. Say which stitch is meant."
            ),
        ),
    ],
    "seam-drift-not-foreseen": [
        (
            4,
            (
                "Rnd 21 sets two openings after 20 rounds of a spiral, whose start has moved by about 10 "
                "stitches. Say how to find the sides: flatten the work and move the marker."
            ),
        ),
    ],
    "start-away-from-space": [
        (
            3,
            (
                "Rnd 2 begins with “(2 dc, ch 2, 3 dc) in same ch-2 sp”, and Rnd 1 ends at its first "
                "stitch, not at a space. Slip stitch to the space first."
            ),
        ),
    ],
    "yarn-never-cut": [
        (
            3,
            (
                "2 colours are taken up, and nothing says that any is cut, carried or fastened off. Say "
                "what happens to each."
            ),
        ),
    ],
    "change-place-not-said": [
        (
            2,
            (
                "“change to B” in Rnd 2: nothing says where in the stitch the colour changes. A sentence "
                "in the notes does it, as in “change at the last yarn over of the stitch before”."
            ),
        ),
    ],
    "part-without-colour": [
        (
            6,
            "“EAR (make 2)” does not say which colour it begins with: A or B. Add it.",
        ),
    ],
    "long-carry": [
        (
            3,
            (
                "Rnd 2 takes A up again after 42 stitches. Carried that far it catches and pulls: say to "
                "use a second ball, or to work over it."
            ),
        ),
    ],
    "stripes-do-not-add-up": [
        (
            1,
            "“5 stripes of 3 rows each, 16 rows”: 5 stripes of 3 rows make 15, not 16. Mend one.",
        ),
    ],
    "letter-and-name-disagree": [
        (
            3,
            "B is rust here and sage before. Mend one of the two.",
        ),
    ],
    "many-ends": [
        (
            2,
            "About 38 ends will have to be woven in. Say so, or how to work over them.",
        ),
    ],
    "repeated-row-not-there": [
        (
            3,
            "Row 3 repeats row 12, and this part goes only to 3. Name the row that is meant.",
        ),
    ],
    "repeated-row-does-not-fit": [
        (
            4,
            (
                "“Repeat Row 2” in Row 4 was written for another count: on 14 stitches, 2 are left over. "
                "Write the row out for this count, or mend the row before it."
            ),
        ),
    ],
    "mirror-not-said": [
        (
            6,
            "“Work same as left” makes two pieces for the same side. Say what is reversed.",
        ),
    ],
    "as-before-has-two-meanings": [
        (
            8,
            (
                "“as for border” may mean any of 2 parts called “border”. Give them different headings "
                "and name one."
            ),
        ),
    ],
    "picture-missing-in-sequence": [
        (
            3,
            "photo 4 follows, and 3 is missing. Number the pictures in order.",
        ),
    ],
    "marker-never-placed": [
        (
            2,
            (
                "“sc in each st to marker” goes to a marker that no line has placed. Say where and when "
                "it is placed."
            ),
        ),
    ],
    "unworked-never-taken-up": [
        (
            2,
            "Row 2 leaves 8 stitches unworked, and no later line speaks of them. Say what becomes of them.",
        ),
    ],
    "disc-does-not-lie-flat": [
        (
            7,
            (
                "Up to Rnd 5 the disc grows by 9 stitches a round; at this gauge it lies flat with about "
                "6.3, so it will wave. Use fewer increases, or say that it is meant."
            ),
        ),
    ],
    "increases-stacked": [
        (
            13,
            (
                "10 rounds up to Rnd 12 increase at the same place, which makes 6 corners. For a circle, "
                "begin every other round with 4 stitches and an increase, and end it with the rest of the"
                " group."
            ),
        ),
    ],
    "shaping-needs-more-rows": [
        (
            2,
            (
                "“every 4th row 12 times in 44 rows”: 12 times every 4 rows takes 48 rows, and there are "
                "44. 11 times fit."
            ),
        ),
    ],
    "pick-up-rate-off": [
        (
            4,
            (
                "“1 sc in each row end” along row ends flares: at your gauge 2 stitches in 3 rows lie "
                "flat. Change the rate, or say that it was tried."
            ),
        ),
    ],
    "evenly-without-spacing": [
        (
            2,
            (
                "“increasing 13 sts evenly” in Rnd 2: on 72 stitches, 13 to increase are 6 groups of 5 "
                "stitches and 7 of 6, each group ending with one. Written out, nobody has to reckon."
            ),
        ),
    ],
    "openings-off-centre": [
        (
            2,
            (
                "The two openings of Rnd 2 have 9 stitches between them on one side and 11 on the other. "
                "10 on each side would set them opposite."
            ),
        ),
    ],
    "stuffed-after-closing": [
        (
            6,
            "BODY is stuffed here, after “close the opening”. Move the stuffing before the closing.",
        ),
    ],
    "pieces-made-and-sewn-differ": [
        (
            10,
            "“EAR (make 1)” makes 1, and “Sew both ears” takes 2. Make the two the same.",
        ),
    ],
    "no-tail-for-sewing": [
        (
            5,
            (
                "“Sew ears” follows later, and “EAR (make 2)” leaves no tail for it. Add “leaving a long "
                "tail” where it is fastened off."
            ),
        ),
    ],
    "position-beyond-last-round": [
        (
            5,
            "“between Rnds 9 and 12” names rounds that no part has: the highest is 8. Look at the numbers.",
        ),
    ],
    "heat-against-fibre": [
        (
            3,
            (
                "“Steam block” stands here, and the yarn is mostly acrylic, which heat makes limp for "
                "good. Say wet block, or block without heat."
            ),
        ),
    ],
    "size-and-gauge-blocked-differently": [
        (
            1,
            (
                "The finished size is unblocked and the gauge blocked. Measure both in the same state, or"
                " give both states."
            ),
        ),
    ],
    "stuffing-without-amount": [
        (
            1,
            "“stuffing” is listed with no amount. Weigh what the sample took and print it.",
        ),
    ],
    "spelling-slip": [
        (
            2,
            "“stich” is probably “stitch”.",
        ),
    ],
    "not-imperative": [
        (
            2,
            (
                "“You will now be working 2 sc”: the shorter form tells the maker the same. Write the "
                "step as a plain request."
            ),
        ),
    ],
    "capitals-after-label-vary": [
        (
            8,
            "7 lines begin with a capital after the label, and Rnd 8 does not. Write all alike.",
        ),
    ],
    "unit-spacing-varies": [
        (
            3,
            "“60cm” stands here and “10 cm” elsewhere. Set numbers and units in one way.",
        ),
    ],
    "one-unit-only": [
        (
            4,
            "“24 in” has no centimetres, and the other lengths have both. Add it.",
        ),
    ],
    "fraction-forms-vary": [
        (
            1,
            "“5.5 in” stands here and “9 1/2” elsewhere. Write fractions in one form.",
        ),
    ],
    "vague-words": [
        (
            3,
            "“a few more rounds” gives every maker another number. Write the number that your sample has.",
        ),
    ],
    "line-too-deep": [
        (
            2,
            "Rnd 2 has 4 repeats inside each other. Write the inner one out, or make it a special stitch.",
        ),
    ],
    "loaded-size-words": [
        (
            1,
            "“normal size” says little and may hurt. Write a size in numbers instead.",
        ),
    ],
    "ways-to-say-fasten-off": [
        (
            7,
            "“finish off” stands here and “fasten off” elsewhere for the same act. Keep one phrase.",
        ),
    ],
    "scanned-letters": [
        (
            2,
            "“245C” in Rnd 2 looks like “24 sc” with a letter read as a digit. Put it right if so.",
        ),
    ],
    "permission-contradicts": [
        (
            3,
            (
                "“may sell” stands in the text, and “personal use only” here. Say once whether what is "
                "made may be sold."
            ),
        ),
    ],
    "care-against-fibre": [
        (
            3,
            (
                "“machine wash at 60 °C” stands here, and the yarn holds wool, for which the careful "
                "advice is: wash by hand, cool. Take the most delicate fibre's care, or say that the ball "
                "band allows more."
            ),
        ),
    ],
    "joined-sides-differ": [
        (
            10,
            (
                "“FRONT” is 60 rows high and “BACK” 48 rows, and “Sew side seams” joins their sides. If "
                "they are to meet, make the two the same, or say where the longer one is eased in."
            ),
        ),
    ],
    "sleeve-does-not-fit-armhole": [
        (
            1,
            (
                "The sleeve is 44 cm at its top and the armhole 36 cm around. Look at the two numbers, or "
                "say how the difference is taken in."
            ),
        ),
    ],
}
