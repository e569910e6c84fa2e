"""Pictures of the demo's pieces, drawn stitch by stitch: nothing is fetched, nothing is shipped.

Every picture is 1600 x 1200 pixels. A stitch is a small tile, two loops side by side as the top of a
crochet stitch shows them, tinted, shaded and turned; a fabric is many tiles laid in rounds.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from functools import cache
from io import BytesIO
from math import atan2, cos, degrees, hypot, pi, radians, sin
from random import Random
from typing import Final, NamedTuple

from PIL import Image, ImageDraw, ImageFilter

__all__ = ["bag", "beanie", "coasters", "gull"]

WIDTH: Final = 1600
HEIGHT: Final = 1200
TILE: Final = 192

Colour = tuple[int, int, int]
SEA: Final[Colour] = (46, 80, 122)
FOAM: Final[Colour] = (232, 234, 225)
ROPE: Final[Colour] = (208, 186, 142)
SLATE: Final[Colour] = (90, 100, 112)
SAILCLOTH: Final[Colour] = (240, 232, 212)
GULL_WHITE: Final[Colour] = (240, 237, 228)
GULL_GREY: Final[Colour] = (160, 156, 148)
BEAK: Final[Colour] = (226, 162, 44)


class Spot(NamedTuple):
    """Where one stitch lies: middle, size, turn in degrees, and light from 0 to 1."""

    x: float
    y: float
    width: float
    height: float
    turn: float = 0.0
    light: float = 1.0


def _mixed(colour: Colour, other: Colour, share: float) -> Colour:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(colour, other, strict=True))
    return red, green, blue


@cache
def _tile(colour: Colour, light: int) -> Image.Image:
    """One stitch: two leaning loops of plied yarn. `light` in tenths."""
    shade = _mixed((24, 20, 18), colour, light / 10)
    tile = Image.new("RGBA", (TILE, TILE), (0, 0, 0, 0))
    for mirror in (False, True):
        loop = _loop(shade)
        tile.alpha_composite(loop.transpose(Image.Transpose.FLIP_LEFT_RIGHT) if mirror else loop)
    return tile


def _loop(shade: Colour) -> Image.Image:
    """The left loop of a stitch on a tile."""
    loop = Image.new("RGBA", (TILE, TILE), (0, 0, 0, 0))
    draw = ImageDraw.Draw(loop)
    box = (TILE * 0.17, TILE * 0.02, TILE * 0.55, TILE * 0.98)
    draw.ellipse(box, fill=(*_mixed(shade, (20, 14, 10), 0.42), 255))
    inner = (box[0] + 7, box[1] + 7, box[2] - 9, box[3] - 10)
    draw.ellipse(inner, fill=(*shade, 255))
    for ply in range(5):
        top = box[1] + TILE * (0.12 + 0.16 * ply)
        line = [(box[0] + 14, top + 20), (box[2] - 16, top)]
        draw.line(line, fill=(*_mixed(shade, (20, 14, 10), 0.2), 150), width=4)
    gleam = (box[0] + 16, box[1] + 26, box[0] + 34, box[3] - 60)
    draw.ellipse(gleam, fill=(*_mixed(shade, (255, 255, 255), 0.34), 170))
    return loop.rotate(-19, resample=Image.Resampling.BICUBIC)


@cache
def _cut(colour: Colour, light: int, width: int, height: int, turn: int) -> Image.Image:
    tile = _tile(colour, light).resize((width, height), Image.Resampling.LANCZOS)
    return tile.rotate(turn, resample=Image.Resampling.BICUBIC, expand=True) if turn else tile


def _lay(canvas: Image.Image, colour: Colour, spot: Spot) -> None:
    """Put one stitch on the picture. Sizes and turns are rounded, so that few tiles are cut."""
    tile = _cut(
        colour,
        max(2, min(10, round(spot.light * 10))),
        max(4, round(spot.width / 2) * 2),
        max(4, round(spot.height / 2) * 2),
        round(spot.turn / 4) * 4 % 360,
    )
    canvas.alpha_composite(tile, _corner(tile, spot))


def _corner(tile: Image.Image, spot: Spot) -> tuple[int, int]:
    left = min(max(0, round(spot.x - tile.width / 2)), WIDTH - tile.width)
    top = min(max(0, round(spot.y - tile.height / 2)), HEIGHT - tile.height)
    return left, top


def _ground(upper: Colour, lower: Colour, edge: float, seed: int) -> Image.Image:
    """A wall and a table, softly grained."""
    canvas = Image.new("RGBA", (WIDTH, HEIGHT), (*upper, 255))
    draw = ImageDraw.Draw(canvas)
    draw.rectangle((0, HEIGHT * edge, WIDTH, HEIGHT), fill=(*lower, 255))
    chance = Random(seed)  # noqa: S311 - a picture, no secret
    for _grain in range(260):
        x, y = chance.uniform(-200, WIDTH), chance.uniform(HEIGHT * edge, HEIGHT)
        tone = _mixed(lower, (255, 255, 255) if chance.random() < 0.5 else (90, 70, 50), 0.10)
        draw.line((x, y, x + chance.uniform(60, 420), y), fill=(*tone, 255), width=2)
    return canvas.filter(ImageFilter.GaussianBlur(1.6))


def _shadow(canvas: Image.Image, box: tuple[float, float, float, float], dark: int = 90) -> None:
    layer = Image.new("RGBA", canvas.size, (0, 0, 0, 0))
    ImageDraw.Draw(layer).ellipse(box, fill=(40, 30, 20, dark))
    canvas.alpha_composite(layer.filter(ImageFilter.GaussianBlur(22)))


def _body(
    canvas: Image.Image,
    x: float,
    rows: list[tuple[float, float, Colour]],
    *,
    stitch: float,
    row: float,
    bow: float = 0.10,
) -> None:
    """A round body seen from the side. `rows`: (y, half width, colour) from the far end to the near.

    `bow`: how far a round sinks in the middle, as a share of its half width.
    """
    _under(canvas, x, rows, bow)
    for number, (y, half, colour) in enumerate(rows):
        if half < stitch * 0.3:
            continue
        around = max(3, round(pi * half / stitch))
        for step in range(around):
            turn = (step + 0.5 * (number % 2)) / around * pi - pi / 2
            if abs(turn) > pi / 2 - 0.06:
                continue
            wide = max(0.16, cos(turn))
            light = 0.52 + 0.44 * cos(turn + 0.45)
            at = Spot(
                x + half * sin(turn),
                y + half * bow * cos(turn),
                stitch * 1.34 * wide,
                row * 1.42,
                -18 * sin(turn) * bow * 3,
                light,
            )
            _lay(canvas, colour, at)


def _under(canvas: Image.Image, x: float, rows: list[tuple[float, float, Colour]], bow: float) -> None:
    """The inside of the fabric, which shows in the gaps between the stitches."""
    draw = ImageDraw.Draw(canvas)
    turns = [step / 16 * pi - pi / 2 for step in range(17)]
    for (y, half, colour), (next_y, next_half, _next) in itertools.pairwise(rows):
        upper = [(x + half * sin(t), y + half * bow * cos(t)) for t in turns]
        lower = [(x + next_half * sin(t), next_y + next_half * bow * cos(t) + 6) for t in turns]
        draw.polygon([*upper, *reversed(lower)], fill=(*_mixed(colour, (26, 22, 18), 0.52), 255))


def _arc(
    middle: float, tall: float, wide: float, begin: float, end: float, row: float, colour: Colour
) -> list[tuple[float, float, Colour]]:
    """Rows of equal height over a ball seen from the side, from `begin` to `end` degrees off its top."""
    number = max(2, round((tall + wide) / 2 * radians(end - begin) / row))
    turns = [radians(begin + (end - begin) * step / (number - 1)) for step in range(number)]
    return [(middle - tall * cos(t), wide * sin(t), colour) for t in turns]


def _profile(
    top: float, bottom: float, row: float, half: Callable[[float], float], colour: Callable[[float], Colour]
) -> list[tuple[float, float, Colour]]:
    """Rows from top to bottom; `half` and `colour` take the share of the way, 0 to 1."""
    number = round((bottom - top) / row)
    shares = [step / max(1, number - 1) for step in range(number)]
    return [(top + share * (bottom - top), half(share), colour(share)) for share in shares]


def _disc(
    canvas: Image.Image, x: float, y: float, rounds: list[tuple[float, float, Colour]], stitch: float
) -> None:
    """Rounds about a middle, seen from above: (radius, height of the stitch, colour)."""
    for radius, height, colour in rounds:
        around = max(6, round(2 * pi * radius / stitch))
        for step in range(around):
            turn = (step + radius * 0.013) / around * 2 * pi
            light = 0.80 + 0.18 * sin(turn - 0.8)
            at = Spot(
                x + radius * cos(turn), y + radius * sin(turn), stitch * 1.3, height,
                -90 - turn * 180 / pi, light,
            )  # fmt: skip
            _lay(canvas, colour, at)


def _cord(
    canvas: Image.Image, path: list[tuple[float, float]], colour: Colour, wide: float, step: float
) -> None:
    """Stitches along a path: a handle, a chain."""
    left = 0.0
    for (x, y), (next_x, next_y) in itertools.pairwise(path):
        length = hypot(next_x - x, next_y - y)
        turn = 90 - _angle(next_x - x, next_y - y)
        while left < length:
            share = left / length
            at = Spot(x + (next_x - x) * share, y + (next_y - y) * share, wide, step * 1.7, turn, 0.92)
            _lay(canvas, colour, at)
            left += step
        left -= length


def _angle(across: float, down: float) -> float:
    return degrees(atan2(down, across))


def _finished(canvas: Image.Image) -> bytes:
    out = BytesIO()
    canvas.convert("RGB").save(out, "PNG")
    return out.getvalue()


def beanie() -> bytes:
    """The beanie on a table, its brim in the second colour."""
    canvas = _ground((222, 226, 222), (196, 172, 138), 0.74, 1)
    _shadow(canvas, (360, 900, 1240, 1090), 120)

    def colour(share: float) -> Colour:
        return FOAM if share > 0.76 or 0.34 < share < 0.44 else SEA

    crown = _arc(530, 350, 400, 5, 88, 29, SEA)
    sides = _profile(548, 930, 29, lambda share: 402 + 10 * share, colour)
    _body(canvas, 800, [*crown, *sides], stitch=33, row=29, bow=0.13)
    return _finished(canvas)


def coasters() -> bytes:
    """Four coasters, a cup's ring of stitches each."""
    canvas = _ground((186, 176, 160), (186, 176, 160), 0.0, 2)
    places = (
        (470, 400, SLATE, SAILCLOTH), (1120, 350, SAILCLOTH, SLATE),
        (560, 860, SAILCLOTH, SLATE), (1190, 830, SLATE, SAILCLOTH),
    )  # fmt: skip
    for x, y, inside, outside in places:
        _shadow(canvas, (x - 262, y - 240, x + 290, y + 292), 110)
        base = Image.new("RGBA", canvas.size, (0, 0, 0, 0))
        dark = _mixed(inside, (20, 16, 12), 0.45)
        ImageDraw.Draw(base).ellipse((x - 240, y - 240, x + 240, y + 240), fill=(*dark, 255))
        canvas.alpha_composite(base)
        rounds: list[tuple[float, float, Colour]] = [
            (36.0, 66.0, inside), (92.0, 72.0, inside), (148.0, 72.0, inside),
            (194.0, 40.0, outside), (222.0, 40.0, outside), (246.0, 30.0, inside),
        ]  # fmt: skip
        _disc(canvas, x, y, rounds, 25.5)
    return _finished(canvas)


def bag() -> bytes:
    """The market bag: a close base, a net, a close rim, two handles."""
    canvas = _ground((226, 218, 204), (180, 158, 128), 0.84, 3)
    _shadow(canvas, (330, 985, 1270, 1130), 120)
    for lift, tone in ((0, 0.14), (26, 0.0)):
        handle = [(800 + 250 * cos(radians(t)), 420 + lift - 330 * sin(radians(t))) for t in range(0, 181, 4)]
        hue = _mixed(ROPE, (70, 56, 40), tone)
        for ply in (-17.0, 0.0, 17.0):
            _cord(canvas, [(x, y + ply) for x, y in handle], hue, 24, 15)
    _net(canvas)

    base = [*_profile(800, 880, 24, lambda _share: 400.0, lambda _share: ROPE)]
    base += _arc(890, 140, 398, 92, 150, 20, ROPE)
    _body(canvas, 800, base, stitch=27, row=24, bow=0.10)
    rim = _profile(405, 490, 24, lambda share: 318 + 14 * share, lambda _share: ROPE)
    _body(canvas, 800, rim, stitch=27, row=24, bow=0.10)
    return _finished(canvas)


def _net(canvas: Image.Image) -> None:
    """Arches of chains between rim and base."""
    rows, top, bottom = 7, 505.0, 810.0
    for number in range(rows):
        y, next_y = (top + (bottom - top) * step / rows for step in (number, number + 1))
        half, next_half = (332 + 66 * step / rows for step in (number, number + 1))
        knots = 13
        for step in range(knots):
            shift = 0.5 * (number % 2)
            for lean in (-0.5, 0.5):
                a = ((step + shift) / knots) * pi - pi / 2
                b = ((step + shift + lean) / knots) * pi - pi / 2
                if not (-pi / 2 <= a <= pi / 2 and -pi / 2 <= b <= pi / 2):
                    continue
                start = (800 + half * sin(a), y + half * 0.10 * cos(a))
                end = (800 + next_half * sin(b), next_y + next_half * 0.10 * cos(b))
                _cord(canvas, [start, end], _mixed(ROPE, (60, 48, 34), 0.10), 17, 14)


def gull() -> bytes:
    """The gull, standing."""
    canvas = _ground((196, 214, 222), (216, 198, 164), 0.80, 4)
    _shadow(canvas, (470, 1010, 1130, 1130), 110)
    for x in (690, 910):
        foot = _profile(1028, 1078, 18, lambda share: 46 + 62 * share, lambda _share: BEAK)
        _body(canvas, x, foot, stitch=24, row=20, bow=0.12)
    body = _arc(780, 268, 300, 34, 158, 29, GULL_WHITE)
    _body(canvas, 800, body, stitch=31, row=29, bow=0.10)
    head = _arc(385, 205, 200, 5, 136, 29, GULL_WHITE)
    _body(canvas, 800, head, stitch=31, row=29, bow=0.10)
    for side in (-1, 1):
        wing = _profile(640, 925, 27, lambda s: 88 * sin(pi * (0.16 + 0.80 * s)) ** 0.8, lambda _s: GULL_GREY)
        _body(canvas, 800 + side * 276, wing, stitch=27, row=27, bow=0.12)
    _face(canvas)
    return _finished(canvas)


def _face(canvas: Image.Image) -> None:
    draw = ImageDraw.Draw(canvas)
    for x in (716, 884):
        draw.ellipse((x - 25, 318, x + 25, 368), fill=(28, 26, 28, 255))
        draw.ellipse((x - 15, 325, x - 1, 339), fill=(236, 240, 244, 255))
    beak = [(380.0 + 17 * step, 52.0 - 9 * step, BEAK) for step in range(5)]
    _body(canvas, 800, beak, stitch=21, row=19, bow=0.22)
