"""Physical constants and conventions that more than one formula uses, each with where it comes from."""

from __future__ import annotations

from advisor.facts import Source

WATER_KJ_KG_K = 4.187  # specific heat of water, with 1 kg/l: published water tables, 4.179 to 4.192 from 10 to 80 C
GRAVITY = 9.81  # m/s2
BAR_PER_M = 0.0981  # hydrostatics: 1000 kg/m3 x 9.81 m/s2 = 9.81 kPa a metre
MJ_PER_KWH = 3.6
NET_TO_GROSS = 1.11  # natural gas, three gas-training sources
AIR_WH_M3_K = 0.33  # heat held by air, Wh/(m3 K)
RADIATOR_EXPONENT = 1.3  # EN 442 panel radiators
RATED_DIFFERENCE_K = 50.0  # EN 442 rating point, 75/65/20
NO_LIMIT = 1e6  # keeps infinite ends away from min, max and comparisons, where they would hide a NaN

HEAT_BALANCE = Source("Heat balance of water, 4.187 kJ/(kg K) and 1 kg/l (the relation of BS 6700 Annex C)", "",
                      "DERIVED")
ARITHMETIC = Source("Arithmetic", "", "DERIVED")
HYDROSTATICS = Source("Hydrostatics, 0.0981 bar a metre of water", "", "DERIVED")
