"""Fibre content of a piece. Sums by hand beside each check."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from orders.fibre_content import FibreShare, fibre_content

WORSTED = (("wool", 800), ("nylon", 200))
COTTON = (("cotton", 1000),)


def test_one_yarn_is_what_its_band_says() -> None:
    content = fibre_content([("Tideline", 86_000, WORSTED)])
    assert content.shares == (FibreShare("wool", 80), FibreShare("nylon", 20))


def test_yarns_count_by_their_mass_heaviest_fibre_first() -> None:
    """30 g of 80/20 wool and 70 g of cotton: 70 cotton, 24 wool, 6 nylon."""
    content = fibre_content([("Tideline", 30_000, WORSTED), ("Breakwater", 70_000, COTTON)])
    assert [(each.name, each.per_cent) for each in content.shares] == [
        ("cotton", 70),
        ("wool", 24),
        ("nylon", 6),
    ]


def test_per_cents_add_to_a_hundred() -> None:
    """Three equal thirds: 33 each, and the first by name gets the one that is left."""
    thirds = [(name, 10_000, ((name, 1000),)) for name in ("wool", "silk", "linen")]
    content = fibre_content(thirds)
    assert [(each.name, each.per_cent) for each in content.shares] == [
        ("linen", 34),
        ("silk", 33),
        ("wool", 33),
    ]


def test_a_yarn_that_nobody_knows_leaves_the_whole_not_known() -> None:
    content = fibre_content([("Tideline", 86_000, WORSTED), ("Mystery pink", 1_000, ())])
    assert (content.shares, content.unknown) == ((), ("Mystery pink",))


def test_nothing_taken_is_nothing_known() -> None:
    assert fibre_content([]).shares == ()


fibres = st.lists(st.sampled_from(["wool", "nylon", "cotton", "silk"]), min_size=1, max_size=3, unique=True)


@given(st.lists(st.tuples(st.integers(1, 500_000), fibres), min_size=1, max_size=5))
def test_shares_always_add_up_and_fall(yarns: list[tuple[int, list[str]]]) -> None:
    mixed = [
        (f"yarn {number}", mass, [(name, 1000 // len(names)) for name in names])
        for number, (mass, names) in enumerate(yarns)
    ]
    shares = [each.per_cent for each in fibre_content(mixed).shares]
    assert sum(shares) == 100
    assert all(first >= second for first, second in pairwise(shares))
