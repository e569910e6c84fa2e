"""A draft without a text of its own, as one built from values: all of it written from the tree."""

from __future__ import annotations

from craft.notation.tree import NOWHERE, ONE, Draft, HouseRules, Line, Section
from craft.notation.writing.lines import line_words
from craft.notation.writing.pen import Pen, numbers

__all__ = ["compose", "has_a_text"]


def has_a_text(draft: Draft) -> bool:
    """Whether every line of the draft stands in its text."""
    lines = (line for section in draft.sections for line in section.lines)
    return bool(draft.text) and all(line.span != NOWHERE for line in lines)


def compose(pen: Pen, draft: Draft) -> str:
    """Facts, rules, and the lines of every section; remarks and notes have no words here."""
    parts = [f"{fact.name.capitalize()}: {fact.value}" for fact in draft.facts]
    if draft.sizes and all(fact.name != "sizes" for fact in draft.facts):
        parts.append(f"Sizes: {draft.sizes[0]} ({', '.join(draft.sizes[1:])})")
    parts += _rules(draft.rules)
    parts += [_section(pen, section, draft.sizes) for section in draft.sections]
    return "\n\n".join(parts) + "\n"


def _rules(rules: HouseRules) -> list[str]:
    """Such as "Note: Ch 3 at beg counts as a st throughout."."""
    said = [
        f"Note: {f'Ch {length}' if length else 'Turning ch'} "
        f"{'counts' if counts else 'does not count'} as a st throughout."
        for length, counts in rules.chain_counts
    ]
    return said if rules.joined is not False else [*said, "Note: Work in a spiral throughout."]


def _section(pen: Pen, section: Section, sizes: tuple[str, ...]) -> str:
    parts: list[str] = []
    if section.title:
        made = "" if section.make == ONE or "make" in section.title else f" (make {numbers(section.make)})"
        parts.append(f"{section.title}{made}\n")
    only: tuple[int, ...] = ()
    for line in section.lines:
        if not isinstance(line, Line):
            continue
        if line.label.sizes != only:
            only = line.label.sizes
            parts.append(_sizes_mark(only, sizes))
        parts.append(line_words(pen, line))
    return "\n".join(parts)


def _sizes_mark(only: tuple[int, ...], sizes: tuple[str, ...]) -> str:
    if not only:
        return "All sizes:"
    names = [sizes[position] for position in only]
    if len(names) == 1:
        return f"Size {names[0]} only:"
    return f"Sizes {', '.join(names[:-1])} and {names[-1]} only:"
