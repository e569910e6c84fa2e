"""Hours against days. The sums are done by hand beside each check."""

from datetime import date

from craft.planning.hands import plan_hands

TODAY = date(2026, 5, 2)


def test_twelve_pieces_are_spread_over_the_days_to_the_fair() -> None:
    # 12 x 85 min = 1,020 min; 2 to 14 May are 13 days; 78.5 min a day, in three stretches of 30
    plan = plan_hands(1020, today=TODAY, due=date(2026, 5, 14), session=30, rest=10, limit=180)
    assert (plan.days, plan.a_day, plan.sessions, plan.with_breaks) == (13, 79, 3, 99)
    assert (plan.days_needed, plan.over_limit) == (6, False)


def test_more_hours_than_the_days_hold_is_said() -> None:
    plan = plan_hands(1020, today=TODAY, due=date(2026, 5, 4), session=30, rest=10, limit=180)
    assert (plan.days, plan.a_day, plan.days_needed, plan.over_limit) == (3, 340, 6, True)


def test_without_a_due_day_the_limit_of_a_day_counts() -> None:
    plan = plan_hands(400, today=TODAY, due=None, session=45, rest=5, limit=180)
    assert (plan.days, plan.a_day, plan.sessions, plan.days_needed) == (None, 180, 4, 3)
    assert plan.over_limit is False


def test_a_due_day_in_the_past_leaves_no_days() -> None:
    plan = plan_hands(60, today=TODAY, due=date(2026, 5, 1), session=30, rest=10, limit=180)
    assert (plan.days, plan.over_limit, plan.a_day) == (0, True, 60)


def test_nothing_left_to_do_needs_no_day() -> None:
    plan = plan_hands(0, today=TODAY, due=TODAY, session=30, rest=10, limit=180)
    assert (plan.a_day, plan.sessions, plan.with_breaks, plan.over_limit) == (0, 0, 0, False)
