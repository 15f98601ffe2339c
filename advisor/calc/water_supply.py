"""Cold water: what the main gives at another pressure, head, gravity showers, accumulators."""

from __future__ import annotations

from advisor.calc.constants import BAR_PER_M, HYDROSTATICS, NO_LIMIT
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

EXPONENT = 1.85  # turbulent pipe flow; 1.75 for smooth pipe, 2.0 for rough
FURTHEST_UP = 1.5  # times the flow measured
ATMOSPHERE_BAR = 1.013
ROSE_L_MIN, ROSE_EXPONENT = 6.22, 0.52  # fitted to hydraulic network runs, see gravity_flow

PIPE_LAW = Source("Turbulent pipe flow (Darcy, Hazen): loss grows as flow to the power 1.85", "", "DERIVED")
TRADE_SHARES = Source("UK trade custom for quiet-time tests and shared service pipes", "", "COMMON PRACTICE")
ROSE_RUNS = Source("Hydraulic network runs: rose of 9 l/min at 0.1 bar, 8 m of 22 mm and 4 m of 15 mm copper, "
                   "water at 40 C", "fit within 1 % from 0.5 to 3 m", "DERIVED")
BOYLE = Source("Boyle's law on a pre-charged vessel, V (P1/P2 - P1/P3) in absolute pressures",
               "pump trade journals, two articles", "PUBLISHED", "reprint")


@formula(text=f"flow_l_min * ((static_bar - at_bar) / (static_bar - residual_bar)) ** (1 / {EXPONENT}) "
              "if at_bar < static_bar else 0",
         unit="l/min", source=PIPE_LAW,
         args=(Arg("static_bar", "bar", 0, 20), Arg("flow_l_min", "l/min", 0, 1000), Arg("residual_bar", "bar", 0, 20),
               Arg("at_bar", "bar", 0, 20)),
         limits=[("residual_bar < static_bar or residual_bar <= static_bar <= at_bar",
                  "the pressure left while water ran must be below the static pressure"),
                 (f"static_bar - at_bar <= {FURTHEST_UP} ** {EXPONENT} * (static_bar - residual_bar)",
                  "the curve is not followed beyond 1.5 times the flow measured: measure at a lower pressure")])
def supply_flow_at(static_bar: float, flow_l_min: float, residual_bar: float, at_bar: float) -> float:
    """Flow a supply gives at another running pressure, from one measured pair.

    q = q1 ((ps - p) / (ps - p1))^(1/1.85)

    Parameters
    ----------
    static_bar : pressure with nothing running [bar]
    flow_l_min : flow measured [l/min]
    residual_bar : pressure while that flow ran, at the same point [bar]
    at_bar : pressure at which the flow is wanted [bar]

    Returns
    -------
    flow [l/min]; 0 at and above the static pressure, where nothing moves

    Raises
    ------
    OutOfRange
        If the residual is above static, or as high where a flow below static is wanted, or the wanted point lies
        beyond 1.5 times the flow measured.

    Limits
    ------
    Same pipes, turbulent flow, nobody else drawing. Above 0.9 of static, limiters and meters flatten the curve: the
    flow there is small and only roughly known. The exponent is 1.75 for smooth and 2.0 for rough pipe: 4 % at
    half the pressure.

    Source
    ------
    Derived from the Darcy and Hazen forms of turbulent pipe loss.

    Examples
    --------
    >>> round(supply_flow_at(3.0, 18.0, 1.0, 1.5), 1)
    15.4
    """
    if at_bar >= static_bar:
        return 0.0
    return flow_l_min * ((static_bar - at_bar) / (static_bar - residual_bar)) ** (1 / EXPONENT)


@formula(text="flow_l_min * (quiet_share if tested_at == 'quiet time' else 1) "
              "* (shared_share if shared == 'yes' else 1)",
         unit="l/min", source=TRADE_SHARES,
         args=(Arg("flow_l_min", "l/min"), Arg("tested_at", "", words=("busy time", "quiet time")),
               Arg("shared", "", words=("no", "yes")), Arg("quiet_share", "", 0, 1), Arg("shared_share", "", 0, 1)))
def busy_supply_flow(flow_l_min: float, tested_at: str, shared: str, quiet_share: float, shared_share: float) -> float:
    """What is left of a measured flow at the busy time and with the neighbour drawing.

    Parameters
    ----------
    flow_l_min : flow measured [l/min]
    tested_at : "busy time" or "quiet time"
    shared : "yes" where a neighbour hangs on the same service pipe
    quiet_share : busy-time flow as a share of a quiet-time one [-]
    shared_share : share left while the neighbour draws [-]

    Returns
    -------
    flow [l/min]

    Raises
    ------
    OutOfRange
        If a share lies outside 0 to 1 or a word is unknown.

    Limits
    ------
    The shares are customs, not laws: a second test at the busy time replaces them.

    Source
    ------
    Common practice.

    Examples
    --------
    >>> busy_supply_flow(15.0, "quiet time", "yes", 0.8, 0.5)
    6.0
    """
    quiet = quiet_share if tested_at == "quiet time" else 1.0
    return flow_l_min * quiet * (shared_share if shared == "yes" else 1.0)


@formula(text=f"{ROSE_L_MIN} * head_m ** {ROSE_EXPONENT} if head_m > 0 else 0", unit="l/min", source=ROSE_RUNS,
         args=(Arg("head_m", "m", -10, 8),))
def gravity_flow(head_m: float) -> float:
    """Mixed flow of one open low-pressure shower fed from a cistern.

    q = 6.22 h^0.52, 0 where the cistern stands no higher than the rose

    Fitted to hydraulic network runs (0.5 m 4.34, 1.5 m 7.69, 3 m 10.99 l/min) of the commoner pipe, 8 m of 22 mm and
    then 4 m of 15 mm; 22 mm throughout gives a quarter more. Above 3 m a Darcy sum of the same pipe (12.7 at 4 m, 18.2
    at 8 m) stays within 1 % of it.

    Parameters
    ----------
    head_m : base of the cistern above the shower rose [m]

    Returns
    -------
    mixed flow [l/min]

    Raises
    ------
    OutOfRange
        Outside -10 to 8 m.

    Limits
    ------
    A rose made for low pressure (9 l/min at 0.1 bar): one made for mains pressure gives under 5 l/min even at 3 m.
    One outlet open, short straight pipes. Below 0.5 m the fit is carried on, under 4.3 l/min.

    Source
    ------
    Derived from hydraulic network runs; none published was found.

    Examples
    --------
    >>> round(gravity_flow(1.5), 2)
    7.68
    """
    return ROSE_L_MIN * head_m**ROSE_EXPONENT if head_m > 0 else 0.0


@formula(text=f"{BAR_PER_M} * height_m", unit="bar", source=HYDROSTATICS, args=(Arg("height_m", "m", -200, 200),))
def head_pressure(height_m: float) -> float:
    """Pressure of a standing column of water.

    p = 0.0981 h

    Parameters
    ----------
    height_m : height of the column [m]

    Returns
    -------
    pressure [bar]

    Raises
    ------
    OutOfRange
        Beyond 200 m.

    Limits
    ------
    No flow: running water loses pressure besides.

    Source
    ------
    Hydrostatics.

    Examples
    --------
    >>> round(head_pressure(3.0), 3)
    0.294
    """
    return BAR_PER_M * height_m


@formula(text=f"volume_l * (charge_bar + {ATMOSPHERE_BAR}) * (1 / (low_bar + {ATMOSPHERE_BAR}) "
              f"- 1 / (high_bar + {ATMOSPHERE_BAR})) if low_bar < high_bar else 0",
         unit="l", source=BOYLE,
         args=(Arg("volume_l", "l", 0, NO_LIMIT), Arg("charge_bar", "bar", 0, 20), Arg("low_bar", "bar", 0, 20),
               Arg("high_bar", "bar", 0, 20)),
         limits=[("charge_bar <= low_bar", "the charge must not be above the low pressure, or the vessel runs empty")])
def accumulator_usable(volume_l: float, charge_bar: float, low_bar: float, high_bar: float) -> float:
    """Water a charged vessel gives between two gauge pressures.

    dV = V (p0 + 1.013) (1/(p_low + 1.013) - 1/(p_high + 1.013))

    Parameters
    ----------
    volume_l : whole volume of the vessel [l]
    charge_bar : gas charge with the vessel empty of water [bar gauge]
    low_bar : pressure at which it is of no more use [bar gauge]
    high_bar : pressure to which the main fills it, the night-time static [bar gauge]

    Returns
    -------
    water given [l]; 0 where the main never fills it above the low pressure

    Raises
    ------
    OutOfRange
        If the charge is above the low pressure.

    Limits
    ------
    Slow draw (constant temperature); a quick one gives a little less.

    Source
    ------
    Boyle's law; pump trade journals print the same form.

    Examples
    --------
    >>> round(accumulator_usable(300.0, 1.5, 1.7, 3.5))
    111
    """
    if low_bar >= high_bar:
        return 0.0
    p0, low, high = (p + ATMOSPHERE_BAR for p in (charge_bar, low_bar, high_bar))
    return volume_l * p0 * (1 / low - 1 / high)
