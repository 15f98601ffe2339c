"""Which part of a mains-fed layout itself costs the outlet that falls short its flow: without it, what would it get?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from advisor.water import fittings
from advisor.water.busy_hour import FLOW_SHORT
from advisor.water.network import LITTLE_L_MIN, House, NetworkError, Throttle, solve
from advisor.water.outcome import Outcome

SAME_L_MIN = 1e-3


def costs(outcome: Outcome) -> tuple[Throttle, ...]:
    """What inlet set, exchanger and mixer cost the first outlet to fall short, at the worst.

    The dearest first, the mixer last: what it wants is the household's choice more than the layout's.

    Parameters
    ----------
    outcome : a busy hour

    Returns
    -------
    each element with the outlet's flow as it is and without it (of a mixer: with all content with less pressure), where
    that costs half a litre a minute or is what the outlet is short of; none where the pipes do not decide

    Raises
    ------
    Raises nothing.

    Limits
    ------
    One at a time: behind each bottleneck stands the next. The ranges of `fittings` at their worst.

    Source
    ------
    The pipe network of this package.
    """
    decided = outcome.worst.run.decided if outcome.computed else None
    if decided is None or decided.by != "pipes":
        return ()
    house_of, run = outcome.homes[outcome.worst.kind].worst_pipes, outcome.worst.run
    asked, wanted = run.first_short_outlet, dict(decided.wanted)
    if house_of is None or asked not in wanted:
        return ()
    found = [t for t in _costs(house_of(wanted, asked), wanted, asked)
             if t.costs_l_min >= LITTLE_L_MIN or enough(t, wanted[asked])]
    # a run with other pipes than this house's (an end at which a bath fills fast) shows other figures: say nothing
    if any(abs(t.with_l_min - run.curves[asked].least_l_min) > SAME_L_MIN for t in found):
        return ()
    return tuple(sorted(found, key=lambda t: (t.element == fittings.MIXER, -t.costs_l_min, t.element)))


def needs_bar(outcome: Outcome) -> float:
    """Running pressure that the first outlet to fall short wants for all its flow, at the worst [bar]."""
    worst = outcome.worst
    house_of, asked = outcome.homes[worst.kind].worst_pipes, worst.run.first_short_outlet
    assert house_of is not None and worst.run.decided is not None
    (outlet,) = (o for o in house_of(dict(worst.run.decided.wanted), asked).outlets if o.name == asked)
    return (outlet.at_most / outlet.k) ** 2


def enough(found: Throttle, wanted_l_min: float) -> bool:
    """Whether the outlet would not be short without the element."""
    return found.without_l_min >= FLOW_SHORT * wanted_l_min


def _costs(house: House, wanted: Mapping[str, float], asked: str) -> list[Throttle]:
    def flow(changed: House) -> float:
        return solve(changed, wanted).flows[asked]

    try:
        now = flow(house)
        found = [Throttle(s.name, e.name, now, flow(_without(house, s.name, e.name)))
                 for s in house.sections for e in s.elements]
        return [*found, Throttle(asked, fittings.MIXER, now, flow(_content(house)))]
    except NetworkError:
        return []


def _without(house: House, section: str, element: str) -> House:
    return replace(house, sections=tuple(
        replace(s, elements=tuple(e for e in s.elements if e.name != element)) if s.name == section else s
        for s in house.sections))


def _content(house: House) -> House:
    """With outlets that pass all that is wanted at the pressure a mixer made for little of it is content with."""
    return replace(house, outlets=tuple(
        replace(o, k=max(o.k, o.at_most / math.sqrt(fittings.MAINS_MIXER_CONTENT_BAR))) for o in house.outlets))
