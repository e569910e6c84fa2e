"""/desk/patterns/<slug>/materials/: yarns, notions, and what they come to."""

from typing import Any

import pytest
from django.test import Client

from patterns.models import Pattern
from patterns.services import materials_save
from yarns.models import Colour, Yarn

ADDRESS = "/desk/patterns/net-band/materials/"


def posted(pattern: Pattern, **changes: Any) -> dict[str, Any]:
    row = pattern.yarns.get()
    return {
        "seen": str(pattern.facts_edit),
        "yarns-TOTAL_FORMS": "2", "yarns-INITIAL_FORMS": "1", "yarns-0-id": str(row.pk),
        "yarns-0-key": "A", "yarns-0-yarn": str(row.yarn_id), "yarns-0-colour": "Harbour",
        "yarns-0-strands": "1", "yarns-0-ORDER": "1", "yarns-1-strands": "1",
        "notions-TOTAL_FORMS": "1", "notions-INITIAL_FORMS": "0", "notions-0-quantity": "1",
    } | changes  # fmt: skip


def test_it_shows_what_each_size_takes(designer_client: Client, full_pattern: Pattern) -> None:
    page = " ".join(designer_client.get(ADDRESS).content.decode().split())
    assert "A: Sandpiper Mill Tideline Worsted, Harbour" in page
    assert page.count("<td>S</td>") == page.count("<td>L</td>") == 1
    assert "minutes at the hook for the largest size" in page


def test_yarns_and_notions_are_saved(designer_client: Client, full_pattern: Pattern, yarn: Yarn) -> None:
    shade = Colour.objects.create(yarn=yarn, name="Foam")
    changes = {
        "yarns-1-key": "b", "yarns-1-shade": str(shade.pk), "yarns-1-yarn": str(yarn.pk),
        "yarns-1-strands": "2", "notions-0-text": "buttons", "notions-0-quantity": "3",
        "notions-0-price": "1.25",
    }  # fmt: skip
    assert designer_client.post(ADDRESS, posted(full_pattern, **changes)).status_code == 302
    assert list(full_pattern.yarns.values_list("key", "strands", "shade__name")) == [
        ("A", 1, None), ("B", 2, "Foam"),
    ]  # fmt: skip
    assert list(full_pattern.notions.values_list("text", "quantity", "price_minor")) == [("buttons", 3, 125)]


def test_a_row_is_taken_away(designer_client: Client, full_pattern: Pattern) -> None:
    answer = designer_client.post(ADDRESS, posted(full_pattern, **{"yarns-0-DELETE": "on"}))
    assert answer.status_code == 302
    assert not full_pattern.yarns.exists()


def test_a_stranger_and_the_wrong_roles_get_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client, full_pattern: Pattern
) -> None:
    data = posted(full_pattern, **{"yarns-0-DELETE": "on"})
    assert stranger_client.post(ADDRESS, data).status_code == 302
    for client in (seller_client, assistant_client):
        assert client.post(ADDRESS, data).status_code == 403
    assert full_pattern.yarns.count() == 1


def test_other_methods_are_refused(designer_client: Client, full_pattern: Pattern) -> None:
    assert designer_client.delete(ADDRESS).status_code == 405


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"yarns-0-strands": "0"}, "Ensure this value is greater than or equal to 1."),
        ({"yarns-0-key": "a b"}, "Enter a valid value."),
        ({"yarns-1-key": "A"}, "Two rows are called A. Give each its own."),
        ({"yarns-0-yarn": "999"}, "Select a valid choice."),
        ({"notions-0-text": "buttons", "notions-0-price": "much"}, "notions-0-price"),
        ({"notions-0-text": "buttons", "notions-0-quantity": "-1"}, "greater than or equal to 0"),
    ],
)
def test_bad_input_is_refused_and_nothing_changed(
    designer_client: Client, full_pattern: Pattern, change: dict[str, str], says: str
) -> None:
    changes = {"yarns-0-alternatives": "my words"} | change
    answer = designer_client.post(ADDRESS, posted(full_pattern, **changes))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert "my words" in page
    assert full_pattern.yarns.get().alternatives == ""
    assert not full_pattern.notions.exists()


def test_the_later_of_two_keeps_their_own_in_the_form(designer_client: Client, full_pattern: Pattern) -> None:
    mine = posted(full_pattern, **{"yarns-0-alternatives": "mine"})
    materials_save(full_pattern, seen=0, yarns=list(full_pattern.yarns.all()), notions=[])
    mine["yarns-0-id"] = str(full_pattern.yarns.get().pk)
    answer = designer_client.post(ADDRESS, mine)
    assert answer.status_code == 409
    assert 'value="mine"' in answer.content.decode()
    assert full_pattern.yarns.get().alternatives == ""
