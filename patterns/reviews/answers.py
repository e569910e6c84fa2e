"""What the designer does with a remark: answers it, sets it aside, or takes its wording into the draft.

A wording goes in through the ordinary save of the instructions, so two people's edits are told apart
as everywhere: `seen` is the state of the text that the designer was looking at.
"""

from __future__ import annotations

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from patterns.models import Pattern
from patterns.reviews.forms import one_line
from patterns.reviews.models import ReaderRemark, RemarkState
from patterns.reviews.places import place_of
from patterns.services import text_save
from workroom.models import Person

__all__ = [
    "AnswerError",
    "LineChangedError",
    "remark_answer",
    "remark_reopen",
    "remark_set_aside",
    "remark_take_in",
    "remark_undo",
]


class AnswerError(RuntimeError):
    """A refusal; the text is a sentence for the designer."""


class LineChangedError(AnswerError):
    """The line is not what the remark was written about. `then` and `now`: both states, `now` "" if gone."""

    def __init__(self, then: str, now: str) -> None:
        super().__init__(
            _("This line has changed since the remark was written, so nothing was put in. Both stand below.")
        )
        self.then, self.now = then, now


def remark_answer(remark: ReaderRemark, *, answer: str, by: Person) -> None:
    """Answer a remark; the reader sees the words."""
    _close(remark, RemarkState.ANSWERED, answer, by, _("Write the answer first."))


def remark_set_aside(remark: ReaderRemark, *, reason: str, by: Person) -> None:
    """Leave the line as it is, for a reason that the reader sees."""
    _close(remark, RemarkState.ASIDE, reason, by, _("Say in a few words why the line stays."))


def remark_reopen(remark: ReaderRemark) -> None:
    """Let a remark be open again. One that was taken in is undone instead."""
    closed = ReaderRemark.objects.filter(pk=remark.pk, state__in=(RemarkState.ANSWERED, RemarkState.ASIDE))
    closed.update(state=RemarkState.OPEN, answer="", answered_at=None, answered_by=None)


def remark_take_in(remark: ReaderRemark, *, wording: str, seen: int, by: Person) -> Pattern:
    """Put the wording in the place of the line, and mark the remark as taken in.

    Raises LineChangedError, AnswerError, or services.StaleEditError when somebody saved since `seen`.
    """
    wording = one_line(wording)
    if not wording or not remark.line:
        raise AnswerError(_("Write the line as it should read."))
    with transaction.atomic():
        current = Pattern.objects.select_for_update().get(pk=remark.review.pattern_id)
        place = place_of(remark.copy.text, current.text, remark.line)
        if not place.same or place.line is None:
            raise LineChangedError(remark.words, place.words)
        _take(remark, wording, by)
        text = _with_line(current.text, place.line, wording)
        return text_save(current, text=text, seen=seen, by=by)


def remark_undo(remark: ReaderRemark, *, seen: int, by: Person) -> Pattern:
    """Put the line back as it was and open the remark again. Raises as `remark_take_in`."""
    with transaction.atomic():
        current = Pattern.objects.select_for_update().get(pk=remark.review.pattern_id)
        lines = current.text.split("\n")
        stands = [number for number, line in enumerate(lines, 1) if line == remark.put_in]
        near = place_of(remark.copy.text, current.text, remark.line).line or remark.line
        if not stands:
            raise LineChangedError(remark.put_in, lines[near - 1] if near <= len(lines) else "")
        undone = _in_state(remark, RemarkState.TAKEN).update(
            state=RemarkState.OPEN, put_in="", undo_words="", answer="", answered_at=None, answered_by=None
        )
        if not undone:
            raise AnswerError(_("This was undone already."))
        line = min(stands, key=lambda number: abs(number - near))
        return text_save(current, text=_with_line(current.text, line, remark.undo_words), seen=seen, by=by)


def _with_line(text: str, line: int, words: str) -> str:
    lines = text.split("\n")
    lines[line - 1] = words
    return "\n".join(lines)


def _take(remark: ReaderRemark, wording: str, by: Person) -> None:
    taken = _in_state(remark, RemarkState.OPEN, RemarkState.ANSWERED, RemarkState.ASIDE).update(
        state=RemarkState.TAKEN, put_in=wording, undo_words=remark.words, answered_at=timezone.now(),
        answered_by=by,
    )  # fmt: skip
    if not taken:
        raise AnswerError(_("This remark was taken in already, or its reader has taken it back."))


def _close(remark: ReaderRemark, state: RemarkState, words: str, by: Person, missing: str) -> None:
    if not words.strip():
        raise AnswerError(missing)
    closed = _in_state(remark, RemarkState.OPEN, RemarkState.ANSWERED, RemarkState.ASIDE).update(
        state=state, answer=words.strip(), answered_at=timezone.now(), answered_by=by
    )
    if not closed:
        raise AnswerError(_("This remark was taken in already, or its reader has taken it back."))


def _in_state(remark: ReaderRemark, *states: RemarkState) -> QuerySet[ReaderRemark]:
    return ReaderRemark.objects.filter(pk=remark.pk, state__in=states, withdrawn_at=None)
