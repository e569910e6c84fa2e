"""US and UK stitch names against a shop's conversion chart and a guild's lesson."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.standards.terms import STITCHES, WORDS, UnknownTermError, stitch, to_uk, to_us, uk_stitch

# Source: UK shop PDF "Crochet hook, yarn and stitch conversions"; "Crochet Terms Translation Chart", PDF.
CONVERSION_CHART = {
    "sc": "dc",
    "hdc": "htr",
    "dc": "tr",
    "tr": "dtr",
    "dtr": "trtr",
}

# Source: Crochet Guild of America, Crochet Lessons, 1997; dtr from dummies.com, turning chain.
TURNING_CHAINS = {"sl st": 0, "sc": 1, "hdc": 2, "dc": 3, "tr": 4, "dtr": 5}


@pytest.mark.parametrize(("us", "uk"), CONVERSION_CHART.items())
def test_names_follow_the_conversion_chart(us: str, uk: str) -> None:
    assert to_uk(us) == uk
    assert to_us(uk) == us


# Source: abbreviation pages of two UK books, 2015 and 2023 (dc2tog, FPtr); the rest follows from the chart.
@pytest.mark.parametrize(
    ("us", "uk"),
    [("sc2tog", "dc2tog"), ("dc2tog", "tr2tog"), ("tr2tog", "dtr2tog"), ("FPdc", "FPtr"), ("BPdc", "BPtr")],
)
def test_compound_names_shift_only_their_stitch(us: str, uk: str) -> None:
    assert to_uk(us) == uk
    assert to_us(uk) == us


@pytest.mark.parametrize(("us", "chains"), TURNING_CHAINS.items())
def test_turning_chains_follow_the_guild(us: str, chains: int) -> None:
    assert stitch(us).turning_chain == chains


def test_only_the_half_double_leaves_open_whether_its_chain_counts() -> None:
    # Source: the teaching pages under “turning chain”: sc never, dc and taller always, hdc about
    # half the time.
    counts = {us: stitch(us).turning_chain_counts for us in ("sc", "hdc", "dc", "tr", "dtr")}
    assert counts == {"sc": False, "hdc": None, "dc": True, "tr": True, "dtr": True}


def test_heights_follow_published_gauges_not_the_chain_ladder() -> None:
    # Source: medians of published gauges in one yarn on one hook: hdc 1.40 (47 groups), dc 2.00 (45 groups).
    assert (stitch("sc").height, stitch("hdc").height, stitch("dc").height) == (1.0, 1.40, 2.00)


def test_a_taller_stitch_is_taller_and_has_more_yarn_overs() -> None:
    plain = [term for term in STITCHES if term.family == "plain"]
    assert [term.height for term in plain] == sorted(term.height for term in plain)
    assert [term.yarn_overs for term in plain] == sorted(term.yarn_overs for term in plain)


def test_older_spellings_find_their_stitch() -> None:
    # Source: hobbiez.com 2006: tc and trc are old spellings of treble.
    assert stitch("trc").us == "tr"
    assert stitch("Half Double Crochet").us == "hdc"
    assert uk_stitch("ss").us == "sl st"


def test_error_names_the_word_and_the_system() -> None:
    with pytest.raises(UnknownTermError, match=r"^“htr” is not a stitch name in US terms\.$"):
        stitch("htr")
    with pytest.raises(UnknownTermError, match=r"^“sc” is not a stitch name in UK terms\.$"):
        uk_stitch("sc")


def test_skip_is_miss_and_gauge_is_tension() -> None:
    # Source: Norwegian/US/UK table of 2023 at ruleofthejewel.blog.
    pairs = {(word.us, word.uk) for word in WORDS}
    assert {("skip", "miss"), ("gauge", "tension")} <= pairs


@given(
    st.sampled_from([term.us for term in STITCHES]),
    st.sampled_from(["", "FP", "BP"]),
    st.sampled_from(["", "2tog", "5tog"]),
)
def test_translation_there_and_back_changes_nothing(us: str, post: str, together: str) -> None:
    name = f"{post}{us}{together}"
    assert to_us(to_uk(name)) == name


def test_every_row_says_where_it_comes_from() -> None:
    assert all(term.source for term in STITCHES)
