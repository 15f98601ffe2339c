"""The further calculators: gas tree and energy, with the sums beside them."""

from __future__ import annotations

import pytest

from advisor.calc.public import CalcError, answer

TREE = {"legs": "main from meter 22 mm 6 m; last from main to boiler 15 mm 3 m; side from main to fire 15 mm 1 m",
        "loads": "boiler 1.3 m3/h; fire 2.6 m3/h"}


def result(name: str, keys: dict[str, str]) -> dict:
    return answer(name, keys).as_json()


def test_two_sections_of_the_published_proportional_method() -> None:
    # BS 6891 articles: 3.9 m3/h in 22 mm over 6 m is 6/12 of 1 mbar, 1.3 m3/h in 15 mm over 3 m is 3/12: 0.75 in all
    assert result("gas-tree", TREE)["result"]["drop"]["value"] == pytest.approx(0.75, abs=0.02)


def test_the_leg_to_enlarge_is_named() -> None:
    found = result("gas-tree", {"legs": "one from meter to boiler 15 mm 6 m", "loads": "boiler 2.9 m3/h"})
    # 15 mm carries 2.9 m3/h for 3 m at 1 mbar: 6 m lose 2 mbar
    assert found["result"]["drop"]["value"] == pytest.approx(2.0, abs=0.01)
    assert found["result"]["largest"]["value"] == pytest.approx(1.9, abs=0.011)  # its 6 m row
    assert any("enlarge one from 15 to 22 mm" in line for line in found["working"])


def test_a_leg_that_cannot_be_read_shows_the_form_wanted() -> None:
    with pytest.raises(CalcError, match="is no leg"):
        answer("gas-tree", {"legs": "a pipe", "loads": "boiler 1 m3/h"})


@pytest.mark.parametrize("name, keys, key, wanted, tolerance", [
    ("break-even", {"electricity": "26.11 p/kWh", "gas": "7.33 p/kWh"}, "ratio", 3.21, 0.01),  # 26.11 x 0.9 / 7.33
    ("room-fall", {"pause": "40 min", "constant": "30 h", "inside": "20 C", "outside": "0 C"}, "fall", 0.44, 0.01),
    ("flow-temperature", {"loss": "5.15 kW", "emitters": "10 kW"}, "flow", 55.0, 0.05),  # EN 442: 0.515 at 30 K
    ("yearly-hot-water", {"volume": "100 l", "rise": "40 K"}, "energy", 1698, 1),  # 365 x 4.652 kWh
])
def test_energy_and_temperatures(name: str, keys: dict[str, str], key: str, wanted: float, tolerance: float) -> None:
    assert result(name, keys)["result"][key]["value"] == pytest.approx(wanted, abs=tolerance)
