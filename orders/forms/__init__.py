"""Forms of the orders room."""

from orders.forms.batches import BatchForm, FinishForm, TimeForm, UsedForm
from orders.forms.fair_plans import ExpectedRow, HoursForm, ResultRow
from orders.forms.fairs import FairForm
from orders.forms.labels import LabelProfileForm, TagsForm
from orders.forms.pieces import ExtraRow, PieceForm, WhatIfForm, YarnRow, extra_rows, yarn_rows
from orders.forms.rates import RatesForm

__all__ = [
    "BatchForm",
    "ExpectedRow",
    "ExtraRow",
    "FairForm",
    "FinishForm",
    "HoursForm",
    "LabelProfileForm",
    "PieceForm",
    "RatesForm",
    "ResultRow",
    "TagsForm",
    "TimeForm",
    "UsedForm",
    "WhatIfForm",
    "YarnRow",
    "extra_rows",
    "yarn_rows",
]
