"""What the mains gives, what the household wants at once and in its busiest hour."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.checks.measure import Measure, Ref
from advisor.facts import only


def site(m: Measure, outlets: Sequence[str]) -> None:
    """Supply at the useful pressure at the busy time, and demand, about the site."""
    m.fact("supply.flow_off_l_min", "site", "supply_flow_at", static_bar="water.static_pressure_bar",
           flow_l_min="water.flow_l_min", residual_bar="water.flow_pressure_bar", at_bar="threshold.useful_bar")
    m.fact("supply.flow_at_useful_l_min", "site", "busy_supply_flow", flow_l_min="supply.flow_off_l_min",
           tested_at="water.tested_at", shared="water.shared", quiet_share="threshold.quiet_share",
           shared_share="threshold.shared_share")
    for outlet in outlets:
        flow = ("outlet.flow_l_min", outlet)
        m.fact("outlet.wanted_l_min", outlet, "wanted_flow", flow_l_min=flow, at_once=("outlet.at_once", outlet))
        m.fact("outlet.wanted", outlet, "counted", at_once=("outlet.at_once", outlet))
        m.fact("outlet.shower_l_min", outlet, "shower_flow", flow_l_min=flow, kind=("outlet.kind", outlet))
    m.over_all("demand.at_once_l_min", "site", "total", [("outlet.wanted_l_min", o) for o in outlets])
    m.over_all("demand.outlets_at_once", "site", "total", [("outlet.wanted", o) for o in outlets])
    m.over_all("demand.shower_flow_l_min", "site", "largest", [("outlet.shower_l_min", o) for o in outlets])
    m.over_all("demand.draw_l_min", "site", "largest", ["demand.at_once_l_min", "demand.shower_flow_l_min"])
    m.fact("demand.busy_litres_l", "site", "busy_litres", showers="household.busy_showers",
           minutes="household.shower_minutes_min", flow_l_min="demand.shower_flow_l_min",
           baths="household.busy_baths", bath_fill_l="household.bath_fill_l")
    m.fact("busy.drawn_min", "site", "drawn_minutes", litres_l="demand.busy_litres_l", draw_l_min="demand.draw_l_min")
    m.fact("cistern.gravity_flow_l_min", "site", "gravity_flow", head_m="cistern.head_m")
    m.fact("cistern.own_flow_l_min", "site", "gravity_flow", head_m="threshold.own_cistern_head_m")
    m.fact("accumulator.usable_l", "site", "accumulator_usable", volume_l="threshold.accumulator_l",
           charge_bar="threshold.accumulator_charge_bar", low_bar="threshold.useful_bar",
           high_bar="water.static_pressure_bar")
    m.fact("store.rise_k", "site", "difference", value="threshold.store_c", limit="threshold.winter_cold_c")
    _as_found(m)


def _as_found(m: Measure) -> None:
    """What the present boiler and cylinder could do, whatever they are."""
    m.fact("existing.instant_l_min", "site", "instant_flow", power_kw="existing.boiler_power_kw",
           rise_k="threshold.winter_rise_k")
    m.fact("existing.limited_l_min", "site", "lesser", a="existing.instant_l_min", b="supply.flow_at_useful_l_min")
    m.fact("existing.mixed_l", "site", "mixed_volume", volume_l="existing.cylinder_l", store_c="threshold.store_c",
           cold_c="threshold.winter_cold_c", mixed_c="threshold.mixed_c", usable="threshold.usable_share")
    m.fact("existing.stored_short_min", "site", "store_short_after", mixed_l="existing.mixed_l",
           recovery_l_min="existing.instant_l_min", credit="threshold.reheat_credit",
           draw_l_min="demand.draw_l_min", drawn_min="busy.drawn_min")
    m.fact("existing.gravity_l_min", "site", "together", each_l_min="cistern.gravity_flow_l_min",
           outlets="demand.outlets_at_once")
    m.fact("existing.instant_short_min", "site", "instant_short_after", flow_l_min="existing.limited_l_min",
           draw_l_min="demand.draw_l_min")


def arrangement(m: Measure, a: str, source: str) -> None:
    """What an arrangement can give at once, by its kind of store and its helper."""
    store, helper = (str(only(m.value(f"arrangement.{n}", a))) for n in ("store", "helper"))
    flow = ("outlet_flow_l_min", a)
    mains = "supply.flow_at_useful_l_min"
    if helper == "electric shower":
        _beside_electric_shower(m, a, source, flow)
    elif helper == "mains accumulator":
        m.fact(*flow, "accumulator_flow", mains_l_min=mains, usable_l="accumulator.usable_l",
               drawn_min="busy.drawn_min")
    elif helper == "booster set":
        m.over_all(*flow, "total", ["threshold.booster_l_min"])
    elif helper == "shower pump":
        m.fact(*flow, "together", each_l_min="threshold.pumped_shower_l_min", outlets="demand.outlets_at_once")
    elif store == "none":
        m.fact(*flow, "lesser", a=("source.hot_flow_l_min", source), b=mains)
    elif store in ("unvented", "built-in"):
        m.over_all(*flow, "total", [mains])
    elif store == "cistern-fed":
        m.fact(*flow, "together", each_l_min="cistern.gravity_flow_l_min", outlets="demand.outlets_at_once")
    elif store == "own-cistern":
        m.fact(*flow, "together", each_l_min="cistern.own_flow_l_min", outlets="demand.outlets_at_once")
    elif store == "heating store":
        m.fact(*flow, "lesser", a="threshold.heating_store_flow_l_min", b=mains)
    else:
        m.fact(*flow, "flow_as_found", kind="existing.kind", instant="existing.limited_l_min", mains=mains,
               gravity="existing.gravity_l_min")
    m.fact("outlet_flow_margin_l_min", a, "difference", value=flow, limit="demand.at_once_l_min")


def _beside_electric_shower(m: Measure, a: str, source: str, flow: Ref) -> None:
    m.fact("helper.boiler_l_min", a, "lesser", a=("source.hot_flow_l_min", source), b="supply.flow_at_useful_l_min")
    m.fact("helper.flow_l_min", a, "instant_flow", power_kw="threshold.electric_shower_kw",
           rise_k="threshold.winter_rise_k")
    m.fact("helper.current_a", a, "current", power_kw="threshold.electric_shower_kw", voltage_v="threshold.voltage_v")
    m.fact("helper.margin_a", a, "difference", value="electric.spare_a", limit=("helper.current_a", a))
    m.fact("helper.others_margin_l_min", a, "others_margin", boiler_l_min=("helper.boiler_l_min", a),
           wanted_l_min="demand.at_once_l_min", shower_l_min="demand.shower_flow_l_min")
    m.fact("helper.shower_margin_l_min", a, "difference", value=("helper.flow_l_min", a),
           limit="demand.shower_flow_l_min")
    m.fact("helper.worse_margin_l_min", a, "lesser", a=("helper.others_margin_l_min", a),
           b=("helper.shower_margin_l_min", a))
    m.over_all(*flow, "total", ["demand.at_once_l_min", ("helper.worse_margin_l_min", a)])
