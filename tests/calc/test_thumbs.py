"""Each saying's range is computed; a few are held against the hand-worked ranges of the trade's own comparison."""

from __future__ import annotations

import pytest

from advisor.calc.thumbs import load, within

BY_SAYING = {t.saying: t for t in load()}

# Worked by hand: within a tenth means 0.9 <= says/exact <= 1.1.
HAND = [
    # 0.4 x 4.187 x dT / 60 between 0.9 and 1.1: dT between 32.2 and 39.4
    ("A combination boiler gives 0.4 l/min for each kW in winter", 32.24, 39.41),
    ("A combination boiler gives half a litre a minute for each kW in summer", 25.80, 31.53),  # 0.5 in place of 0.4
    ("A 3 kW immersion heater warms 52 litres an hour by 50 K", 44.64, 54.56),  # 52 x 4.187 x dT / 10800
    ("A 6 m3/h meter carries 65 kW", 35.45, 43.33),  # 65/(6 CV/3.6): CV = 39/1.1 and 39/0.9
    ("kW of gas over 11 are m3/h", 35.64, 43.56),  # CV/(11 x 3.6) between 0.9 and 1.1
    ("4.35 A for each kW", 206.9, 252.9),  # 4.35 U / 1000
    ("2 l/min for each kW of a heat pump", 6.449, 7.882),  # 2 x 4.187 x dT / 60 between 0.9 and 1.1
    ("A bath of 100 litres takes 60 from a 60 °C tank", 1.0, 16.0),  # 60 (60 - x) = 110 (40 - x) at x = 16; tried from 1
    ("15 mm carries 17 l/min quietly", 1.773, 2.167),  # 17 / (8.716 v) between 0.9 and 1.1
    ("1 kW of heat costs a heat pump 0.3 kW", 3.0, 3.667),  # 0.3 COP between 0.9 and 1.1
    ("Every kelvin lower saves 7 %", 12.86, 15.71),  # 0.07 dT between 0.9 and 1.1
    ("A house loses 50 W for each square metre", 1.894, 2.315),  # 50/24/1.1 and 50/24/0.9
]


@pytest.mark.parametrize("saying, low, high", HAND)
def test_range_by_hand(saying: str, low: float, high: float) -> None:
    (stretch,) = within(BY_SAYING[saying])
    assert stretch == (pytest.approx(low, abs=0.02 * low / 10), pytest.approx(high, abs=0.02 * high / 10))


@pytest.mark.parametrize("thumb", [t for t in load() if t.exact], ids=lambda t: t.saying)
def test_inside_it_is_close_and_just_outside_it_is_not(thumb) -> None:
    stretches = within(thumb)
    assert stretches, "a saying that is never close does not belong here"
    width = thumb.tried[1] - thumb.tried[0]
    for low, high in stretches:
        assert abs(thumb.error((low + high) / 2)) <= 0.1
        for edge, beyond in ((low, low - width / 500), (high, high + width / 500)):
            if thumb.tried[0] < edge < thumb.tried[1]:
                assert abs(thumb.error(beyond)) > 0.1


def test_every_saying_says_where_it_misleads_and_the_few_without_a_sum_claim_no_range() -> None:
    """37 of the trade's sayings have a sum, 7 have none."""
    assert all(t.misleads for t in load())
    none = [t for t in load() if not t.exact]
    assert (len(load()) - len(none), len(none)) == (37, 7) and not any(within(t) for t in none)
