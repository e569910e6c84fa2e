from datetime import UTC, date, datetime
from unittest.mock import patch

from workroom.demo import make_cast
from workroom.models import Person, Role, Studio
from workroom.selectors import current_studio, local_today


def test_before_anybody_filled_it_in_the_studio_has_its_defaults(db: None) -> None:
    assert current_studio().name == "My studio"
    assert not Studio.objects.exists()


def test_today_is_the_date_on_the_studios_wall(studio: Studio) -> None:
    """Half past nine in the evening in London is the next morning in Auckland."""
    with patch("django.utils.timezone.now", return_value=datetime(2026, 3, 1, 21, 30, tzinfo=UTC)):
        assert local_today() == date(2026, 3, 1)
        Studio.objects.update(time_zone="Pacific/Auckland")
        assert local_today() == date(2026, 3, 2)


def test_the_demo_cast_is_made_once(db: None) -> None:
    first, second = make_cast(), make_cast()
    assert first == second
    assert Person.objects.count() == 3
    assert first.designer.roles == {Role.OWNER, Role.DESIGNER}
    assert (first.seller.roles, first.assistant.roles) == ({Role.SELLER}, {Role.ASSISTANT})
    assert not first.designer.has_usable_password()
