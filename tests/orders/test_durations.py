"""Times as makers write them."""

import pytest

from orders.durations import DurationError, parse_minutes, plain_minutes, shown_minutes


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("85", 85),
        (" 85 min ", 85),
        ("1:25", 85),
        ("1 h 25", 85),
        ("1h25m", 85),
        ("1.5 h", 90),
        ("1,5 hours", 90),
        ("2 h", 120),
        ("0.01 h", 1),
        ("0", 0),
    ],
)
def test_every_usual_writing_is_read(text: str, minutes: int) -> None:
    assert parse_minutes(text) == minutes


@pytest.mark.parametrize("text", ["", "soon", "1:75", "1.25", "10000000", "9" * 60, "1:2:3", "½ h"])
def test_error_what_is_no_time_says_what_to_write(text: str) -> None:
    with pytest.raises(DurationError) as refusal:
        parse_minutes(text)
    assert str(refusal.value) == "Write minutes like 85, or hours and minutes like 1:25."


def test_error_negative_time_is_named() -> None:
    with pytest.raises(DurationError) as refusal:
        parse_minutes("-20")
    assert str(refusal.value) == ("Time can't be negative. Write minutes like 85, or hours like 1:25.")


@pytest.mark.parametrize(
    ("minutes", "shown", "plain"),
    [
        (0, "0\u00a0min", "0"),
        (45, "45\u00a0min", "45"),
        (60, "1\u00a0h", "1:00"),
        (85, "1\u00a0h\u00a025\u00a0min", "1:25"),
    ],
)
def test_times_are_shown_in_hours_and_minutes(minutes: int, shown: str, plain: str) -> None:
    assert shown_minutes(minutes) == shown
    assert plain_minutes(minutes) == plain
    assert parse_minutes(plain) == minutes
