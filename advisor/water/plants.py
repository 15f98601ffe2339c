"""What warms the water as it is drawn: a boiler that heats it as it flows, a store, a store of heating water."""

from __future__ import annotations

from typing import NamedTuple, Protocol

from advisor.calc.constants import WATER_KJ_KG_K
from advisor.calc.instantaneous import instant_flow
from advisor.water.store import SECONDS_A_MINUTE, Store

NEVER_MIN = float("inf")


class Given(NamedTuple):
    """What one step gave: mixed flow that can be served at temperature [l/min], and its temperature [C]."""

    l_min: float
    mixed_c: float


class Plant(Protocol):
    """A way of making hot water, as it stands at a moment."""

    heating_lost_min: float

    def serve(self, seconds: float, l_min: float, cold_c: float, mixed_c: float) -> Given:
        """Serve a mixed flow for a step and move on."""
        ...

    def left_l(self, cold_c: float, mixed_c: float) -> float | None:
        """Mixed litres still in hand [l]; None where nothing is stored, or it depends on the flow asked."""
        ...

    def hot_c(self) -> float | None:
        """Temperature at the top of the store [C]; None where nothing is stored."""
        ...

    def settled(self) -> bool:
        """Whether nothing more happens until the next draw."""
        ...


class Instant:
    """Heats water as it flows, and lets the heating wait meanwhile; it passes no more than it can warm."""

    def __init__(self, power_kw: float):
        self.power_kw, self.heating_lost_min = power_kw, 0.0

    def serve(self, seconds: float, l_min: float, cold_c: float, mixed_c: float) -> Given:
        if l_min <= 0:
            return Given(0.0, mixed_c)
        self.heating_lost_min += seconds / SECONDS_A_MINUTE
        return Given(min(l_min, instant_flow(self.power_kw, mixed_c - cold_c)), mixed_c)

    def left_l(self, cold_c: float, mixed_c: float) -> float | None:
        return None

    def hot_c(self) -> float | None:
        return None

    def settled(self) -> bool:
        return True


class Stored:
    """A cylinder: hot water from its top, blended down; its boiler may let the heating wait, or share.

    pauses : the heating waits while the store is reheated
    shared_kw : what is left for the store while the heating takes its share, None where nothing is shared
    timeout_min : after so long a wait the heating gets its share again
    """

    def __init__(self, store: Store, pauses: bool = False, shared_kw: float | None = None,
                 timeout_min: float = NEVER_MIN):
        self.store, self.pauses, self.shared_kw, self.timeout_min = store, pauses, shared_kw, timeout_min
        self.heating_lost_min = self.waited_min = 0.0

    def _step(self, seconds: float, l_min: float, inlet_c: float) -> float:
        before = self.store.heated_kj
        waits = self.pauses and self.waited_min < self.timeout_min
        leaving = self.store.step(seconds, l_min, inlet_c, None if waits else self.shared_kw)
        if not self.store.reheating:
            self.waited_min = 0.0
        elif waits and self.store.heated_kj > before:
            self.heating_lost_min += seconds / SECONDS_A_MINUTE
            self.waited_min += seconds / SECONDS_A_MINUTE
        return leaving

    def serve(self, seconds: float, l_min: float, cold_c: float, mixed_c: float) -> Given:
        top = self.store.top_c
        share = 1.0 if top <= mixed_c else (mixed_c - cold_c) / (top - cold_c)
        leaving = self._step(seconds, share * l_min, cold_c)
        return Given(l_min, min(mixed_c, cold_c + share * (leaving - cold_c)) if top <= mixed_c else mixed_c)

    def left_l(self, cold_c: float, mixed_c: float) -> float | None:
        return self.store.mixed_left_l(mixed_c, cold_c)

    def hot_c(self) -> float | None:
        return self.store.top_c

    def settled(self) -> bool:
        return not self.store.reheating


class Assisted(Stored):
    """A boiler that warms the draw as it flows and takes only the rest from its built-in store, reheated between draws.

    The kindest way to build a storage combination boiler: none of its heat is left behind as lukewarm water.
    """

    def __init__(self, store: Store, power_kw: float):
        super().__init__(store, pauses=True)
        self.power_kw = power_kw

    def serve(self, seconds: float, l_min: float, cold_c: float, mixed_c: float) -> Given:
        if l_min <= 0:
            return super().serve(seconds, l_min, cold_c, mixed_c)
        own = min(l_min, instant_flow(self.power_kw, mixed_c - cold_c))
        self.heating_lost_min += seconds / SECONDS_A_MINUTE
        top, rest = self.store.top_c, l_min - own
        share = 1.0 if top <= mixed_c else (mixed_c - cold_c) / (top - cold_c)
        leaving = self.store.step(seconds, share * rest, cold_c, 0.0)
        from_store = min(mixed_c, cold_c + share * (leaving - cold_c)) if top <= mixed_c else mixed_c
        return Given(l_min, (own * mixed_c + rest * from_store) / l_min)


class HeatingStore(Stored):
    """A store of heating water: cold mains passes an exchanger; what left the top hot comes back cool at the bottom.

    exchanger_kw_k : conductance of the exchanger [kW/K]; both sides flow alike, so it takes NTU / (1 + NTU) of the
    difference between store and cold.
    """

    def __init__(self, store: Store, exchanger_kw_k: float, **how: float | bool | None):
        super().__init__(store, **how)  # type: ignore[arg-type]
        self.exchanger_l_min = exchanger_kw_k * SECONDS_A_MINUTE / WATER_KJ_KG_K

    def serve(self, seconds: float, l_min: float, cold_c: float, mixed_c: float) -> Given:
        top, a = self.store.top_c, self.exchanger_l_min
        if l_min <= 0 or top <= cold_c:
            self._step(seconds, 0.0, cold_c)
            return Given(l_min, cold_c)
        needed = l_min * (mixed_c - cold_c) / (top - cold_c)  # = q a / (q + a), solved for q
        through = a * needed / (a - needed) if needed < a else l_min
        through = min(through, l_min)
        warmed = a / (through + a) * (top - cold_c)  # by which the water warms, and the heating water cools
        self._step(seconds, through, top - warmed)
        return Given(l_min, min(mixed_c, cold_c + through / l_min * warmed))

    def left_l(self, cold_c: float, mixed_c: float) -> float | None:
        return None  # how much is left in a heating store depends on the flow asked of it


def exchanger_kw_k(flow_l_min: float, lowest_c: float, mixed_c: float, cold_c: float) -> float:
    """Conductance of an exchanger that warms a flow to the mixed temperature from a store just hot enough.

    e = (Tm - Tc) / (Tl - Tc), NTU = e / (1 - e), UA = NTU q 4.187 / 60

    Parameters
    ----------
    flow_l_min : the flow it can warm [l/min]
    lowest_c : store temperature at which it just does [C]
    mixed_c : temperature wanted [C]
    cold_c : cold water [C]

    Returns
    -------
    conductance [kW/K]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Equal flows on both sides, constant conductance.

    Source
    ------
    Balanced counter-flow exchanger, textbooks of heat transfer.

    Examples
    --------
    >>> round(exchanger_kw_k(18.0, 50.0, 40.0, 5.0), 2)
    4.4
    """
    e = (mixed_c - cold_c) / (lowest_c - cold_c)
    return e / (1 - e) * flow_l_min * WATER_KJ_KG_K / SECONDS_A_MINUTE
