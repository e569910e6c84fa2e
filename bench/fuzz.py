"""Mutated and random texts through reader, worker and technical edit: nothing raises, time goes with length.

    PYTHONPATH=. .venv/bin/python bench/fuzz.py [--texts 100000] [--seed 1]

Prints texts a second, the slowest text, the ratio of times when a text is doubled (2 is linear, 4 quadratic)
for shapes made to hurt, and the regular expressions of `craft` whose time grows faster than their text.
Exits with 1 where something raised or grew.
"""

from __future__ import annotations

import argparse
import importlib
import pkgutil
import random
import re
import sys
import time
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path
from re import _constants as codes  # type: ignore[attr-defined]  # the parse tree has no public door
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import craft
from craft import fabric, notation, techedit
from craft.techedit.checks import CHECKS

ROOT = Path(__file__).resolve().parent.parent
MARKS = "()[]{}*,.;:-–—=+/x×½¼\"”'’&%#@|~^\\\t \n"
ODD = "é漢字🧶مرحبا\u200b\u202e\x00\x0b\u2028ſﬁ¹②\U0010ffff"
WORDS = re.findall(
    r"\S+",
    "sc dc hdc tr ch sl st sts sp inc dec rnd row rep from to around across next each last in of * ** ( ) [ ]"
    " x times more turn join skip ring magic 1 2 3 6 12 99999999999 0 -1 and until measures colour A B same",
)


def examples() -> list[str]:
    """The project's own texts: both examples of every check's page, and the patterns of the demo."""
    texts = [path.read_text(encoding="utf-8") for path in sorted(ROOT.glob("patterns/demo/texts/*.txt"))]
    for check in CHECKS:
        for part in re.split(r"^(?:Wrong|Right|Limits|Trade checks):", check.page, flags=re.MULTILINE)[1:3]:
            lines = [line[4:] for line in part.split("\n")]
            texts.append("\n".join(lines).strip("\n") + "\n")
    return texts


# ----------------------------------------------------------------------------- mutations


def inserted(text: str, dice: random.Random) -> str:
    at = dice.randrange(len(text) + 1)
    return (
        text[:at] + dice.choice(MARKS + ODD + "0123456789abcSC") * dice.choice((1, 1, 1, 2, 30)) + text[at:]
    )


def deleted(text: str, dice: random.Random) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + text[at + dice.choice((1, 1, 2, 9)) :]


def swapped(text: str, dice: random.Random) -> str:
    at = dice.randrange(max(1, len(text) - 1))
    return text[:at] + text[at + 1 : at + 2] + text[at : at + 1] + text[at + 2 :]


def other_number(text: str, dice: random.Random) -> str:
    found = list(re.finditer(r"\d+", text))
    if not found:
        return text
    match = dice.choice(found)
    number = dice.choice(("0", "1", "7", "1000000", "9" * 30, "-3", "", "½", "2 (3, 4)", "²"))
    return text[: match.start()] + number + text[match.end() :]


def lines_moved(text: str, dice: random.Random) -> str:
    lines = text.split("\n")
    act = dice.choice(("drop", "double", "swap", "join"))
    at, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    if act == "drop":
        del lines[at]
    elif act == "double":
        lines[at:at] = lines[at : at + dice.randrange(1, 4)]
    elif act == "swap":
        lines[at], lines[other] = lines[other], lines[at]
    else:
        lines[at : at + 2] = [" ".join(lines[at : at + 2])]
    return "\n".join(lines)


def bracketed(text: str, dice: random.Random) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + dice.choice("()[]*") * dice.choice((1, 1, 3, 50, 2000)) + text[at:]


def without_marks(text: str, dice: random.Random) -> str:
    return text.replace(dice.choice("()[]*,.:\n-"), dice.choice(("", " ")))


def worded(text: str, dice: random.Random) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + " " + " ".join(dice.choices(WORDS, k=dice.choice((1, 2, 8)))) + " " + text[at:]


MUTATIONS: tuple[Callable[[str, random.Random], str], ...] = (
    inserted, deleted, swapped, other_number, other_number, lines_moved, bracketed, without_marks, worded,
)  # fmt: skip


def drawn(texts: list[str], dice: random.Random) -> str:
    """One text: an example changed one to six times, two examples crossed, words at random, or noise."""
    kind = dice.random()
    if kind < 0.1:
        return "".join(dice.choices(MARKS + ODD + "0123456789scdhRn", k=dice.randrange(300)))
    if kind < 0.2:
        start = dice.choice(("", "Rnd 1: ", "Row 1: Ch 11, ", "Sizes: S (M, L)\nRnd 1: "))
        return start + " ".join(dice.choices(WORDS, k=dice.randrange(120)))
    text = dice.choice(texts)
    if kind < 0.3:
        other = dice.choice(texts)
        text = text[: dice.randrange(len(text) + 1)] + other[dice.randrange(len(other) + 1) :]
    for _ in range(dice.randrange(1, 7)):
        text = dice.choice(MUTATIONS)(text, dice)
    return text


def edited(text: str) -> None:
    draft = notation.read(text)
    techedit.check(draft, fabric.work(draft))


def seconds(act: Callable[[], object]) -> float:
    """Of the processor, so that a busy machine changes nothing."""
    start = time.process_time()
    act()
    return time.process_time() - start


def fuzz(count: int, seed: int) -> int:
    """Run `count` texts; the number that raised."""
    texts, failed, slowest = examples(), 0, (0.0, 0, 0)
    began = time.perf_counter()
    for number in range(count):
        text = drawn(texts, random.Random(f"{seed}:{number}"))  # noqa: S311 - dice, not secrets
        start = time.process_time()
        try:
            edited(text)
        except Exception as error:  # noqa: BLE001 - whatever it is, it is what we look for
            failed += 1
            print(f"text {number}: {error!r}", flush=True)
            if failed <= 5:
                print(f"text {number} of seed {seed} raised:\n{text!r}")
                traceback.print_exc(limit=-6, file=sys.stdout)
        slowest = max(slowest, (time.process_time() - start, number, len(text)))
        if number and number % 10_000 == 0:
            print(f"  {number} texts, {failed} raised", flush=True)
    took = time.perf_counter() - began
    print(f"{count} texts, {failed} raised; {count / took:.0f} a second")
    print(f"slowest: {slowest[0]:.2f} s for {slowest[2]} characters (text {slowest[1]})")
    return failed


# --------------------------------------------------------------------------------- length

SHAPES: dict[str, tuple[str, str]] = {
    "brackets that open": ("Rnd 1: ", "("),
    "brackets in brackets": ("Rnd 1: ", "(sc, "),
    "stars": ("Rnd 1: ", "* "),
    "stars with returns": ("Rnd 1: ", "*sc in next st; rep from * around, "),
    "numbers with dashes": ("Rnd 1: ", "1-"),
    "commas": ("Rnd 1: ", ", "),
    "digits": ("Rnd 1: ", "1"),
    "spaces": ("Rnd 1: ", " "),
    "letters": ("", "a"),
    "fractions": ("Gauge: ", "1 1/2 "),
    "sizes": ("Sizes: ", "S (M, L) "),
    "lines of rounds": ("", "Rnd 1: 6 sc in magic ring (6)\n"),
    "headings": ("", "EAR (make 2)\n"),
    "empty lines": ("Rnd 1: 6 sc in ring (6)", "\n"),
    "repeat the row": ("Row 1: Ch 11, sc across (10)\n", "Rep Rows 1-2 twice more. "),
    "quotes and inches": ("Finished size: ", '4" (10 cm) '),
    "one line of work": ("Rnd 1: 6 sc in ring. Rnd 2: ", "(sc in next st, 2 sc in next st) 3 times, "),
}


def _seconds_of(text: str) -> float:
    return seconds(lambda: edited(text))


def lengths(characters: int) -> int:
    """Each shape at one, two and four times a length; the number that grows faster than its text."""
    bad = 0
    for name, (start, unit) in SHAPES.items():
        times = []
        for size in (characters, 2 * characters, 4 * characters):
            text = start + unit * (size // len(unit))
            times.append(min(_seconds_of(text) for _ in range(2)))
        ratios = [times[1] / times[0], times[2] / times[1]]
        steep = min(ratios) > 2.8 or times[2] / times[0] > 9
        bad += steep
        words = ", ".join(f"{ratio:.2f}" for ratio in ratios)
        flag = "  GROWS" if steep else ""
        print(
            f"  {name:22s} doubled: {words}; {times[2] * 1000:.0f} ms for {4 * characters} characters{flag}"
        )
    return bad


def one_long_line(characters: int = 2_000_000) -> None:
    unit = "(sc in next st, 2 sc in next st) 3 times, "
    first, second = (
        _seconds_of("Rnd 1: " + unit * (size // len(unit))) for size in (characters // 2, characters)
    )
    print(f"  one line of {characters:,} characters: {second:.1f} s, {second / first:.2f} times half of it")


# ------------------------------------------------------------------------- regular expressions


def patterns() -> Iterator[tuple[str, re.Pattern[str]]]:
    """Every compiled pattern at the top of a module of craft, also inside tuples, lists and dicts."""
    for info in pkgutil.walk_packages(craft.__path__, "craft."):
        module = importlib.import_module(info.name)
        for name, value in vars(module).items():
            for pattern in _patterns_in(value):
                yield f"{info.name}.{name}", pattern


def _patterns_in(value: Any) -> Iterator[re.Pattern[str]]:
    if isinstance(value, re.Pattern):
        yield value
    elif isinstance(value, (tuple, list)):
        for item in value:
            yield from _patterns_in(item)
    elif isinstance(value, dict):
        yield from _patterns_in(tuple(value.values()))


def sample(tree: Any) -> str:
    """A short string that a parsed expression matches, as near as its first choices go."""
    return "".join(_sample(code, value) for code, value in tree)


def _sample(code: Any, value: Any) -> str:
    if code in {codes.MAX_REPEAT, codes.MIN_REPEAT, codes.POSSESSIVE_REPEAT}:
        return sample(value[2]) * max(1, int(value[0]))
    shown: dict[Any, Callable[[], str]] = {
        codes.LITERAL: lambda: chr(value),
        codes.NOT_LITERAL: lambda: "a",
        codes.ANY: lambda: "a",
        codes.IN: lambda: _of_class(value),
        codes.SUBPATTERN: lambda: sample(value[3]),
        codes.BRANCH: lambda: sample(value[1][0]),
    }
    return str(shown[code]()) if code in shown else ""


_CATEGORIES = {
    codes.CATEGORY_DIGIT: "1", codes.CATEGORY_SPACE: " ", codes.CATEGORY_WORD: "a",
    codes.CATEGORY_NOT_SPACE: "a", codes.CATEGORY_NOT_DIGIT: "a", codes.CATEGORY_NOT_WORD: " ",
}  # fmt: skip


def _of_class(items: Any) -> str:
    code, value = items[0]
    if code is codes.NEGATE:
        return "a"
    if code is codes.LITERAL:
        return chr(value)
    return chr(value[0]) if code is codes.RANGE else _CATEGORIES.get(value, "a")


def pumps(pattern: re.Pattern[str]) -> set[str]:
    """Strings that, written many times over, keep the pattern trying."""
    tree = parser.parse(pattern.pattern, pattern.flags & ~re.DEBUG)
    found = {sample(body) for body in _repeated(tree)}
    found |= {sample(list(tree)[:end]) for end in range(1, min(len(tree), 12) + 1)}
    return {pump for pump in found | {"1", "a", " ", "(", "1 ", "a "} if pump}


def _repeated(tree: Any) -> Iterator[Any]:
    """The bodies of all repeats, inner ones too."""
    for code, value in tree:
        if code in {codes.MAX_REPEAT, codes.MIN_REPEAT, codes.POSSESSIVE_REPEAT}:
            if value[1] > 20:
                yield value[2]
            yield from _repeated(value[2])
        elif code is codes.SUBPATTERN:
            yield from _repeated(value[3])
        elif code is codes.BRANCH:
            for branch in value[1]:
                yield from _repeated(branch)


def _search_seconds(pattern: re.Pattern[str], pump: str, size: int) -> float:
    text = pump * (size // len(pump)) + "\x01"

    def every() -> None:
        for _ in pattern.finditer(text):
            pass

    return min(seconds(every) for _ in range(2))


def expressions() -> int:
    """Time every pattern on its own worst strings, four times as long; the number that grows."""
    seen: set[tuple[str, int]] = set()
    bad = 0
    for name, pattern in patterns():
        key = (pattern.pattern, pattern.flags)
        if key in seen:
            continue
        seen.add(key)
        for pump in sorted(pumps(pattern)):
            first = _search_seconds(pattern, pump, 1000)
            if first < 0.0005:
                first = _search_seconds(pattern, pump, 4000)
                if first < 0.004:
                    continue  # a microsecond a character
                second = _search_seconds(pattern, pump, 16_000)
            else:
                second = _search_seconds(pattern, pump, 4000)
            if second > 9 * first:
                bad += 1
                print(f"  {name} on {pump[:40]!r}: {first * 1000:.1f} ms, then {second * 1000:.0f} ms")
                break
    print(f"{len(seen)} regular expressions, {bad} of them grow faster than their text")
    return bad


def main() -> int:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--texts", type=int, default=2000)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--characters", type=int, default=6000, help="the shortest of the three lengths")
    arguments.add_argument("--long", action="store_true", help="a line of two million characters as well")
    given = arguments.parse_args()
    bad = expressions()
    bad += lengths(given.characters)
    if given.long:
        one_long_line()
    return 1 if bad + fuzz(given.texts, given.seed) else 0


if __name__ == "__main__":
    sys.exit(main())
