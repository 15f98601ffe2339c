"""What the mains gives, what the household wants at once and in its busiest hour."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.checks.measure import Measure, Ref, Values
from advisor.facts import Span, key_of, only
from advisor.water.gravity import together

# what one outlet gets through its own pipe, however many others run
OWN_PIPE = {"by_gravity": "cistern.gravity_flow_l_min", "by_own_cistern": "cistern.own_flow_l_min",
            "by_pump": "threshold.pumped_shower_l_min"}
CHOSEN_FOR_IT = ("mains accumulator", "booster set")  # sized for what stands behind them
BY_STORE = {"cistern-fed": "by_gravity", "own-cistern": "by_own_cistern"}


def site(m: Measure, outlets: Sequence[str]) -> None:
    """Supply at the useful pressure at the busy time, and demand, about the site."""
    m.fact("supply.useful_bar", "site", "useful_pressure", low_pressure_ok="water.low_pressure_ok",
           least_bar="threshold.least_useful_bar", usual_bar="threshold.useful_bar")
    m.fact("supply.mixer_bar", "site", "difference", value="supply.useful_bar", limit="threshold.parts_bar")
    m.fact("supply.residual_bar", "site", "lesser", a="water.flow_pressure_bar", b="water.static_pressure_bar")
    m.fact("supply.flow_off_l_min", "site", "supply_flow_at", static_bar="water.static_pressure_bar",
           flow_l_min="water.flow_l_min", residual_bar="supply.residual_bar", at_bar="supply.useful_bar")
    m.fact("supply.flow_at_useful_l_min", "site", "busy_supply_flow", flow_l_min="supply.flow_off_l_min",
           tested_at="water.tested_at", shared="water.shared", quiet_share="threshold.quiet_share",
           shared_share="threshold.shared_share")
    m.fact("supply.busy_flow_l_min", "site", "busy_supply_flow", flow_l_min="water.flow_l_min",
           tested_at="water.tested_at", shared="water.shared", quiet_share="threshold.quiet_share",
           shared_share="threshold.shared_share")
    _in_the_way(m)
    m.fact("cistern.gravity_flow_l_min", "site", "gravity_flow", head_m="cistern.head_m")
    m.fact("cistern.own_flow_l_min", "site", "gravity_flow", head_m="threshold.own_cistern_head_m")
    for outlet in outlets:
        flow = ("outlet.flow_l_min", outlet)
        m.fact("outlet.wanted_l_min", outlet, "wanted_flow", flow_l_min=flow, at_once=("outlet.at_once", outlet))
        m.fact("outlet.wanted", outlet, "counted", at_once=("outlet.at_once", outlet))
        m.fact("outlet.shower_l_min", outlet, "shower_flow", flow_l_min=flow, kind=("outlet.kind", outlet))
        for way, each in OWN_PIPE.items():
            m.fact(f"outlet.{way}_l_min", outlet, "lesser", a=("outlet.wanted_l_min", outlet), b=each)
    m.over_all("demand.at_once_l_min", "site", "total", [("outlet.wanted_l_min", o) for o in outlets])
    m.over_all("demand.outlets_at_once", "site", "total", [("outlet.wanted", o) for o in outlets])
    m.over_all("demand.shower_flow_l_min", "site", "largest", [("outlet.shower_l_min", o) for o in outlets])
    m.fact("demand.least_shower_l_min", "site", "lesser", a="demand.shower_flow_l_min",
           b="household.least_shower_l_min")
    m.over_all("demand.draw_l_min", "site", "largest", ["demand.at_once_l_min", "demand.shower_flow_l_min"])
    m.fact("demand.busy_litres_l", "site", "busy_litres", showers="household.busy_showers",
           minutes="household.shower_minutes_min", flow_l_min="demand.shower_flow_l_min",
           baths="household.busy_baths", bath_fill_l="household.bath_fill_l")
    m.fact("demand.planned_litres_l", "site", "planned_litres", showers="household.busy_showers",
           minutes="household.shower_minutes_min", flow_l_min="demand.shower_flow_l_min",
           baths="household.busy_baths", bath_fill_l="household.bath_fill_l", beside_l_min="demand.at_once_l_min")
    m.fact("demand.people_litres_l", "site", "people_litres", people="household.people", baths="household.busy_baths",
           shower_l="threshold.person_shower_l", bath_l="threshold.person_bath_l")
    m.fact("busy.drawn_min", "site", "drawn_minutes", litres_l="demand.busy_litres_l", draw_l_min="demand.draw_l_min")
    m.fact("accumulator.usable_l", "site", "accumulator_usable", volume_l="threshold.accumulator_l",
           charge_bar="threshold.accumulator_charge_bar", low_bar="threshold.useful_bar",
           high_bar="water.static_pressure_bar")
    m.over_all("served.by_pump_l_min", "site", "total", [("outlet.by_pump_l_min", o) for o in outlets])
    _gravity(m, "served.by_gravity_l_min", "cistern.head_m", outlets)
    _gravity(m, "served.by_own_cistern_l_min", "threshold.own_cistern_head_m", outlets)
    for way, each in OWN_PIPE.items():
        m.over_all(f"flow.{way}_l_min", "site", "largest", [f"served.{way}_l_min", each])
    m.fact("store.rise_k", "site", "difference", value="threshold.store_c", limit="threshold.winter_cold_c")
    _pipes(m)
    _as_found(m)


def _in_the_way(m: Measure) -> None:
    """What the main leaves at the pressure a mixer wants behind each thing a mains-fed layout may put in its way.

    Custom asks its useful pressure at the main; what of it such things may take is not asked for twice. The same
    figures and the same curve as the busy hour's pipes; the worst and the best of what each may take. Custom's own
    demand at the main stands beside it: the lesser counts.
    """
    m.fact("mixer.hot_share", "site", "hot_share", store_c="threshold.hot_side_c", cold_c="threshold.winter_cold_c",
           mixed_c="threshold.mixed_c")
    for name in ("loss", "falls"):
        m.fact(f"inlet_set.{name}_bar", "site", "loss_at_ten", bar=f"threshold.inlet_{name}_bar",
               at_l_min="threshold.inlet_loss_l_min")
    for name in ("boiler", "built_in", "store"):
        m.fact(f"{name}_exchanger.loss_bar", "site", "hot_loss_at_ten", bar=f"threshold.{name}_exchanger_bar",
               at_l_min=f"threshold.{name}_exchanger_l_min", hot_share="mixer.hot_share")
    for name in ("loss", "falls"):
        m.over_all(f"built_in.{name}_bar", "site", "total", [f"inlet_set.{name}_bar", "built_in_exchanger.loss_bar"])
    for way in ("inlet_set", "built_in"):
        _past(m, way, "flow_past_valve", loss_bar=f"{way}.loss_bar",
              set_bar="threshold.inlet_set_bar", falls_bar=f"{way}.falls_bar")
    for way, name in (("boiler", "boiler"), ("heating_store", "store")):
        _past(m, way, "flow_past", loss_bar=f"{name}_exchanger.loss_bar")


def _past(m: Measure, way: str, formula: str, **fittings: str) -> None:
    past = f"past_{way}.flow_l_min"
    m.fact(past, "site", formula, static_bar="water.static_pressure_bar", flow_l_min="supply.busy_flow_l_min",
           residual_bar="supply.residual_bar", at_bar="supply.mixer_bar", **fittings)
    m.fact(f"behind_{way}.flow_l_min", "site", "lesser", a=past, b="supply.flow_at_useful_l_min")


def _gravity(m: Measure, name: str, head: str, outlets: Sequence[str]) -> None:
    """Outlets on one cistern share the pipe below it; more head or more wanted only gives more: two ends are exact."""
    refs = [(head, "site"), *(("outlet.wanted_l_min", o) for o in outlets)]

    def work(values: Values) -> Span:
        reach = [v for v in (values.value(*ref) for ref in refs) if isinstance(v, Span)]
        return Span(*(together(pick[0], tuple(pick[1:])) for pick in ([v.lo for v in reach], [v.hi for v in reach])))

    m.enter(name, "site", "gravity_together", [("values", key_of(*ref)) for ref in refs], work)


def _pipes(m: Measure) -> None:
    """What each of the two pipes the main was measured through costs of its flow."""
    m.fact("inside_pipe.bore_mm", "site", "copper_bore", size_mm="water.inside_pipe_mm")
    for pipe, bore, length in (("inside_pipe", "inside_pipe.bore_mm", "water.inside_pipe_length_m"),
                               ("service_pipe", "water.service_bore_mm", "water.service_length_m")):
        m.fact(f"{pipe}.loss_bar", "site", "cold_pipe_loss", bore_mm=bore, length_m=length,
               fittings="threshold.pipe_fittings", flow_l_min="supply.flow_off_l_min")
        m.fact(f"{pipe}.without_l_min", "site", "flow_without", flow_l_min="supply.flow_off_l_min",
               static_bar="water.static_pressure_bar", at_bar="supply.useful_bar", loss_bar=f"{pipe}.loss_bar")
        m.fact(f"{pipe}.costs_l_min", "site", "difference", value=f"{pipe}.without_l_min",
               limit="supply.flow_off_l_min")


def _as_found(m: Measure) -> None:
    """What the present boiler and cylinder could do, whatever they are."""
    m.fact("existing.instant_l_min", "site", "instant_flow", power_kw="existing.boiler_power_kw",
           rise_k="threshold.winter_rise_k")
    m.fact("existing.limited_l_min", "site", "lesser", a="existing.instant_l_min", b="behind_boiler.flow_l_min")
    m.fact("existing.mixed_l", "site", "mixed_volume", volume_l="existing.cylinder_l", store_c="threshold.store_c",
           cold_c="threshold.winter_cold_c", mixed_c="threshold.mixed_c", usable="threshold.usable_share")
    m.fact("existing.sure_l", "site", "mixed_volume", volume_l="existing.cylinder_l", store_c="threshold.store_c",
           cold_c="threshold.winter_cold_c", mixed_c="threshold.mixed_c", usable="threshold.sure_share")
    m.fact("existing.stored_short_min", "site", "short_or_not", sure_l="existing.sure_l",
           litres_l="demand.planned_litres_l", draw_l_min="demand.draw_l_min", share="threshold.either_share")
    m.fact("existing.instant_short_min", "site", "instant_short_after", flow_l_min="existing.limited_l_min",
           draw_l_min="demand.draw_l_min")


def arrangement(m: Measure, a: str, source: str) -> None:
    """What an arrangement can give at once and to one shower alone, by its kind of store and its helper."""
    store, helper = (str(only(m.value(f"arrangement.{n}", a))) for n in ("store", "helper"))
    flow, one = ("outlet_flow_l_min", a), ("shower_flow_l_min", a)
    way = "by_pump" if helper == "shower pump" else BY_STORE.get(store)
    if helper == "electric shower":
        _beside_electric_shower(m, a, source, store, (flow, one))
    elif way:
        m.over_all(*flow, "total", [f"flow.{way}_l_min"])
        m.over_all(*one, "total", [OWN_PIPE[way]])
    elif store == "as found":
        _as_it_is(m, flow, "flow.by_gravity_l_min")
        _as_it_is(m, one, "cistern.gravity_flow_l_min")
    else:
        _from_the_main(m, source, store, helper, flow)
        _bare(m, a, source, store, helper)
        m.over_all(*one, "total", [flow])
    m.fact("outlet_flow_margin_l_min", a, "difference", value=flow, limit="demand.at_once_l_min")
    m.fact("shower_flow_margin_l_min", a, "difference", value=one, limit="demand.shower_flow_l_min")
    m.fact("shower_least_margin_l_min", a, "difference", value=one, limit="household.least_shower_l_min")
    m.fact("shower_short_after_min", a, "instant_short_after", flow_l_min=one, draw_l_min="demand.least_shower_l_min")


def _as_it_is(m: Measure, flow: Ref, gravity: str) -> None:
    m.fact(*flow, "flow_as_found", kind="existing.kind", instant="existing.limited_l_min",
           mains="supply.flow_at_useful_l_min", unvented="behind_inlet_set.flow_l_min", gravity=gravity)


def _from_the_main(m: Measure, source: str, store: str, helper: str, flow: Ref) -> None:
    """One pipe for all outlets: they share what it gives behind what the layout puts in its way.

    A vessel and a booster set are chosen for what stands behind them: none is counted there, as in the busy hour.
    """
    if helper == "mains accumulator":
        m.fact(*flow, "accumulator_flow", mains_l_min="supply.flow_at_useful_l_min", usable_l="accumulator.usable_l",
               drawn_min="busy.drawn_min")
    elif helper == "booster set":
        m.over_all(*flow, "total", ["threshold.booster_l_min"])
    elif store == "none":
        m.fact(*flow, "lesser", a=("source.hot_flow_l_min", source), b="behind_boiler.flow_l_min")
    elif store == "heating store":
        m.fact(*flow, "lesser", a="threshold.heating_store_flow_l_min", b="behind_heating_store.flow_l_min")
    else:
        m.over_all(*flow, "total", ["behind_built_in.flow_l_min" if store == "built-in"
                                    else "behind_inlet_set.flow_l_min"])


def _bare(m: Measure, a: str, source: str, store: str, helper: str) -> None:
    """What it would give were nothing of its own in the water's way: tells a weak main from a layout that throttles."""
    if helper in CHOSEN_FOR_IT:
        return
    bare, heat = ("bare_flow_l_min", a), {"none": ("source.hot_flow_l_min", source),
                                          "heating store": "threshold.heating_store_flow_l_min"}.get(store)
    if heat is None:
        m.over_all(*bare, "total", ["supply.flow_at_useful_l_min"])
    else:
        m.fact(*bare, "lesser", a=heat, b="supply.flow_at_useful_l_min")
    for name, flow in (("bare_margin_l_min", bare), ("draw_margin_l_min", ("outlet_flow_l_min", a))):
        m.fact(name, a, "difference", value=flow, limit="demand.draw_l_min")


def _beside_electric_shower(m: Measure, a: str, source: str, store: str, given: tuple[Ref, Ref]) -> None:
    """One shower is heated apart; the boiler, or what is there, serves the others."""
    flow, one = given
    if store == "as found":
        _as_it_is(m, ("helper.boiler_l_min", a), "flow.by_gravity_l_min")
    else:
        _from_the_main(m, source, store, "none", ("helper.boiler_l_min", a))
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
    m.over_all("helper.beside_l_min", a, "total", ["demand.at_once_l_min", ("helper.worse_margin_l_min", a)])
    m.fact(*one, "lesser", a=("helper.flow_l_min", a), b="supply.flow_at_useful_l_min")
    m.over_all(*flow, "largest", [("helper.beside_l_min", a), one])  # wanted alone, the shower still gets its own
