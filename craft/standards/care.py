"""Care operations, in words and in the order that labels give them, and care that suits a fibre.

The symbols themselves are the property of others in many places and are not drawn here; words are
free everywhere. Sources: order wash, bleach, dry, iron, professional from the scope of ISO
3758:2012 and from SGS SafeGuardS 074/18 on ASTM D5489-18; process names from a reproduction of the
ISO tables (doublered.eu); iron temperatures from memory. Local rules say whether care has to be on
a label at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from craft.standards.fibres import fibre

__all__ = ["CARE_WORDS", "FIBRE_CARE", "CareWord", "Operation", "care_for", "care_word"]

Operation = Literal["wash", "bleach", "dry", "iron", "professional"]

ORDER: Final[tuple[Operation, ...]] = ("wash", "bleach", "dry", "iron", "professional")


@dataclass(frozen=True, slots=True)
class CareWord:
    """One care instruction. `strictness` ranks it within its operation: the higher, the gentler."""

    slug: str
    operation: Operation
    words: str
    strictness: int


CARE_WORDS: tuple[CareWord, ...] = (
    CareWord("wash-60", "wash", "Machine wash, up to 60 °C", 1),
    CareWord("wash-40", "wash", "Machine wash, up to 40 °C", 2),
    CareWord("wash-40-mild", "wash", "Machine wash, up to 40 °C, mild programme", 3),
    CareWord("wash-30", "wash", "Machine wash, up to 30 °C", 4),
    CareWord("wash-30-mild", "wash", "Machine wash, up to 30 °C, mild programme", 5),
    CareWord("wash-30-very-mild", "wash", "Machine wash, up to 30 °C, very mild programme", 6),
    CareWord("wash-hand", "wash", "Wash by hand, cool", 7),
    CareWord("wash-not", "wash", "Do not wash", 8),
    CareWord("bleach-any", "bleach", "Any bleach", 1),
    CareWord("bleach-oxygen", "bleach", "Bleach with oxygen only, no chlorine", 2),
    CareWord("bleach-not", "bleach", "Do not bleach", 3),
    CareWord("tumble-normal", "dry", "Tumble dry, normal heat", 1),
    CareWord("tumble-low", "dry", "Tumble dry, low heat", 2),
    CareWord("dry-line", "dry", "Dry on a line, do not tumble dry", 3),
    CareWord("dry-flat", "dry", "Dry flat, do not tumble dry", 4),
    CareWord("dry-flat-shade", "dry", "Dry flat in the shade, do not tumble dry", 5),
    CareWord("iron-hot", "iron", "Iron hot, up to 200 °C", 1),
    CareWord("iron-medium", "iron", "Iron warm, up to 150 °C", 2),
    CareWord("iron-cool", "iron", "Iron cool, up to 110 °C, without steam", 3),
    CareWord("iron-not", "iron", "Do not iron", 4),
    CareWord("professional-any", "professional", "Dry clean, usual solvents", 1),
    CareWord("professional-mild", "professional", "Dry clean, mild process", 2),
    CareWord("professional-not", "professional", "Do not dry clean", 3),
)
_BY_SLUG = {word.slug: word for word in CARE_WORDS}

FIBRE_CARE: dict[str, tuple[str, str, str, str, str]] = {
    "cotton": ("wash-40", "bleach-not", "dry-flat", "iron-medium", "professional-any"),
    "linen": ("wash-40", "bleach-not", "dry-flat", "iron-hot", "professional-any"),
    "wool": ("wash-hand", "bleach-not", "dry-flat", "iron-cool", "professional-mild"),
    "silk": ("wash-hand", "bleach-not", "dry-flat-shade", "iron-cool", "professional-mild"),
    "viscose": ("wash-30-mild", "bleach-not", "dry-flat", "iron-cool", "professional-mild"),
    "nylon": ("wash-30-mild", "bleach-not", "dry-flat", "iron-not", "professional-mild"),
    "acrylic": ("wash-30", "bleach-not", "dry-flat", "iron-not", "professional-mild"),
    "polyester": ("wash-40-mild", "bleach-not", "dry-flat", "iron-not", "professional-mild"),
    "elastane": ("wash-30-mild", "bleach-not", "dry-flat", "iron-not", "professional-not"),
    "metallised": ("wash-hand", "bleach-not", "dry-flat", "iron-not", "professional-not"),
}
"""A cautious start per fibre where no ball band is at hand. Common practice, no source; the band
always wins.
"""


def care_word(slug: str) -> CareWord:
    """Return one care instruction by its slug. Raises KeyError."""
    return _BY_SLUG[slug]


def care_for(fibres: Iterable[str], band: Iterable[str] = ()) -> tuple[CareWord, ...]:
    """Return one instruction per operation that suits every fibre in a piece: the strictest wins.

    `band`: slugs from the yarn's own ball band; an operation that the band names is taken from it
    (the strictest of several bands). A fibre not in the table counts as wool, the most easily
    spoiled.
    """
    banded = [_BY_SLUG[slug] for slug in band]
    usual = [_BY_SLUG[slug] for name in fibres for slug in _usual_care(name)]
    chosen: list[CareWord] = []
    for operation in ORDER:
        words = [word for word in banded if word.operation == operation] or [
            word for word in usual if word.operation == operation
        ]
        if words:
            chosen.append(max(words, key=lambda word: word.strictness))
    return tuple(chosen)


def _usual_care(name: str) -> tuple[str, ...]:
    found = fibre(name)
    return FIBRE_CARE["wool" if found is None else found.name]
