"""Pieces made by hand for the tests of the chart, without text and graph.

A course is written in a few letters, `Hand(...).course("round", "...")`:
    sc dc dc2tog   into the next place(s) of the course below
    =dc            into the same place as the stitch before
    o:dc           into the ring
    ch             a chain of a space; the space is a place of its own
    ^              one standing chain; ^! the last of a stack that counts as a stitch
    -              one place passed over
    .              the slip stitch that joins
    _              a foundation chain
"""

from __future__ import annotations

from craft.charting.model import Course, Into, Piece, Role, Sign, Start
from craft.charting.shapes import shape_of


class Hand:
    def __init__(self, start: Start) -> None:
        self.start = start
        self.signs: list[Sign] = []
        self.courses: list[Course] = []
        self.below: list[tuple[int, Into]] = []

    def course(self, kind: str, words: str, *, turned: bool = False, number: int | None = None) -> Hand:
        start = len(self.signs)
        below = list(reversed(self.below)) if turned else self.below
        tops: list[tuple[int, Into]] = []
        place = -1
        space: list[int] = []
        for word in words.split():
            if word != "ch" and space:
                tops.append((space[(len(space) - 1) // 2], Into.SPACE))
                space = []
            if word == "ch":
                space.append(len(self.signs))
                self.signs.append(Sign("ch", Role.CHAIN))
            elif word == "-":
                place += 1
            elif word == ".":
                self.signs.append(Sign("sl st", Role.JOIN))
            elif word == "_":
                tops.append((len(self.signs), Into.STITCH))
                self.signs.append(Sign("ch", Role.FOUNDATION))
            elif word.startswith("^"):
                if word == "^!":
                    tops.append((len(self.signs), Into.STITCH))
                    place += 1
                self.signs.append(Sign("ch", Role.STANDING))
            else:
                place = self._stitch(word, below, place, tops)
        if space:
            tops.append((space[(len(space) - 1) // 2], Into.SPACE))
        number = len(self.courses) + 1 if number is None else number
        self.courses.append(
            Course(
                f"0:{len(self.courses)}",
                kind,
                number,
                start,
                len(self.signs),
                turned,
                len(tops),
                label=str(number),
            )
        )
        self.below = tops
        return self

    def _stitch(
        self, word: str, below: list[tuple[int, Into]], place: int, tops: list[tuple[int, Into]]
    ) -> int:
        name = word.removeprefix("o:").removeprefix("=")
        legs = shape_of(name).legs
        if word.startswith("o:"):
            feet: tuple[int, ...] = ()
            into = Into.RING
        else:
            if not word.startswith("="):
                place += 1
            used = below[place : place + legs]
            feet, into = tuple(foot for foot, _ in used), used[0][1]
            place += legs - 1
        tops.append((len(self.signs), Into.STITCH))
        self.signs.append(Sign(name, Role.STITCH, into, feet))
        return place

    def piece(self, title: str = "") -> Piece:
        return Piece(title, self.start, tuple(self.signs), tuple(self.courses))
