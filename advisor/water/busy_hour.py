"""The busy hour, a few seconds at a time: who gets how much, how warm, and the first minute somebody falls short."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from advisor.calc.demand import HOUR_MIN
from advisor.calc.instantaneous import instant_flow
from advisor.facts import Source
from advisor.water.demand import Draw, Plan
from advisor.water.plants import Instant, Plant
from advisor.water.store import SECONDS_A_MINUTE

STEP_S = 5.0
REST_S = 15.0  # step while nothing is drawn
LONGEST_MIN = 180.0
FLOW_SHORT = 0.99  # a flow below this share of the flow wanted is short
SHORT_K = 1e-6
KEEP_EVERY_S = 15.0  # spacing of the curves kept

SIMULATED = Source("Store in layers, heat balance, pipe network, in steps of 5 s", "", "DERIVED")

Flows = Callable[[Mapping[str, float]], Mapping[str, float]]  # wanted flow of every open outlet -> what its pipes give


@dataclass
class Curve:
    """What one outlet got: minute, flow [l/min], temperature [C] at the mixer."""

    wanted_l_min: float = 0.0
    mixed_wanted_c: float = 40.0
    minutes: list[float] = field(default_factory=list)
    l_min: list[float] = field(default_factory=list)
    mixed_c: list[float] = field(default_factory=list)
    first_short_min: float | None = None
    kind: str = ""  # "flow" or "cold", of the first shortfall
    least_l_min: float = float("inf")
    coldest_c: float = float("inf")
    litres: float = 0.0
    ran_min: float = 0.0
    meant_min: float = 0.0  # how long all its draws would take at the flow wanted

    def short(self, l_min: float, warm_c: float) -> str:
        """What these are short of: "cold", "flow" or nothing; a bath that fills slowly is only slow."""
        if warm_c < self.mixed_wanted_c - SHORT_K:
            return "cold"
        return "flow" if not self.meant_min and l_min < FLOW_SHORT * self.wanted_l_min else ""

    @property
    def slow(self) -> bool:
        """Whether a bath fills noticeably slower than wanted."""
        return self.meant_min > 0 and self.meant_min < FLOW_SHORT * self.ran_min


@dataclass(frozen=True, slots=True)
class Decided:
    """What stood behind the first shortfall: flow wanted by all open outlets, given by the pipes, warmed [l/min]."""

    wanted_l_min: float
    piped_l_min: float
    got_l_min: float
    cold: bool = False  # whether it was warmth that somebody fell short of
    wanted: tuple[tuple[str, float], ...] = ()  # by the outlets open then

    @property
    def by(self) -> str:
        """"pipes", "heat" (warms too little as it flows) or "store" (used up)."""
        if self.cold:
            return "store"
        if self.got_l_min < FLOW_SHORT * self.piped_l_min:  # pipes that gave all would change nothing
            return "heat"
        return "pipes" if self.piped_l_min < FLOW_SHORT * self.wanted_l_min else "store"


@dataclass
class Run:
    """One simulated busy hour."""

    curves: dict[str, Curve]
    store_minutes: list[float]
    store_c: list[float]  # top of the store
    drawn_until_min: float
    left_l: float | None  # at 40 C, when the last draw ends; None where no such figure is to be had
    heating_lost_min: float
    first_cold_min: float | None = None
    decided: Decided | None = None

    @property
    def first_short_min(self) -> float | None:
        return min((c.first_short_min for c in self.curves.values() if c.first_short_min is not None), default=None)

    @property
    def first_short_outlet(self) -> str:
        first = self.first_short_min
        return next((n for n, c in self.curves.items() if c.first_short_min == first), "") if first is not None else ""


class Reserve:
    """Water a charged vessel adds to a main that gives too little, until it is empty; it fills when the main can."""

    def __init__(self, litres: float, useful_l_min: float):
        self.most_l = self.litres = litres
        self.useful_l_min = useful_l_min  # what the main gives at the pressure of use

    def add(self, seconds: float, wanted: Mapping[str, float], given: Mapping[str, float]) -> Mapping[str, float]:
        missing = sum(wanted.values()) - self.useful_l_min
        self.litres = min(self.most_l, self.litres - missing * seconds / SECONDS_A_MINUTE)
        if missing <= 0 or self.litres > 0:
            return dict(wanted)
        self.litres = 0.0
        return given


@dataclass(slots=True)
class _Open:
    """What runs now: the lanes with their draws, what is wanted and what the pipes give; the same until a draw ends."""

    running: Sequence[tuple[_Lane, Draw]]
    wanted: Mapping[str, float]
    piped: Mapping[str, float]
    own: Mapping[str, float]  # outlets with a heater of their own
    hot: Mapping[str, float]  # the others
    asked: float  # of the plant
    names: tuple[str, ...]

    def got(self, given_l_min: float) -> dict[str, float]:
        """What each outlet gets while the plant gives this much."""
        part = given_l_min / self.asked if self.asked else 1.0
        return {**self.own, **self.hot} if part == 1.0 else {**self.own, **{n: q * part for n, q in self.hot.items()}}


@dataclass(slots=True)
class _Lane:
    draws: Sequence[Draw]
    at: int = 0
    minutes: float = 0.0
    litres: float = 0.0

    def draw(self) -> Draw | None:
        return self.draws[self.at] if self.at < len(self.draws) else None

    def ran(self, minutes: float, litres: float) -> bool:
        """Count what ran; True when a bath is given up, still not full after an hour."""
        draw = self.draws[self.at]
        self.minutes += minutes
        self.litres += litres
        done = self.litres >= draw.litres - 1e-9 if draw.litres else self.minutes >= draw.minutes - 1e-9
        never = not done and draw.litres > 0 and self.minutes >= HOUR_MIN
        if done or never:
            self.at, self.minutes, self.litres = self.at + 1, 0.0, 0.0
        return never


def simulate(plan: Plan, plant: Plant, flows: Flows, cold_c: float, mixed_c: float,
             electric_kw: Mapping[str, float] | None = None, reserve: Reserve | None = None,
             step_s: float = STEP_S) -> Run:
    """Run the busy hour once.

    Parameters
    ----------
    plan : who draws what, where, in which order
    plant : what makes the hot water; it is used up
    flows : what the pipes give with some outlets open
    cold_c : cold water in a hard winter week [C]
    mixed_c : temperature wanted at the outlets [C]
    electric_kw : outlets with a heater of their own, which draw no hot water [kW]
    reserve : a vessel that helps the main, or None
    step_s : step [s]

    Returns
    -------
    the curves and what follows from them

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Pipes hold no water and no heat: the wait at a dead leg comes on top. A bath not full after an hour is given up and
    counts as short from its start; the run ends after three hours at the latest.
    """
    hour = _Hour(plan, plant, flows, cold_c, mixed_c, electric_kw or {}, reserve, step_s)
    while hour.minute < LONGEST_MIN and hour.step():
        pass
    drawn_until, left = hour.minute, plant.left_l(cold_c, mixed_c)
    while hour.minute < HOUR_MIN and not (hour.minute > drawn_until and plant.settled()):
        hour.rest()
    return Run(hour.curves, hour.store_minutes, hour.store_c, drawn_until, left, plant.heating_lost_min,
               hour.first_cold_min, hour.decided)


def asked_of_plant(plan: Plan, cold_c: float, mixed_c: float,
                   electric_kw: Mapping[str, float]) -> tuple[tuple[float, bool], ...]:
    """Each step's flow asked of a plant that gives all [l/min], and whether any of it is to be hot; no pipe holds back.

    It is the same for every plant that never passes less than it is asked for, so a plan is dealt out once.
    """
    hour = _Hour(plan, Instant(float("inf")), dict, cold_c, mixed_c, electric_kw, None, STEP_S)
    steps = []
    while hour.minute < LONGEST_MIN and (now := hour.now or hour.opened()) is not None:
        steps.append((now.asked, bool(now.hot)))
        hour.now = now
        hour.step()
    return tuple(steps)


def crossing(minute: float, step_s: float, mixed_c: float, before: float | None, last: float | None) -> float:
    """When the store's top passed the temperature wanted: inside the step before this one, by a straight line [min].

    `before` is the top's temperature as this step began, `last` as the one before it did.
    """
    if before is None or last is None or not before < mixed_c <= last:
        return minute
    return minute - step_s / SECONDS_A_MINUTE * (mixed_c - before) / (last - before)


class _Hour:
    """The moving parts of one run."""

    def __init__(self, plan: Plan, plant: Plant, flows: Flows, cold_c: float, mixed_c: float,
                 electric_kw: Mapping[str, float], reserve: Reserve | None, step_s: float):
        self.plant, self.flows, self.cold_c, self.mixed_c = plant, flows, cold_c, mixed_c
        self.electric_kw, self.reserve, self.step_s = electric_kw, reserve, step_s
        self.phases = [[_Lane(lane) for lane in phase] for phase in plan.phases]
        self.curves = {d.outlet: Curve(d.l_min, mixed_c) for d in plan.draws}
        for d in plan.draws:
            self.curves[d.outlet].meant_min += d.litres / d.l_min if d.litres else 0.0
        self.decided: Decided | None = None
        self.minute = self.kept_s = 0.0
        self.store_minutes: list[float] = []
        self.store_c: list[float] = []
        self.known: dict[tuple[str, ...], Mapping[str, float]] = {}
        self.first_cold_min: float | None = None
        self.now: _Open | None = None
        self.open_before: tuple[str, ...] = ()
        self.last_top: float | None = None

    def step(self) -> bool:
        """One step of drawing; False when every draw is done."""
        if self.now is None or self.reserve is not None:
            self.now = self.opened()
        now = self.now
        if now is None:
            return False
        before = self.plant.hot_c()
        given = self.plant.serve(self.step_s, now.asked, self.cold_c, self.mixed_c)
        got = now.got(given.l_min)
        self._note(now, got, given.mixed_c, before)
        minutes = self.step_s / SECONDS_A_MINUTE
        for lane, d in now.running:
            at = lane.at
            if lane.ran(minutes, got[d.outlet] * minutes):
                self._given_up(d, now, got)
            if lane.at != at:
                self.now = None
        self._keep_store(self.step_s)
        return True

    def opened(self) -> _Open | None:
        """What runs next; None when every draw is done."""
        while self.phases and all(lane.draw() is None for lane in self.phases[0]):
            self.phases.pop(0)
        if not self.phases:
            return None
        running = [(lane, d) for lane in self.phases[0] if (d := lane.draw()) is not None]
        wanted = {d.outlet: d.l_min for _, d in running}
        piped = self._piped(wanted)
        own = {n: min(piped[n], instant_flow(kw, self.mixed_c - self.cold_c))
               for n, kw in self.electric_kw.items() if n in wanted}
        hot = {n: q for n, q in piped.items() if n not in own}
        return _Open(running, wanted, piped, own, hot, sum(hot.values()), tuple(wanted))

    def _given_up(self, draw: Draw, now: _Open, got: Mapping[str, float]) -> None:
        """A bath that does not fill in an hour was short of flow from its start."""
        curve = self.curves[draw.outlet]
        if curve.first_short_min is None:
            curve.kind, curve.first_short_min = "flow", max(0.0, self.minute - HOUR_MIN)
        self._decide(now, got)

    def _decide(self, now: _Open, got: Mapping[str, float]) -> None:
        if self.decided is None:
            cold = any(self.curves[n].kind == "cold" for n in now.wanted)
            self.decided = Decided(sum(now.wanted.values()), sum(now.piped.values()), sum(got.values()), cold,
                                   tuple(now.wanted.items()))

    def rest(self) -> None:
        self.plant.serve(REST_S, 0.0, self.cold_c, self.mixed_c)
        self._keep_store(REST_S)

    def _piped(self, wanted: Mapping[str, float]) -> Mapping[str, float]:
        key = tuple(sorted(wanted))
        if key not in self.known:
            self.known[key] = self.flows(wanted)
        if self.reserve is not None:
            return self.reserve.add(self.step_s, wanted, self.known[key])
        return self.known[key]

    def _note(self, now: _Open, got: Mapping[str, float], mixed_c: float, before: float | None) -> None:
        keep = self.minute * SECONDS_A_MINUTE >= self.kept_s or now.names != self.open_before
        minutes, short = self.step_s / SECONDS_A_MINUTE, False
        for name, flow in got.items():
            warm = self.mixed_c if name in now.own else mixed_c
            curve = self.curves[name]
            curve.litres += flow * minutes
            curve.ran_min += minutes
            if flow < curve.least_l_min:
                curve.least_l_min = flow
            if warm < curve.coldest_c:
                curve.coldest_c = warm
            if kind := curve.short(flow, warm):
                self._fell_short(curve, kind, before)
                short = True
            if keep:
                curve.minutes.append(self.minute)
                curve.l_min.append(flow)
                curve.mixed_c.append(warm)
        if short:
            self._decide(now, got)
        if keep:
            self.kept_s = self.minute * SECONDS_A_MINUTE + KEEP_EVERY_S
        self.open_before, self.last_top = now.names, before

    def _fell_short(self, curve: Curve, kind: str, before: float | None) -> None:
        if curve.first_short_min is None:
            curve.kind = kind
            curve.first_short_min = self._crossing(before) if kind == "cold" else self.minute
        if kind == "cold" and self.first_cold_min is None:
            self.first_cold_min = self._crossing(before)

    def _crossing(self, before: float | None) -> float:
        return crossing(self.minute, self.step_s, self.mixed_c, before, self.last_top)

    def _keep_store(self, seconds: float) -> None:
        hot = self.plant.hot_c()
        if hot is not None and (not self.store_minutes
                                or (self.minute - self.store_minutes[-1]) * SECONDS_A_MINUTE >= KEEP_EVERY_S):
            self.store_minutes.append(self.minute)
            self.store_c.append(hot)
        self.minute += seconds / SECONDS_A_MINUTE
