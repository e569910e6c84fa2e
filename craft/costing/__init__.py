"""Cost sheet, prices, break-even, valuation of stock, and the arithmetic of a small maker's
books.
"""

from craft.costing.sheet import cost_sheet
from craft.costing.values import (
    BulkUse,
    CostSheet,
    ImpossiblePriceError,
    InvalidCostError,
    Labour,
    Materials,
    SellingTerms,
    TaxKind,
    UnitUse,
    YarnUse,
)

__all__ = [
    "BulkUse",
    "CostSheet",
    "ImpossiblePriceError",
    "InvalidCostError",
    "Labour",
    "Materials",
    "SellingTerms",
    "TaxKind",
    "UnitUse",
    "YarnUse",
    "cost_sheet",
]
