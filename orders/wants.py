"""What open batches will take that nothing is reserved for yet, for the yarn room's shopping list."""

from collections.abc import Iterator

from orders.models import Batch, BatchState
from orders.planning import needs_of
from yarns.wanted import ThingKey, Wanted


def batch_wants() -> Iterator[Wanted]:
    """For every piece without reserved yarn, what one piece takes. A constant number of queries."""
    batches = Batch.objects.filter(state__in=(BatchState.PLANNED, BatchState.STARTED)).select_related("piece")
    for batch in batches.prefetch_related("piece__yarns__colour__yarn", "piece__extras__supply"):
        pieces = batch.quantity - batch.covered
        for need in needs_of(batch.piece.yarns.all(), batch.piece.extras.all()):
            thing: ThingKey = ("colour", need.what.pk) if need.is_yarn else ("supply", need.what.pk)
            yield Wanted(thing, pieces * need.each.count, str(batch))
