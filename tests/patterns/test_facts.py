"""/desk/patterns/<slug>/facts/: facts and sizes."""

from typing import Any

import pytest
from django.test import Client

from patterns.models import Pattern
from patterns.services import facts_save

ADDRESS = "/desk/patterns/net-band/facts/"


def posted(pattern: Pattern, **changes: Any) -> dict[str, Any]:
    """The form as the page sends it, with changes."""
    sizes = list(pattern.sizes.all())
    data: dict[str, Any] = {
        "seen": str(pattern.facts_edit), "title": pattern.title, "kind": "hat", "terms": "us",
        "level": "easy", "hook": "5", "gauge_stitches": "14", "gauge_rows": "16", "gauge_over_cm": "10",
        "gauge_stitch": "sc", "gauge_in_round": "true", "gauge_after_washing": "unknown",
        "small_parts": "false", "youngest_months": "12", "longest_cord_cm": "7.5", "load_tested_kg": "",
        "sizes-TOTAL_FORMS": str(len(sizes) + 1), "sizes-INITIAL_FORMS": str(len(sizes)),
    }  # fmt: skip
    for place, size in enumerate(sizes):
        data |= {
            f"sizes-{place}-id": str(size.pk), f"sizes-{place}-label": size.label,
            f"sizes-{place}-finished": size.finished, f"sizes-{place}-ORDER": str(place + 1),
        }  # fmt: skip
    return data | changes


def test_it_works(designer_client: Client, full_pattern: Pattern) -> None:
    answer = designer_client.post(ADDRESS, posted(full_pattern, title="Wide Band", hook="5.5 mm"))
    assert answer.status_code == 302
    full_pattern.refresh_from_db()
    assert (full_pattern.title, full_pattern.hook_um, full_pattern.facts_edit) == ("Wide Band", 5500, 1)
    assert (full_pattern.gauge_stitches_tenths, full_pattern.gauge_over_mm) == (140, 100)
    assert (full_pattern.gauge_in_round, full_pattern.gauge_after_washing) == (True, None)
    assert (full_pattern.youngest_months, full_pattern.small_parts) == (12, False)
    assert full_pattern.longest_cord_mm == 75


def test_what_was_saved_is_what_the_page_shows(designer_client: Client, full_pattern: Pattern) -> None:
    designer_client.post(ADDRESS, posted(full_pattern))
    page = designer_client.get(ADDRESS).content.decode()
    for part in (
        '<option value="true" selected>in the round</option>',
        '<option value="unknown" selected>not said</option>',
        '<option value="false" selected>no, none</option>',
        '<option value="12" selected>Children from 1 year</option>',
        'value="7.5"',
        'value="14"',
    ):
        assert part in page, part


def test_a_size_is_added_renamed_moved_and_taken_away(designer_client: Client, full_pattern: Pattern) -> None:
    changes = {
        "sizes-0-label": "Small", "sizes-1-DELETE": "on", "sizes-2-ORDER": "1", "sizes-0-ORDER": "2",
        "sizes-3-label": "Extra Large", "sizes-3-ORDER": "3",
    }  # fmt: skip
    assert designer_client.post(ADDRESS, posted(full_pattern, **changes)).status_code == 302
    assert list(full_pattern.sizes.values_list("key", "label")) == [
        ("l", "L"), ("s", "Small"), ("extra-large", "Extra Large"),
    ]  # fmt: skip


def test_a_stranger_and_the_wrong_roles_get_nothing(
    stranger_client: Client, seller_client: Client, assistant_client: Client, full_pattern: Pattern
) -> None:
    assert stranger_client.post(ADDRESS, posted(full_pattern, title="x")).status_code == 302
    for client in (seller_client, assistant_client):
        assert client.post(ADDRESS, posted(full_pattern, title="x")).status_code == 403
    full_pattern.refresh_from_db()
    assert full_pattern.title == "Net Band"


def test_other_methods_are_refused(designer_client: Client, full_pattern: Pattern) -> None:
    assert designer_client.put(ADDRESS).status_code == 405


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"title": ""}, "This field is required."),
        ({"hook": "thick"}, "Write the hook in mm, such as 5 or 5.5."),
        ({"hook": "99"}, "Hooks run from 0.4 to 50 mm."),
        ({"gauge_stitches": "many"}, "Enter a number."),
        ({"gauge_stitches": "0"}, "Ensure this value is greater than or equal to 0.5."),
        ({"gauge_over_cm": "0"}, "Ensure this value is greater than or equal to 1."),
        ({"kind": "spaceship"}, "Select a valid choice."),
        ({"longest_cord_cm": "-4"}, "Ensure this value is greater than or equal to 0."),
        ({"sizes-1-label": "s"}, "Two rows are called S. Give each its own."),
        ({"sizes-1-label": ""}, "This field is required."),
    ],
)
def test_bad_input_is_refused_and_nothing_changed(
    designer_client: Client, full_pattern: Pattern, change: dict[str, str], says: str
) -> None:
    answer = designer_client.post(ADDRESS, posted(full_pattern, **({"introduction": "my words"} | change)))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert "my words" in page
    full_pattern.refresh_from_db()
    assert (full_pattern.introduction, full_pattern.facts_edit) == ("A band.", 0)
    assert full_pattern.sizes.count() == 3


def test_a_letter_sold_in_several_sizes_asks_for_mm(designer_client: Client, full_pattern: Pattern) -> None:
    """US G is sold as 4 and as 4.25 mm, H as 5 mm: the hook table in craft.standards."""
    answer = designer_client.post(ADDRESS, posted(full_pattern, hook="G"))
    assert answer.status_code == 422
    assert "G is sold in more than one size: 4 mm" in answer.content.decode()
    assert designer_client.post(ADDRESS, posted(full_pattern, hook="H")).status_code == 302
    full_pattern.refresh_from_db()
    assert full_pattern.hook_um == 5000


def test_the_later_of_two_sees_what_is_saved_and_keeps_their_own(
    designer_client: Client, full_pattern: Pattern
) -> None:
    mine = posted(full_pattern, introduction="Mine.")
    facts_save(full_pattern, seen=0, values={"introduction": "Theirs."}, sizes=list(full_pattern.sizes.all()))
    mine |= {f"sizes-{n}-id": str(size.pk) for n, size in enumerate(full_pattern.sizes.all())}
    answer = designer_client.post(ADDRESS, mine)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Theirs." in page
    assert "Mine." in page
    assert 'name="seen" value="1"' in page
    full_pattern.refresh_from_db()
    assert full_pattern.introduction == "Theirs."
