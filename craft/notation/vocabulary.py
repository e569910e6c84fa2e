"""The words of the trade as data: parts of speech, nouns, fancy stitches, numbers in words.

Common practice in printed patterns, no single source. Kinds are the parts of speech that the step parser
knows; misspellings that turn up in print stand beside the right words.
"""

from __future__ import annotations

__all__ = ["FANCY", "KINDS", "NOUNS", "NUMBER_WORDS", "ORDINAL_WORDS", "UNKNOWN_WIDTH"]

NUMBER_WORDS = {
    word: number
    for number, word in enumerate(
        [
            "zero",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
            "twenty",
        ]
    )
}
_TENS = dict(
    zip(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"],
        range(20, 100, 10),
        strict=True,
    )
)
NUMBER_WORDS |= _TENS
NUMBER_WORDS |= {
    f"{tens}-{unit}": value + number
    for tens, value in _TENS.items()
    for unit, number in tuple(NUMBER_WORDS.items())[1:10]
}
ORDINAL_WORDS = {
    word: number
    for number, word in enumerate(
        [
            "second",
            "third",
            "fourth",
            "fifth",
            "sixth",
            "seventh",
            "eighth",
            "ninth",
            "tenth",
            "eleventh",
            "twelfth",
        ],
        start=2,
    )
}

# kind -> phrases; the value of each is its own first word unless WORD_VALUES says otherwise
KINDS: dict[str, str] = {
    "in": "in|into|back into|back in|inside|on|onto|at|upon|inot|ino|in to",
    "over": "over",
    "around": "around|round about|all around|all the way around|all round",
    "across": "across|accross|all across|along row",
    "through": "through|thru|thru'",
    "along": "along|alongside",
    "between": "between|in between|btw|btwn",
    "from": "from",
    "to": "to|up to|till|untill",
    "until": "until|til|'til",
    "of": "of",
    "with": "with|using",
    "and": "and|plus",
    "or": "or",
    "then": "then|and then|thereafter",
    "as": "as",
    "for": "for",
    "by": "by",
    "next": "next|nxt|following|foll|next next|follow|succeeding",
    "each": "each|ea|every|all|each and every|evey|eacg|each of",
    "every other": "every other|every alternate|every second|every 2nd|each alternate|each other|"
    "every alt|alternate|alt",
    "first": "first|very first|1st",
    "last": "last|final|very last",
    "same": "same|smae|indicated|designated|specified|stated",
    "rem": "rem|remaining|remain|remains|remaing|rest",
    "any": "any|right|left|upper|lower|right-hand|left-hand|right hand|left hand|corresponding|"
    "nearest|adjacent|matching|either",
    "both": "both",
    "other": "other|opposite",
    "center": "center|centre|central|middle|centered",
    "beg": "beg|beginning|begin|begining|starting|start|beginning of|initial",
    "turning": "turning",
    "top": "top|top of",
    "marked": "marked|markered",
    "skipped": "skipped|missed|sk'd|skpped",
    "unworked": "unworked|unused|free|un-worked|not worked",
    "prev": "previous|prev|preceding|prior",
    "post": "post|posts|bar|stem",
    "below": "below|down|under row|underneath",
    "behind": "behind|in front of|in back of",
    "under": "under|beneath",
    "work": "work|make|crochet|making|do|works|knit|sc st work",
    "working": "working",
    "join": "join|joining|jn|joined|rejoin|re-join|attach",
    "close": "to close|close",
    "turn": "turn|t urn|turning work|turn work|turn your work|turn piece|turn over|trun",
    "not turn": "do not turn|don't turn|dnt|without turning|not turning|never turn|do not turn work|"
    "do not turn.|no turn",
    "not join": "do not join|don't join|without joining|dnj|never join",
    "skip": "skip|sk|miss|pass over|skp|skipping|missing|leave out",
    "rep": "rep|repeat|repeating|repeats|reps|repaet|reapeat|rpt|repeated",
    "ending": "ending|end|ends|ended|finishing|finishing with|finish|omitting|omit",
    "leave": "leave|leaving",
    "fasten": "fasten off|finish off|fasten off yarn|bind off|tie off|fo|f.o.|f/o|end off|"
    "break off|fasten of|fasten off securely|cut yarn|cut yarn and fasten off|"
    "cut and fasten off|break yarn|fasten yarn off",
    "change": "change|changing|switch|switching",
    "drop": "drop|carry|pick up|break|cut|carrying|dropping",
    "place": "place|pm|move|remove|mark|placing|moving|slip marker|sm|replace",
    "marker": "marker|markers|stitch marker|st marker",
    "evenly": "evenly|evenly spaced|evenly-spaced|spaced evenly|equally",
    "even": "even|straight",
    "times": "times|time|x's|time(s)|times in all|times in total|times total|consecutive times|tines",
    "more": "more|additional|further|more times",
    "x": "x",
    "counts": "counts|count|counting|counted|counts here|stands|represents|equals",
    "total": "total|in all|in total|altogether|made|total of|completed|increased|decreased",
    "here": "here and throughout|throughout|now and throughout|here",
    "rnd": "rnd|rnds|round|rounds|rd|rds",
    "row": "row|rows|rw|rws|rows'",
    "hook": "hook|crochet hook",
    "tail": "tail|yarn|yarn tail",
    "facing": "facing|with rs facing|with ws facing|with right side facing|with wrong side facing|"
    "rs facing|ws facing",
    "rs": "rs|right side|right-side|ws|wrong side|wrong-side",
    "pattern": "pattern|pat|patt|pat st|pattern st|pat as established|est pat|est patt|"
    "pattern as established|established pattern|established pat|stitch pattern|"
    "st pattern|st pat|patt as set|pattern as set",
    "increase": "inc|increase|increasing|incr|increases|incs|incing",
    "decrease": "dec|decrease|decreasing|decr|decreases|decs",
    "corner": "corner|corners",
    "only": "only",
    "per": "per",
    "rotate": "rotate|rotate work|pivot|rotate piece|turn work upside down|turn upside down",
    "do not": "do not|don't|not",
    "tog": "tog|together",
    "this": "this|that|these|it",
    "within": "within",
    "before": "before",
    "after": "after",
    "on hook": "on hook|on your hook",
    "once": "once",
    "note": "note|notes|nb",
    "yoh": "yoh|yo|yrh|woh|yarn over|yarn over hook|yarn round hook|wool over hook|thread over|"
    "y oh|yo h|y o|wrap yarn",
    "draw": "draw|pull|pull up|draw up|drawing|pulling|draw up loop|pull up loop|pull loop",
    "insert": "insert hook|inserting hook|insert",
    "side": "side|sides|edge|edges|row ends|ends of rows|end of rows|ends|neckline|neck edge",
    "end": "end|end of row|end of rnd|end of round|end of chain|end of ch|end of the row|"
    "end of foundation ch",
    "ring": "ring|circle|magic ring|magic circle|center ring|centre ring|loop ring|"
    "center of ring|centre of ring|adjustable ring|sliding loop|adjustable loop",
    "make ring": "magic ring|magic circle|magic loop|mr|mc ring|adjustable ring|make ring|"
    "make magic ring|make a magic ring|form ring|sliding loop|adjustable loop|"
    "double magic ring|sliding ring|slip ring",
    "back loop": "back loop|back loops|back lp|back lps|blo|bl|back half loop|back loop only|"
    "back loops only|back lps only|back lp only|in blo|back half|back strand",
    "front loop": "front loop|front loops|front lp|front lps|flo|fl|front half loop|front loop only|"
    "front loops only|front lps only|front lp only|front half|front strand",
    "both loops": "both loops|both lps|through both loops|under both loops",
    "free loop": "free loop|free loops|unworked loop|unworked loops|unused loop|unused loops|free lp|"
    "free lps|remaining loops|remaining loop|rem loops|rem loop|remaining free loops|"
    "rem free loops|unused lps|remaining lps|rem lps|rem lp|rem free loop",
    "omit": "single strand of|single strand|double strand of|loosely|now|the|an|very|your",
    "counts not": "does not count|do not count|doesn't count|not counted|don't count|does not counts|"
    "never counts|not counting|is not counted|are not counted|not count|not included",
}

NOUNS: dict[str, str] = {
    "st": "st|sts|stitch|stitches|stich|stiches|st(s)|sitch|ststs|s",
    "sp": "sp|sps|space|spaces|sp(s)|spc|spcs|hole|holes",
    "loop": "loop|loops|lp|lps|arch|arches|arc|arcs",
    "petal": "petal|petals",
    "group": "group|groups|grp|grps",
    "spoke": "spoke|spokes",
    "point": "point|points",
    "post st": "post st|post sts|post stitch|post stitches",
    "bar": "horizontal bar|vertical bar|bars|ridge|bump|bumps|back bump|back bumps",
}

# stitches whose name is no height: (uses, makes)
FANCY: dict[str, tuple[int, int, str]] = {
    "bobble": (1, 1, "bobble|bobbles|bob|bbl|bobble st|bobble stitch|mb|make bobble|bo"),
    "popcorn": (1, 1, "popcorn|popcorns|pc|popcorn st|popcorn stitch|pop|pc st"),
    "puff st": (1, 1, "puff st|puff|puffs|puff stitch|puff sts|puff stitches|ps|pf st|puff-st"),
    "cluster": (1, 1, "cluster|clusters|cl|cls|cluster st|clust|clu"),
    "lp st": (1, 1, "loop st|loop stitch|lp st|lp sts|loop sts|loop stitches"),
    "spike st": (1, 1, "spike st|spike sc|spike|spike stitch|spike sts|spsc|sp-st"),
    "wsc": (1, 1, "waistcoat st|waistcoat stitch|wsc|center sc|knit st"),
    "splsc": (1, 1, "splsc|split sc|split single crochet"),
    "splhdc": (1, 1, "splhdc|split hdc"),
    "long sc": (1, 1, "long sc|lsc|long single crochet"),
    "long dc": (1, 1, "long dc|ldc|long double crochet"),
    "tks": (1, 1, "tks|tunisian knit st"),
    "tss": (1, 1, "tss|tunisian simple st|tunisian simple stitch"),
    "tps": (1, 1, "tps|tunisian purl st"),
    "crossed dc": (2, 2, "crossed dc|cross st|cross-st|x-st|crossed st|cdc|cross dc|cr2dc"),
    "picot": (0, 0, "picot|picots|p|pic|picot st"),
    "shell": (1, 1, "shell|shells|sh|shl|shell st"),
    "v-st": (1, 1, "v-st|v-stitch|v st|v-sts|v-stitches|v sts|vst|v stitch"),
    "fan": (1, 1, "fan|fans|fan st"),
}
UNKNOWN_WIDTH = frozenset({"shell", "v-st", "fan"})
