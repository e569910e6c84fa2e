"""A numbered line of which nothing is understood is a gap, not a rest."""

from craft.fabric import work
from craft.fabric.model import Verdict
from craft.notation import read

START = "Rnd 1: 6 sc in magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\n"


def test_a_line_not_understood_is_a_gap_and_the_count_starts_again() -> None:
    even = "Sc in each st around. (24)\n"
    text = f"{START}Rnd 3: Blorb the flange.\nRnd 4: {even}Rnd 5: {even}"
    draft = read(text)
    unread = [text[item.span.start : item.span.end] for item in draft.unread]
    _one, _two, gap, after, last = work(draft).rounds
    assert unread == ["Blorb the flange"]
    assert (gap.per_size, gap.why) == ((None,), "some words of this line were not understood")
    assert (after.verdict, after.restarted) == (Verdict.NOT_CHECKED, True)
    assert last.verdict is Verdict.AGREES


def test_a_line_that_only_closes_is_no_gap() -> None:
    rounds = work(read(f"{START}Rnd 3: Fasten off.\n")).rounds
    assert [worked.verdict for worked in rounds] == [Verdict.AGREES, Verdict.AGREES, Verdict.UNSTATED]
    assert rounds[-1].why is None
