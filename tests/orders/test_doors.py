"""Every view at its door: a stranger, a wrong role, a wrong method. What each does is in its own file."""

from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse

from orders.models import Batch, Fair, Piece
from orders.urls import urlpatterns

EVERYBODY = {"owner", "designer", "seller", "assistant"}
SELLING = {"owner", "seller"}
GET, POST, BOTH = "get", "post", "both"

VIEWS: dict[str, tuple[set[str], str]] = {
    "overview": (EVERYBODY, GET),
    "rates": (SELLING, BOTH),
    "labels": (SELLING, BOTH),
    "pieces": (SELLING | {"designer"}, GET),
    "piece": (SELLING | {"designer"}, GET),
    "piece_new": (SELLING, BOTH),
    "piece_edit": (SELLING, BOTH),
    "piece_price": (SELLING, POST),
    "batches": (EVERYBODY, GET),
    "batch": (EVERYBODY, GET),
    "batch_sheet": (EVERYBODY, GET),
    "batch_tags": (SELLING | {"assistant"}, GET),
    "batch_new": (SELLING, BOTH),
    "batch_edit": (SELLING, BOTH),
    "batch_start": (SELLING, POST),
    "batch_reserve": (SELLING, POST),
    "batch_take": (SELLING | {"assistant"}, POST),
    "batch_time": (EVERYBODY, POST),
    "batch_time_out": (EVERYBODY, POST),
    "batch_finish": (SELLING, BOTH),
    "batch_cancel": (SELLING, BOTH),
    "batch_lesson": (SELLING, POST),
    "timer": (EVERYBODY, GET),
    "timer_start": (EVERYBODY, POST),
    "timer_pause": (EVERYBODY, POST),
    "timer_stop": (EVERYBODY, POST),
    "timer_discard": (EVERYBODY, POST),
    "fairs": (SELLING, GET),
    "fair": (SELLING, GET),
    "fair_new": (SELLING, BOTH),
    "fair_strike": (SELLING, POST),
    "fair_plan": (SELLING, BOTH),
    "fair_result": (SELLING, BOTH),
    "fair_edit": (SELLING, BOTH),
}
CLOSED = [(name, role) for name, (roles, _how) in VIEWS.items() for role in sorted(EVERYBODY - roles)]
OPEN = [(name, role) for name, (roles, how) in VIEWS.items() if how != POST for role in sorted(roles)]


@pytest.fixture
def address(beanie: Piece, fair: Fair, plan: Callable[..., Batch]) -> Callable[[str], str]:
    batch = plan(beanie, 12)
    arguments: dict[str, object] = {"piece": beanie.pk, "fair": fair.pk, "batch": batch.code}

    def find(name: str) -> str:
        bare = name.removesuffix("_new")
        kind = name.split("_", maxsplit=1)[0]
        needs = kind in arguments and bare == name
        more = [1] if name == "batch_time_out" else []
        return reverse(f"orders:{name}", args=[arguments[kind], *more] if needs else [])

    return find


def test_every_view_of_the_room_is_here() -> None:
    assert {pattern.name for pattern in urlpatterns} == set(VIEWS)  # type: ignore[union-attr]  # plain paths


@pytest.mark.parametrize(("name", "role"), OPEN)
def test_it_opens(
    name: str, role: str, address: Callable[[str], str], request: pytest.FixtureRequest
) -> None:
    client: Client = request.getfixturevalue(f"{role}_client")
    expected = 409 if name == "batch_finish" else 200  # it is not started yet
    assert client.get(address(name)).status_code == expected


@pytest.mark.parametrize("name", VIEWS)
def test_a_stranger_is_sent_to_sign_in(
    name: str, address: Callable[[str], str], stranger_client: Client
) -> None:
    url = address(name)
    response = stranger_client.post(url) if VIEWS[name][1] == POST else stranger_client.get(url)
    assert response.status_code == 302
    assert response["Location"] == f"/sign-in/?next={url}"


@pytest.mark.parametrize(("name", "role"), CLOSED)
def test_a_wrong_role_is_refused(
    name: str, role: str, address: Callable[[str], str], request: pytest.FixtureRequest
) -> None:
    client: Client = request.getfixturevalue(f"{role}_client")
    assert client.get(address(name)).status_code == 403
    assert client.post(address(name)).status_code == 403
    assert Batch.objects.get().state == "planned"


@pytest.mark.parametrize("name", [name for name, (_roles, how) in VIEWS.items() if how != BOTH])
def test_a_wrong_method_is_refused(name: str, address: Callable[[str], str], owner_client: Client) -> None:
    url = address(name)
    response = owner_client.get(url) if VIEWS[name][1] == POST else owner_client.post(url)
    assert response.status_code == 405


@pytest.mark.parametrize("name", [name for name, (_roles, how) in VIEWS.items() if how == BOTH])
def test_forms_take_no_other_method(name: str, address: Callable[[str], str], owner_client: Client) -> None:
    assert owner_client.delete(address(name)).status_code == 405


@pytest.mark.parametrize(
    "path",
    ["pieces/999/", "pieces/999/edit/", "batches/ZZZZZZZZ/", "batches/ZZZZZZZZ/sheet/", "fairs/999/"],
)
def test_what_is_not_there_is_not_found(path: str, owner_client: Client, studio: object) -> None:
    assert owner_client.get(f"/desk/orders/{path}").status_code == 404
