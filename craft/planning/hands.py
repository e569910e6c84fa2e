"""Hours at the hook against the days that are left. Whole minutes and dates; no database, no clock.

The break figures are makers' own advice, not medicine: stop every 30 to 45 minutes and rest for 5 to 10
(a physical therapist who knits, sfsportspinephysicaltherapy.wordpress.com/tag/epicondylitis). Evidence
is thin: a Cochrane review of 2019 with six trials of low quality found no clear effect of extra breaks
on pain (evidenceaid.org, work-break schedules for preventing musculoskeletal symptoms and disorders).
So they are settings.
"""

from dataclasses import dataclass
from datetime import date

__all__ = ["HandsPlan", "plan_hands"]


@dataclass(frozen=True, slots=True)
class HandsPlan:
    """`days`: days left including today and the due day (None: no due day, 0: it is past).

    `a_day`: minutes a day to be done in time, or the day's limit where there is no due day.
    `sessions`: stretches at the hook that make up such a day, a break between each.
    `days_needed`: days at the day's limit. `over_limit`: in time only by working more than the limit.
    """

    total: int
    days: int | None
    a_day: int
    sessions: int
    session: int
    rest: int
    limit: int
    days_needed: int
    over_limit: bool

    @property
    def with_breaks(self) -> int:
        """Minutes from the first stitch of such a day to the last."""
        return self.a_day + max(0, self.sessions - 1) * self.rest


def plan_hands(
    total: int, *, today: date, due: date | None, session: int, rest: int, limit: int
) -> HandsPlan:
    """Spread `total` minutes over the days to `due`, in sessions of `session` minutes."""
    days = None if due is None else max(0, (due - today).days + 1)
    needed = -(-total // limit)
    a_day = min(total, limit) if not days else -(-total // days)
    over = days is not None and needed > days
    return HandsPlan(total, days, a_day, -(-a_day // session), session, rest, limit, needed, over_limit=over)
