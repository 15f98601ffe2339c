"""A day of the load profiles: the published totals, the heat account, and a small store that does not manage."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner

from advisor import paths
from advisor.cli.app import app
from advisor.water.day import COLD_C, NAMES, PROFILES, simulate_day
from advisor.water.plants import Instant, Stored
from advisor.water.store import FEW, MANY, Heating, Store
from tests import homes

REFERENCE_KWH = {"M": 5.845, "L": 11.655, "XL": 19.07}  # (EU) 814/2013, Annex III: reference energy; from memory, like its rows
DEMO = str(paths.SURVEYS / f"{homes.DEMO}.toml")


@pytest.mark.parametrize("profile", NAMES)
def test_draws_add_up_to_the_reference_energy(profile: str) -> None:
    rows = [r for r in PROFILES.rows if r["profile"] == profile]
    assert sum(r["kwh"] for r in rows) == pytest.approx(REFERENCE_KWH[profile], abs=1e-6)
    assert [r["minute"] for r in rows] == sorted(r["minute"] for r in rows)


def test_a_boiler_that_heats_as_it_flows_serves_the_medium_day() -> None:
    """30 kW passes every flow. Minutes by hand: 19 draws of 0.105 kWh at 3 l/min (0.1047 kWh a minute: 1.003 min), two of
    1.4 at 6 l/min (6.69 min), 0.315 and 0.735 at 4 l/min and 55 C (0.2093: 1.50, 3.51 min): 37.4 min, in steps of 5 s a
    little more.
    """
    found = simulate_day(Instant(30.0), "M", 1)
    assert found.delivered_kwh == pytest.approx(5.845) and not found.missed
    assert 37.4 <= found.heating_lost_min <= 39.5


@pytest.mark.parametrize("layers", [FEW, MANY])
def test_the_day_s_heat_account_closes(layers: int) -> None:
    store = Store(210, layers, 60.0, Heating(3.0, 60.0, sensor=0.33, differential_k=5.0), loss_w_k=1.9)
    before = store.content_kj()
    found = simulate_day(Stored(store), "L", layers)
    drawn = store.given_kj - store.brought_kj
    assert store.content_kj() == pytest.approx(before + store.heated_kj - drawn - store.lost_kj, rel=1e-6)
    assert not found.missed and drawn / 3600 >= 11.655 - 0.01
    # 1.9 W/K x about 40 K x 24 h = 1.8 kWh
    assert found.lost_kwh == pytest.approx(1.8, abs=0.3)


def test_an_unheated_store_serves_what_it_holds() -> None:
    """120 l from 60 to 10 C hold 120 x 4.187 x 50 / 3600 = 6.98 kWh; down to 40 C at the top a good part of them."""
    found = simulate_day(Stored(Store(120, MANY, 60.0)), "XL", MANY)
    assert found.missed and 0.7 * 6.98 < found.delivered_kwh < 6.98
    assert all(m.coldest_c < m.asked_c for m in found.missed) and min(m.coldest_c for m in found.missed) >= COLD_C - 1e-6


def test_command() -> None:
    done = CliRunner().invoke(app, ["busy-hour", DEMO, "--day", "l"])
    assert done.exit_code == 0 and "Delivers 11.7 kWh of 11.7 kWh" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    document = json.loads(CliRunner().invoke(app, ["busy-hour", DEMO, "combination-boiler", "--day", "M", "--json"]).stdout)
    assert document["arrangements"][0]["days"][0]["delivered_kwh"] == pytest.approx(5.845)
    assert CliRunner().invoke(app, ["busy-hour", DEMO, "--day", "S"]).exit_code == 2


def test_the_present_cylinder_is_not_guessed_at() -> None:
    done = CliRunner().invoke(app, ["busy-hour", DEMO, "keep-what-is-there", "--day", "M"])
    assert "Not computed: the coil of the present cylinder is not part of the survey" in " ".join(done.stdout.split())
