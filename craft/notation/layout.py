"""Where each statement of a pattern begins and ends: facts, headings, notes, lines of work.

Works on raw tokens. Wrapped lines are joined, labels inside a paragraph begin a new statement, and so do
sentences such as "Rep last 2 rows ..." or "Size L only:". What a statement means is not asked here.
"""

from __future__ import annotations

from dataclasses import dataclass

from craft.notation.facts import LISTED, match_fact
from craft.notation.headings import OPENERS, heading_end, opens_work, sizes_mark_end
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


_BULLETS = frozenset(("\u2022", "-", ">", "~", "\u2192", "+", "|"))
_KEPT_TOPICS = wordset("materials abbreviations stitches notes")
_DEFINING = wordset("stitches abbreviations")
_UNNUMBERED_TOPICS = wordset("notes materials abbreviations")
_STEP_WORDS = wordset("in into miss skip sk turn join sc hdc dc tr sl * ( [") | {str(n) for n in range(1, 60)}
_STATED = wordset("sc hdc dc tr st sts dtr")
_SIZE_HEADS = wordset("size sizes all both for")
_ROW_VERBS = wordset("work cont continue proceed keeping")
_JOIN_VERBS = wordset("with join using")
_NEW_WORK = _ROW_VERBS | _JOIN_VERBS | {"rep", "repeat"}
_LABEL_WORDS = wordset("next last foundation set setup joining decrease increase first edging")
_TRIGGERS = (
    frozenset(KIND_WORDS)
    | _LABEL_WORDS
    | _SIZE_HEADS
    | _ROW_VERBS
    | _JOIN_VERBS
    | wordset("rep repeat note notes")
)
_NOT_BEFORE = wordset(
    "of rep repeat to in as from until and for at or through this each every end on per between work "
    "follow marked after before last same into with over sew by than see next"
)
_WHERE = wordset("loop loops side sides thicknesses layers front behind")
_FULL_LINE = 0.86
_NARROW = 110
_HASH_LINES = 10


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
        self.before = (0, 0)
        """The physical line read before this one."""

    # ------------------------------------------------------------------ lines

    def run(self) -> list[Statement]:
        lines = self._physical_lines()
        self.width = self._wrap_width(lines)
        text, starts = self.raw.text, self.raw.starts
        number, position = 1, 0
        for a, b in lines:
            if a < b:
                number += text.count("\n", position, starts[a])
                position = starts[a]
            self.line = number
            self._line(a, b)
            self.before = (a, b)
        self._close(len(self.words))
        return self.out

    def _physical_lines(self) -> list[tuple[int, int]]:
        lines: list[tuple[int, int]] = []
        a = 0
        for i, word in enumerate(self.words):
            if word == "\n":
                lines.append((a, i))
                a = i + 1
        lines.append((a, len(self.words)))
        return lines

    def _wrap_width(self, lines: list[tuple[int, int]]) -> int:
        """The width that the text was wrapped to, or 0 when each paragraph is one line."""
        starts, ends = self.raw.starts, self.raw.ends
        full = [(a, b) for a, b in lines if a < b]
        lengths = sorted(ends[b - 1] - starts[a] for a, b in full)
        if len(lengths) < 4:
            return 0
        broad = lengths[int(len(lengths) * 0.97)]
        if broad > _NARROW:
            return 0
        cut_off = sum(
            1
            for a, b in full
            if b - a > 4 and self.words[b - 1] not in ".:!)]" and ends[b - 1] - starts[a] > broad * 0.6
        )
        return broad if cut_off * 5 > len(lengths) else 0

    def _line(self, a: int, b: int) -> None:
        """One line of the text, told by how it begins."""
        words = self.words
        while a < b and words[a] in _BULLETS:
            a += 1
        if a >= b:
            self._close(a)
            if self.topic not in _KEPT_TOPICS:
                self.topic = ""
        elif words[a] == "#" and self.line <= _HASH_LINES:
            self._close(a)
            self._add("prose", a, b, name="comment")
        elif not self._labelled(a, b) and not self._stated(a, b) and not self._headed(a, b):
            self._plain(a, b)

    def _labelled(self, a: int, b: int) -> bool:
        at = a + 1 if self.words[a][0] == "*" and a + 1 < b else a  # "**1st row:"
        label = match_label(self.raw, at, b, line_start=True)
        if label is None or (label.bare and self.topic in _UNNUMBERED_TOPICS):
            return False
        self.topic = ""
        self._begin("work", a, label)
        self._scan(label.end, b)
        return True

    def _stated(self, a: int, b: int) -> bool:
        return self._fact(a, b) or self._sizes_mark(a, b, line_start=True)

    def _headed(self, a: int, b: int) -> bool:
        end = heading_end(self.raw, a, b, whole_line=True)
        if end is None:
            return self._made_how_often(a, b)
        if self.topic in _DEFINING and end < b and self.words[end] not in {"with", "using"}:
            return False  # "Shell: 5 dc in one st"
        self._close(a)
        self.topic = ""
        self._add("heading", a, end)
        self._rest_of_line(end, b)
        return True

    def _made_how_often(self, a: int, b: int) -> bool:
        """Such as "Make 2 for each Bunny" on the line below a heading."""
        last = self.out[-1] if self.out else None
        if self.current is not None or last is None or last.what != "heading" or last.line != self.line - 1:
            return False
        inside = self.words[a:b]
        if inside[0] != "make" or len(inside) > 8 or not inside[1:2] or not inside[1].isdecimal():
            return False
        if "ch" in inside or "." in inside[:-1] or inside[2:3] == ["sc"]:
            return False
        last.end = b
        return True

    def _plain(self, a: int, b: int) -> None:
        """A line without label: goes on with the statement before, or begins one of its own."""
        if self.current is not None:
            if not self._rows_of_their_own(a, b) and self._goes_on(a, b):
                self._scan(a, b)
                return
            if self.current.what != "work":
                self._close(a)
        if self.topic and not (self.words[a] in OPENERS and opens_work(self.raw, a, b)):
            self._close(a)
            self.current = Statement("prose", a, a, name=self.topic, line=self.line)
            return
        self.topic = ""
        self._begin("work", a, None)
        self._scan(a, b)

    # ------------------------------------------------------------------ wrapped lines

    def _goes_on(self, a: int, b: int) -> bool:
        """Whether the line from `a` to `b` is the rest of the statement before."""
        statement = self.current
        if statement is None:
            return False
        first = self.words[a]
        small = self._small(a)
        if statement.what != "work":
            return small or first not in OPENERS or not opens_work(self.raw, a, b)
        before = self._word_before(a, statement.start)
        label_alone = statement.label is not None and before < statement.label.end
        ended = self.words[before] in {".", "!", ")", "]"}
        if (
            label_alone
            or (first == "working" and self._says_where(a, b) and not self._finished(before))
            or (first in _STEP_WORDS and not self._finished(before))
            or not (ended or self.words[before] == ";")
        ):
            return True
        if small or first[0] in "*([" or (first.isdecimal() and not self.raw.ordinal[a]):
            return first not in {"rep", "repeat"} or not ended
        if not self.width:
            return False
        length = self.raw.ends[before] - self.raw.starts[self.before[0]]
        return length + len(first) + 1 > self.width * _FULL_LINE

    def _rows_of_their_own(self, a: int, b: int) -> bool:
        """Such as "Work in dc until sleeve measures 18 ins" behind a sentence that has ended."""
        statement = self.current
        if statement is None or statement.what != "work" or self.words[a] not in _ROW_VERBS:
            return False
        before = self._word_before(a, statement.start)
        label_alone = statement.label is not None and before < statement.label.end
        return not label_alone and self.words[before] == "." and self._rows_soon(a, b)

    def _word_before(self, a: int, start: int) -> int:
        before = a - 1
        while before > start and (self.words[before] == "\n" or self.words[before] in _BULLETS):
            before -= 1
        return before

    def _small(self, a: int) -> bool:
        return self.raw.text[self.raw.starts[a]].islower()

    def _finished(self, before: int) -> bool:
        """Whether the words before say that the round is done."""
        tail = self.words[max(0, before - 7) : before + 1]
        if "turn" in tail[-3:] and "not" not in tail:
            return True
        if "off" in tail[-3:] or (tail[-1] in {")", "]"} and any(word.isdecimal() for word in tail)):
            return True
        counted = len(tail) > 2 and (tail[-3].isdecimal() or tail[-3] in {")", "]"})
        return counted and tail[-1] == "." and tail[-2] in _STATED

    def _says_where(self, a: int, b: int) -> bool:
        """Such as "Working in back loops only, ...", "Working along opposite side, ...": it goes on."""
        return not _WHERE.isdisjoint(self.words[a + 1 : min(b, a + 7)])

    # ------------------------------------------------------------------ sentences inside a line

    def _scan(self, a: int, b: int) -> None:
        """Walk a line of work and begin a new statement wherever one begins inside it."""
        words, raw = self.words, self.raw
        depth = 0
        fresh = True  # a sentence may begin here
        i = a
        while i < b:
            word = words[i]
            if i > a and (
                word in _TRIGGERS
                or raw.ordinal[i]
                or (fresh and raw.text[raw.starts[i]].isupper())
                or (word.isdecimal() and i + 2 < b and words[i + 2] == ":" and words[i + 1] in KIND_WORDS)
            ):
                label = self._label_inside(i, b, fresh=fresh, depth=depth)
                if label is not None:
                    self._begin("work", i, label)
                    i = max(i + 1, label.end)
                    fresh = True
                    continue
                if fresh and depth <= 1 and self._sentence(i, b, depth):
                    return
            if word in "([{":
                depth += 1
            elif word in ")]}":
                depth = max(0, depth - 1)
            fresh = word in {".", "!", "?", ":", ")", "]"} or word[0] == "*"
            i += 1

    def _label_inside(self, i: int, b: int, *, fresh: bool, depth: int) -> RawLabel | None:
        """A label inside a paragraph: at the start of a sentence, or with a colon."""
        word = self.words[i]
        counted = word in KIND_WORDS or word.isdecimal()
        if self.words[i - 1] in _NOT_BEFORE or not (
            counted or (fresh and (not depth or word in _LABEL_WORDS))
        ):
            return None
        label = match_label(self.raw, i, b, line_start=False)
        if label is None or fresh or ":" in self.words[label.start : label.end]:
            return label
        return None

    def _sentence(self, i: int, b: int, depth: int) -> bool:
        """Begin a new statement at `i` if the sentence there is one; True when the line is dealt with."""
        word = self.words[i]
        if word in {"note", "notes"}:
            noted = i + 1 < b and self.words[i + 1] == ":"
            if noted:
                self._note(i, i + 2, b)
            return noted
        if word in _SIZE_HEADS:
            return self._sizes_mark(i, b, line_start=False)
        if word in _NEW_WORK:
            begins = self._new_work(i, b, depth)
            if begins:
                self._begin("work", i, None)
                self._scan(i, b)
            return begins
        end = None if depth else heading_end(self.raw, i, b, whole_line=False)
        if end is not None:
            self._close(i)
            self._add("heading", i, end)
            self._rest_of_line(end, b)
        return end is not None

    def _new_work(self, i: int, b: int, depth: int) -> bool:
        """Whether the sentence at `i` is work of its own: rows repeated, a new piece."""
        word = self.words[i]
        if word in {"rep", "repeat"}:
            return self.words[i - 1] != ":" and self._repeats_rows(i, b)
        if depth:
            return False
        return self._rows_soon(i, b) if word in _ROW_VERBS else self._new_piece(i, b)

    def _repeats_rows(self, i: int, b: int) -> bool:
        """Such as "Rep last 2 rows", "Repeat Row 3", "Rep 2nd and 3rd rows"."""
        for word in self.words[i + 1 : min(b, i + 6)]:
            if word in KIND_WORDS:
                return True
            if word in {"from", "to", "around", "across", "(", "["} or word[0] == "*":
                return False
        return False

    def _rows_soon(self, i: int, b: int) -> bool:
        """Such as "Work 6 rows even", "Cont in pat until work measures"."""
        words = self.words[i + 1 : min(b, i + 12)]
        if self.words[i] == "work":
            rows = len(words) > 1 and words[0].isdecimal() and words[1] in KIND_WORDS
            return rows or ("until" in words and words[0] in {"even", "in"})
        return "until" in words or "as" in words[:4]

    def _new_piece(self, i: int, b: int) -> bool:
        """Such as "With MC, ch 24." where the line before is done."""
        words = self.words
        for j in range(i + 1, min(b, i + 7)):
            if words[j] in {".", "to", "at", "with", "sl"}:
                return False
            if words[j] == "ch":
                return words[i] != "join" and j + 1 < b and words[j + 1].isdecimal() and int(words[j + 1]) > 6
        return False

    # ------------------------------------------------------------------ facts, notes, sizes

    def _fact(self, a: int, b: int) -> bool:
        found = match_fact(self.raw, a, b)
        if found is None:
            return False
        name, rest = found
        self._close(a)
        self.topic = name if name in LISTED and rest >= b else ""
        if name == "notes":
            self._note(a, rest, b)
            return True
        self.current = Statement("fact", a, a, name=name, rest=rest, line=self.line)
        if name not in LISTED:
            self._close(b)
        return True

    def _note(self, a: int, i: int, b: int) -> None:
        """A note, up to where a sentence in it begins the work: "With MC, ch 12."."""
        words = self.words
        self._begin("prose", a, None, name="note")
        for j in range(i + 1, b):
            if (
                words[j] in OPENERS
                and words[j - 1] in {".", ")"}
                and not self._small(j)
                and opens_work(self.raw, j, b)
            ):
                self._begin("work", j, None)
                self._scan(j, b)
                return

    def _sizes_mark(self, i: int, b: int, *, line_start: bool) -> bool:
        """Such as "Size L only:", "Sizes M and L only:", "All sizes:"; the work goes on behind it."""
        if self.words[i] not in _SIZE_HEADS and not (line_start and "only" in self.words[i : min(b, i + 12)]):
            return False
        end = sizes_mark_end(self.raw, i, b)
        if end is None:
            return False
        self._close(i)
        self._add("sizes", i, end)
        self._rest_of_line(end, b)
        return True

    def _rest_of_line(self, i: int, b: int) -> None:
        """Go on behind a heading or size mark in the same line."""
        if i >= 2 and i < b and self.words[i - 1] == ":" and self.words[i - 2] in {"note", "notes"}:
            self._note(i, i, b)  # "Neck Shaping Note: ..."
            return
        while i < b and self.words[i] in {":", "-", "."}:
            i += 1
        if i >= b:
            return
        label = match_label(self.raw, i, b, line_start=True)
        if label is not None:
            self._begin("work", i, label)
            self._scan(label.end, b)
        elif not self._fact(i, b) and not self._sizes_mark(i, b, line_start=False):
            self._begin("work", i, None)
            self._scan(i, b)

    # ------------------------------------------------------------------ statements

    def _begin(self, what: str, at: int, label: RawLabel | None, *, name: str = "") -> None:
        self._close(at)
        self.current = Statement(what, at, at, label, name, line=self.line)

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

    def _add(self, what: str, a: int, b: int, *, name: str = "") -> None:
        self.out.append(Statement(what, a, b, name=name, line=self.line))
