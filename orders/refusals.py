"""Why the orders room refuses. Each class builds its own sentence; nothing was written."""

from django.utils.translation import gettext as _

from orders.models import Batch, BatchState


class OrderRefusedError(Exception):
    """Nothing was written. `str()` is the sentence for people."""


class BatchNotPlannedError(OrderRefusedError):
    """Only a planned batch can be started."""

    def __init__(self, batch: Batch) -> None:
        if batch.state == BatchState.STARTED:
            who = batch.started_by.name if batch.started_by else _("Somebody")
            sentence = _("%(who)s has started this batch already; nothing was reserved twice.")
            super().__init__(sentence % {"who": who})
        else:
            super().__init__(_("This batch is %s and can't be started.") % batch.get_state_display())


class BatchClosedError(OrderRefusedError):
    """A finished or cancelled batch takes no more yarn, time or counts."""

    def __init__(self, batch: Batch) -> None:
        super().__init__(_("This batch is %s; nothing was changed.") % batch.get_state_display())


class BatchNotStartedError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("Start this batch first: it has no yarn reserved yet."))


class PlanMovedError(OrderRefusedError):
    """Stock moved between the look at the plan and the start."""

    def __init__(self) -> None:
        super().__init__(
            _(
                "The shelf has changed since you opened this page, so other lots would be taken than"
                " the page showed. Look at the new plan below, then start again. Nothing was reserved."
            )
        )


class BatchNotFinishedError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("Finish the batch first, with what was used and the time it took."))


class NothingToReserveError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("The shelf has no yarn for another piece of this batch."))


class NothingMadeError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("Write how many came off the hook. If there are none, cancel the batch instead."))


class EditedMeanwhileError(OrderRefusedError):
    """Somebody saved since the form was opened."""

    def __init__(self) -> None:
        super().__init__(
            _(
                "Somebody else saved this while you were writing. What is saved now stands beside your"
                " fields. Save again to put yours in its place, or leave the page to keep theirs."
            )
        )


class FutureTimeError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("That day has not come yet. Enter time on the day it was worked."))


class FairInUseError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("Batches are planned for this fair. Take the fair out of them first, or keep it."))


class TimerElsewhereError(OrderRefusedError):
    """One pair of hands, one timer."""

    def __init__(self, what: str) -> None:
        super().__init__(_("Your timer runs for %s already. Stop that one first.") % what)


class NoTimerError(OrderRefusedError):
    def __init__(self) -> None:
        super().__init__(_("Your timer is not running; it may have been stopped on another device."))
