"""Stored hot water: mixing, litres in hand, reheat, the busiest hour, and the volume a pattern of draws asks for."""

from __future__ import annotations

from advisor.calc.constants import ARITHMETIC, HEAT_BALANCE, NO_LIMIT, WATER_KJ_KG_K
from advisor.calc.demand import HOUR_MIN
from advisor.calc.formula import Arg, OutOfRange, formula
from advisor.facts import Source

STORE = Arg("store_c", "C", 0, 100)
COLD = Arg("cold_c", "C", 0, 50)
MIXED = Arg("mixed_c", "C", 0, 100)
LITRES_PER_KW_MIN = 14.3  # 60 / 4.19: BS 6700 writes M = V T / (14.3 P)
BATH_C = 40.0
ORDER = [("cold_c < mixed_c", "the mixed water must be warmer than the cold"),
         ("mixed_c <= store_c", "a store cannot give mixed water hotter than itself")]
MIXING = Source("Mixing of hot and cold water; usable share by UK trade custom (0.80 to 0.90)", "", "DERIVED")
ANNEX_C = Source("BS 6700:1997", "Annex C, closed form behind Table C.1", "DERIVED", "reprint")


@formula(text="(mixed_c - cold_c) / (store_c - cold_c)", unit="", source=MIXING,
         args=(STORE, COLD, MIXED), limits=ORDER)
def hot_share(store_c: float, cold_c: float, mixed_c: float) -> float:
    """Share of hot water in a mixture.

    f = (Tm - Tc) / (Ts - Tc)

    Parameters
    ----------
    store_c : hot water [C]
    cold_c : cold water [C]
    mixed_c : wanted mixture [C]

    Returns
    -------
    hot share [-]

    Raises
    ------
    OutOfRange
        If the mixture is not warmer than the cold, or hotter than the store.

    Limits
    ------
    No heat lost on the way.

    Source
    ------
    Mixing; BS 6700 Annex C prints the same 60 l of hot in 100 l of bath water.

    Examples
    --------
    >>> hot_share(60.0, 10.0, 40.0)
    0.6
    """
    return (mixed_c - cold_c) / (store_c - cold_c)


@formula(text="usable * volume_l * (store_c - cold_c) / (mixed_c - cold_c)", unit="l", source=MIXING,
         args=(Arg("volume_l", "l", 0, NO_LIMIT), STORE, COLD, MIXED, Arg("usable", "", 0, 1)), limits=ORDER)
def mixed_volume(volume_l: float, store_c: float, cold_c: float, mixed_c: float, usable: float) -> float:
    """Mixed water in a full store, without reheat.

    Vm = u V (Ts - Tc) / (Tm - Tc)

    Parameters
    ----------
    volume_l : volume of the store [l]
    store_c : temperature it is kept at [C]
    cold_c : cold water [C]
    mixed_c : temperature wanted at the outlet [C]
    usable : share that can be drawn before the water turns tepid [-]

    Returns
    -------
    mixed water [l]

    Raises
    ------
    OutOfRange
        If the mixture is not warmer than the cold, or hotter than the store.

    Limits
    ------
    Upright cylinder that keeps its layers: usable 0.80 to 0.90; lying down or stirred by its inlet 0.70 to 0.75.

    Source
    ------
    Mixing; usable share by common practice.

    Examples
    --------
    >>> round(mixed_volume(210.0, 60.0, 10.0, 40.0, 0.85), 1)
    297.5
    """
    return usable * volume_l * (store_c - cold_c) / (mixed_c - cold_c)


@formula(text=f"volume_l * {WATER_KJ_KG_K} * rise_k / (60 * power_kw)", unit="min", source=HEAT_BALANCE,
         args=(Arg("volume_l", "l", 0), Arg("power_kw", "kW", 0), Arg("rise_k", "K", 0, 100)),
         limits=[("power_kw > 0", "without power a store is never reheated")])
def reheat_minutes(volume_l: float, power_kw: float, rise_k: float) -> float:
    """Time to warm a whole store.

    t = V 4.187 dT / (60 P), the M = V T / (14.3 P) of BS 6700

    Parameters
    ----------
    volume_l : volume [l]
    power_kw : the smaller of what heats it and what its coil passes [kW], > 0
    rise_k : rise through which it is warmed [K]

    Returns
    -------
    time [min]

    Raises
    ------
    OutOfRange
        If there is no power.

    Limits
    ------
    Constant power: a coil gives less as the store warms, so allow a fifth to a third more near its set point.

    Source
    ------
    Heat balance; BS 6700:2006 Annex C.

    Examples
    --------
    >>> round(reheat_minutes(210.0, 20.0, 50.0))
    37
    """
    return volume_l * WATER_KJ_KG_K * rise_k / (60 * power_kw)


@formula(text="60 if draw_l_min - credit * recovery_l_min <= 0 "
              "else (60 if mixed_l >= drawn_min * (draw_l_min - credit * recovery_l_min) "
              "else mixed_l / (draw_l_min - credit * recovery_l_min))",
         unit="min", source=ARITHMETIC,
         args=(Arg("mixed_l", "l", 0, NO_LIMIT), Arg("recovery_l_min", "l/min", 0, NO_LIMIT), Arg("credit", "", 0, 1),
               Arg("draw_l_min", "l/min", 0, NO_LIMIT), Arg("drawn_min", "min", 0, HOUR_MIN)))
def store_short_after(mixed_l: float, recovery_l_min: float, credit: float, draw_l_min: float,
                      drawn_min: float) -> float:
    """Minutes into the busiest hour until a store can no longer serve.

    t = Vm / (q - c r); 60 where reheat keeps up or the draw ends first

    Parameters
    ----------
    mixed_l : mixed water in the full store [l]
    recovery_l_min : mixed water the reheat makes [l/min]
    credit : share of that reheat that counts while the store is drawn [-]
    draw_l_min : mixed water drawn [l/min]
    drawn_min : how long it is drawn, 0 to 60 [min]

    Returns
    -------
    minutes, 60 for "nobody falls short" [min]

    Raises
    ------
    OutOfRange
        If the credit lies outside 0 to 1 or the draw outside the hour.

    Limits
    ------
    A balance of litres: with a credit of 1 it can be twice too long, for heat is left behind as lukewarm water. A
    credit of 0 is the lower bound.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> store_short_after(280.0, 8.0, 0.0, 18.0, 28.0), store_short_after(280.0, 8.0, 1.0, 18.0, 28.0)
    (15.555555555555555, 60.0)
    """
    net = draw_l_min - credit * recovery_l_min
    if net <= 0 or mixed_l >= drawn_min * net:
        return HOUR_MIN
    return mixed_l / net


@formula(text="60 if sure_l >= litres_l or draw_l_min <= 0 "
              "else min(60, sure_l / draw_l_min) + share * (60 - min(60, sure_l / draw_l_min))",
         unit="min", source=ARITHMETIC,
         args=(Arg("sure_l", "l", 0, NO_LIMIT), Arg("litres_l", "l", 0, NO_LIMIT),
               Arg("draw_l_min", "l/min", 0, NO_LIMIT), Arg("share", "", 0, 1)))
def short_or_not(sure_l: float, litres_l: float, draw_l_min: float, share: float) -> float:
    """Bounds of the minute a store gives out, where nothing finer can be said: what it surely holds, or never.

    60 where V >= L or nothing is drawn, else t + s (60 - t), with t = V / q, at most 60

    Parameters
    ----------
    sure_l : mixed water it surely gives, without any reheat [l]
    litres_l : mixed water drawn in the busiest hour [l]
    draw_l_min : flow drawn [l/min]
    share : 0 for the earliest minute, 1 for never; both where it is not known [-]

    Returns
    -------
    minutes, 60 for "nobody falls short" [min]

    Raises
    ------
    OutOfRange
        If something is negative or without end, or the share lies outside 0 to 1.

    Limits
    ------
    Reheat can only help, so the earliest minute is a lower bound.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> [short_or_not(litres, 300.0, 15.0, share) for litres, share in ((150.0, 0.0), (150.0, 1.0), (300.0, 0.0))]
    [10.0, 60.0, 60.0]
    """
    if sure_l >= litres_l or draw_l_min <= 0:
        return HOUR_MIN
    earliest = min(HOUR_MIN, sure_l / draw_l_min)
    return earliest + share * (HOUR_MIN - earliest)


def storage_volume(draw_l: float, then_l: float, after_min: float, store_c: float, cold_c: float, power_kw: float,
                   stratified: bool) -> float:
    """Store that serves a first draw and, some minutes later, a second one.

    With H = 14.3 P t, the litre-kelvins put back meanwhile::

        stratified  V = max(D, ((Ts - Tc) D + (40 - Tc) B - H) / (Ts - Tc))
        mixed       the same, and at least ((Ts - Tc) D - H) / (Ts - 40)

    Parameters
    ----------
    draw_l : first draw D, at the store's temperature [l]
    then_l : second draw B, at 40 C [l]
    after_min : minutes between them, t [min]
    store_c : temperature of the store [C]
    cold_c : cold water [C]
    power_kw : power that heats it, P [kW]
    stratified : whether hot and cold keep apart in it; else it is stirred by its heating

    Returns
    -------
    volume [l]

    Raises
    ------
    OutOfRange
        If something is negative, or the cold, 40 C and the store do not rise in this order.

    Limits
    ------
    Two draws. The standard prints rounded figures; these reproduce all eight of its first table to a litre.

    Source
    ------
    BS 6700:1997 Annex C: closed form behind Table C.1.

    Examples
    --------
    >>> round(storage_volume(70.0, 100.0, 25.0, 60.0, 10.0, 3.0, stratified=True))
    109
    """
    if min(draw_l, then_l, after_min, power_kw) < 0:
        raise OutOfRange("draws, minutes and power cannot be negative")
    if not cold_c < BATH_C < store_c:
        raise OutOfRange(f"cold {cold_c:g} C, {BATH_C:g} C and store {store_c:g} C must rise in this order")
    lift, put_back = store_c - cold_c, LITRES_PER_KW_MIN * power_kw * after_min
    wanted = [draw_l, (lift * draw_l + (BATH_C - cold_c) * then_l - put_back) / lift]
    if not stratified:
        wanted.append((lift * draw_l - put_back) / (store_c - BATH_C))
    return max(wanted)
