"""A tank engine of another house, run live: layers with flows between them, explicit steps of one second."""

from __future__ import annotations

COLD_C, FULL_C, WATER_KJ = 10.0, 60.0, 4.18


def minutes(litres: float, layers: int, l_min: float, kw: float, height_m: float, below_c: float,
            mixed_c: float | None = None) -> float | None:
    """Minutes until what leaves its top is below a temperature; the cold forced into the lowest layer, as it would

    else join the layer nearest in temperature; the reheat whole into the lowest layer while that is under 60 C.
    """
    from mosaik_components.heatpump.hotwatertank.hotwatertank import HotWaterTank

    tank = HotWaterTank({"height": height_m * 1000, "volume": litres, "T_env": 20.0, "htc_walls": 0.5, "htc_layers": 0.0,
                         "n_layers": layers, "n_sensors": 2,
                         "connections": {"cold": {"pos": 0}, "hot": {"pos": height_m * 1000 - 1}}},
                        {"layers": {"T": FULL_C}})
    bottom, top = tank.layers[0], tank.layers[-1]
    for second in range(1, 3 * 3600 + 1):
        share = 1.0 if mixed_c is None else min(1.0, (mixed_c - COLD_C) / (top.T - COLD_C))
        flow = share * l_min / 60
        for name, layer, f, t in (("cold", bottom, flow, COLD_C), ("hot", top, -flow, top.T)):
            connection = tank.connections[name]
            connection.F, connection.T, connection.corresponding_layer = f, t, layer
        if kw and bottom.T < FULL_C:
            bottom.T += kw / (bottom.volume * WATER_KJ)
        tank.step(1.0)
        if below_c > top.T:
            return second / 60
    return None
