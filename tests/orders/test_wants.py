"""What batches ask the yarn room for: pieces without yarn, by what one piece takes."""

from collections.abc import Callable

from orders.models import Batch, Piece
from orders.wants import batch_wants
from yarns.models import Colour, Lot
from yarns.wanted import wanted


def test_a_planned_batch_asks_for_all_its_pieces(
    plan: Callable[..., Batch], beanie: Piece, navy: Colour
) -> None:
    batch = plan(beanie, 12)
    (want,) = batch_wants()
    assert (want.thing, want.count, want.label) == (("colour", navy.pk), 600_000, str(batch))
    assert wanted() == {("colour", navy.pk): [want]}


def test_what_is_reserved_is_not_asked_for_again(
    begin: Callable[..., Batch], beanie: Piece, navy_lot: Lot
) -> None:
    begin(beanie, 20)  # 700 g serve fourteen
    (want,) = batch_wants()
    assert want.count == 6 * 50_000
