"""Stored water: litres, reheat, the busiest hour, the pause while the heating waits."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.calc.demand import HOUR_MIN
from advisor.checks.measure import Measure, Ref, Values
from advisor.facts import Span, Value, Words, exactly, key_of, only
from advisor.records import Arrangement
from advisor.water.lasts import lasts, reads

INSTANT = ("none",)
NOTHING_STORED = {"combination boiler", "none"}  # kinds of what is found


def arrangement(m: Measure, a: Arrangement, store: str, has_coil: bool, outlets: Sequence[str]) -> None:
    """The busiest hour of one arrangement, and what its store can do."""
    if store not in (*INSTANT, "as found"):
        _stored(m, a.id, a.source, store, has_coil)
    _lasts(m, a, store, outlets)
    m.fact("outlet_short_after_min", a.id, "first_to_fall_short", store_min=("store.short_after_min", a.id),
           shower_min=("shower_short_after_min", a.id))
    m.fact("outlet_short_margin_min", a.id, "difference", value=("outlet_short_after_min", a.id),
           limit=("busy.until_min", a.id))
    if store not in INSTANT:  # what heats as it flows lasts for ever or not at all: its flow says all
        m.fact("together_short_margin_min", a.id, "difference", value=("together_short_after_min", a.id),
               limit="household.shower_minutes_min")


def _lasts(m: Measure, a: Arrangement, store: str, outlets: Sequence[str]) -> None:
    """When the heat gives out: simulated where a store has a say and the household is known, else bounds."""
    short, until = ("store.short_after_min", a.id), ("busy.until_min", a.id)
    if store in INSTANT:
        m.over_all(*until, "total", ["busy.drawn_min"])
        m.fact(*short, "instant_short_after", flow_l_min=("outlet_flow_l_min", a.id), draw_l_min="demand.draw_l_min")
        return
    bound, sure = ("store.bound_short_min", a.id), ("store.sure_l", a.id)
    if store == "as found":
        sure = ("existing.sure_l", "site")
        m.fact(*bound, "short_as_found", kind="existing.kind", instant="existing.instant_short_min",
               stored="existing.stored_short_min")
    else:
        m.fact(*bound, "short_or_not", sure_l=sure, litres_l="demand.planned_litres_l",
               draw_l_min="demand.draw_l_min", share="threshold.either_share")
    pauses = m.value("arrangement.pauses_heating", a.id) == exactly("yes")
    read = reads(a, store, str(only(m.value("arrangement.helper", a.id))), pauses, outlets)
    for name, formula, bounds in ((short, "busy_hour_short", bound),
                                  (("together_short_after_min", a.id), "busy_hour_together", bound),
                                  (until, "busy_hour_until", ("busy.drawn_min", "site"))):
        keys = [("values", key_of(*ref)) for ref in (*read, sure, ("demand.planned_litres_l", "site"), bounds)]
        m.enter(*name, formula, keys, _simulated(a, outlets, read, sure, bounds, formula))


def _simulated(a: Arrangement, outlets: Sequence[str], read: Sequence[Ref], sure: Ref, bounds: Ref,
               formula: str) -> Callable[[Values], Value]:
    """How the fact is worked; `read` names all that the simulation may read, and it refuses to read anything else."""
    def work(values: Values) -> Value:
        found = lasts(values, a, outlets, read) if _may_run_out(values, sure) else None
        if found is not None:
            return {"busy_hour_short": found.short, "busy_hour_together": found.together,
                    "busy_hour_until": exactly(found.until)}[formula]
        known = values.value(*bounds)
        if formula != "busy_hour_together" or not isinstance(known, Span):
            return known
        as_found = ("existing.kind", "site") in read  # it may store nothing, and then nothing runs out
        kinds = values.value("existing.kind") if as_found else None
        lasts_for_ever = isinstance(kinds, Words) and kinds.words <= NOTHING_STORED
        return Span(HOUR_MIN if lasts_for_ever else known.lo, max(known.hi, HOUR_MIN))  # the hour begins with it

    return work


def _may_run_out(values: Values, sure: Ref) -> bool:
    """Whether what the store surely holds does not already cover the hour."""
    least, most = values.value(*sure), values.value("demand.planned_litres_l")
    return not (isinstance(least, Span) and isinstance(most, Span) and least.lo >= most.hi)


def _stored(m: Measure, a: str, source: str, store: str, has_coil: bool) -> None:
    volume = ("store.litres_l", a)
    power = ("source.hot_kw", source)
    if has_coil:
        m.fact("store.reheat_kw", a, "lesser", a=("source.hot_kw", source), b=("store.coil_kw", a))
        power = ("store.reheat_kw", a)
    mixing = {"volume_l": volume, "mixed_c": "threshold.mixed_c", "cold_c": "threshold.winter_cold_c"}
    if store == "heating store":
        m.fact("store.mixed_l", a, "heating_store_mixed", store_c="threshold.heating_store_c",
               lowest_c="threshold.heating_store_lowest_c", **mixing)
        m.over_all("store.sure_l", a, "total", [("store.mixed_l", a)])
    else:
        for name, share in (("store.mixed_l", "threshold.usable_share"), ("store.sure_l", "threshold.sure_share")):
            m.fact(name, a, "mixed_volume", store_c="threshold.store_c", usable=share, **mixing)
    if store == "built-in":
        return
    m.fact("store.reheat_min", a, "reheat_minutes", volume_l=volume, power_kw=power, rise_k="store.rise_k")
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
