"""Every pair of colours that meets on a page reads at WCAG 2.2 level AA, light and dark."""

import re
from pathlib import Path

import pytest

from workroom.colour import EDGE_AA, TEXT_AA, contrast

CSS = (Path(__file__).parents[2] / "static" / "hookledger.css").read_text(encoding="utf-8")
GROUNDS = ("paper", "paper-deep", "card")
LETTERS = ("ink", "ink-soft", "woad", "madder", "weld", "walnut")
DYES = ("woad", "madder", "weld", "walnut")


def tokens(selector: str) -> dict[str, str]:
    block = CSS.split(selector + " {", 1)[1].split("}", 1)[0]
    return dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})", block))


LIGHT = tokens(":root")
DARK = tokens('[data-theme="dark"]')
THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])


def test_the_dark_setting_and_the_dark_device_show_the_same_colours() -> None:
    assert tokens('[data-theme="system"]') == DARK


@THEMES
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("letters", LETTERS)
def test_text_reads_on_every_ground(theme: dict[str, str], letters: str, ground: str) -> None:
    assert contrast(theme[letters], theme[ground]) >= TEXT_AA


@THEMES
@pytest.mark.parametrize("dye", DYES)
def test_a_dye_reads_on_its_own_tint_and_under_its_letters(theme: dict[str, str], dye: str) -> None:
    assert contrast(theme[dye], theme[f"{dye}-soft"]) >= TEXT_AA
    assert contrast(theme["ink"], theme[f"{dye}-soft"]) >= TEXT_AA
    assert contrast(theme["on-dye"], theme[dye]) >= TEXT_AA


@THEMES
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("edge", ["line-strong", "focus"])
def test_edges_of_controls_and_focus_are_seen(theme: dict[str, str], edge: str, ground: str) -> None:
    assert contrast(theme[edge], theme[ground]) >= EDGE_AA
