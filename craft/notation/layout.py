"""Where each statement of a pattern begins and ends: facts, headings, notes, lines of work.

Works on raw tokens. Wrapped lines are joined, labels inside a paragraph begin a new statement, and so do
sentences such as "Rep last 2 rows ..." or "Size L only:". What a statement means is not asked here.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from craft.notation.labels import KIND_WORDS, RawLabel, match_label
from craft.notation.tokens import Raw
from craft.notation.words import wordset

__all__ = ["Statement", "lay_out"]


@dataclass(slots=True)
class Statement:
    """A stretch of raw tokens with one purpose.

    `what`: "work" (labelled or not), "heading", "fact", "sizes" (a "size L only:" mark), "prose".
    `name`: the fact's canonical name, or the topic of prose. `rest`: where a fact's value begins.
    """

    what: str
    start: int
    end: int
    label: RawLabel | None = None
    name: str = ""
    rest: int = 0
    line: int = 1
    inline: bool = False
    skips: list[int] = field(default_factory=list)


_FACTS: dict[str, str] = {}
for _name, _phrases in {
    "gauge": "gauge|tension|gauge swatch|tension swatch",
    "abbreviations": "abbreviations|abbreviation|abbreviations used|special abbreviations|special abbreviation|"
    "abbreviations us|abbreviations uk|crochet abbreviations|stitch abbreviations|stitch key|key|stitches and abbreviations",
    "stitches": "special stitches|special stitch|stitches|stitches used|stitch guide|special stitches used|"
    "pattern stitches|stitch definitions|special techniques|stitch explanation|stitch explanations|special st|special sts",
    "sizes": "sizes|size|to fit|sizes included|size range|available sizes",
    "measurements": "measurements|finished size|finished measurements|finished sizes|dimensions|finished bust|"
    "finished chest|bust|chest|length|approximate size|approx size",
    "hook": "hook|crochet hook|hook size|hooks|crochet hooks",
    "yarn": "yarn|yarns|materials and yarn|yarn used",
    "materials": "materials|you will need|supplies|what you need|what you'll need|material|materials needed|tools|needed",
    "notions": "notions|other materials|additional materials|accessories",
    "terms": "terms|terminology|terms used|pattern terms|language|crochet terms",
    "notes": "notes|note|pattern notes|pattern note|special notes|special note|important|tips|tip|important note|helpful hints|nb|before you begin",
    "level": "skill level|level|difficulty|skill|experience level",
    "colours": "colors|colours|color key|colour key|color sequence|colour sequence|stripe sequence|stripe pat|stripe pattern",
    "copyright": "copyright|designed by|design by|designer",
}.items():
    for _phrase in _phrases.split("|"):
        _FACTS[_phrase] = _name
_PROSE_FACTS = wordset("notes materials notions yarn hook stitches abbreviations measurements gauge colours")
_BULLETS = frozenset(("\u2022", "-", ">", "~", "\u2192", "+", "|"))
_SENTENCE_END = frozenset((".", "!", "?", ":"))
_OPENERS = wordset(
    "ch chain with using make magic join fsc fhdc fdc rep repeat work hold begin beg "
    "beginning cont continue proceed starting working next draw mr using"
)
_AFTER_FIRST_CHAIN = wordset(". , ; : loosely join turn ( and for with to — - sl ) making being or")
_STEP_WORDS = wordset("in into miss skip sk turn join sc hdc dc tr sl * ( [") | {str(n) for n in range(1, 60)}
_COUNTED = frozenset(["sc", "hdc", "dc", "tr", "st", "sts", "dtr"])
_VERBS = wordset(
    "ch chain sc hdc dc tr htr dtr sl slip ss inc dec turn join rep repeat work skip sk "
    "miss fasten sew stuff place cut with using make cont continue weave attach leave in "
    "hold proceed beginning beg break change"
)


def lay_out(raw: Raw) -> list[Statement]:
    """Cut the text into statements, in order, covering every word that is not a heading mark."""
    return _Layout(raw).run()


class _Layout:
    def __init__(self, raw: Raw) -> None:
        self.raw = raw
        self.words = raw.words
        self.out: list[Statement] = []
        self.current: Statement | None = None
        self.topic = ""
        self.line = 0
        self.width = 0

    # ------------------------------------------------------------------ lines

    def run(self) -> list[Statement]:
        words = self.words
        total = len(words)
        lines: list[tuple[int, int]] = []
        a = 0
        for i, word in enumerate(words):
            if word == "\n":
                lines.append((a, i))
                a = i + 1
        lines.append((a, total))
        self.width = self._wrap_width(lines)
        text = self.raw.text
        number, position = 1, 0
        for a, b in lines:
            if a < b:
                number += text.count("\n", position, self.raw.starts[a])
                position = self.raw.starts[a]
            self.line = number
            self._line(a, b)
        self._close(total)
        return self.out

    def _wrap_width(self, lines: list[tuple[int, int]]) -> int:
        """The width that the text was wrapped to, or 0 when each paragraph is one line."""
        lengths = sorted(self.raw.ends[b - 1] - self.raw.starts[a] for a, b in lines if a < b)
        if len(lengths) < 4:
            return 0
        broad = lengths[int(len(lengths) * 0.97)]
        if broad > 110:
            return 0
        open_ends = sum(
            1
            for a, b in lines
            if b - a > 4
            and self.words[b - 1] not in ".:!)]"
            and self.raw.ends[b - 1] - self.raw.starts[a] > broad * 0.6
        )
        return broad if open_ends * 5 > len(lengths) else 0

    def _line(self, a: int, b: int) -> None:
        words = self.words
        while a < b and words[a] in _BULLETS:
            a += 1
        if a >= b:
            self._close(a)
            if self.topic not in {"materials", "abbreviations", "stitches"}:
                self.topic = "" if self.topic != "notes" else self.topic
            return
        if words[a] == "#" and self.line <= 10:
            self._close(a)
            self._add("prose", a, b, name="comment")
            return
        label = match_label(self.raw, a, b, line_start=True)
        if label is not None and not (label.bare and self.topic in {"notes", "materials", "abbreviations"}):
            self.topic = ""
            self._begin("work", a, label)
            self._scan(label.end, b)
            return
        if self._fact(a, b) or self._sizes_mark(a, b, line_start=True):
            return
        if self._heading(a, b):
            return
        self._plain(a, b)

    def _plain(self, a: int, b: int) -> None:
        """A line without label: goes on with the statement before, or begins one of its own."""
        if self.current is not None and self._goes_on(a):
            self._scan(a, b)
            return
        if self.current is not None and self.current.what != "work":
            self._close(a)
        if self.topic and not (self.words[a] in _OPENERS and self._opens_work(a, b)):
            if self.current is not None and self.current.what != "work":
                return
            self._close(a)
            self.current = Statement("prose", a, a, name=self.topic, line=self.line)
            return
        self.topic = ""
        self._begin("work", a, None)
        self._scan(a, b)

    def _opens_work(self, a: int, b: int) -> bool:
        """Such as "Ch 22." "With MC, ch 12": a start of work in a place where notes stood before."""
        words = self.words
        for i in range(a, min(b, a + 16)):
            word = words[i]
            if word in {"ch", "chain", "fsc", "fhdc", "fdc"}:
                if word == "chain" and i + 1 < b and words[i + 1] == "(":
                    i = i + 3  # "chain (ch) 4"
                if i + 1 < b and words[i + 1] in {"-", "loosely"}:
                    i += 1
                if not (i + 1 < b and words[i + 1].isdecimal()):
                    return False
                i += 2
                if i < b and words[i] in {"(", "["} and i + 1 < b and words[i + 1].isdecimal():
                    i = self._remark_end(i, b) or i
                return i >= b or words[i] in _AFTER_FIRST_CHAIN
            if word in {".", ";", ":"} and i > a and words[i - 1] not in {"u", "s"}:
                return False
            if word in {"ring", "mr"} and i > a and words[a] in {"make", "magic", "begin", "start", "using"}:
                return True
        return False

    def _goes_on(self, a: int) -> bool:
        """Whether the line that begins at `a` is the rest of the line before."""
        statement = self.current
        assert statement is not None
        words = self.words
        before = a - 1
        while before > statement.start and words[before] in {"\n", *_BULLETS}:
            before -= 1
        last, first = words[before], words[a]
        if statement.what != "work":
            return not (first in _OPENERS and not self._lower(a) and self._opens_work(a, self._line_end(a)))
        if statement.label is not None and before < statement.label.end:
            return True  # the label stands alone, the work below
        if first in _STEP_WORDS and not self._finished(before):
            return True
        if last not in {".", "!", ")", "]", ";"} or (
            last == ")" and first[0].isalpha() and self.raw.text[self.raw.starts[a]].islower()
        ):
            return (
                first not in _OPENERS
                or last in {",", ";", "-", "*"}
                or self._lower(a)
                or not self._ended(before)
            )
        if self._lower(a) or first[0] in "*([" or (first.isdecimal() and not self.raw.ordinal[a]):
            return first not in {"rep", "repeat"} or not self._ended(before)
        if not self.width:
            return False
        length = self.raw.ends[before] - self._line_start(before)
        return length + len(first) + 1 > self.width * 0.86

    def _line_end(self, a: int) -> int:
        while a < len(self.words) and self.words[a] != "\n":
            a += 1
        return a

    def _lower(self, a: int) -> bool:
        return self.raw.text[self.raw.starts[a]].islower()

    def _ended(self, before: int) -> bool:
        return self.words[before] in {".", "!", ")", "]"}

    def _finished(self, before: int) -> bool:
        """Whether the words before say that the round is done."""
        tail = self.words[max(0, before - 7) : before + 1]
        if "turn" in tail[-3:] and "not" not in tail:
            return True
        if "off" in tail[-3:] or (tail[-1] in {")", "]"} and any(word.isdecimal() for word in tail)):
            return True
        return len(tail) > 2 and tail[-1] == "." and tail[-3].isdecimal() and tail[-2] in _COUNTED

    def _line_start(self, at: int) -> int:
        while at > 0 and self.words[at - 1] != "\n":
            at -= 1
        return self.raw.starts[at]

    # ------------------------------------------------------------------ sentences inside a line

    def _scan(self, a: int, b: int) -> None:
        """Walk a line of work and begin a new statement wherever one begins inside it."""
        words = self.words
        depth = 0
        fresh = True
        i = a
        while i < b:
            word = words[i]
            if word in "([{":
                depth += 1
            elif word in ")]}":
                depth = max(0, depth - 1)
            elif (
                i > a
                and (
                    word in _TRIGGERS
                    or self.raw.ordinal[i]
                    or (word.isdecimal() and i + 2 < b and words[i + 1] in KIND_WORDS and words[i + 2] == ":")
                    or (fresh and self.raw.text[self.raw.starts[i]].isupper())
                )
                and self._splits(i, b, fresh=fresh, depth=depth)
            ):
                if self._start_inside(i, b):
                    return
                label = self.current.label if self.current is not None else None
                i = max(i + 1, label.end if label is not None and label.start == i else i + 1)
                fresh = True
                continue
            fresh = word in _SENTENCE_END or word in ")]" or word[0] == "*"
            i += 1

    def _splits(self, i: int, b: int, *, fresh: bool, depth: int) -> bool:
        word = self.words[i]
        before = self.words[i - 1]
        if word in KIND_WORDS or word.isdecimal() or word in _LABEL_WORDS or (fresh and not depth):
            if before not in _NOT_BEFORE and (fresh or word in KIND_WORDS or self.raw.ordinal[i]):
                label = match_label(self.raw, i, b, line_start=False)
                if label is not None and (fresh or self.words[label.end - 1] == ":" or self._colon(label)):
                    self._pending = label
                    return True
        if not fresh or depth > 1:
            return False
        self._pending = None
        if word in {"size", "sizes", "all", "both", "for"}:
            return self._size_words(i, b) is not None
        if word in {"rep", "repeat"}:
            return before != ":" and self._repeats_rows(i, b)
        if word in {"note", "notes"}:
            return i + 1 < b and self.words[i + 1] == ":"
        if word in {"work", "cont", "continue", "proceed", "keeping"} and not depth:
            return self._rows_soon(i, b)
        if word in {"with", "join", "using"} and not depth:
            return self._new_piece(i, b)
        return not depth and self._inline_heading(i, b)

    _pending: RawLabel | None = None

    def _colon(self, label: RawLabel) -> bool:
        return any(word == ":" for word in self.words[label.start : label.end])

    def _start_inside(self, i: int, b: int) -> bool:
        """Begin the statement found at `i`; True when the rest of the line is dealt with."""
        if self._pending is not None:
            label, self._pending = self._pending, None
            self._begin("work", i, label)
            return False
        word = self.words[i]
        if word in {"note", "notes"}:
            self._note(i, i + 2, b)
            return True
        if self._sizes_mark(i, b, line_start=False):
            return True
        end = self._heading_end(i, b)
        if end is not None and word not in {
            "rep",
            "repeat",
            "work",
            "cont",
            "continue",
            "proceed",
            "keeping",
            "with",
            "join",
            "using",
        }:
            self._close(i)
            self._add("heading", i, end, inline=True)
            self._rest_of_line(end, b)
            return True
        self._begin("work", i, None)
        return False

    def _repeats_rows(self, i: int, b: int) -> bool:
        """Such as "Rep last 2 rows", "Repeat Row 3", "Rep 2nd and 3rd rows"."""
        for j in range(i + 1, min(b, i + 6)):
            word = self.words[j]
            if word in KIND_WORDS:
                return True
            if word in {"*", "**", "***", "from", "to", "around", "across", "(", "["}:
                return False
        return False

    def _rows_soon(self, i: int, b: int) -> bool:
        """Such as "Work 6 rows even", "Cont in pat until work measures"."""
        words = self.words[i + 1 : min(b, i + 12)]
        if self.words[i] == "work":
            return len(words) > 1 and words[0].isdecimal() and words[1] in KIND_WORDS
        if "until" in words or "as" in words[:4]:
            return True
        return False

    def _new_piece(self, i: int, b: int) -> bool:
        """Such as "With MC, ch 24." where the line before is done."""
        words = self.words
        for j in range(i + 1, min(b, i + 7)):
            if words[j] in {".", "to", "at", "with", "sl"}:
                return False
            if words[j] == "ch":
                return words[i] != "join" and j + 1 < b and words[j + 1].isdecimal() and int(words[j + 1]) > 6
        return False

    # ------------------------------------------------------------------ facts, sizes, headings

    def _fact(self, a: int, b: int) -> bool:
        words = self.words
        limit = min(b, a + 5)
        i = a
        name: list[str] = []
        while (i < limit and words[i].isalpha()) or (i < limit and "'" in words[i]):
            name.append(words[i])
            i += 1
        if not name or len(name) > 4:
            return False
        alone = i >= b
        if i < b and words[i] == "(" and ")" in words[i : min(b, i + 8)]:
            i = words.index(")", i) + 1
            alone = i >= b
        if not alone and words[i] not in {":", "-", "="}:
            return False
        found = _FACTS.get(" ".join(name))
        if found is None or (not alone and found == "copyright"):
            return False
        if words[i] == "-" if i < b else False:
            if found not in {"gauge", "hook", "yarn", "sizes", "terms", "notes"}:
                return False
        self._close(a)
        self.topic = found if found in _PROSE_FACTS and alone else ""
        self.current = Statement("fact", a, a, name=found, rest=min(i + 1, b), line=self.line)
        if found == "notes":
            self._note(a, i + 1, b)
            if alone:
                self.topic = "notes"
        elif found not in _PROSE_FACTS:
            self._close(b)
        return True

    def _note(self, a: int, i: int, b: int) -> None:
        """A note, up to where a sentence in it begins the work: "With MC, ch 12."."""
        self._begin("prose", a, None)
        assert self.current is not None
        self.current.name = "note"
        for j in range(i + 1, b):
            if (
                self.words[j] in _OPENERS
                and self.words[j - 1] in {".", ")"}
                and not self._lower(j)
                and self._opens_work(j, b)
            ):
                self._begin("work", j, None)
                self._scan(j, b)
                return

    def _sizes_mark(self, i: int, b: int, *, line_start: bool) -> bool:
        """Such as "Size L only:", "Sizes M and L only:", "All sizes:"; the work goes on behind it."""
        if self.words[i] not in {"size", "sizes", "all", "both", "for"} and not (
            line_start and "only" in self.words[i : min(b, i + 12)]
        ):
            return False
        end = self._size_words(i, b)
        if end is None:
            return False
        self._close(i)
        self._add("sizes", i, end)
        self._rest_of_line(end, b)
        return True

    def _size_words(self, i: int, b: int) -> int | None:
        """The index after "Sizes M and L only:", or None."""
        words = self.words
        limit = min(b, i + 24)
        seen_size = seen_only = False
        for j in range(i, limit):
            word = words[j]
            if word == ":":
                return j + 1 if seen_size or seen_only else None
            if word in {"size", "sizes"}:
                seen_size = True
            elif word == "only":
                seen_only = True
                if seen_size and (j + 1 >= b or words[j + 1] not in {":", "-", ")"}):
                    return j + 1
            elif word in {".", ";", "ch", "sc", "dc", "hdc", "row", "rnd", "round", "rows", "st", "sts"}:
                return None
        return limit if limit == b and (seen_size and (seen_only or words[i] in {"all", "both"})) else None

    def _heading(self, a: int, b: int) -> bool:
        end = self._heading_end(a, b, whole_line=True)
        if end is None:
            return False
        self._close(a)
        self.topic = ""
        self._add("heading", a, end)
        if end < b:
            self._rest_of_line(end, b)
        return True

    def _inline_heading(self, i: int, b: int) -> bool:
        return self._heading_end(i, b) is not None

    def _heading_end(self, a: int, b: int, *, whole_line: bool = False) -> int | None:
        """The index after a heading that starts at `a`, or None."""
        raw, words = self.raw, self.words
        if not raw.text[raw.starts[a]].isupper() and not words[a].isdecimal() and words[a] not in {"(", "["}:
            return None
        limit = min(b, a + (16 if whole_line else 9))
        i = a
        capitals = letters = 0
        while i < limit:
            word = words[i]
            if word == ":":
                return i + 1 if letters and self._names_a_part(a, i, capitals, letters) else None
            if word in {"(", "["}:
                close = self._remark_end(i, b)
                if close is None:
                    return None
                i = close
                if i < b and words[i] == ":":
                    return i + 1
                made = "make" in words[a:i] and any(
                    w.isdecimal() or w in {"two", "three", "four", "both"} for w in words[a:i]
                )
                if (
                    letters
                    and capitals * 2 >= letters
                    and made
                    and (
                        i >= b
                        or words[i] in _VERBS | {"."}
                        or (whole_line and raw.text[raw.starts[i]].isupper())
                    )
                ):
                    return i + 1 if i < b and words[i] == "." else i
                continue
            if word in {".", ";", "*", "**", "!", "="}:
                if word in {"*", "**", "***"} and i + 1 >= b and whole_line and letters:
                    return None
                return None
            if (
                whole_line
                and letters
                and word in _OPENERS
                and capitals == letters
                and raw.text[raw.starts[i]].isupper()
                and self._opens_work(i, b)
                and i > a
            ):
                return i
            if word.isalpha():
                letters += 1
                if raw.text[raw.starts[i]].isupper() or word in {
                    "and",
                    "of",
                    "for",
                    "the",
                    "in",
                    "to",
                    "with",
                    "or",
                }:
                    capitals += 1
            i += 1
        if not whole_line or i < b or not letters:
            return None
        if (
            words[a] in _VERBS
            and raw.text[raw.starts[a] : raw.ends[a]].istitle()
            and letters > 1
            and capitals < letters
        ):
            return None
        return b if capitals * 2 > letters and self._names_a_part(a, b, capitals, letters) else None

    def _names_a_part(self, a: int, end: int, capitals: int, letters: int) -> bool:
        """Words that name a part of the work, not steps."""
        inside = self.words[a:end]
        if any(word in _NOT_IN_HEADING for word in inside):
            return False
        if (
            inside[0] in {"rep", "repeat", "ch", "turn", "fasten", "join", "weave", "stuff", "sew"}
            and len(inside) > 1
        ):
            return False
        if inside[0] in _VERBS and any(word.isdecimal() for word in inside):
            return False
        return capitals > 0 and letters <= 9

    def _remark_end(self, i: int, b: int) -> int | None:
        close = {"(": ")", "[": "]"}[self.words[i]]
        for j in range(i + 1, min(b, i + 40)):
            if self.words[j] == close:
                return j + 1
        return None

    def _rest_of_line(self, i: int, b: int) -> None:
        """Go on behind a heading or size mark in the same line."""
        while i < b and self.words[i] in {":", "-", "."}:
            i += 1
        if i >= b:
            return
        label = match_label(self.raw, i, b, line_start=True)
        if label is not None:
            self._begin("work", i, label)
            self._scan(label.end, b)
        elif self._fact(i, b) or self._sizes_mark(i, b, line_start=False):
            return
        else:
            self._begin("work", i, None)
            self._scan(i, b)

    # ------------------------------------------------------------------ statements

    def _begin(self, what: str, at: int, label: RawLabel | None) -> None:
        self._close(at)
        line = self.line
        self.current = Statement(what, at, at, label, line=line)

    def _close(self, end: int) -> None:
        statement = self.current
        if statement is None:
            return
        while end > statement.start and self.words[end - 1] == "\n":
            end -= 1
        statement.end = end
        if end > statement.start:
            self.out.append(statement)
        self.current = None

    def _add(self, what: str, a: int, b: int, *, name: str = "", inline: bool = False) -> None:
        self.out.append(Statement(what, a, b, name=name, line=self.line, inline=inline))


_LABEL_WORDS = wordset("next last foundation set setup joining decrease increase first edging")
_TRIGGERS = (
    frozenset(KIND_WORDS)
    | _LABEL_WORDS
    | wordset(
        "size sizes all both for rep repeat note notes work cont continue proceed keeping with join using"
    )
)
_NOT_BEFORE = wordset(
    "of rep repeat to in as from until and for at or through this each every end on per "
    "between work follow marked after before last same into with over sew by than see "
    "next"
)
_NOT_IN_HEADING = wordset("ch sc hdc dc htr dtr st sts stitch stitches turn until = measures sp sps rnds")
