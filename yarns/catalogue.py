"""Writes to what is known of yarns: adding, changing without losing another's change, naming places."""

from collections.abc import Mapping
from typing import Any, TypeVar

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils.translation import gettext as _

from yarns.models import Colour, Lot, Place, Supplier, Supply, Yarn
from yarns.shelving import SHELF_FACTS, reshelve, write_shelf_facts

Versioned = Yarn | Colour | Supply | Lot
Named = TypeVar("Named", Place, Supplier)


class ChangedMeanwhileError(Exception):
    """Somebody else saved since the page was opened. `current`: the row as it is now."""

    def __init__(self, current: Versioned) -> None:
        self.current = current
        super().__init__(
            _(
                "Somebody changed this while you had it open. Your text is still in the fields;"
                " send it again to put it in place of theirs."
            )
        )


def change(row: Versioned, values: Mapping[str, Any], version: int) -> None:
    """Save these fields if the row is still at this version. Raises ChangedMeanwhileError."""
    kind = type(row)
    with transaction.atomic():
        changed = kind._default_manager.filter(pk=row.pk, version=version).update(  # noqa: SLF001 - the class's own
            **values, version=F("version") + 1
        )
        if not changed:
            raise ChangedMeanwhileError(kind._default_manager.get(pk=row.pk))  # noqa: SLF001 - the class's own
        row.refresh_from_db()
        _on_the_shelf(row)


def _on_the_shelf(row: Versioned) -> None:
    if isinstance(row, Lot):
        write_shelf_facts(row)
        row.save(update_fields=SHELF_FACTS)
    else:
        reshelve(row)


def place_named(name: str) -> Place | None:
    """The place of that name, made where there is none yet; None for no name."""
    return _named(Place, name)


def supplier_named(name: str) -> Supplier | None:
    """The supplier of that name, made where there is none yet; None for no name."""
    return _named(Supplier, name)


def _named(kind: type[Named], name: str) -> Named | None:
    name = " ".join(name.split())
    if not name:
        return None
    rows = kind._default_manager  # noqa: SLF001 - the class's own
    found = rows.filter(name__iexact=name).first()
    if found is not None:
        return found
    try:
        with transaction.atomic():
            return rows.create(name=name)
    except IntegrityError:  # another hand made it just now
        return rows.get(name__iexact=name)


def rename(row: Place | Supplier, values: Mapping[str, Any]) -> None:
    """Save a place's or supplier's fields, and the words of every lot that carries its name."""
    with transaction.atomic():
        for name, value in values.items():
            setattr(row, name, value)
        row.save(update_fields=list(values))
        reshelve(row)
