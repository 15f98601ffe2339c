"""Stored water: litres, reheat, the busiest hour, the pause while the heating waits."""

from __future__ import annotations

from advisor.checks.measure import Measure
from advisor.facts import exactly

INSTANT = ("none",)


def arrangement(m: Measure, a: str, source: str, store: str, has_coil: bool) -> None:
    """The busiest hour of one arrangement, and what its store can do."""
    short = ("store.short_after_min", a)
    if store in INSTANT:
        m.fact(*short, "instant_short_after", flow_l_min=("outlet_flow_l_min", a), draw_l_min="demand.draw_l_min")
    elif store == "as found":
        m.fact(*short, "short_as_found", kind="existing.kind", instant="existing.instant_short_min",
               stored="existing.stored_short_min")
    elif store == "built-in":
        m.fact("store.mixed_l", a, "mixed_volume", volume_l=("store.litres_l", a), **_mixing())
        m.fact(*short, "store_short_after", mixed_l=("store.mixed_l", a),
               recovery_l_min=("source.hot_flow_l_min", source), credit="threshold.built_in_credit",
               draw_l_min="demand.draw_l_min", drawn_min="busy.drawn_min")
    else:
        _stored(m, a, source, short, has_coil, store == "heating store")
    m.fact("outlet_short_after_min", a, "lesser", a=short, b=("shower_short_after_min", a))
    m.fact("outlet_short_margin_min", a, "difference", value=("outlet_short_after_min", a), limit="busy.drawn_min")


def _mixing() -> dict[str, str]:
    return {"store_c": "threshold.store_c", "cold_c": "threshold.winter_cold_c", "mixed_c": "threshold.mixed_c",
            "usable": "threshold.usable_share"}


def _stored(m: Measure, a: str, source: str, short: tuple[str, str], has_coil: bool, of_heating: bool) -> None:
    volume = ("store.litres_l", a)
    power = ("source.hot_kw", source)
    if has_coil:
        m.fact("store.reheat_kw", a, "lesser", a=("source.hot_kw", source), b=("store.coil_kw", a))
        power = ("store.reheat_kw", a)
    if of_heating:
        m.fact("store.mixed_l", a, "heating_store_mixed", volume_l=volume, store_c="threshold.heating_store_c",
               lowest_c="threshold.heating_store_lowest_c", mixed_c="threshold.mixed_c",
               cold_c="threshold.winter_cold_c")
    else:
        m.fact("store.mixed_l", a, "mixed_volume", volume_l=volume, **_mixing())
    m.fact("store.recovery_l_min", a, "instant_flow", power_kw=power, rise_k="threshold.winter_rise_k")
    m.fact("store.reheat_min", a, "reheat_minutes", volume_l=volume, power_kw=power, rise_k="store.rise_k")
    m.fact(*short, "store_short_after", mixed_l=("store.mixed_l", a), recovery_l_min=("store.recovery_l_min", a),
           credit="threshold.reheat_credit", draw_l_min="demand.draw_l_min", drawn_min="busy.drawn_min")
    if m.value("arrangement.pauses_heating", a) == exactly("yes"):
        m.fact("pause.reheat_margin_min", a, "difference", value="household.heating_pause_ok_min",
               limit=("store.reheat_min", a))


def siting(m: Measure, a: str, place: str, cistern_fed: bool) -> None:
    """Does the cylinder fit, pass the door and stand on the floor; is the cistern big enough for it."""
    m.fact("fit.space_margin_mm", a, "space_margin", width_mm=("place.width_mm", place),
           depth_mm=("place.depth_mm", place), height_mm=("place.height_mm", place),
           diameter_mm=("store.diameter_mm", a), tall_mm=("store.tall_mm", a),
           around_mm="threshold.cylinder_around_mm", above_mm="threshold.cylinder_above_mm")
    m.fact("fit.bare_margin_mm", a, "space_margin", width_mm=("place.width_mm", place),
           depth_mm=("place.depth_mm", place), height_mm=("place.height_mm", place),
           diameter_mm=("store.diameter_mm", a), tall_mm=("store.tall_mm", a),
           around_mm="threshold.bare_mm", above_mm="threshold.bare_mm")
    m.fact("fit.door_margin_mm", a, "door_margin", door_mm=("place.door_mm", place),
           diameter_mm=("store.diameter_mm", a), play_mm="threshold.door_play_mm")
    m.fact("store.people_margin_l", a, "difference", value=("store.litres_l", a), limit="demand.people_litres_l")
    m.fact("store.full_mass_kg", a, "full_mass", volume_l=("store.litres_l", a), empty_kg=("store.empty_kg", a))
    m.fact("floor.load_kn", a, "floor_load", mass_kg=("store.full_mass_kg", a))
    m.fact("floor.limit_kn", a, "floor_limit", floor=("place.floor", place), joists_kn="threshold.floor_point_kn",
           concrete_kn="threshold.floor_concrete_kn")
    m.fact("floor.load_margin_kn", a, "difference", value=("floor.limit_kn", a), limit=("floor.load_kn", a))
    if cistern_fed:
        m.fact("cistern.volume_margin_l", a, "difference", value="cistern.volume_l", limit=("store.litres_l", a))
