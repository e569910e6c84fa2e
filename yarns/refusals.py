"""Why the stock book refuses an act. Each class builds its own sentence for the person."""

from django.utils.translation import gettext as _

from yarns.amounts import Amount, shown
from yarns.models import Lot


class LedgerError(Exception):
    """The stock book refuses; nothing was written. `str()` is the sentence for people."""


class LotMissingError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("That lot is not in the stock book."))


class PromiseMissingError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("That promise is not in the stock book."))


class MovementMissingError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("That movement is not in the stock book."))


class NotEnoughError(LedgerError):
    """More was asked for than is free. Figures as amounts in the lot's unit."""

    def __init__(self, lot: Lot, asked: Amount) -> None:
        self.lot_code, self.asked = lot.code, asked
        self.on_hand, self.promised, self.free = lot.on_hand, lot.set_apart, lot.free
        super().__init__(self._sentence())

    def _sentence(self) -> str:
        figures = {
            "lot": self.lot_code,
            "asked": shown(self.asked),
            "free": shown(self.free),
            "on_hand": shown(self.on_hand),
            "promised": shown(self.promised),
        }
        if self.promised.count:
            return (
                _(
                    "Lot %(lot)s has %(free)s free: %(on_hand)s on hand, %(promised)s promised."
                    " %(asked)s is more than that."
                )
                % figures
            )
        return _("Lot %(lot)s has %(on_hand)s; %(asked)s is more than that.") % figures


class PromisedMoreError(LedgerError):
    """A count or weighing found less than is promised; a promise has to go first."""

    def __init__(self, lot: Lot, found: Amount) -> None:
        self.lot_code, self.found, self.promised = lot.code, found, lot.set_apart
        super().__init__(
            _(
                "You found %(found)s, but %(promised)s of lot %(lot)s are promised."
                " Release a promise first, then book what you found."
            )
            % {"found": shown(found), "promised": shown(self.promised), "lot": lot.code}
        )


class WrongUnitError(LedgerError):
    def __init__(self, lot: Lot, amount: Amount) -> None:
        super().__init__(
            _("Lot %(lot)s is kept %(unit)s, so %(amount)s can't be booked on it.")
            % {"lot": lot.code, "unit": lot.on_hand.unit.label, "amount": shown(amount)}
        )


class NothingToMoveError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("Give an amount above nought."))


class KeyUsedError(LedgerError):
    """One idempotency key for two different acts: a fault of the caller."""

    def __init__(self, key: str) -> None:
        self.key = key
        super().__init__(
            _("This form was already used for another entry. Open the page again and repeat it.")
        )


class BookMovedError(LedgerError):
    """Somebody booked on the lot since the page was opened."""

    def __init__(self, lot: Lot, seen: Amount) -> None:
        self.seen, self.now = seen, lot.on_hand
        super().__init__(
            _(
                "Lot %(lot)s stood at %(seen)s when you opened this page and stands at %(now)s now."
                " Look at its last entries, then send your figure again."
            )
            % {"lot": lot.code, "seen": shown(seen), "now": shown(self.now)}
        )


class PromiseClosedError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("That promise is closed: it was kept or released already."))


class AlreadyUndoneError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("That entry was undone already."))


class CantUndoError(LedgerError):
    def __init__(self) -> None:
        super().__init__(_("An undoing is not undone again. Book the entry anew instead."))
