"""Every worked example of examples.json, by its id, through the public functions.

The sources stand beside each example. "constructed" means invented inputs without a published
answer; those check that the arithmetic stays what it is, the published ones that it is right.
"""

import json
from collections.abc import Callable, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from craft.costing import (
    BulkUse,
    Curve,
    HoursKnown,
    Labour,
    LearningCurve,
    Materials,
    Method,
    MixProduct,
    Movement,
    SellingTerms,
    TaxKind,
    UnitUse,
    YarnUse,
    area,
    break_even_mix,
    break_even_pieces,
    break_even_price,
    break_even_units,
    card_fee,
    cash_total,
    cash_up,
    contribution,
    cost_sheet,
    economic_order_quantity,
    edge_length,
    fair_fees,
    fair_sheet,
    fee_share_of_takings,
    implied_pay_per_hour,
    learn_hours,
    length_of_part_ball,
    markup_of_margin,
    mass_in_room,
    moisture_content_percent,
    net_realisable_value,
    next_charm_price,
    next_multiple,
    overhead_per_hour,
    percent,
    price_at_margin,
    price_at_margin_after_fees,
    price_by_area,
    price_by_length,
    price_keeping,
    rate_of_totals,
    received,
    reorder_point,
    reorder_point_of_rate,
    round_money,
    round_money_up,
    sell,
    takings_where_fee_equals_commission,
    tax_by_line,
    tax_inside,
    tax_on_total,
    ticket_total,
    used,
    value_stock,
    wholesale_and_retail,
    with_tax,
    write_down,
)
from craft.planning import (
    Limit,
    NormalDemand,
    ObservedDemand,
    PoissonDemand,
    Product,
    SellingRate,
    Vendor,
    best_mix,
    best_selection,
    greedy_plan,
    greedy_selection,
    order_up_to,
    plan_fair,
    plan_orders,
    shadow_prices,
    shared_parcels,
)
from craft.standards.fibres import blend_regain

Inputs = Mapping[str, Any]
Answer = dict[str, Any]

EXAMPLES: list[dict[str, Any]] = json.loads(
    Path(__file__).with_name("examples.json").read_text(encoding="utf-8"), parse_float=Decimal
)


def money(value: Decimal | int) -> Decimal:
    return round_money(Decimal(value))


def terms(given: Inputs) -> SellingTerms:
    return SellingTerms(
        card_rate=Decimal(given.get("card_rate", 0)),
        card_fixed=Decimal(given.get("card_fixed", 0)),
        tax=TaxKind(given.get("tax", "none")),
        tax_rate=Decimal(given.get("tax_rate", 0)),
    )


def demand(given: Inputs) -> Any:
    match given["distribution"]:
        case "normal":
            return NormalDemand(float(given["mean"]), float(given["sd"]))
        case "poisson":
            return PoissonDemand(float(given["mean"]))
        case _:
            return ObservedDemand.of(given["values"])


def vendor(given: Inputs) -> Vendor:
    if "underage_cost" in given:
        return Vendor.of_costs(given["underage_cost"], given["overage_cost"], demand(given["demand"]))
    return Vendor.of_prices(given["price"], given["cost"], given["salvage"], demand(given["demand"]))


def movements(given: Inputs) -> list[Movement]:
    return [
        received(row["in"], row["unit_cost"]) if "in" in row else used(row["out"])
        for row in given["movements"]
    ]


def limits(given: Inputs) -> list[Limit]:
    return [Limit(row["name"], tuple(row["use"]), row["at_most"]) for row in given["limits"]]


def products(given: Inputs) -> list[Product]:
    return [
        Product(
            row["name"],
            float(row["price"]),
            float(row["cost"]),
            float(row["keeps"]),
            float(row["hours"]),
            demand(row["demand"]),
        )
        for row in given["products"]
    ]


def curve(given: Inputs) -> LearningCurve:
    kind = Curve(given["model"])
    if "exponent" in given:
        return LearningCurve(kind, float(given["first"]), float(given["exponent"]))
    return LearningCurve.of_rate(kind, float(given["first"]), float(given["rate"]))


def markup(given: Inputs) -> Answer:
    return {"markup_percent": percent(markup_of_margin(given["margin"]))}


def quilt(given: Inputs) -> Answer:
    wide, long = Decimal(given["width_in"]), Decimal(given["length_in"])
    quilting, wadding = given["quilting_rate_per_sq_in"], given["wadding_rate_per_sq_in"]
    edge = edge_length(wide, long)
    return {
        "area_sq_in": area(wide, long),
        "quilting": money(price_by_area(wide, long, quilting)),
        "wadding": money(price_by_area(wide, long, wadding)),
        "quilting_and_wadding": money(price_by_area(wide, long, quilting, wadding)),
        "binding_length_in": edge,
        "binding": [money(price_by_length(edge, rate)) for rate in given["binding_rates_per_in"]],
    }


def toy(given: Inputs) -> Answer:
    ball_g, year = Decimal(given["ball_g"]), Decimal(given["overhead_per_year"])
    materials = Materials(
        yarns=(YarnUse("yarn", Decimal(given["yarn_g"]), ball_g, given["ball_price"], given["yarn_waste"]),),
        filling=(BulkUse("stuffing", Decimal(given["stuffing_g"]), given["stuffing_price_per_kg"]),),
        notions=tuple(UnitUse("notion", Decimal(1), price) for price in given["notions"]),
    )
    overhead = overhead_per_hour(year, Decimal(given["productive_hours_per_year"]))
    labour = Labour.of_hours(given["hours"], given["pay_per_hour"], overhead)
    sheet = cost_sheet(materials, labour).shown()
    return {
        "yarn": sheet.yarn,
        "stuffing": sheet.filling,
        "notions": sheet.notions,
        "materials": sheet.materials,
        "labour": sheet.labour,
        "overhead": sheet.overhead,
        "full_cost": sheet.full_cost,
    }


def toy_prices(given: Inputs) -> Answer:
    cost, margin = given["full_cost"], given["margin"]
    wholesale, retail = wholesale_and_retail(cost)
    return {
        "cost_doubled": money(wholesale),
        "cost_doubled_twice": money(retail),
        "price_at_margin": money(price_at_margin(cost, margin)),
        "price_at_margin_after_card_fee": money(price_at_margin_after_fees(cost, margin, terms(given))),
    }


def endings(given: Inputs) -> Answer:
    return {
        "next_charm_price": next_charm_price(given["price"], given["charm_ending"]),
        "next_multiple": next_multiple(given["price"], given["step"]),
    }


def implied_pay(given: Inputs) -> Answer:
    kept, hours = given["price_net_of_tax_and_fees"], given["hours"]
    return {"implied_pay_per_hour": implied_pay_per_hour(kept, given["materials"], given["overhead"], hours)}


def gross_up(given: Inputs) -> Answer:
    charge = money(price_keeping(given["net"], terms(given)))
    return {"charge": charge, "fee": money(card_fee(charge, terms(given)))}


def card_and_cash(given: Inputs) -> Answer:
    total = ticket_total(given["lines"], given["tax_rate"])
    return {"card_total": total, "cash_total": cash_total(total, given["cash_step"])}


def cash_totals(given: Inputs) -> Answer:
    return {"cash_totals": [cash_total(total, given["cash_step"]) for total in given["totals"]]}


def keeping(given: Inputs) -> Answer:
    price = price_keeping(given["keep"], terms(given))
    return {"price": price, "shelf_price": price, "shelf_price_rounded_up": round_money_up(price)}


def till(given: Inputs) -> Answer:
    sale = sell(given["shelf_price"], terms({"tax": "added", **given}))
    return {"customer_pays": sale.customer_pays, "fee": sale.card_fee, "kept": sale.kept}


def line_or_total(given: Inputs) -> Answer:
    return {
        "tax_by_line": tax_by_line(given["lines"], given["tax_rate"]),
        "tax_on_total": tax_on_total(given["lines"], given["tax_rate"]),
    }


def even_units(given: Inputs) -> Answer:
    each = contribution(given["price"], given["variable"])
    return {"units": break_even_units(Decimal(given["fixed"]), each)}


def even_price(given: Inputs) -> Answer:
    return {"price": break_even_price(Decimal(given["fixed"]), given["units"], given["variable"], None)}


def even_whole(given: Inputs) -> Answer:
    return {"units": break_even_pieces(Decimal(given["fixed"]), Decimal(given["contribution"]))}


def even_mix(given: Inputs) -> Answer:
    mix = [
        MixProduct(Decimal(row["price"]), Decimal(row["variable"]), row["share"]) for row in given["products"]
    ]
    found = break_even_mix(map(Decimal, given["fixed"]), mix, given["card_rate"])
    return {
        "average_price": found.average_price,
        "average_contribution": found.average_contribution,
        "units_whole": found.pieces,
        "sales": money(found.sales),
    }


def fee_shares(given: Inputs) -> Answer:
    shares = [percent(fee_share_of_takings(Decimal(times))) for times in given["takings_over_fee"]]
    return {"fee_share_percent": shares}


def flat_or_commission(given: Inputs) -> Answer:
    flat = Decimal(given["flat_fee"])
    return {"takings_where_equal": takings_where_fee_equals_commission(flat, given["commission"])}


def state_fair(given: Inputs) -> Answer:
    wide, deep = (Decimal(side) for side in given["pitch_ft"])
    fees = fair_fees(
        (wide, deep),
        Decimal(given["rate_per_sq_ft"]),
        commission=given["commission"],
        takings_per_day=Decimal(given["takings_per_day"]),
        days=given["days"],
        counted=(
            (given["permits"], Decimal(given["permit"])),
            (1, Decimal(given["power"])),
            (given["passes"], Decimal(given["pass"])),
        ),
    )
    permits, power, passes = fees.counted
    return {
        "pitch_fee": fees.pitch,
        "commission": fees.commission,
        "permits": permits,
        "power": power,
        "passes": passes,
        "total_fees": fees.total,
    }


def studio_show(given: Inputs) -> Answer:
    sheet = fair_sheet(
        map(Decimal, given["expenses"]),
        Decimal(given.get("sales", 0)),
        takings_include_tax=False,
        tax_rate=Decimal(given.get("tax_rate", 0)),
        card_takings=Decimal(given.get("card_sales", 0)),
        card_rate=Decimal(given.get("card_rate", 0)),
        materials_share=Decimal(given.get("materials_share", 0)),
    )
    return {
        "expenses": sheet.expenses,
        "sales_less_expenses": sheet.after_expenses,
        "tax": sheet.tax,
        "card_fees": sheet.card_fees,
        "after_tax_and_card": sheet.after_tax_and_card,
        "materials": sheet.materials,
        "left": sheet.left,
    }


def count_the_till(given: Inputs) -> Answer:
    found = cash_up(
        opening_float=given["float"],
        cash_sales=given["cash_sales"],
        refunds=given["cash_refunds"],
        paid_out=given["paid_out"],
        dropped=given["dropped"],
        counted=given["counted"],
    )
    return {"expected_cash": found.expected, "variance": found.variance}


def stock(given: Inputs) -> Answer:
    fifo, lifo, average, periodic = (
        value_stock(movements(given), method)
        for method in (Method.FIFO, Method.LIFO, Method.MOVING_AVERAGE, Method.PERIODIC_AVERAGE)
    )
    return {
        "fifo_cost": fifo.used_value,
        "fifo_stock": fifo.stock_value,
        "lifo_cost": lifo.used_value,
        "lifo_stock": lifo.stock_value,
        "average_cost": average.used_value,
        "average_stock": average.stock_value,
        "average_unit_cost": average.unit_cost,
        "average_before_use": average.uses[0].unit_cost,
        "periodic_average_unit_cost": periodic.uses[0].unit_cost,
        "periodic_average_cost": periodic.used_value,
        "periodic_average_stock": periodic.stock_value,
    }


def perpetual_lifo(given: Inputs) -> Answer:
    return {"lifo_stock": value_stock(movements(given), Method.LIFO).stock_value}


def realisable(given: Inputs) -> Answer:
    worth = net_realisable_value(given["selling_price"], terms(given), given["cost_to_finish"])
    return {"net_realisable_value": worth, "write_down": write_down(given["cost"], worth)}


def newsvendor(given: Inputs) -> Answer:
    seller = vendor(given)
    best = seller.stock()
    return {
        "quantity": best.quantity,
        "critical_ratio": best.critical_ratio,
        "expected_cost": best.expected_cost,
        "expected_profit": seller.expected_profit(best.quantity),
        "fill_rate": seller.fill_rate(best.quantity),
    }


def newsvendor_at(given: Inputs) -> Answer:
    seller = vendor(given)
    return {
        "expected_costs": [seller.expected_cost(quantity) for quantity in given["quantities"]],
        "expected_profits": [seller.expected_profit(quantity) for quantity in given["quantities"]],
    }


def poisson_table(given: Inputs) -> Answer:
    return {"cdf": [demand(given["demand"]).cdf(at) for at in given["cdf_at"]]}


def prior(given: Inputs) -> SellingRate:
    shape = given.get("prior_shape", given.get("shape"))
    return SellingRate(float(shape), float(given.get("prior_rate", given.get("rate"))))


def rate_after_counts(given: Inputs) -> Answer:
    after = prior(given).after(given["counts"])
    fair = after.next_fair(float(given.get("exposure", 1)))
    return {
        "shape": after.shape,
        "rate": after.rate,
        "mean": after.mean,
        "predictive_variance": fair.variance,
        "predictive_probabilities": [fair.mass(count) for count in range(6)],
    }


def rate_after_total(given: Inputs) -> Answer:
    after = prior(given).after_total(given["total"], float(given["n"]))
    low, high = after.range(0.95)
    return {"mean": after.mean, "mode": after.mode, "lower_95": low, "upper_95": high}


def predictive(given: Inputs) -> Answer:
    known, exposure = prior(given), float(given["exposure"])
    fair, plain = known.next_fair(exposure), known.plugged_in(exposure)
    answer: Answer = {
        "predictive_mean": fair.mean,
        "predictive_variance": fair.variance,
        "poisson_variance": plain.variance,
    }
    for name in ("keeps", "seasonal"):
        if name in given:
            costs = (given[name]["underage_cost"], given[name]["overage_cost"])
            answer[f"{name}_poisson"] = Vendor.of_costs(*costs, plain).stock().whole
            answer[f"{name}_negative_binomial"] = Vendor.of_costs(*costs, fair).stock().whole
    return answer


def sold_out(given: Inputs) -> Answer:
    known = prior(given)
    return {
        "mean_if_taken_as_equal": known.after([given["sold"]]).mean,
        "mean_if_taken_as_at_least": known.mean_if_sold_out(given["brought"], float(given["exposure"])),
    }


def order_quantity(given: Inputs) -> Answer:
    costs = (float(given[name]) for name in ("order_cost", "holding_cost", "demand_rate"))
    found = economic_order_quantity(*costs)
    return {"quantity": found.quantity, "cost_rate": found.cost_rate, "cycle_periods": found.cycle}


def known_needs(given: Inputs) -> Answer:
    found = plan_orders(given["demand"], given["order_cost"], given["holding_cost"])
    return {"orders": list(found.orders), "cost": found.cost}


def parcels(given: Inputs) -> Answer:
    found = shared_parcels(
        given["shared_order_cost"], given["own_order_costs"], given["holding_costs"], given["demand_rates"]
    )
    return {
        "cycle": found.cycle,
        "multiples": list(found.multiples),
        "quantities": list(found.quantities),
        "cost_rate": found.cost_rate,
    }


def base_stock(given: Inputs) -> Answer:
    levels = order_up_to(
        given["periods"],
        demand(given["demand"]),
        holding=given["holding_cost"],
        penalty=given["penalty_cost"],
        unit_cost=given["unit_cost"],
        end_holding=given["end_holding_cost"],
        end_penalty=given["end_penalty_cost"],
    )
    return {"order_up_to": list(levels)}


def reorder(given: Inputs) -> Answer:
    lead = given["lead_time_demand"]
    found = reorder_point(float(lead["mean"]), float(lead["sd"]), float(given["stockout_risk"]))
    return {"safety_stock": found.safety_stock, "reorder_point": found.point}


def reorder_without_spread(given: Inputs) -> Answer:
    periods = (given["demand_per_year"], given["days_per_year"], given["lead_time_days"])
    return {"reorder_point": reorder_point_of_rate(*map(float, periods)).point}


def pottery(given: Inputs) -> Answer:
    found = best_mix(given["objective"], limits(given))
    return {"plan": list(found.plan), "value": found.value}


def pottery_prices(given: Inputs) -> Answer:
    return {"shadow_prices": list(shadow_prices(given["objective"], limits(given)))}


def knapsack(given: Inputs) -> Answer:
    best = best_selection(given["values"], given["weights"], given["capacity"])
    greedy = greedy_selection(given["values"], given["weights"], given["capacity"])
    return {"value": best.value, "weight": best.weight, "greedy_by_ratio_value": greedy.value}


def making_plan(given: Inputs) -> Answer:
    hours = float(given["hours"])
    exact, greedy = plan_fair(products(given), hours), greedy_plan(products(given), hours)
    return {
        "plan": list(exact.quantities),
        "value": exact.value,
        "greedy_plan": list(greedy.quantities),
        "greedy_value": greedy.value,
    }


def curve_of_units(given: Inputs) -> Answer:
    found = curve(given)
    return {"average": found.average(given["units"]), "total": found.total(given["units"])}


def curve_rate(given: Inputs) -> Answer:
    return {"rate": rate_of_totals(float(given["first"]), given["units"], float(given["total"]))}


def curve_points(given: Inputs) -> Answer:
    found = curve(given)
    return {"average_of_2": found.average(2), "unit_2": found.unit(2), "average_of_4": found.average(4)}


def curve_block(given: Inputs) -> Answer:
    found, ends = curve(given), (given["from_unit"], given["to_unit"])
    return {
        "block": found.block(*ends),
        "block_midpoint_approximation": found.block_by_midpoint(*ends),
    }


def curve_unit(given: Inputs) -> Answer:
    return {"unit_time": curve(given).unit(given["unit"])}


def curve_table(given: Inputs) -> Answer:
    found = curve(given)
    return {"unit_times": [found.unit(number) for number in given["units"]], "total_of_16": found.total(16)}


def timed_pieces(given: Inputs) -> Answer:
    known = HoursKnown.prior(
        float(given["prior_first_hours"]),
        float(given["prior_rate"]),
        first_sd_log=float(given["prior_first_sd_log"]),
        rate_sd_log=float(given["prior_rate_sd_log"]),
        noise_log=float(given["noise_sd_log"]),
    )
    after = learn_hours(known, [float(hours) for hours in given["hours"]])
    low, high = after.rate_range()
    return {
        "first_hours": after.first_hours,
        "rate": after.rate,
        "rate_lower_95": low,
        "rate_upper_95": high,
        "unit_6": after.unit(6),
        "unit_17": after.unit(17),
        "units_6_to_17": after.block(6, 17),
    }


def blend(given: Inputs) -> Answer:
    regain = blend_regain([(row["share"], Decimal(row["regain_percent"])) for row in given["blend"]])
    return {"regain_percent": regain, "moisture_content_percent": moisture_content_percent(regain)}


def part_of_a_ball(given: Inputs) -> Answer:
    grams = (given["part_ball_g"], given["band_g"], given["band_m"], given["scale_reads_to_g"])
    found = length_of_part_ball(*map(Decimal, grams))
    return {"length_m": found.length_m, "uncertainty_m": found.uncertainty_m}


def rooms(given: Inputs) -> Answer:
    mass, band = Decimal(given["mass_g"]), given["band_regain"]
    return {"masses_g": [mass_in_room(mass, band, room) for room in given["room_regains"]]}


CALLS: dict[str, Callable[[Inputs], Answer]] = {
    "MK2": markup,
    "AREA1": quilt,
    "O1": toy,
    "O1b": toy_prices,
    "O1c": endings,
    "O1d": implied_pay,
    "FEE1": gross_up,
    "TAX1": card_and_cash,
    "TAX2": cash_totals,
    "TAX2b": cash_totals,
    "TAX4a": lambda given: {"gross": with_tax(Decimal(given["net"]), given["tax_rate"])},
    "TAX4b": lambda given: {"tax_inside": tax_inside(Decimal(given["gross"]), given["tax_rate"])},
    "O9-none": keeping,
    "O9-added": keeping,
    "O9b": till,
    "O9c": line_or_total,
    "BE2-1": even_units,
    "BE2-2": even_units,
    "BE2b": even_units,
    "BE3": even_price,
    "BE5": even_whole,
    "O2": even_mix,
    "O2b-1": fee_shares,
    "O2b-2": flat_or_commission,
    "BE6": state_fair,
    "FAIR1": studio_show,
    "FAIR2": studio_show,
    "O7": count_the_till,
    "INV1": stock,
    "INV3": stock,
    "INV6": stock,
    "INV7": perpetual_lifo,
    "O8": realisable,
    "NV1": newsvendor,
    "NV1b": newsvendor_at,
    "NV2": newsvendor,
    "NV3": newsvendor,
    "NV6": newsvendor,
    "NV6b": newsvendor_at,
    "NV8": newsvendor,
    "NV9": poisson_table,
    "NV9b": newsvendor,
    "NV11": newsvendor,
    "NV11b": newsvendor_at,
    "PG1": rate_after_counts,
    "PG2": rate_after_total,
    "PG5": predictive,
    "O3": rate_after_counts,
    "O3b": predictive,
    "O3d": predictive,
    "O3e": sold_out,
    "EOQ1": order_quantity,
    "EOQ2": order_quantity,
    "EOQ2b": order_quantity,
    "EOQ4": order_quantity,
    "EOQ5": order_quantity,
    "LOT1": known_needs,
    "LOT3": parcels,
    "MP1": base_stock,
    "ROP1": reorder,
    "EOQ4c": reorder_without_spread,
    "LP1": pottery,
    "LP1b": pottery_prices,
    "KN1": knapsack,
    "KN1b": knapsack,
    "KN2": knapsack,
    "O6-20": making_plan,
    "O6-40": making_plan,
    "LC1": curve_of_units,
    "LC1b": curve_of_units,
    "LC2": curve_rate,
    "LC5": curve_points,
    "LC7": curve_block,
    "LC8": curve_unit,
    "LC8b": curve_block,
    "O4c-80": curve_table,
    "O4c-90": curve_table,
    "O4b": timed_pieces,
    "MR1": blend,
    "O5": part_of_a_ball,
    "O5w": rooms,
    "O5a": rooms,
}


def test_every_example_has_a_call_and_a_source() -> None:
    assert [example["id"] for example in EXAMPLES] == list(CALLS)
    assert all(example["source"]["title"] and example["status"] for example in EXAMPLES)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: str(example["id"]))
def test_example(example: dict[str, Any]) -> None:
    found = CALLS[example["id"]](example["inputs"])
    tolerance = float(example["tolerance"])
    assert example["expect"]
    for name, expected in example["expect"].items():
        if isinstance(expected, list):
            assert len(found[name]) == len(expected), name
        assert_near(name, found[name], expected, tolerance)


def assert_near(name: str, found: Any, expected: Any, tolerance: float) -> None:
    if isinstance(expected, list):
        for index, (one, other) in enumerate(zip(found, expected, strict=True)):
            assert_near(f"{name}[{index}]", one, other, tolerance)
    else:
        assert float(found) == pytest.approx(float(expected), rel=0, abs=tolerance + 1e-12), name
