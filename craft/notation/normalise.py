"""Fold a maker's text to plain small letters without moving a single character.

Every character is replaced by exactly one other, so a span in the folded text is the same span in
the text. Makers paste from word processors, scans and other alphabets: curly quotes, long dashes,
times signs, hard spaces and letters that only look Latin are all read as what they stand for.
"""

from __future__ import annotations

__all__ = ["fold", "plain_line_ends"]

_ALIKE: dict[str, str] = {
    " ": "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u200b\u200c"
    "\u200d\u202f\u205f\u2060\u3000\ufeff\u00ad\u200e\u200f\t\x0b\x0c\x00",
    "\n": "\u2028\u2029\x85",
    "-": "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2e3a\ufe58\uff0d\u00ac",
    "'": "\u2018\u2019\u201a\u201b\u2032\u02bc`\u00b4",
    '"': "\u201c\u201d\u201e\u201f\u2033\u2036\u00ab\u00bb",
    "x": "\u00d7\u2715\u2716\u2717",
    "*": "\u2217\uff0a\u204e\u2731\u2606\u2605\u2736\u273b\u273d\u22c6",
    "\u2022": "\u00b7\u25aa\u25ab\u25cf\u25cb\u25e6\u2023\u2043\u25a0\u25a1\u2756\u27a2\u25ba\uf0b7",
    "(": "\uff08",
    ")": "\uff09",
    "[": "\uff3b",
    "]": "\uff3d",
    ",": "\uff0c\u201a",
    ".": "\u2024\uff0e",
    ":": "\uff1a\u2236\ua789",
    ";": "\uff1b\u037e",
    "=": "\uff1d\u2550",
    "+": "\uff0b",
    # Cyrillic and Greek letters that look like Latin ones
    "a": "\u0430\u0410\u0391\u03b1",
    "b": "\u0412\u0392",
    "c": "\u0441\u0421\u03f2\u03f9",
    "e": "\u0435\u0415\u0395",
    "h": "\u041d\u0397\u04bb",
    "i": "\u0456\u0406\u0399",
    "j": "\u0458\u0408",
    "k": "\u041a\u043a\u039a\u03ba",
    "m": "\u041c\u039c",
    "n": "\u039d\u043f",
    "o": "\u043e\u041e\u039f\u03bf",
    "p": "\u0440\u0420\u03a1\u03c1",
    "r": "\u0433",
    "s": "\u0455\u0405",
    "t": "\u0422\u03a4\u0442\u03c4",
    "v": "\u03bd\u0475",
    "y": "\u0443\u0423\u03a5",
    "z": "\u0396",
}

_TABLE: dict[int, str] = {ord(odd): plain for plain, odds in _ALIKE.items() for odd in odds} | {
    0xFF01 + offset: chr(0x21 + offset).lower() for offset in range(94)
}
# "ſ", "İ" and a few others change length or leave the alphabet when made small
_TABLE |= {0x130: "i", 0x17F: "s", 0x212A: "k"}


def plain_line_ends(text: str) -> str:
    r"""Give the text "\n" line ends; this is the text that all spans point into."""
    return text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text


def fold(text: str) -> str:
    """Return the text in small letters with look-alikes folded; never longer or shorter."""
    if text.isascii():
        return text.lower()
    folded = text.translate(_TABLE).lower()
    if len(folded) != len(text):  # a letter whose small form is longer: leave those as they are
        folded = "".join(
            low if len(low := letter.lower()) == 1 else letter for letter in text.translate(_TABLE)
        )
    return folded
