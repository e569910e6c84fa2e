"""Shopping list, orders to suppliers, parcels against them, and what each refuses."""

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from workroom.models import Person, Studio
from workroom.selectors import local_today
from yarns.amounts import grams
from yarns.models import Colour, Lot, Parcel, Purchase, RestockRule, Supplier, Supply
from yarns.purchases import Wish, lines_of, order_things
from yarns.restocking import shopping_lists


@pytest.fixture
def purchase(assistant: Person, harbour_shop: Supplier, navy: Colour, studio: Studio) -> Purchase:
    return order_things(harbour_shop, [Wish(navy, grams(500))], assistant, "order", ordered_on=local_today())


@pytest.fixture
def due(navy: Colour, navy_lot: Lot, studio: Studio) -> Colour:
    """Navy is to be ordered when no more than 600 g are there."""
    RestockRule.objects.create(colour=navy, minimum=600_000)
    return navy


def address(name: str, *arguments: object) -> str:
    return reverse(f"yarns:{name}", args=arguments)


def sent(client: Client, where: str, **facts: str) -> HttpResponse:
    return client.post(where, facts)  # type: ignore[return-value]  # test client


def order(client: Client, thing: Colour, **facts: str) -> HttpResponse:
    ticked = {f"order-colour-{thing.pk}": "on", f"amount-colour-{thing.pk}": "5", "key": "k"}
    return sent(client, address("shopping_order"), **{**ticked, "supplier": "Sandpiper Mill", **facts})


def test_what_is_due_is_ordered(assistant_client: Client, due: Colour) -> None:
    page = assistant_client.get(address("shopping")).content.decode()
    assert "Navy" in page
    assert 'value="100 g"' in page
    response = order(assistant_client, due)
    made = Purchase.objects.get()
    assert response["Location"] == address("purchase", made.pk)
    assert [(each.line.ordered, each.line.price_minor) for each in lines_of(made)] == [(grams(500), 3250)]
    order(assistant_client, due)
    assert Purchase.objects.count() == 1
    assert shopping_lists(only_due=True) == []


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({"amount-colour-{pk}": "heaps"}, "Write how much"),
        ({"amount-colour-{pk}": "0"}, "Write an amount above nought."),
        ({"supplier": " "}, "Write who to order it from."),
    ],
)
def test_a_bad_order_comes_back_as_typed(
    assistant_client: Client, due: Colour, facts: dict[str, str], says: str
) -> None:
    response = order(assistant_client, due, **{key.format(pk=due.pk): value for key, value in facts.items()})
    assert response.status_code == 422
    assert says in response.content.decode()
    assert f'value="{facts.get(f"amount-colour-{due.pk}", "")}' in response.content.decode()
    assert not Purchase.objects.exists()


def test_an_empty_order_is_refused(assistant_client: Client, due: Colour) -> None:
    response = sent(assistant_client, address("shopping_order"), supplier="Sandpiper Mill", key="k")
    assert "Tick at least one thing to order." in response.content.decode()


def test_a_rule_is_kept_and_nonsense_is_not(assistant_client: Client, navy: Colour, studio: Studio) -> None:
    where = address("restock_rule", f"colour-{navy.pk}")
    assert sent(assistant_client, where, supplier="Sandpiper Mill", minimum="4").status_code == 302
    rule = RestockRule.objects.get()
    assert (rule.minimum, str(rule.supplier), rule.never) == (400_000, "Sandpiper Mill", False)
    assert 'value="400 g"' in assistant_client.get(where).content.decode()
    assert sent(assistant_client, where, minimum="few").status_code == 422
    assert assistant_client.get(address("restock_rule", "moon-1")).status_code == 404
    rule.refresh_from_db()
    assert rule.minimum == 400_000


def test_one_thing_more_and_its_facts(assistant_client: Client, purchase: Purchase, eyes: Supply) -> None:
    where = address("purchase", purchase.pk)
    assert "Safety eyes" in assistant_client.get(where, {"q": "safety"}).content.decode()
    add = address("purchase_add", purchase.pk)
    assert sent(assistant_client, add, what=f"supply-{eyes.pk}", how_much="many").status_code == 422
    assert sent(assistant_client, add, what=f"supply-{eyes.pk}", how_much="40", price="6").status_code == 302
    assert [str(each.line.ordered) for each in lines_of(purchase)] == ["500\u00a0g", "40 pieces"]
    facts = {"reference": "A-77", "ordered_on": "2026-05-04", "expected_on": "2026-05-01"}
    assert sent(assistant_client, where, **facts).status_code == 422
    assert sent(assistant_client, where, **{**facts, "expected_on": "2026-05-20"}).status_code == 302
    purchase.refresh_from_db()
    assert purchase.reference == "A-77"
    listed = b"".join(assistant_client.get(address("purchase_list", purchase.pk)))  # type: ignore[call-overload]  # streams
    assert b"Navy,12,06291041500213,500 g" in listed


def test_a_parcel_is_checked_against_its_order(
    assistant_client: Client, purchase: Purchase, navy: Colour
) -> None:
    response = sent(assistant_client, address("purchase_receive", purchase.pk), key="r")
    parcel = Parcel.objects.get()
    assert (response["Location"], parcel.purchase) == (address("parcel", parcel.pk), purchase)
    page = assistant_client.get(address("parcel", parcel.pk)).content.decode()
    assert "Ordered, to be checked against this parcel" in page
    step = assistant_client.get(
        address("parcel", parcel.pk), {"what": f"colour-{navy.pk}", "how_much": "500 g"}
    )
    assert 'value="500 g"' in step.content.decode()
    sent(
        assistant_client,
        address("parcel_add", parcel.pk),
        what=f"colour-{navy.pk}",
        key="one",
        how_much="3",
        dye_lot="9A",
    )
    page = assistant_client.get(address("purchases")).content.decode()
    assert "200\u00a0g" in page
    assert "300\u00a0g of 500\u00a0g came" in page


@pytest.mark.parametrize(("do", "state"), [("close", "done"), ("off", "done"), ("nonsense", "open")])
def test_a_line_is_closed_or_taken_off(
    assistant_client: Client, purchase: Purchase, do: str, state: str
) -> None:
    line = purchase.lines.get()
    where = address("purchase_line", purchase.pk, line.pk)
    assert assistant_client.get(where).status_code == 405
    assert sent(assistant_client, where, do=do).status_code == 302
    purchase.refresh_from_db()
    assert purchase.state == state


def test_buying_is_not_for_strangers_and_sellers(
    stranger_client: Client, seller_client: Client, assistant_client: Client, due: Colour, purchase: Purchase
) -> None:
    assert order(stranger_client, due).status_code == 302
    assert order(seller_client, due).status_code == 403
    for name in ("purchase_add", "purchase_receive"):
        where = address(name, purchase.pk)
        assert seller_client.post(where).status_code == 403
        assert assistant_client.get(where).status_code == 405
    assert assistant_client.get(address("shopping_order")).status_code == 405
    assert Purchase.objects.count() == 1


def test_prices_are_not_for_the_assistant(
    assistant_client: Client, owner_client: Client, due: Colour
) -> None:
    assert "about" not in assistant_client.get(address("shopping")).content.decode()
    assert "about €6.50" in owner_client.get(address("shopping")).content.decode()
