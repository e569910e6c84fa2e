"""Numbers with a check: the barcode on a ball band, and the code on our own label.

Sources:
  GS1      "How to calculate a check digit manually" (all lengths: weights 3 and 1 from the right)
  ISO      ISO/IEC 7064, system MOD 37,36 (letters and digits with one check character)
"""

from __future__ import annotations

from typing import Final

__all__ = [
    "GTIN_LENGTHS",
    "LABEL_LENGTH",
    "InvalidCodeError",
    "check_character",
    "gtin_check_digit",
    "gtin_shown",
    "has_check_character",
    "label_code",
    "read_gtin",
    "read_label_code",
]

GTIN_LENGTHS: Final = (8, 12, 13, 14)
"""EAN-8, UPC-A, EAN-13 and the code of a case."""

LABEL_LENGTH: Final = 8
_ALPHABET: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_MISREAD: Final = frozenset("ILOU")
LABEL_ALPHABET: Final = "".join(sign for sign in _ALPHABET if sign not in _MISREAD)
"""What our labels are made of: nothing that a hand or an eye takes for 1, 0 or V."""

_HEARD_AS: Final = str.maketrans("ILO", "110")


class InvalidCodeError(ValueError):
    """A code that can't be right; the sentence says what is wrong with it."""


def gtin_check_digit(digits: str) -> int:
    """Return the check digit for the digits of a GTIN that stand before it."""
    total = sum(int(digit) * (3 if place % 2 == 0 else 1) for place, digit in enumerate(reversed(digits)))
    return -total % 10


def read_gtin(text: str) -> str:
    """Return the barcode as 14 digits, so that a UPC and the EAN of the same thing are one number.

    Blanks and hyphens are dropped. Raises InvalidCodeError.
    """
    digits = text.replace(" ", "").replace("-", "")
    if not (digits.isascii() and digits.isdigit()):
        raise InvalidCodeError("A barcode has digits only.")
    if len(digits) not in GTIN_LENGTHS:
        raise InvalidCodeError(
            f"A barcode has 8, 12, 13 or 14 digits; this one has {len(digits)}. Scan it again."
        )
    if gtin_check_digit(digits[:-1]) != int(digits[-1]):
        raise InvalidCodeError(
            f"The last digit of {digits} does not fit the others, so one is wrong. Scan it again."
        )
    return digits.zfill(14)


def gtin_shown(gtin: str) -> str:
    """Return a barcode as people meet it: 13 digits; 8 for the short kind, 14 for a case."""
    if gtin.startswith("000000"):
        return gtin[6:]
    return gtin.removeprefix("0")


def check_character(text: str) -> str:
    """Return the ISO/IEC 7064 MOD 37,36 check character of a run of digits and capitals."""
    product = 36
    for sign in text:
        sum_so_far = (product + _ALPHABET.index(sign)) % 36 or 36
        product = sum_so_far * 2 % 37
    return _ALPHABET[(37 - product) % 36]


def has_check_character(text: str) -> bool:
    """Tell whether the last character of a run of digits and capitals is its check character."""
    if len(text) < 2 or any(sign not in _ALPHABET for sign in text):
        return False
    return check_character(text[:-1]) == text[-1]


def label_code(body: str) -> str | None:
    """Return body + check character, or None where that character is one that gets misread."""
    check = check_character(body)
    return None if check in _MISREAD else body + check


def read_label_code(text: str) -> str:
    """Return a typed or scanned label code as it stands on the label.

    Small letters, blanks and hyphens are taken; I and L are read as 1, O as 0.
    Raises InvalidCodeError.
    """
    code = text.replace(" ", "").replace("-", "").upper().translate(_HEARD_AS)
    if len(code) != LABEL_LENGTH or any(sign not in LABEL_ALPHABET for sign in code):
        raise InvalidCodeError(f"A label code has {LABEL_LENGTH} letters and digits.")
    if not has_check_character(code):
        raise InvalidCodeError(f"{code} is no label code of ours: a letter or digit is wrong.")
    return code
