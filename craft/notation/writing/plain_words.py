"""Words that the trade does not know: the ones that a tree of steps cannot hold and a text must not lose."""

from __future__ import annotations

from functools import cache

from craft.notation.lexicon import lexicon_for
from craft.notation.tokens import raw_tokens
from craft.notation.words import wordset
from craft.notation.writing.style import Terms

__all__ = ["words_of_no_trade"]

_KEPT = frozenset(("loosely", "very"))
_SMALL = wordset(
    "are been will should you its have has there their all one ones also same this that these those when "
    "while until after before where which here each other your not made make work worked"
)


@cache
def _known(terms: Terms) -> frozenset[str]:
    """Every word that stands in a word or phrase of the lexicon, but those that say how to work."""
    lexicon = lexicon_for(terms)
    words = set(lexicon.singles)
    for head, tails in lexicon.phrases.items():
        words.add(head)
        for tail, _ in tails:
            words.update(tail)
    return frozenset(words) - _KEPT


def words_of_no_trade(text: str, terms: Terms) -> set[str]:
    """The words of three letters and more in `text` that are nobody's stitch, place or count; and marks
    of two stars, which other parts may refer to.
    """
    known = _known(terms)
    return {
        word
        for word in raw_tokens(text).words
        if (len(word) > 2 and word.isalpha() and word not in known and word not in _SMALL) or word[:2] == "**"
    }
