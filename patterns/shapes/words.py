"""What the page says of a settled shape."""

from __future__ import annotations

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from patterns.measures.words import both_units
from patterns.shapes.asked import Asked
from patterns.shapes.keeping import Shape

__all__ = ["alt_of", "facts_of", "remarks_of", "strained_of"]


def facts_of(asked: Asked, shape: Shape) -> list[tuple[str, str]]:
    """Names and values for a list."""
    times = " × ".join(both_units(each) for each in shape.size_mm[: 2 if shape.flat else 3])
    found = [(_("Outside, about"), times)]
    found.append((_("Fabric"), _("%(area)s cm²") % {"area": number_format(shape.area_mm2 / 100, 0)}))
    if not shape.flat:
        name = _("Holds") if not shape.filled else _("Inside")
        litres = shape.volume_mm3 / 1_000_000
        found.append((name, _("%(litres)s l") % {"litres": number_format(litres, 2 if litres >= 0.1 else 3)}))
    if shape.grams is not None:
        found.append((_filling_name(asked), _filling(shape.grams)))
    found.append((_("Stitches"), number_format(shape.stitches, 0)))
    return found


def _filling_name(asked: Asked) -> str:
    make = asked.piece.make
    return _("Filling") if make == 1 else _("Filling for all %(number)s") % {"number": make}


def _filling(grams: tuple[float, float, float]) -> str:
    low, likely, high = (number_format(each, 0 if likely_large(grams) else 1) for each in grams)
    return _("about %(likely)s g (soft %(low)s, firm %(high)s); not measured yet") % {
        "likely": likely, "low": low, "high": high,
    }  # fmt: skip


def likely_large(grams: tuple[float, float, float]) -> bool:
    return grams[1] >= 10


def remarks_of(shape: Shape) -> list[str]:
    """Cautions that follow from the size, and what the figures rest on."""
    found = []
    if shape.grams is not None:
        found.append(
            _(
                "The filling is reckoned from the room inside at 25 to 70 g a litre: common practice, no"
                " source. Weigh a finished piece and trust that instead."
            )
        )
    if shape.small_parts == "fits":
        found.append(
            _(
                "As large as this, it goes into the small-parts cylinder (16 CFR 1501.4: 31.7 mm across, up"
                " to 57.1 mm deep). Do not offer it for children under three, alone or as a part that could"
                " come off."
            )
        )
    elif shape.small_parts == "may fit":
        found.append(
            _(
                "It may just go into the small-parts cylinder (16 CFR 1501.4: 31.7 mm across, up to 57.1 mm"
                " deep). Try the finished thing before you offer it for children under three."
            )
        )
    return found


def strained_of(shape: Shape) -> list[str]:
    found = []
    for number, name, part in shape.worst:
        words = {"round": number, "stitch": name, "percent": number_format(abs(part) * 100, 0)}
        if number is None:
            long, short = _("%(stitch)s: %(percent)s %% too long"), _("%(stitch)s: %(percent)s %% too short")
        else:
            long = _("round or row %(round)s, %(stitch)s: %(percent)s %% too long")
            short = _("round or row %(round)s, %(stitch)s: %(percent)s %% too short")
        found.append((long if part > 0 else short) % words)
    return found


def alt_of(asked: Asked, shape: Shape, title: str) -> str:
    """The picture in words."""
    words = {
        "title": asked.piece.title or title,
        "size": facts_of(asked, shape)[0][1],
        "number": shape.stitches,
    }
    return (
        ngettext(
            "%(title)s as it settles, made of %(number)s stitch, about %(size)s.",
            "%(title)s as it settles, made of %(number)s stitches, about %(size)s.",
            shape.stitches,
        )
        % words
    )
