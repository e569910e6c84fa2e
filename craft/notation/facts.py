"""Header lines that state a fact: "Gauge: 18 sc = 10 cm", "Abbreviations", "Notes:"."""

from __future__ import annotations

from craft.notation.tokens import Raw
from craft.notation.words import wordset

__all__ = ["LISTED", "match_fact"]

_PHRASES = {
    "gauge": "gauge|tension|gauge swatch|tension swatch",
    "abbreviations": "abbreviations|abbreviation|abbreviations used|special abbreviations|"
    "special abbreviation|abbreviations us|abbreviations uk|crochet abbreviations|stitch abbreviations|"
    "stitch key|key|stitches and abbreviations",
    "stitches": "special stitches|special stitch|stitches|stitches used|stitch guide|special stitches used|"
    "pattern stitches|stitch definitions|special techniques|stitch explanation|stitch explanations|"
    "special st|special sts",
    "sizes": "sizes|size|to fit|sizes included|size range|available sizes",
    "measurements": "measurements|finished size|finished measurements|finished sizes|dimensions|"
    "finished bust|finished chest|bust|chest|length|approximate size|approx size",
    "hook": "hook|crochet hook|hook size|hooks|crochet hooks",
    "yarn": "yarn|yarns|materials and yarn|yarn used",
    "materials": "materials|you will need|supplies|what you need|what you'll need|material|"
    "materials needed|tools|needed",
    "notions": "notions|other materials|additional materials|accessories",
    "terms": "terms|terminology|terms used|pattern terms|language|crochet terms",
    "notes": "notes|note|pattern notes|pattern note|special notes|special note|important|tips|tip|"
    "important note|helpful hints|nb|before you begin",
    "level": "skill level|level|difficulty|skill|experience level",
    "colours": "colors|colours|color key|colour key|color sequence|colour sequence|stripe sequence|"
    "stripe pat|stripe pattern",
    "copyright": "copyright|designed by|design by|designer",
}
_FACTS = {phrase: name for name, phrases in _PHRASES.items() for phrase in phrases.split("|")}
LISTED = wordset("notes materials notions yarn hook stitches abbreviations measurements gauge colours")
"""Facts whose value may go on over the lines below."""
_WITH_A_DASH = wordset("gauge hook yarn sizes terms notes")
_LONGEST_NAME = 4


def match_fact(raw: Raw, a: int, b: int) -> tuple[str, int] | None:
    """The fact that the line from `a` to `b` states: (name, raw index where its value begins).

    The index is `b` where the name stands alone on its line.
    """
    words = raw.words
    i = a
    while i < b and i - a <= _LONGEST_NAME and (words[i].isalpha() or "'" in words[i]):
        i += 1
    if i == a or i - a > _LONGEST_NAME:
        return None
    found = _FACTS.get(" ".join(words[a:i]))
    if found is None:
        return None
    if i < b and words[i] == "(" and ")" in words[i : min(b, i + 8)]:
        i = words.index(")", i) + 1
    if i >= b:
        return found, b
    if found == "copyright" or words[i] not in {":", "-", "="}:
        return None
    if words[i] == "-" and found not in _WITH_A_DASH:
        return None
    return found, min(i + 1, b)
