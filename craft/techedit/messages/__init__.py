"""The sentences of the technical edit.

A sentence is found by its key: the check's slug, or "slug/variant". `{name}` takes a value as it stands,
`{name:stitch}` a number with its noun ("1 stitch", "3 stitches"). `say(..., translate=gettext)` puts
another language in; `N_` marks what translators have to see, without needing Django.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from string import Formatter

from craft.techedit.messages import colour, editions, facts, instructions, language, structure
from craft.techedit.messages.marker import N_

__all__ = ["MESSAGES", "NOUNS", "N_", "say"]

Translate = Callable[[str], str]

NOUNS: dict[str, tuple[str, str]] = {
    "ball": (N_("{n} ball"), N_("{n} balls")),
    "chain": (N_("{n} chain"), N_("{n} chains")),
    "end": (N_("{n} end"), N_("{n} ends")),
    "hole": (N_("{n} hole"), N_("{n} holes")),
    "leg": (N_("{n} leg"), N_("{n} legs")),
    "line": (N_("{n} line"), N_("{n} lines")),
    "loop": (N_("{n} loop"), N_("{n} loops")),
    "number": (N_("{n} number"), N_("{n} numbers")),
    "piece": (N_("{n} piece"), N_("{n} pieces")),
    "place": (N_("{n} place"), N_("{n} places")),
    "round": (N_("{n} round"), N_("{n} rounds")),
    "row": (N_("{n} row"), N_("{n} rows")),
    "size": (N_("{n} size"), N_("{n} sizes")),
    "space": (N_("{n} space"), N_("{n} spaces")),
    "stitch": (N_("{n} stitch"), N_("{n} stitches")),
    "time": (N_("{n} time"), N_("{n} times")),
    "yarnover": (N_("{n} yarn over"), N_("{n} yarn overs")),
}

MESSAGES: dict[str, str] = {
    **facts.MESSAGES,
    **language.MESSAGES,
    **structure.MESSAGES,
    **instructions.MESSAGES,
    **colour.MESSAGES,
    **editions.MESSAGES,
}


class _Nouns(Formatter):
    """A formatter that writes numbers with their nouns."""

    def __init__(self, translate: Translate) -> None:
        self._translate = translate

    def format_field(self, value: object, format_spec: str) -> str:
        if format_spec not in NOUNS:
            return str(value)
        singular, plural = NOUNS[format_spec]
        words = self._translate(singular if str(value) == "1" else plural)
        return words.format(n=value)


def say(key: str, values: Iterable[tuple[str, str]], translate: Translate = str) -> str:
    """The sentence of a finding, in the language of `translate`."""
    return _Nouns(translate).vformat(translate(MESSAGES[key]), (), dict(values))
