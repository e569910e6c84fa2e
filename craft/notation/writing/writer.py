"""The draft back to text: lines of work written anew, all else kept, the whole read again to make sure.

What the writer proposes the reader has to agree with. A line that reads back as another tree gets the
maker's own words for the step at fault, then for the whole line; so nothing is lost where the tree says less
than the words did.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from craft.notation.reader import read
from craft.notation.tree import Draft, Line, Prose, Span, Step, Unread
from craft.notation.writing.alike import Rename, plain
from craft.notation.writing.compose import compose, has_a_text
from craft.notation.writing.lines import line_words
from craft.notation.writing.pen import Pen
from craft.notation.writing.plain_words import words_of_no_trade
from craft.notation.writing.set_over import is_trade_name, set_over
from craft.notation.writing.style import HouseStyle, Terms
from craft.notation.writing.terms_line import says_other_terms, state_terms

__all__ = ["write"]

Item: TypeAlias = Line | Prose | Unread
_ATTEMPTS = 8
_TRIES_PER_LINE = 3
_SAYS_MORE = re.compile(r"\bthroughout\b|\bloosely\b|\bomit", re.IGNORECASE)


def write(draft: Draft, *, terms: Terms | None = None, style: HouseStyle | None = None) -> str:
    r"""Write the draft as a text with "\n" line ends.

    `terms`: "us" or "uk", else those of the draft. `style`: the house's forms; without one, every line keeps
    its steps, so that reading the text again gives an equal draft (`same`).
    """
    spoken: Terms = "uk" if draft.terms == "uk" else "us"
    pen = Pen(style or HouseStyle(), terms or spoken, draft.text, spoken)
    if not has_a_text(draft):
        text = compose(pen, draft)
        return state_terms(text, of=pen.terms, to=pen.terms) + text
    return _Writing(draft, pen).text()


@dataclass(slots=True)
class _Piece:
    """A line of the draft on its way into the text: what is to be said, and how far it keeps its words.

    `kept`: steps in the maker's own words; `own`: the whole line; `flat`: that, and without its line ends.
    """

    source: Item
    wanted: tuple[Item, ...]
    own: bool = False
    flat: bool = False
    kept: frozenset[Span] = frozenset()
    tries: int = 0
    start: int = 0
    end: int = 0


@dataclass(slots=True)
class _Writing:
    draft: Draft
    pen: Pen
    pieces: list[_Piece] = field(init=False)
    rename: Rename = field(init=False)

    def __post_init__(self) -> None:
        lines = sorted(_items(self.draft), key=lambda line: line.span)
        self.pieces = [_Piece(line, (line,), own=self._says_more(line)) for line in lines]
        self.rename = Rename(self._renamed, self._reworded)

    # ------------------------------------------------------------------ what is expected

    def _says_more(self, line: Item) -> bool:
        """Whether a line's words say what its tree does not: a rule, a stitch that it names."""
        if not isinstance(line, Line):
            return True
        start, end = line.span
        named = any(start <= found.span.start < end for found in self.draft.definitions)
        label = line.label
        rounds = label.stated_number_of_rounds is not None and not label.numbers and label.word is None
        return named or rounds or _SAYS_MORE.search(self.draft.text, start, end) is not None

    def _reworded(self, words: str) -> str:
        return set_over(self.pen.cut(words), of=self.pen.spoken, to=self.pen.terms)

    def _renamed(self, name: str) -> str:
        """A pattern's own names are set over with its words; the trade's are the same in any terms."""
        if self.pen.spoken == self.pen.terms or is_trade_name(name.removesuffix(" each side")):
            return name
        if "|" in name:
            return "|".join(self._renamed(kind) for kind in name.split("|"))
        return set_over(name, of=self.pen.spoken, to=self.pen.terms)

    # ------------------------------------------------------------------ attempts

    def text(self) -> str:
        for _ in range(_ATTEMPTS):
            text = self._attempt()
            if not self._mend(text):
                break
        return text

    def _attempt(self) -> str:
        """One proposal; every piece learns where it stands in it."""
        parts: list[str] = []
        at = length = 0
        for piece in self.pieces:
            words = self._gap(at, piece)
            parts.append(words)
            length += len(words)
            piece.start = length
            words = self._words(piece)
            parts.append(words)
            length += len(words)
            piece.end = length
            at = piece.source.span.end
        parts.append(self._between(at, len(self.draft.text)))
        text = "".join(parts)
        line = state_terms(text, of=self.pen.spoken, to=self.pen.terms)
        for piece in self.pieces:
            piece.start += len(line)
            piece.end += len(line)
        return line + text

    def _between(self, start: int, end: int) -> str:
        words = self._reworded(self.draft.text[start:end])
        return says_other_terms(words, of=self.pen.spoken, to=self.pen.terms)

    def _gap(self, at: int, piece: _Piece) -> str:
        """The words before a line; a line that stood in the middle of a paragraph gets one of its own."""
        start = piece.source.span.start
        words = self._between(at, start)
        if at and not piece.own and not words.strip() and "\n" not in words:
            return "\n"
        return words

    def _words(self, piece: _Piece) -> str:
        start, end = piece.source.span
        if piece.own:
            words = self._between(start, end)
            return " ".join(words.split()) if piece.flat else words
        pen = replace(self.pen, kept=piece.kept)
        return "\n".join(line_words(pen, line) for line in piece.wanted if isinstance(line, Line))

    # ------------------------------------------------------------------ reading it again

    def _mend(self, text: str) -> bool:
        """Read the proposal; -> whether a line has to be said otherwise."""
        again = read(text)
        found = {line.span.start: line for line in _items(again)}
        starts = sorted(found)
        mended = False
        for piece in self.pieces:
            inside = [found[at] for at in starts if piece.start <= at < piece.end]
            if self._reads_as_wanted(piece, inside, again.text):
                continue
            mended |= self._say_otherwise(piece, inside, again.text)
        return mended

    def _reads_as_wanted(self, piece: _Piece, inside: Sequence[Item], text: str) -> bool:
        wanted = [plain(line, self.draft.text, self.rename) for line in piece.wanted]
        if wanted != [plain(line, text) for line in inside]:
            return False
        return piece.own or not self._lost(piece, text)

    def _lost(self, piece: _Piece, text: str) -> set[str]:
        """Words of the maker's that the tree does not hold and the new line has not got."""
        said = words_of_no_trade(text[piece.start : piece.end], self.pen.terms)
        return words_of_no_trade(self._reworded(self._source_words(piece)), self.pen.terms) - said

    def _source_words(self, piece: _Piece) -> str:
        start, end = piece.source.span
        return self.draft.text[start:end]

    def _say_otherwise(self, piece: _Piece, inside: Sequence[Item], text: str) -> bool:
        if piece.own:
            flat, piece.flat = piece.flat, True
            return not flat
        piece.tries += 1
        fault = self._step_at_fault(piece, inside, text) if piece.tries <= _TRIES_PER_LINE else None
        if fault is None or fault in piece.kept:
            piece.own = True
        else:
            piece.kept |= {fault}
        return True

    def _step_at_fault(self, piece: _Piece, inside: Sequence[Item], text: str) -> Span | None:
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
