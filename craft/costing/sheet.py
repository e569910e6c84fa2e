"""The cost sheet of one piece and of a batch."""

from __future__ import annotations

from craft.costing.values import CostSheet, Labour, Materials, SellingTerms

__all__ = ["cost_sheet"]


def cost_sheet(
    materials: Materials,
    labour: Labour,
    selling: SellingTerms | None = None,
    *,
    pieces: int = 1,
    digits: int = 2,
) -> CostSheet:
    """Work out what one of `pieces` equal pieces costs.

    `digits`: decimals of the currency's minor unit (2 for cents, 0 for yen); only the two floor
    prices are rounded, upwards. Raises InvalidCostError and ImpossiblePriceError.
    """
    raise NotImplementedError
