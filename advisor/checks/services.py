"""Gas, flue, discharge, electricity, heating output: what the house's services carry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.calc import gas as gas_calc
from advisor.checks.measure import Measure, Values
from advisor.facts import ANYTHING, Span, Value, Words, key_of

METER, BOILER = "meter", "boiler"
AT_28_MM = 28.0  # what the pipe would lose with every thinner leg renewed in this size


def site(m: Measure, appliances: Sequence[str]) -> None:
    """Facts about the services that no arrangement changes."""
    m.fact("flue.clearance_margin_mm", "site", "flue_margin", opening_mm="boiler.flue_to_opening_mm",
           opening_limit_mm="threshold.flue_opening_mm", boundary_mm="boiler.flue_to_boundary_mm",
           boundary_limit_mm="threshold.flue_boundary_mm")
    m.fact("electric.spare_a", "site", "difference", value="electric.main_fuse_a", limit="electric.demand_now_a")
    m.fact("gas.calorific_mj_m3", "site", "calorific_value", supply="gas.supply", natural="threshold.calorific_mj_m3",
           lpg="threshold.lpg_calorific_mj_m3")
    for appliance in appliances:
        m.fact("appliance.rate_m3_h", appliance, "input_rate", input_kw=("appliance.input_kw", appliance),
               calorific_mj_m3="gas.calorific_mj_m3")
    m.over_all("gas.others_m3_h", "site", "total", [("appliance.rate_m3_h", a) for a in appliances])
    m.fact("heating.low_temperature_margin_kw", "site", "emitter_margin", emitters_kw="heating.emitters_kw",
           factor="threshold.low_temperature_factor", loss_kw="heating.heat_loss_kw")
    for kind, name in (("boiler", "thin_pipe"), ("heat_pump", "thin_pipe_pump")):
        m.fact(f"heating.{name}_kw", "site", "radiator_pipe", size_mm="heating.thinnest_pipe_mm",
               speed_m_s="threshold.radiator_pipe_m_s", drop_k=f"threshold.{kind}_fall_k")
        m.fact(f"heating.{name}_margin_kw", "site", "difference", value=f"heating.{name}_kw",
               limit="heating.largest_on_it_kw")
    m.fact("gas.drop_limit_mbar", "site", "drop_limit", supply="gas.supply", natural="threshold.gas_drop_natural_mbar",
           lpg="threshold.gas_drop_lpg_mbar")


def place(m: Measure, where: str) -> None:
    """The safety discharge pipe of a store in this place, by the published table."""
    run = {"length_m": ("place.discharge_length_m", where), "elbows": ("place.discharge_elbows", where)}
    m.fact("discharge.d2_mm", where, "discharge_d2_mm", **run)
    m.fact("discharge.equivalent_m", where, "discharge_equivalent_m", **run)
    m.fact("discharge.over_table_m", where, "discharge_over_table_m", **run)


def heat_source(m: Measure, source: str, tree: GasTree) -> None:
    """A boiler's gas, output and turn-down, or an electric heater's current."""
    electric, heats = (key_of(n, source) in m.book for n in ("source.electric_kw", "source.heating_kw"))
    if electric:
        m.fact("source.current_a", source, "current", power_kw=("source.electric_kw", source),
               voltage_v="threshold.voltage_v")
        m.fact("electric.margin_a", source, "difference", value="electric.spare_a", limit=("source.current_a", source))
    if heats:
        m.fact("source.output_margin_kw", source, "difference", value=("source.heating_kw", source),
               limit="heating.heat_loss_kw")
        m.fact("source.turn_down_share", source, "ratio", value=("source.lowest_kw", source),
               of="heating.heat_loss_kw")
    if heats and not electric:
        _burner(m, source, tree)


def _burner(m: Measure, source: str, tree: GasTree) -> None:
    m.fact("source.hot_flow_l_min", source, "instant_flow", power_kw=("source.hot_kw", source),
           rise_k="threshold.winter_rise_k")
    m.fact("source.gas_rate_m3_h", source, "gas_rate", power_kw=("source.hot_kw", source),
           efficiency="threshold.boiler_gross_efficiency", calorific_mj_m3="gas.calorific_mj_m3")
    m.over_all("gas.total_m3_h", source, "total", [("source.gas_rate_m3_h", source), "gas.others_m3_h"])
    m.fact("gas.meter_margin_m3_h", source, "difference", value="gas.meter_capacity_m3_h",
           limit=("gas.total_m3_h", source))
    tree.drop(m, source)
    tree.drop(m, source, "gas.drop_at_28_mbar", at_least_mm=AT_28_MM)
    m.fact("gas.drop_at_28_margin_mbar", source, "difference", value="gas.drop_limit_mbar",
           limit=("gas.drop_at_28_mbar", source))
    m.fact("gas.drop_margin_mbar", source, "difference", value="gas.drop_limit_mbar", limit=("gas.drop_mbar", source))


class GasTree:
    """The surveyed pipe legs from the meter, and what hangs on each."""

    def __init__(self, legs: Mapping[str, tuple[str, str]], appliances: Sequence[str], unseen: Sequence[str]):
        self.legs, self.appliances, self.unseen = legs, appliances, unseen

    def drop(self, m: Measure, source: str, name: str = "gas.drop_mbar", at_least_mm: float = 0.0) -> None:
        """Pressure drop to the boiler with everything on: worst and best corner of all sizes, lengths and rates.

        `at_least_mm` asks what it would be if every thinner leg were renewed in that size.

        One-way in every argument (a thinner, longer pipe or more gas only adds), so two corners are exact.
        """
        used = [("source.gas_rate_m3_h", source)]
        used += [("appliance.rate_m3_h", a) for a in (*self.appliances, *self.unseen)]
        used += [(f"leg.{n}", leg) for leg in sorted(self.legs) for n in ("size_mm", "length_m", "elbows")]
        keys = [("values", key_of(*ref)) for ref in (*used, ("gas.supply", "site"))]
        m.enter(name, source, "gas_tree_drop", keys, lambda values: self._over(values, source, at_least_mm))

    def _over(self, m: Values, source: str, at_least_mm: float) -> Value:
        gases = m.value("gas.supply")
        ends: list[float | None] = [None, None]  # the table is for natural gas only
        if isinstance(gases, Words) and "lpg" not in gases.words:
            ends = [self._corner(m, source, worst, at_least_mm) for worst in (False, True)]
        return ANYTHING if None in ends else Span(float(ends[0] or 0.0), float(ends[1] or 0.0))

    def _corner(self, m: Values, source: str, worst: bool, at_least_mm: float) -> float | None:
        legs, loads, unplaced = self.corner(m, source, worst, at_least_mm)
        return gas_calc.path_drop(legs, loads, BOILER, unplaced)

    def corner(self, m: Values, source: str, worst: bool, at_least_mm: float = 0.0,
               ) -> tuple[list[gas_calc.Leg], dict[str, float], float]:
        """Legs and loads at one corner, and the share of unplaced gas that passes the boiler's way (`gas.tree`)."""
        def end(name: str, entity: str, rising: bool = True) -> float:
            value = m.value(name, entity)
            assert isinstance(value, Span)
            return value.hi if worst == rising else value.lo

        def leg(name: str) -> gas_calc.Leg:
            size, length, elbows = (max(end("leg.size_mm", name, rising=False), at_least_mm), end("leg.length_m", name),
                                    end("leg.elbows", name))
            if size > gas_calc.WIDEST_MM:  # beyond the table: no more than its widest pipe loses, no less than nothing
                size, length, elbows = gas_calc.WIDEST_MM, length if worst else 0.0, elbows if worst else 0.0
            return gas_calc.Leg(name, *self.legs[name], size, length, elbows)

        loads = {a: end("appliance.rate_m3_h", a) for a in (*self.appliances, *self.unseen)}
        loads[BOILER] = end("source.gas_rate_m3_h", source)
        # an appliance no leg ends at may hang on any leg: at worst its gas passes the boiler's whole way, at best none
        return [leg(name) for name in sorted(self.legs)], loads, 1.0 if worst else 0.0
