"""The shelf as a list: what was asked for, the page of lots that answers it, and the totals."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from django.db.models import BigIntegerField, Case, Count, F, Q, QuerySet, Sum, Value, When
from django.http import QueryDict
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from craft.standards.codes import InvalidCodeError, read_gtin
from yarns.amounts import Amount, Unit
from yarns.models import Lot, Ownership, Place, SetAside
from yarns.models.catalogue import WEIGHT_CHOICES
from yarns.paging import Page, Sort, day, page_of, text, whole
from yarns.selectors import WITH_NAMES, ShelfLot, shelf_lot
from yarns.shelving import plain

PAGE_SIZE: Final = 50
MOST_WORDS: Final = 8
FEW: Final = 2000
MG_UM_PER_G_M: Final = 1000 * 1_000_000
WEIGHT_LABELS: Final = dict(WEIGHT_CHOICES)

SORTS: Final[Mapping[str, tuple[str | Promise, Sort]]] = {
    "name": (_("Name"), Sort("shelf_name", descending=False, reads=text)),
    "newest": (_("Newest first"), Sort("received_on", descending=True, reads=day)),
    "oldest": (_("Oldest first"), Sort("received_on", descending=False, reads=day)),
    "most": (_("Most on hand"), Sort("balance", descending=True, reads=whole)),
    "least": (_("Least on hand"), Sort("balance", descending=False, reads=whole)),
}

SHOWS: Final[Mapping[str, str | Promise]] = {
    "": _("On the shelf"),
    "free": _("With something free"),
    "aside": _("Set aside"),
    "customer": _("Customers’ own"),
    "supplies": _("Supplies"),
    "gone": _("Used up"),
    "all": _("Everything"),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What somebody asks the shelf for. Nonsense in the address is left out, not refused."""

    words: str = ""
    weight: int | None = None
    place_id: int | None = None
    show: str = ""
    sort: str = "name"

    @classmethod
    def read(cls, query: QueryDict) -> "Asked":
        """From the address of the page."""
        return cls(
            words=" ".join(query.get("q", "").replace("\x00", "").split())[:120],
            weight=_number(query.get("weight", ""), most=7),
            place_id=_number(query.get("place", ""), most=2**31),
            show=query.get("show", "") if query.get("show", "") in SHOWS else "",
            sort=query.get("sort", "") if query.get("sort", "") in SORTS else "name",
        )

    @property
    def whose(self) -> Ownership:
        """Whose lots are added up."""
        return Ownership.CUSTOMER if self.show == "customer" else Ownership.OURS

    @property
    def narrowed(self) -> bool:
        """Whether anything was asked for beyond the plain list."""
        return bool(self.words or self.show or self.place_id or self.weight is not None)

    def as_query(self) -> QueryDict:
        """For the links to the neighbouring pages."""
        query = QueryDict(mutable=True)
        facts = {"q": self.words, "weight": self.weight, "place": self.place_id}
        for name, value in (*facts.items(), ("show", self.show), ("sort", self.sort)):
            if value not in {None, ""} and (name, value) != ("sort", "name"):
                query[name] = str(value)
        return query


def _number(digits: str, most: int) -> int | None:
    sound = digits.isascii() and digits.isdigit() and len(digits) <= 12
    return int(digits) if sound and int(digits) <= most else None


def lots_for(asked: Asked) -> QuerySet[Lot]:
    """All lots that answer, in no order."""
    lots = Lot.objects.filter(_shown(asked.show))
    if asked.weight is not None:
        lots = lots.filter(weight_category=asked.weight)
    if asked.place_id is not None:
        lots = lots.filter(place_id=asked.place_id)
    for word in _words(asked.words):
        lots = lots.filter(search_text__contains=word)
    return lots


@dataclass(frozen=True, slots=True)
class Answer:
    """The lots that answer. `few`: they are found already, and adding them up costs nothing."""

    lots: QuerySet[Lot]
    few: bool


def answer(asked: Asked) -> Answer:
    """Look for the words once, so that neither page nor totals look again.

    A word that stands nearly everywhere is left to the page's own query, which soon has its fill.
    """
    lots = lots_for(asked)
    if not asked.words:
        return Answer(lots, few=True)
    ids = list(lots.order_by().values_list("pk", flat=True)[: FEW + 1])
    if len(ids) > FEW:
        return Answer(lots, few=False)
    return Answer(Lot.objects.filter(pk__in=ids), few=True)


def _shown(show: str) -> Q:
    here = Q(balance__gt=0)
    return {
        "": here,
        "free": Q(balance__gt=F("promised"), ownership=Ownership.OURS, set_aside=SetAside.NO),
        "aside": here & ~Q(set_aside=SetAside.NO),
        "customer": here & Q(ownership=Ownership.CUSTOMER),
        "supplies": here & Q(supply__isnull=False),
        "gone": Q(balance=0),
        "all": Q(),
    }[show]


def _words(words: str) -> list[str]:
    """What to look for; a barcode in any of its lengths is looked for as the 14 digits kept."""
    try:
        return [read_gtin(words)]
    except InvalidCodeError:
        return plain(words).split()[:MOST_WORDS]


def shelf_page(lots: QuerySet[Lot], sort_key: str, cursors: Mapping[str, str]) -> Page[Lot]:
    """One page of the list."""
    _label, sort = SORTS[sort_key]
    return page_of(lots.select_related(*WITH_NAMES), sort, PAGE_SIZE, cursors)


def as_shelf_lots(page: Page[Lot]) -> list[ShelfLot]:
    """The page's rows as values."""
    return [shelf_lot(lot) for lot in page.rows]


# ------------------------------------------------------------------------------------ totals


@dataclass(frozen=True, slots=True)
class Total:
    """A group's sum. Yarn only: pieces of different things don't add. `metres` by the labels,
    counting only lots whose label has a length; `value_minor` at cost, lots of unknown price left out.
    """

    label: str
    lots: int
    on_hand: Amount
    free: Amount
    metres: int
    value_minor: int


@dataclass(frozen=True, slots=True)
class Totals:
    """Everything that answers, then by weight category and by place."""

    all: Total
    by_weight: list[Total]
    by_place: list[Total]


@dataclass(frozen=True, slots=True)
class _Group:
    """The sums of one place and weight category. `length`: mg times micrometres a gram."""

    place_id: int | None
    weight: int | None
    lots: int
    on_hand: int
    promised: int
    length: int | None
    value_minor: int


def totals_for(
    lots: QuerySet[Lot], place_names: Mapping[int, str], *, whose: Ownership = Ownership.OURS
) -> Totals:
    """Sums over the whole answer, not only the page; one query. A customer's own is never among ours."""
    groups = _groups(lots.filter(ownership=whose))
    return Totals(
        all=_total("", groups),
        by_weight=[_total(_weight_label(key), rows) for key, rows in _split(groups, "weight")],
        by_place=[
            _total(_place_label(key, place_names), rows) for key, rows in _by_place(groups, place_names)
        ],
    )


def _groups(lots: QuerySet[Lot]) -> list[_Group]:
    rows = (
        lots.filter(supply=None)
        .order_by()
        .values_list("place_id", "weight_category")
        .annotate(
            count=Count("pk"),
            grams=Sum("balance"),
            taken=Sum("promised"),
            length=Sum(F("balance") * F("um_per_g")),
            value=Sum(_value_at_cost()),
        )
    )
    return [_Group(*row) for row in rows]


def _value_at_cost() -> Case:
    """What is left of a lot's cost, to the nearest minor unit; nought where there is no price."""
    paid = F("price_paid_minor") + F("postage_share_minor")
    left = (paid * F("balance") + F("received") / 2) / F("received")
    priced = Q(ownership=Ownership.OURS, price_paid_minor__isnull=False)
    return Case(When(priced, then=left), default=Value(0), output_field=BigIntegerField())


def _split(groups: list[_Group], by: str) -> list[tuple[int | None, list[_Group]]]:
    """The groups by one of their fields, those without it last."""
    keys = sorted({getattr(row, by) for row in groups}, key=lambda key: (key is None, key))
    return [(key, [row for row in groups if getattr(row, by) == key]) for key in keys]


def _by_place(groups: list[_Group], names: Mapping[int, str]) -> list[tuple[int | None, list[_Group]]]:
    """The groups by place, by its name."""

    def order(split: tuple[int | None, list[_Group]]) -> tuple[bool, str]:
        return split[0] is None, _place_label(split[0], names).casefold()

    return sorted(_split(groups, "place_id"), key=order)


def _weight_label(key: int | None) -> str:
    return str(_("Weight not known") if key is None else WEIGHT_LABELS[key])


def _place_label(key: int | None, names: Mapping[int, str]) -> str:
    return str(_("No place")) if key is None else names[key]


def _total(label: str, rows: list[_Group]) -> Total:
    on_hand = sum(row.on_hand for row in rows)
    promised = sum(row.promised for row in rows)
    return Total(
        label=label,
        lots=sum(row.lots for row in rows),
        on_hand=Amount(on_hand, Unit.MILLIGRAM),
        free=Amount(on_hand - promised, Unit.MILLIGRAM),
        metres=round(Fraction(sum(row.length or 0 for row in rows), MG_UM_PER_G_M)),
        value_minor=sum(row.value_minor for row in rows),
    )


def place_choices() -> list[tuple[int, str]]:
    """Places to narrow by."""
    return list(Place.objects.values_list("pk", "name"))
