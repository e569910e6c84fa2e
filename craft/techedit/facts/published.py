"""How wide published patterns work their stitches, by yarn weight.

Source: 1,376 gauge statements in 1,360 published patterns (medians with 10th and 90th percentiles in
millimetres), and a robust fit of stitch width to hook and yarn over the same statements:
width = a * hook_mm ** b * tex ** c, with the log spread beside it. Another maker's tension adds 8 to
10 % to the spread. Yarn weights finer than class 1 are too few to tell.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["CLASS_METRES_PER_100G", "WIDTHS_MM", "WIDTH_FITS", "expected_width_mm", "usual_hooks_mm"]

# class -> metres in 100 g, the median of the published yarns of that class
CLASS_METRES_PER_100G: dict[int, float] = {1: 487, 2: 299, 3: 250, 4: 168, 5: 116, 6: 70, 7: 19}

# (class, US stitch) -> (p10, median, p90) of the stitch width in mm, where at least five say so
WIDTHS_MM: dict[tuple[int, str], tuple[float, float, float]] = {
    (1, "dc"): (4.0, 4.2, 5.7),
    (2, "sc"): (4.6, 6.4, 10.2),
    (3, "sc"): (4.8, 6.0, 7.8),
    (3, "dc"): (5.3, 5.6, 6.4),
    (4, "sc"): (6.4, 7.8, 8.5),
    (4, "hdc"): (6.4, 7.8, 8.5),
    (4, "dc"): (6.8, 7.8, 9.2),
    (5, "sc"): (6.8, 8.5, 11.3),
    (5, "hdc"): (7.8, 9.2, 11.3),
    (5, "dc"): (7.4, 8.5, 11.2),
    (6, "sc"): (8.5, 12.7, 14.5),
    (6, "hdc"): (8.5, 12.0, 14.5),
    (6, "dc"): (10.0, 12.7, 14.6),
    (7, "sc"): (14.5, 25.4, 50.8),
}


@dataclass(frozen=True, slots=True)
class WidthFit:
    factor: float
    hook_power: float
    tex_power: float
    log_spread: float


WIDTH_FITS: dict[str, WidthFit] = {
    "sc": WidthFit(0.734, 0.705, 0.191, 0.079),
    "hdc": WidthFit(0.985, 0.718, 0.143, 0.068),
    "dc": WidthFit(0.685, 0.626, 0.220, 0.076),
}

# median hook of each class over the stitches above, mm
_USUAL_HOOK_MM: dict[int, float] = {1: 3.25, 2: 4.0, 3: 4.0, 4: 5.0, 5: 6.0, 6: 8.0, 7: 17.5}


def expected_width_mm(stitch: str, hook_mm: float, metres_per_100g: float) -> float | None:
    """The stitch width that the fit expects; None for a stitch without one."""
    fit = WIDTH_FITS.get(stitch)
    if fit is None:
        return None
    tex = 100_000 / metres_per_100g
    return fit.factor * float(hook_mm**fit.hook_power) * float(tex**fit.tex_power)


def usual_hooks_mm(weight_class: int) -> tuple[float, float] | None:
    """The hooks that are ordinary for a class: from two thirds to one and a half of the median."""
    usual = _USUAL_HOOK_MM.get(weight_class)
    return (usual / 1.5, usual * 1.5) if usual else None
