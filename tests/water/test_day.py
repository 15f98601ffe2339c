"""A day of the load profiles: the published totals, the heat account, and a small store that does not manage."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner

from advisor import paths
from advisor.cli.app import app
from advisor.water.day import COLD_C, NAMES, PROFILES, own_week, simulate_day
from advisor.water.plants import Instant, Stored
from advisor.water.store import FEW, MANY, Heating, Store
from tests import homes

DRAWS = {"M": 23, "L": 24, "XL": 30}  # the same annex
REFERENCE_KWH = {"M": 5.845, "L": 11.655, "XL": 19.07}  # (EU) 814/2013, Annex III: reference energy
IDS = [f"PROF-{name}" for name in NAMES]  # of the ledger of check values
DEMO = str(paths.SURVEYS / f"{homes.DEMO}.toml")


# Commission Regulation (EU) 812/2013 Annex VII Table 3 and 814/2013 Annex III Table 1, as coded in an open toolbox for solar
# heating: time, kWh / l/min; * = to reach 55 C.
PRINTED = {
    "M": "07:00 .105/3; 07:05 1.4/6; 07:30 .105/3; 08:01 .105/3; 08:15 .105/3; 08:30 .105/3; 08:45 .105/3; 09:00 .105/3; 09:30 .105/3; 10:30 .105/3; 11:30 .105/3; 11:45 .105/3; 12:45 .315/4*; 14:30 .105/3; 15:30 .105/3; 16:30 .105/3; 18:00 .105/3; 18:15 .105/3; 18:30 .105/3; 19:00 .105/3; 20:30 .735/4*; 21:15 .105/3; 21:30 1.4/6",
    "L": "07:00 .105/3; 07:05 1.4/6; 07:30 .105/3; 07:45 .105/3; 08:05 3.605/10; 08:25 .105/3; 08:30 .105/3; 08:45 .105/3; 09:00 .105/3; 09:30 .105/3; 10:30 .105/3; 11:30 .105/3; 11:45 .105/3; 12:45 .315/4*; 14:30 .105/3; 15:30 .105/3; 16:30 .105/3; 18:00 .105/3; 18:15 .105/3; 18:30 .105/3; 19:00 .105/3; 20:30 .735/4*; 21:00 3.605/10; 21:30 .105/3",
    "XL": "07:00 .105/3; 07:15 1.82/6; 07:26 .105/3; 07:45 4.42/10; 08:01 .105/3; 08:15 .105/3; 08:30 .105/3; 08:45 .105/3; 09:00 .105/3; 09:30 .105/3; 10:00 .105/3; 10:30 .105/3; 11:00 .105/3; 11:30 .105/3; 11:45 .105/3; 12:45 .735/4*; 14:30 .105/3; 15:00 .105/3; 15:30 .105/3; 16:00 .105/3; 16:30 .105/3; 17:00 .105/3; 18:00 .105/3; 18:15 .105/3; 18:30 .105/3; 19:00 .105/3; 20:30 .735/4*; 20:46 4.42/10; 21:15 .105/3; 21:30 4.42/10",
}


@pytest.mark.parametrize("profile", NAMES, ids=IDS)
def test_every_draw_is_the_printed_one(profile: str) -> None:
    def line(r) -> str:
        return f"{r['minute'] // 60:02d}:{r['minute'] % 60:02d} {r['kwh']:g}/{r['l_min']:g}{'*' * (r['peak_c'] == 55)}".replace(" 0.", " .")

    assert "; ".join(line(r) for r in PROFILES.rows if r["profile"] == profile) == PRINTED[profile]


def test_a_heater_below_21_kw_fills_the_large_day_s_baths_slowly() -> None:
    """10 l/min through 30 K take 10/60 x 4.187 x 30 = 20.9 kW: twice in the large day somebody gets less with 20 kW."""
    assert (simulate_day(Instant(20.0), "L", 1).slow, simulate_day(Instant(21.5), "L", 1).slow) == (2, 0)


@pytest.mark.parametrize("profile", NAMES, ids=IDS)
def test_draws_add_up_to_the_reference_energy(profile: str) -> None:
    rows = [r for r in PROFILES.rows if r["profile"] == profile]
    assert sum(r["kwh"] for r in rows) == pytest.approx(REFERENCE_KWH[profile], abs=1e-6)
    assert len(rows) == DRAWS[profile]
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


def test_the_household_s_own_week() -> None:
    done = CliRunner().invoke(app, ["busy-hour", DEMO, "--day", "own"])
    assert done.exit_code == 0 and max(map(len, done.stdout.splitlines())) <= 80
    assert "2,600 UK showers" in done.stdout and "of the week" in done.stdout
    again, other = (json.loads(CliRunner().invoke(app, ["busy-hour", DEMO, "combination-boiler", "--day", "own", "--seed", s,
                                                        "--json"]).stdout) for s in ("1", "2"))
    week = again["arrangements"][0]["days"][0]
    assert f"of {week['wanted_kwh']:.1f} kWh wanted" in done.stdout.replace("\u00a0", " ")
    assert week["days"] == 7 and week["wanted_kwh"] != other["arrangements"][0]["days"][0]["wanted_kwh"]
    assert {s["what"] for s in again["statistics"]} >= {"water of a shower", "hot water a person"}


def test_a_week_takes_about_seven_measured_days() -> None:
    """4 people by the measured 50.8 l each at 36.7 K: 203 l x 4.187 x 36.7 / 3600 = 8.7 kWh a day, 61 a week; a week may be a
    quarter off. The home's own showers (54 l) and bath (100 l) are near the measured 62 and 80 l; cold is 10 C here, not 15.2:
    30 / 24.8 as much heat."""
    done = json.loads(CliRunner().invoke(app, ["busy-hour", DEMO, "combination-boiler", "--day", "own", "--json"]).stdout)
    wanted = done["arrangements"][0]["days"][0]["wanted_kwh"]
    assert wanted == pytest.approx(61 * 30 / 24.8, rel=0.25)


def test_without_knowing_the_people_there_is_no_week() -> None:
    advice = homes.quick(homes.survey(homes.DEMO).with_changes({"household.people": "unknown"}))
    found, reasons = own_week(advice.book, advice.judged[0].arrangement, sorted(advice.book.of("outlet.kind")), 1)
    assert not found and any("people" in r for r in reasons)
