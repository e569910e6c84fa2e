"""What stands on the tags and labels of a batch, from the yarn that it really took."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from django.urls import reverse

from craft.standards.care import CareWord, care_for
from orders.batch_costs import LotsByThing, held_by, lots_of_plan
from orders.fibre_content import FibreContent, fibre_content
from orders.models import Batch, BatchState, ExtraKind, LabelProfile
from orders.planning import plan_batch
from patterns import revisions
from patterns.models import Kind
from workroom.models import Studio
from yarns.models import Yarn
from yarns.selectors import ShelfLot

__all__ = ["BatchLabels", "batch_labels", "label_profile"]

FOR_THE_BUYER: Final = frozenset(
    {
        "small-parts", "cot", "baby-worn-watched", "heat-use", "candle", "hanging-place", "slippery-soles",
        "necklace-child", "soother-holder",
    }
)  # fmt: skip
"""Cautions of the pattern that speak to whoever uses the piece; the others speak to its maker."""


@dataclass(frozen=True, slots=True)
class BatchLabels:
    """`taken`: the content is of the yarn that the batch took, not of the one planned. `bands`: what the
    ball bands say of care, to compare. `marks`: the piece is a toy, so room is left for the marks it needs.
    `address`: of the pattern's page, "" where there is none or no site address is set.
    """

    title: str
    size: str
    code: str
    price_minor: int | None
    count: int
    profile: LabelProfile
    content: FibreContent
    filling: tuple[str, ...]
    care: tuple[CareWord, ...]
    bands: tuple[str, ...]
    cautions: tuple[str, ...]
    marks: bool
    address: str
    taken: bool

    @property
    def missing(self) -> tuple[str, ...]:
        """Fields of the profile that are empty and that most places ask for."""
        names = ("maker", "address", "origin")
        return tuple(name for name in names if not getattr(self.profile, name))


def label_profile(studio: Studio) -> LabelProfile:
    """The profile; one with the studio's name (not saved) before anybody filled it in."""
    return LabelProfile.objects.filter(pk=1).first() or LabelProfile(pk=1, maker=studio.name, version=0)


def batch_labels(batch: Batch, studio: Studio) -> BatchLabels:
    planned = batch.state == BatchState.PLANNED
    lots = lots_of_plan(plan_batch(batch)) if planned else held_by(batch).lots
    used = _yarns_used(lots)
    revision = batch.piece.revision
    sized = revision is not None and len(revisions.sizes(revision)) > 1
    names = {fibre for _yarn, _mass, fibres in used for fibre, _share in fibres}
    return BatchLabels(
        title=revision.title if revision else batch.piece.title,
        size=revisions.size_info(revision, batch.piece.size_key).label if revision and sized else "",
        code=batch.code,
        price_minor=batch.piece.price_minor,
        count=batch.made if batch.state == BatchState.FINISHED else batch.quantity,
        profile=label_profile(studio),
        content=fibre_content(used),
        filling=tuple(batch.piece.extras.filter(kind=ExtraKind.FILLING).values_list("label", flat=True)),
        care=care_for(sorted(names)) if names else (),
        bands=_bands(lots),
        cautions=_cautions(batch),
        marks=revision is not None and revision.facts.get("kind") == Kind.TOY,
        address=_address(batch, studio),
        taken=not planned,
    )


def _yarns_used(lots: LotsByThing) -> list[tuple[str, int, Sequence[tuple[str, int]]]]:
    taken: list[tuple[ShelfLot, int]] = [
        (lot, mass)
        for (kind, _pk), drawn in lots.items()
        for lot, mass in drawn
        if kind == "colour" and mass > 0
    ]
    yarns = Yarn.objects.in_bulk([lot.yarn_id for lot, _mass in taken])
    return [
        (lot.yarn_name, mass, [(str(name), int(share)) for name, share in yarns[lot.yarn_id].fibres])
        for lot, mass in taken
        if lot.yarn_id in yarns
    ]


def _bands(lots: LotsByThing) -> tuple[str, ...]:
    ids = {lot.yarn_id for drawn in lots.values() for lot, _mass in drawn if lot.yarn_id}
    rows = Yarn.objects.filter(pk__in=ids).exclude(care="")
    return tuple(f"{yarn}: {yarn.care}" for yarn in rows)


def _cautions(batch: Batch) -> tuple[str, ...]:
    if batch.piece.revision is None:
        return ()
    frozen = batch.piece.revision.facts.get("cautions", ())
    return tuple(each["text"] for each in frozen if each["slug"] in FOR_THE_BUYER)


def _address(batch: Batch, studio: Studio) -> str:
    """The pattern's page, once a site address is set and while the pattern is out."""
    revision = batch.piece.revision
    if revision is None or not studio.site_address or revision.pattern.published_id is None:
        return ""
    return studio.site_address.rstrip("/") + reverse("public:pattern", args=[revision.pattern.slug])
