"""What an hour, a sale and a rest are worth."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from craft.costing import ImpossiblePriceError
from craft.costing.prices import price_at_margin_after_fees
from orders.durations import MinutesField
from orders.fields import PercentField, PriceField
from orders.models import Ending, Tax, WorkroomRates
from orders.models.rates import WHOLE_BP
from orders.sheets import selling_terms


class RatesForm(forms.Form):
    """Fields are named like the columns of WorkroomRates; `cleaned_data` is what is saved."""

    version = forms.IntegerField(widget=forms.HiddenInput, min_value=0)
    wage_per_hour_minor = PriceField(
        label=_("Your pay for an hour of work"),
        help_text=_(
            "What you want to take home for an hour, before your own tax. Where you have no better figure,"
            " begin with the legal minimum wage of your place; a skilled maker may ask for more."
        ),
    )
    overhead_per_hour_minor = PriceField(
        label=_("Overhead for an hour of work"),
        required=False,
        help_text=_(
            "A year’s rent, power, tools, insurance and the like, divided by the hours you make in a normal"
            " year: 1,440 a year over 480 hours is 3.00."
        ),
    )
    margin_bp = PercentField(
        label=_("Margin wanted, per cent of the price"),
        below_bp=WHOLE_BP,
        help_text=_("What stays of the price after all cost, your hours too. 40 % of price is 67 % on cost."),
    )
    card_rate_bp = PercentField(label=_("Card fee, per cent"), below_bp=WHOLE_BP, required=False)
    card_fixed_minor = PriceField(label=_("Card fee, fixed part of each sale"), required=False)
    tax = forms.ChoiceField(
        label=_("Sales tax or VAT"),
        choices=Tax.choices,
        help_text=_("Check the rule where you live; who is not registered charges none."),
    )
    tax_bp = PercentField(label=_("Tax rate, per cent"), below_bp=WHOLE_BP, required=False)
    ending = forms.ChoiceField(label=_("Round prices"), choices=Ending.choices)
    yarn_waste_bp = PercentField(
        label=_("Yarn lost in ends and slips, per cent"), below_bp=WHOLE_BP, required=False
    )
    session_minutes = MinutesField(
        label=_("At the hook before a break"),
        most=240,
        least=5,
        help_text=_(
            "A therapist who knits advises a break of 5 to 10 minutes after 30 to 45. Advice, not medicine."
        ),
    )
    break_minutes = MinutesField(label=_("Break"), most=120, least=1)
    day_minutes = MinutesField(label=_("Most time at the hook in a day"), most=1440, least=10)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for name in ("overhead_per_hour_minor", "card_fixed_minor"):
            cleaned[name] = cleaned.get(name) or 0
        for name in ("card_rate_bp", "tax_bp", "yarn_waste_bp"):
            cleaned[name] = cleaned.get(name) or 0
        if not self.errors:
            self._check_prices_exist(cleaned)
        return cleaned

    def _check_prices_exist(self, cleaned: dict[str, Any]) -> None:
        """Fees, tax and margin together may not take the whole price."""
        rates = WorkroomRates(**{k: v for k, v in cleaned.items() if k != "version"})
        try:
            margin = Decimal(rates.margin_bp) / WHOLE_BP
            price_at_margin_after_fees(Decimal(1), margin, selling_terms(rates, "EUR"))
        except ImpossiblePriceError:
            self.add_error(
                "margin_bp",
                _("Margin, card fee and tax together take the whole price. Lower one of them."),
            )
