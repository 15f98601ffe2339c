"""The sentences about checks, criteria and verdicts: fixed text with gaps, one table each.

Gaps of a check: {value}, {limit}, {margin}. Gaps of a criterion: {a} is the
value of the layout spoken of, {b} of the one it is held against.
"""

from __future__ import annotations

VERDICT = {
    "suitable": "suitable", "suitable_after_works": "suitable once its works are done",
    "ruled_out": "ruled out", "open": "not yet decided", "open, works": "suitable; works to be confirmed",
}

# A check in one clause, by the name of its value or of its margin. It is true whichever side the value is on.
CHECKS = {
    "outlet_flow_l_min": "it can give {value} where you want {limit} at once",
    "outlet_short_after_min": "with {limit} of drawing in your busiest hour, the hot water runs short: {value}",
    "store.mixed_l": "a full cylinder holds {value} of shower-warm water, where {limit} is wanted",
    "store.reheat_min": "it needs {value} to reheat a cold cylinder, where you accept a pause of {limit}",
    "floor.load_kn": "the full cylinder puts {value} on the floor, where {limit} is the usual figure",
    "gas.drop_mbar": "the gas pipe loses {value} of pressure on the way, where {limit} is allowed",
    "gas.total_m3_h": "with everything on it takes {value} of gas, where the meter passes {limit}",
    "source.current_a": "it takes {value}, where the main fuse leaves {limit}",
    "source.heating_kw": "it heats with up to {value}, where the home loses {limit} on a cold day",
    "source.hot_flow_l_min": "in winter it heats {value}, where you want {limit}",
    "discharge.equivalent_m": "its safety discharge pipe counts as {value}, where the table ends at {limit}",
    "discharge.over_table_m": "its safety discharge pipe ends {value} of the published table",
    "fit.space_margin_mm": "round the cylinder and its access the space leaves {value}",
    "fit.door_margin_mm": "through the door the cylinder has {value}",
    "flue.clearance_margin_mm": "the flue's clearance to openings and boundary has {value}",
    "cistern.volume_margin_l": "the loft cistern has {value}",
}
CHECK_VALUE_LIMIT = "{name} is {value}, against {limit}"
CHECK_VALUE = "{name}: {value}"

# What a passing check is good for, so that the letter's reasons come in a household's order.
CHECK_ORDER = ("outlet_flow_l_min", "outlet_short_after_min", "store.reheat_min", "gas.drop_mbar", "gas.total_m3_h",
               "source.current_a", "discharge.over_table_m", "discharge.equivalent_m", "fit.space_margin_mm",
               "floor.load_kn", "source.heating_kw")

# Criteria in figures: (fact shown, words where {a} is better, words where {a} is worse).
NUMERIC = {
    "outlets_at_once": ("outlet_flow_l_min", "it can give {a} to the outlets wanted at once, against {b}",
                        "it can give {a} to the outlets wanted at once, against {b}"),
    "lasts_busy_hour": ("outlet_short_after_min", "in the busiest hour it runs short later: {a}, against {b}",
                        "in the busiest hour it runs short sooner: {a}, against {b}"),
    "save_space": ("space.litres_l", "it stores less water indoors: {a}, against {b}",
                   "it stores more water indoors: {a}, against {b}"),
}

# Criteria whose points are bands of common practice: said without the points (fact, where better, where worse).
BANDED = {
    "low_running_cost": ("cost.running_points", "it costs less to run", "it costs more to run"),
    "low_price": ("cost.installed_points", "it costs less to install", "it costs more to install"),
    "little_disruption": ("cost.disruption_points", "it disturbs the home less", "it disturbs the home more"),
}

# Criteria in words: what may be said when the value is (first) and the other's is not.
WORDED = {
    "no_pumps": ("no", "it puts no pump on the taps", "it puts a pump on the taps"),
    "no_loft_tank": ("mains", "it needs no tank in the loft", "it needs a tank in the loft"),
    "no_cylinder": ("none", "it needs no hot-water cylinder", "it needs a hot-water cylinder"),
    "backup_heat": ("yes", "it has a second way to heat the water", "it has no second way to heat the water"),
    "no_heating_pause": ("no", "the heating runs on while water is heated", "the heating stops while water is heated"),
}
CRITERION = "{criterion}: {a}, against {b}"

# What would have to be different for a failing check to pass.
CONDITION_LIMIT = "{limit_name} were no more than {value}, in place of {limit}"
CONDITION_VALUE = "{name} were within {limit}, in place of {value}"
CONDITION_MARGIN = "the shortfall in {name} ({value}) were made up"
