"""The demo's shelf adds up, names yarns that the demo's patterns need, and is made once."""

import pytest

from craft.standards.codes import read_gtin
from workroom.demo import make_cast
from yarns import demo
from yarns.audit import audit
from yarns.demo_under_way import CAME
from yarns.models import Colour, CountedLot, Lot, Movement, Parcel, Purchase, Stocktake, Yarn
from yarns.purchases import lines_of


@pytest.mark.django_db
def test_demo_is_made_once_and_adds_up() -> None:
    cast = make_cast()
    demo.make(cast)
    first = (Lot.objects.count(), Movement.objects.count(), Parcel.objects.count())
    demo.make(cast)
    assert (Lot.objects.count(), Movement.objects.count(), Parcel.objects.count()) == first
    assert first[0] == len(demo.LOTS) + len(CAME)
    (purchase,) = Purchase.objects.all()
    assert [each.outstanding.count // 1000 for each in lines_of(purchase)] == [300, 0, 400]
    assert (Stocktake.objects.get().is_open, CountedLot.objects.count()) == (True, 3)
    assert audit().faults == ()
    assert Yarn.objects.filter(name="Tideline Worsted", weight_category=4).exists()


@pytest.mark.django_db
def test_demo_barcodes_are_right_and_shares_of_postage_add_up() -> None:
    demo.make(make_cast())
    for gtin in Colour.objects.exclude(gtin="").values_list("gtin", flat=True):
        assert read_gtin(gtin) == gtin
    for parcel in Parcel.objects.all():
        assert sum(lot.postage_share_minor for lot in parcel.lots.all()) == parcel.postage_minor
