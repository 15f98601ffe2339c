"""The sentences about checks, criteria and verdicts: fixed text with gaps, one table each.

Gaps of a check: {value}, {limit}, {margin}, as its fact's sum has them (margin =
value less limit). Gaps of a criterion: {other} is the layout it is held against,
{a} the value of the layout spoken of, {b} of the other.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.records import Judged

VERDICT = {
    "suitable": "suitable", "suitable_after_works": "suitable once its works are done",
    "ruled_out": "ruled out", "open": "not yet decided", "open, works": "suitable; works to be confirmed",
}


def verdict_words(judged: Judged) -> str:
    """The verdict as printed; an open one that nothing can forbid any more says so."""
    settled = judged.verdict == "open" and "ruled_out" not in judged.possible
    return VERDICT["open, works" if settled else judged.verdict]


@dataclass(frozen=True, slots=True)
class CheckWords:
    """How a check is said where it passes ("" where that is nothing to say), where it fails, in a table cell, and what
    would mend it."""

    passes: str
    fails: str
    short: str
    mended: str
    nothing: str = ""  # how it fails where the value is nought
    mended_nothing: str = ""  # and what would mend that


def _same(text: str, short: str, mended: str) -> CheckWords:
    return CheckWords(text, text, short, mended)


# By the name of the margin, in the order a household feels them.
CHECKS = {
    "outlet_flow_margin_l_min": CheckWords(
        "it can give {value} at once, and you want {limit}", "it gives {value} where you want {limit} at once",
        "{value} where you want {limit}", "you wanted no more than {value} at once, in place of {limit}",
        "it gives {value} at a useful pressure where you want {limit}"),
    "shower_least_margin_l_min": CheckWords(
        "", "one shower alone gets {value}; you accept no less than {limit}",
        "one shower gets {value}, {limit} is the least", "you accepted a shower of {value}, in place of {limit}",
        "one shower alone gets {value} at a useful pressure, and you accept no less than {limit}"),
    "outlet_short_margin_min": CheckWords(
        "hot water lasts through your busiest hour, with {limit} of drawing",
        "hot water runs short {value}, with {limit} of drawing in your busiest hour",
        "hot water runs short {value}", "your busiest hour drew less than {limit}, within what is ready",
        mended_nothing="you never drew more at once than it can give"),
    "together_short_margin_min": CheckWords(
        "", "what you want at once runs cold {value}, and one shower takes {limit}",
        "together they run cold {value}, a shower takes {limit}",
        "a shower took less than {limit}, within what is ready"),
    "shower_flow_margin_l_min": CheckWords(
        "one shower alone gets {value}, and you want {limit}", "one shower alone gets {value} where you want {limit}",
        "one shower gets {value} where you want {limit}", "you wanted a shower of {value}, in place of {limit}",
        "one shower alone gets {value} at a useful pressure where you want {limit}"),
    "pause.reheat_margin_min": _same(
        "a cold cylinder takes {limit} to heat, and you accept a pause of {value}",
        "{limit} to reheat, {value} accepted", "you accepted a pause of {limit}, in place of {value}"),
    "gas.drop_margin_mbar": _same(
        "the gas pipe to the boiler loses {limit} of pressure, and {value} is allowed",
        "the gas pipe loses {limit} of the {value} allowed",
        "the gas pipe lost no more than {value}, in place of {limit}"),
    "gas.meter_margin_m3_h": _same(
        "with everything on, the gas meter passes {limit}, and it is made for {value}",
        "{limit} of gas, through a meter for {value}", "the gas meter were made for {limit}, in place of {value}"),
    "electric.margin_a": _same(
        "it takes {limit} of current, and your main fuse has {value} to spare",
        "takes {limit} where the fuse spares {value}", "the main fuse had {limit} to spare, in place of {value}"),
    "helper.margin_a": _same(
        "the electric shower takes {limit}, and your main fuse has {value} to spare",
        "takes {limit} where the fuse spares {value}", "the main fuse had {limit} to spare, in place of {value}"),
    "fit.space_margin_mm": _same(
        "in its place, with room to work, the cylinder has {margin}", "its place is {margin}",
        "the place were larger; it is {margin}"),
    "fit.door_margin_mm": _same(
        "at the narrowest door the cylinder has {margin}", "its door is {margin}",
        "the way in were wider; it is {margin}"),
    "discharge.over_table_m": _same(
        "held against the published table, its safety pipe is {margin}", "its safety pipe is {margin}, the table's end",
        "its safety pipe were shorter; against the published table it is {margin}"),
    "flue.clearance_margin_mm": _same(
        "the flue's distance from openings and boundary has {margin}", "its flue is {margin}",
        "the flue had more clearance; it is {margin}"),
    "floor.load_margin_kn": _same(
        "full, the cylinder puts {limit} on the floor, and {value} is the usual figure for it",
        "{limit} on a floor good for {value}", "the floor were shown to carry {limit}, in place of {value}"),
    "source.output_margin_kw": _same(
        "it heats with up to {value}, and the home loses {limit} on a cold day",
        "{value} of heating for a loss of {limit}", "the home lost no more than {value}, in place of {limit}"),
    "cistern.volume_margin_l": _same(
        "the loft cistern holds {value}, and the cylinder {limit}", "a cistern of {value} for {limit}",
        "the loft cistern held {limit}, in place of {value}"),
}
CHECK_ORDER = tuple(CHECKS)


def order(name: str) -> int:
    """The place of a check among those a household feels; after them all where it has no words."""
    return CHECK_ORDER.index(name) if name in CHECKS else len(CHECK_ORDER)


@dataclass(frozen=True, slots=True)
class CriterionWords:
    """How one layout stands beside another on a criterion: where it is better, where worse, and worse in a cell."""

    fact: str  # whose values fill {a} and {b}; "" where none is printed
    better: str
    worse: str
    short: str


CRITERIA = {
    "outlets_at_once": CriterionWords(
        "outlet_flow_l_min", "it gives more at once than {other}: {a}, against {b}",
        "it gives less at once than {other}: {a}, against {b}", "gives less at once"),
    "lasts_busy_hour": CriterionWords(
        "outlet_short_after_min", "in the busiest hour it runs short later: {a}; {other}, {b}",
        "in the busiest hour it runs short sooner: {a}; {other}, {b}", "runs short sooner in the busiest hour"),
    "no_pumps": CriterionWords(
        "", "it puts no pump on the taps", "it puts a pump on the taps", "puts a pump on the taps"),
    "no_loft_tank": CriterionWords(
        "", "it needs no tank in the loft", "it needs or keeps a tank in the loft",
        "needs or keeps a tank in the loft"),
    "no_cylinder": CriterionWords(
        "", "it needs no hot-water cylinder", "it takes room for a hot-water cylinder", "needs a hot-water cylinder"),
    "backup_heat": CriterionWords(
        "", "it has a second way to heat the water", "it has no second way to heat the water",
        "has no second way to heat water"),
    "no_heating_pause": CriterionWords(
        "", "the heating runs on while water is heated", "the heating stops while water is heated",
        "stops the heating to heat water"),
    "low_running_cost": CriterionWords(
        "", "it costs less to run than {other}", "it costs more to run than {other}", "costs more to run"),
    "low_price": CriterionWords(
        "", "it costs less to install than {other}", "it costs more to install than {other}", "costs more to install"),
    "little_disruption": CriterionWords(
        "", "it disturbs the home less than {other}", "it disturbs the home more than {other}",
        "disturbs the home more"),
    "save_space": CriterionWords(
        "space.litres_l", "it stores less water indoors than {other}: {a}, against {b}",
        "it stores more water indoors than {other}: {a}, against {b}", "takes more room"),
}
LEVEL = {
    "verdict": "is not settled, and ours is", "nothing left to confirm": "leaves something to confirm",
    "id": "is level with ours: nothing in this survey tells them apart",
}
