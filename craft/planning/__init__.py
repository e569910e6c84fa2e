"""What to make for a fair, what to order, and which lots go into which piece."""

from craft.planning.allocation import (
    Allocation,
    BallUse,
    LotStock,
    LotUse,
    PieceNeed,
    Take,
    allocate,
)
from craft.planning.demand import (
    NegativeBinomialDemand,
    NormalDemand,
    ObservedDemand,
    PoissonDemand,
    WholeDemand,
)
from craft.planning.demand_learning import InvalidDemandError, SellingRate
from craft.planning.fair_plan import (
    FairPlan,
    Product,
    greedy_plan,
    plan_fair,
    worth_of_more,
    worth_of_piece,
)
from craft.planning.lot_sizes import OrderPlan, ParcelPlan, plan_orders, shared_parcels, silver_meal
from craft.planning.mix import (
    Limit,
    Mix,
    Selection,
    best_mix,
    best_selection,
    greedy_selection,
    shadow_prices,
)
from craft.planning.newsvendor import Stocking, UnboundedStockError, Vendor, order_up_to
from craft.planning.numeric import NoPlanError

__all__ = [
    "Allocation",
    "BallUse",
    "FairPlan",
    "InvalidDemandError",
    "Limit",
    "LotStock",
    "LotUse",
    "Mix",
    "NegativeBinomialDemand",
    "NoPlanError",
    "NormalDemand",
    "ObservedDemand",
    "OrderPlan",
    "ParcelPlan",
    "PieceNeed",
    "PoissonDemand",
    "Product",
    "Selection",
    "SellingRate",
    "Stocking",
    "Take",
    "UnboundedStockError",
    "Vendor",
    "WholeDemand",
    "allocate",
    "best_mix",
    "best_selection",
    "greedy_plan",
    "greedy_selection",
    "order_up_to",
    "plan_fair",
    "plan_orders",
    "shadow_prices",
    "shared_parcels",
    "silver_meal",
    "worth_of_more",
    "worth_of_piece",
]
