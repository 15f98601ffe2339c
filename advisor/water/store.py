"""A hot-water store in layers: drawn at the top, fed at the bottom, reheated by a coil that fades, never stirred.

The number of layers stands for mixing: `n` layers behave as `n` stirred tanks
in series. Nobody can tell which number a given cylinder has, so callers run
`FEW` and `MANY` and print both ends.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.calc.constants import WATER_KJ_KG_K
from advisor.facts import Source

FEW, MANY = 12, 60  # layers: the span of the independent engines these models are held against
MOST_TURN = 0.5  # a sub-step moves at most this share of a layer, so that the layers alone mix
SECONDS_A_MINUTE = 60.0
TEST_FROM_C, TEST_TO_C, TEST_FLOW_C = 15.0, 60.0, 80.0  # reheat test: store warmed by a primary kept at one heat
COIL_LOG = 1.1787  # ln((80 - 15) / (80 - 60))

LAYERS = Source("Layers of equal volume in series, upwind in space, central in time; heat balance of water", "",
                "DERIVED")
COIL_TEST = Source("Reheat test of EN 12897: store warmed from 15 to 60 C by a primary flow kept at 80 C", "",
                   "FROM MEMORY")


def coil_kw_per_k(rated_kw: float) -> float:
    """What a coil passes for each kelvin between its flow and the water round it.

    UA = P ln((80 - 15) / (80 - 60)) / (60 - 15)

    Parameters
    ----------
    rated_kw : mean output while the store warms from 15 to 60 C, flow kept at 80 C [kW]

    Returns
    -------
    conductance [kW/K]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    A constant conductance: a real coil passes a little more when the water round it is hot.

    Source
    ------
    Newton's law of cooling on the reheat test of EN 12897, its temperatures from memory.

    Examples
    --------
    >>> round(coil_kw_per_k(20.0), 3)
    0.524
    """
    return rated_kw * COIL_LOG / (TEST_TO_C - TEST_FROM_C)


@dataclass(frozen=True, slots=True)
class Heating:
    """How a store is reheated.

    power_kw : the most the heat source gives [kW]
    set_c : the thermostat's set point [C]
    flow_c : temperature of the water in the coil [C]; None for an element or a source without a coil
    coil_kw_k : conductance of the coil [kW/K]; None as above
    covers : share of the height, from the bottom, that the coil lies in; 0 is the lowest layer alone
    sensor : height of the thermostat as a share of the store
    differential_k : how far the water at the thermostat cools before the reheat starts [K]
    """

    power_kw: float
    set_c: float
    flow_c: float | None = None
    coil_kw_k: float | None = None
    covers: float = 0.0
    sensor: float = 0.0
    differential_k: float = 0.0

    def kw_at(self, round_coil_c: float) -> float:
        """Heat passed with water of this temperature round the coil [kW]: the lesser of source and coil, never < 0."""
        if self.coil_kw_k is None or self.flow_c is None:
            return self.power_kw
        passed = self.coil_kw_k * (self.flow_c - round_coil_c)
        return 0.0 if passed < 0.0 else min(passed, self.power_kw)


class Store:
    """One store as it stands at a moment; `step` moves it on and keeps the heat account."""

    def __init__(self, litres: float, layers: int, start_c: float, heating: Heating | None = None,
                 loss_w_k: float = 0.0, round_c: float = 20.0):
        if litres <= 0 or layers < 1:
            raise ValueError(f"a store has {litres:g} litres and {layers} layers; both must be above 0")
        self.litres, self.layers, self.heating = litres, layers, heating
        self.each_l = litres / layers
        self.kj_k = self.each_l * WATER_KJ_KG_K
        self.temperatures = [start_c] * layers  # bottom first
        self.loss_kw_k, self.round_c = loss_w_k / 1000, round_c
        self.reheating = False
        self.given_kj = self.heated_kj = self.lost_kj = self.brought_kj = 0.0
        top = layers - 1
        self.coil = max(1, round(layers * heating.covers)) if heating else 1
        self.sensor = min(top, int(layers * heating.sensor)) if heating else 0
        self.levelled = self.coil - 1, self.coil - 1  # lowest and highest layer of the stretch the reheat last levelled

    @property
    def top_c(self) -> float:
        """Temperature of what would leave now [C]."""
        return self.temperatures[-1]

    def content_kj(self, above_c: float = 0.0) -> float:
        """Heat held above a temperature [kJ]."""
        return self.kj_k * sum(t - above_c for t in self.temperatures)

    def mixed_left_l(self, mixed_c: float, cold_c: float) -> float:
        """Litres at `mixed_c` still to be drawn from the layers at or above it, without reheat [l]."""
        hot = [t for t in self.temperatures if t >= mixed_c]
        return self.each_l * sum(t - cold_c for t in hot) / (mixed_c - cold_c)

    def step(self, seconds: float, flow_l_min: float, inlet_c: float, allowed_kw: float | None = None) -> float:
        """Move on by a step; returns the mean temperature of what left at the top [C] (the top layer's if nothing did).

        `allowed_kw` caps the reheat from outside: a shared boiler, or 0 while something else has it.
        """
        if not flow_l_min:
            leaving = self.temperatures[-1]
            self._warm(seconds, allowed_kw)
            return leaving
        drawn_l = flow_l_min * seconds / SECONDS_A_MINUTE
        parts = int(drawn_l / (MOST_TURN * self.each_l)) + 1
        if parts == 1:
            left = self._displace(drawn_l, inlet_c)
            self._warm(seconds, allowed_kw)
            return left
        left = 0.0
        for _ in range(parts):
            left += self._displace(drawn_l / parts, inlet_c)
            self._warm(seconds / parts, allowed_kw)
        return left / parts

    def _warm(self, seconds: float, allowed_kw: float | None) -> None:
        if self.loss_kw_k:
            self._lose(seconds)
        if self.heating is not None:
            self._reheat(self.heating, seconds, allowed_kw)

    def _displace(self, drawn_l: float, inlet_c: float) -> float:
        """Push everything up by a volume; second order in time, so that the layers alone decide the mixing."""
        share = drawn_l / self.each_l / 2
        keep, take = (1 - share) / (1 + share), share / (1 + share)
        moved = []
        flux = 2 * inlet_c  # twice the mean temperature that crosses the layer's lower edge
        for old in self.temperatures:
            new = keep * old + take * flux
            moved.append(new)
            flux = old + new
        self.temperatures = moved
        self.levelled = self.coil - 1, self.coil - 1
        kj_k = drawn_l * WATER_KJ_KG_K
        self.brought_kj += kj_k * inlet_c
        self.given_kj += kj_k * flux / 2
        return flux / 2

    def _lose(self, seconds: float) -> None:
        share = self.loss_kw_k * seconds / self.layers / self.kj_k
        round_c, before = self.round_c, sum(self.temperatures)
        self.temperatures = [t - share * (t - round_c) for t in self.temperatures]
        self.lost_kj += (before - sum(self.temperatures)) * self.kj_k

    def _reheat(self, heating: Heating, seconds: float, allowed_kw: float | None) -> None:
        temperatures, coil = self.temperatures, self.coil
        at_sensor = temperatures[self.sensor]
        if at_sensor >= heating.set_c:
            self.reheating = False
        elif at_sensor < heating.set_c - heating.differential_k:
            self.reheating = True
        if not self.reheating:
            return
        kw = heating.kw_at(sum(temperatures[:coil]) / coil)
        kw = kw if allowed_kw is None else min(kw, allowed_kw)
        if kw <= 0:
            return
        rise = kw * seconds / (coil * self.kj_k)
        for i in range(coil):
            temperatures[i] += rise
        self.heated_kj += kw * seconds
        self._rise_up()

    def _rise_up(self) -> None:
        """Warm water rises: layers that stand hotter than the one above them mix with it, heat and all.

        What the last reheat levelled is one stretch again at once: its lower end was warmed, so it stands hotter than
        its upper end. Only a draw-off parts it.
        """
        temperatures, top = self.temperatures, self.layers - 1
        low, high = self.levelled
        total = sum(temperatures[low:high + 1])
        mean = total / (high - low + 1)
        while True:
            if high < top and mean > temperatures[high + 1]:
                high += 1
                total += temperatures[high]
            elif low > 0 and temperatures[low - 1] > mean:
                low -= 1
                total += temperatures[low]
            else:
                break
            mean = total / (high - low + 1)
        if high > low:
            temperatures[low:high + 1] = [mean] * (high - low + 1)
        self.levelled = low, high


def minutes_to(litres: float, layers: int, start_c: float, inlet_c: float, flow_l_min: float, below_c: float,
               heating: Heating | None = None, mixed_c: float | None = None, step_s: float = 5.0,
               most_min: float = 180.0, loss_w_k: float = 0.0) -> float | None:
    """Minutes of a steady draw until what leaves the top is below a temperature; None if that never comes.

    Parameters
    ----------
    litres : volume of the store [l]
    layers : number of layers [-]
    start_c : temperature of the full store [C]
    inlet_c : cold water [C]
    flow_l_min : flow; of hot water, or of water at `mixed_c` where that is given [l/min]
    below_c : the temperature asked about [C]
    heating : how it is reheated meanwhile; None for not at all
    mixed_c : temperature of the mixture drawn [C]; None where the hot water is drawn as it comes
    step_s : step [s]
    most_min : how long to go on [min]
    loss_w_k : heat lost to the room for each kelvin [W/K]

    Returns
    -------
    minutes, by a straight line inside the last step [min]

    Raises
    ------
    ValueError
        If the store has no volume or no layers.

    Limits
    ------
    The mixing of a jet at the inlet is not modelled; the number of layers stands for it.

    Source
    ------
    Layers in series, see `Store`.

    Examples
    --------
    >>> round(minutes_to(150, 12, 60, 10, 18, 45), 1)
    6.9
    """
    store = Store(litres, layers, start_c, heating, loss_w_k)
    was, done = store.top_c, 0
    while done * step_s < most_min * SECONDS_A_MINUTE:
        top = store.top_c
        share = 1.0 if mixed_c is None or top <= mixed_c else (mixed_c - inlet_c) / (top - inlet_c)
        store.step(step_s, share * flow_l_min, inlet_c)
        done += 1
        if store.top_c < below_c:
            part = (was - below_c) / (was - store.top_c)
            return (done - 1 + part) * step_s / SECONDS_A_MINUTE
        was = store.top_c
    return None
