"""The examples that stand on the pages of the checks."""

from __future__ import annotations

import re
from textwrap import dedent

from craft.techedit.registry import Check

HEADS = ("Why", "Wrong", "Right", "Limits")


def part(check: Check, head: str) -> str:
    """The text under one of the page's heads, "" where the page lacks it."""
    found = re.search(rf"^{head}:[ \n](.*?)(?=^\w+:|\Z)", check.page, re.MULTILINE | re.DOTALL)
    return dedent(found[1]).strip() if found else ""


def example(check: Check, head: str) -> str:
    """The example under Wrong or Right: the indented block, "" where it is told in words."""
    found = re.search(rf"^{head}:\n((?:    .*\n?|\n)+)", check.page, re.MULTILINE)
    return dedent(found[1]).strip() + "\n" if found else ""
