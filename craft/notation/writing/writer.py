"""The draft back to text: lines of work written anew, all else kept, the whole read again to make sure.

What the writer proposes the reader has to agree with. A line that reads back as another tree gets the
maker's own words for the step at fault, then for the whole line; so nothing is lost where the tree says less
than the words did.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from craft.notation.reader import read
from craft.notation.tree import Draft, Line, Prose, Repeat, Span, Step, Unread
from craft.notation.writing.alike import Rename, plain
from craft.notation.writing.changes import Changes
from craft.notation.writing.compose import compose, has_a_text
from craft.notation.writing.lines import line_words
from craft.notation.writing.pen import Pen
from craft.notation.writing.plain_words import words_of_no_trade
from craft.notation.writing.set_over import is_trade_name, set_over
from craft.notation.writing.sizes_in_words import without_size_marks, words_for_size
from craft.notation.writing.style import HouseStyle, Terms
from craft.notation.writing.terms_line import says_other_terms, state_terms

__all__ = ["write", "write_within"]

Item: TypeAlias = Line | Prose | Unread
_ATTEMPTS = 12
_TRIES_PER_LINE = 3
_SAYS_MORE = re.compile(r"\bthroughout\b|\bloosely\b|\bomit", re.IGNORECASE)


def write(
    draft: Draft,
    *,
    terms: Terms | None = None,
    style: HouseStyle | None = None,
    expanded: bool = False,
    size: str | None = None,
) -> str:
    r"""Write the draft as a text with "\n" line ends.

    `terms`: "us" or "uk", else those of the draft. `style`: the house's forms; without one, every line keeps
    its steps, so that reading the text again gives an equal draft (`same`). `expanded`: every pass of a
    repeat and every round of a range written out; a repeat "around" is, where its passes are numbered
    (`craft.fabric.with_passes`). `size`: one of `draft.sizes`, for that size alone; ValueError for another.
    """
    whole = Span(0, len(draft.text))
    return write_within(draft, whole, terms=terms, style=style, expanded=expanded, size=size)[0]


def write_within(
    draft: Draft,
    within: Span,
    *,
    terms: Terms | None = None,
    style: HouseStyle | None = None,
    expanded: bool = False,
    size: str | None = None,
) -> tuple[str, str]:
    """As `write`: all of it, and what stands for the stretch `within`, which must cut no line of work."""
    spoken: Terms = "uk" if draft.terms == "uk" else "us"
    position = None if size is None else _position(draft, size)
    style = style or HouseStyle()
    pen = Pen(style, terms or spoken, draft.text, spoken, cut=_cut(draft.sizes, position))
    changes = Changes(style, position, expanded=expanded)
    if has_a_text(draft):
        writing = Writing(draft, pen, changes, within)
        text = writing.text()
        return text, text[writing.first : writing.last]
    sections = tuple(changes.of_section(section) for section in draft.sections)
    sizes = draft.sizes if position is None else ()
    text = compose(pen, replace(draft, sections=sections, sizes=sizes))
    text = state_terms(text, of=pen.terms, to=pen.terms) + text
    return text, text


def _position(draft: Draft, size: str) -> int:
    if size not in draft.sizes:
        sizes = ", ".join(draft.sizes) or "none"
        raise ValueError(f"The pattern has no size \u201c{size}\u201d; its sizes are: {sizes}.")
    return draft.sizes.index(size)


def _cut(sizes: tuple[str, ...], position: int | None) -> Callable[[str], str]:
    return str if position is None else lambda words: words_for_size(words, sizes, position)


@dataclass(slots=True)
class Piece:
    """A line of the draft on its way into the text: what is to be said, and how far it keeps its words.

    `forms`: what may stand for it, the best first. `kept`: steps in the maker's own words; `own`: the whole
    line; `flat`: that, and without its line ends.
    """

    source: Item
    forms: list[tuple[Item, ...]]
    own: bool = False
    flat: bool = False
    kept: frozenset[Span] = frozenset()
    tries: int = 0
    start: int = 0
    end: int = 0

    @property
    def wanted(self) -> tuple[Item, ...]:
        return self.forms[0]

    def keep(self) -> None:
        """Keep the line as the maker has it, line ends and all."""
        self.forms = self.forms[-1:]
        self.own, self.flat = True, False

    def say_otherwise(self, fault: Span | None) -> bool:
        """Keep the words of the step at `fault`, else take the next form, else keep the line; -> False at
        the end of all that.
        """
        if self.own:
            flat, self.flat = self.flat, True
            return not flat
        self.tries += 1
        if fault is not None and fault not in self.kept and self.tries <= _TRIES_PER_LINE:
            self.kept |= {fault}
        elif len(self.forms) > 1:
            self.forms, self.kept, self.tries = self.forms[1:], frozenset(), 0
        else:
            self.own = True
        return True


@dataclass(slots=True)
class Writing:
    """A draft on its way to a text."""

    draft: Draft
    pen: Pen
    changes: Changes
    within: Span
    first: int = 0
    last: int = 0
    pieces: list[Piece] = field(init=False)
    rename: Rename = field(init=False)

    def __post_init__(self) -> None:
        lines = sorted(_items(self.draft), key=lambda line: line.span)
        self.pieces = [self._piece(line) for line in lines]
        self.rename = Rename(self._renamed, self._reworded)

    def _piece(self, item: Item) -> Piece:
        if not isinstance(item, Line):
            return Piece(item, [(item,)], own=True)
        forms: list[tuple[Item, ...]] = [*self.changes.wanted(item)]
        own = self._says_more(item)
        return Piece(item, forms[-1:] if own else forms, own=own)

    # ------------------------------------------------------------------ what is expected

    def _says_more(self, line: Line) -> bool:
        """Whether a line's words say what its tree does not: a rule, a stitch that it names."""
        start, end = line.span
        named = any(start <= found.span.start < end for found in self.draft.definitions)
        label = line.label
        rounds = label.stated_number_of_rounds is not None and not label.numbers and label.word is None
        return named or rounds or _SAYS_MORE.search(self.draft.text, start, end) is not None

    def _reworded(self, words: str) -> str:
        return set_over(self.pen.cut(words), of=self.pen.spoken, to=self.pen.terms)

    def _renamed(self, name: str) -> str:
        """A pattern's own names are set over with its words; the trade's are the same in any terms."""
        if is_trade_name(name.removesuffix(" each side")):
            return name
        if "|" in name:
            return "|".join(self._renamed(kind) for kind in name.split("|"))
        return self._reworded(name)

    # ------------------------------------------------------------------ attempts

    def text(self) -> str:
        for _ in range(_ATTEMPTS):
            text = self.attempt()
            amiss = self._amiss(text)
            if not self._mend(amiss):
                break
        if not amiss:
            return text
        self._keep_around({id(piece) for piece, _ in amiss})
        text = self.attempt()
        if self.changes.keeps_the_tree and self._amiss(text):
            for piece in self.pieces:
                piece.keep()
            text = self.attempt()
        return text

    def _keep_around(self, amiss: set[int]) -> None:
        """Where kept words are read otherwise, the lines beside them are at fault."""
        for before, piece, behind in zip(
            [None, *self.pieces], self.pieces, [*self.pieces[1:], None], strict=False
        ):
            if id(piece) in amiss:
                for one in (before, piece, behind):
                    if one is not None:
                        one.keep()

    def attempt(self) -> str:
        """One proposal; every piece learns where it stands in it."""
        parts: list[str] = []
        at = length = 0
        for piece in self.pieces:
            gap, words = self._gap(at, piece), self._words(piece)
            parts += (gap, words)
            piece.start = length + len(gap)
            length = piece.end = piece.start + len(words)
            at = piece.source.span.end
        text = "".join((*parts, self._between(at, len(self.draft.text))))
        line = state_terms(text, of=self.pen.spoken, to=self.pen.terms)
        for piece in self.pieces:
            piece.start += len(line)
            piece.end += len(line)
        self.first, self.last = (self._place(at, len(line)) for at in self.within)
        return line + text

    def _place(self, at: int, before: int) -> int:
        """Where a place of the draft's text that lies between two lines is in the proposal."""
        written, read_to = before, 0
        for piece in self.pieces:
            if piece.source.span.start >= at:
                return min(piece.start, written + len(self._between(read_to, at)))
            written, read_to = piece.end, piece.source.span.end
        return written + len(self._between(read_to, at))

    def _between(self, start: int, end: int) -> str:
        words = self._reworded(self.draft.text[start:end])
        return says_other_terms(words, of=self.pen.spoken, to=self.pen.terms)

    def _gap(self, at: int, piece: Piece) -> str:
        """The words before a line; a line that stood in the middle of a paragraph gets one of its own."""
        words = self._between(at, piece.source.span.start)
        if self.changes.position is not None:
            words = without_size_marks(words)
        if not piece.wanted and not words.strip():
            return ""
        if at and not piece.own and not words.strip() and "\n" not in words:
            return "\n"
        return words

    def _words(self, piece: Piece) -> str:
        start, end = piece.source.span
        if piece.own and piece.wanted:
            words = self._between(start, end)
            return " ".join(words.split()) if piece.flat else words
        pen = replace(self.pen, kept=piece.kept)
        return "\n".join(line_words(pen, line) for line in piece.wanted if isinstance(line, Line))

    # ------------------------------------------------------------------ reading it again

    def _amiss(self, text: str) -> list[tuple[Piece, Span | None]]:
        """Read the proposal: the lines that have to be said otherwise, and the step that is at fault."""
        again = read(text)
        found = {line.span.start: line for line in _items(again)}
        starts = sorted(found)
        amiss: list[tuple[Piece, Span | None]] = []
        for piece in self.pieces:
            first, last = bisect_left(starts, piece.start), bisect_left(starts, piece.end)
            inside = [found[at] for at in starts[first:last]]
            if not self.reads_as_wanted(piece, inside, text):
                amiss.append((piece, self._step_at_fault(piece, inside, text)))
        return amiss

    def _mend(self, amiss: Sequence[tuple[Piece, Span | None]]) -> bool:
        """Say those lines otherwise; -> whether any still can be."""
        said = [piece.say_otherwise(fault) for piece, fault in amiss]
        return any(said)

    def reads_as_wanted(self, piece: Piece, inside: Sequence[Item], text: str) -> bool:
        """Whether the lines that were read where the piece stands say what it is to say."""
        wanted = [plain(line, self.draft.text, self.rename) for line in piece.wanted]
        if wanted != [plain(line, text) for line in inside]:
            return False
        return piece.own or not piece.wanted or not self._lost(piece, text)

    def _lost(self, piece: Piece, text: str) -> set[str]:
        """Words of the maker's that the tree does not hold and the new line has not got."""
        start, end = piece.source.span
        said = words_of_no_trade(text[piece.start : piece.end], self.pen.terms)
        lost = words_of_no_trade(self._reworded(self.draft.text[start:end]), self.pen.terms) - said
        return lost - {"**"} if _has_a_stop(_steps(piece.source)) else lost

    def _step_at_fault(self, piece: Piece, inside: Sequence[Item], text: str) -> Span | None:
        if len(inside) != 1 or len(piece.wanted) != 1:
            return None
        wanted, found = _steps(piece.wanted[0]), _steps(inside[0])
        for step, other in zip(wanted, found, strict=False):
            if plain(step, self.draft.text, self.rename) != plain(other, text):
                return step.span
        return self._step_with(wanted, self._lost(piece, text))

    def _step_with(self, steps: Sequence[Step], lost: set[str]) -> Span | None:
        """The step whose own words hold what was lost."""
        for step in steps:
            words = self._reworded(self.draft.text[step.span.start : step.span.end])
            if not lost.isdisjoint(words_of_no_trade(words, self.pen.terms)):
                return step.span
        return None


def _items(draft: Draft) -> Iterator[Item]:
    for section in draft.sections:
        yield from section.lines


def _steps(item: Item) -> tuple[Step, ...]:
    return item.steps if isinstance(item, Line) else ()


def _has_a_stop(steps: Sequence[Step]) -> bool:
    """Whether a repeat takes up the mark of two stars, so that the tree holds it."""
    return any(
        isinstance(step, Repeat) and (step.stop is not None or _has_a_stop(step.steps)) for step in steps
    )
