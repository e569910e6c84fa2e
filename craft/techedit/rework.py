"""Working a changed text: no rewrite is offered that was not read and worked first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from craft import fabric, notation
from craft.fabric.model import Fabric, Verdict, WorkedRound
from craft.notation.tree import Draft
from craft.techedit.finding import Suggestion

__all__ = ["Reworker", "fits", "rewritten"]

_MOST_TRIES = 8
_LEAST_TRIES = 2
_MOST_CHARACTERS = 60_000  # read again in all: a long pattern has fewer tries


def rewritten(text: str, changes: Iterable[Suggestion]) -> str:
    """The text with the changes made; they must not overlap."""
    for change in sorted(changes, key=lambda c: c.span, reverse=True):
        text = text[: change.span.start] + change.text + text[change.span.end :]
    return text


class Reworker:
    """Reads and works changed texts; stops after a number of tries for one pattern, fewer for a long
    one, so that a text full of slips costs no more than a clean one times a constant.
    """

    def __init__(self, draft: Draft) -> None:
        self._draft = draft
        self._tries = 0
        affordable = _MOST_CHARACTERS // max(1, len(draft.text))
        self._most = max(_LEAST_TRIES, min(_MOST_TRIES, affordable))

    @property
    def spent(self) -> bool:
        return self._tries >= self._most

    def rework(self, changes: Sequence[Suggestion]) -> Fabric | None:
        """The fabric of the changed text; None when the tries are spent."""
        if self.spent:
            return None
        self._tries += 1
        terms = self._draft.terms if self._draft.terms_from == "asked" else None
        return fabric.work(notation.read(rewritten(self._draft.text, changes), terms=terms))

    def mends(self, worked: WorkedRound, change: Suggestion) -> bool:
        """Whether a change within the line of a round makes that line fit and agree."""
        changed = self.rework([change])
        if changed is None:
            return False
        rounds = [r for r in changed.rounds if r.line.line_number == worked.line.line_number]
        return bool(rounds) and all(fits(r) for r in rounds)


def fits(worked: WorkedRound) -> bool:
    """Whether a round uses the one below exactly and its printed count, where there is one, agrees."""
    return not worked.misfits and worked.verdict in {Verdict.AGREES, Verdict.UNSTATED}
