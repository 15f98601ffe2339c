"""Ranged pipes: no house inside the ends gives an outlet more or less than the range says."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from advisor.facts import ANYTHING
from advisor.water.network import House, NetworkError, solve
from advisor.water.ranges import flow_range
from tests.water import houses
from tests.water.test_network import mixed_house


def widened(house: House, r: random.Random) -> tuple[House, House]:
    """A poorer and a better house round this one."""
    def sections(better: bool) -> tuple:
        out = []
        for i, s in enumerate(house.sections):
            share = spread[i] if better else -spread[i]
            pipe = s.elements[0]
            out.append(replace(s, elements=(replace(pipe, bore_mm=pipe.bore_mm * (1 + 0.3 * share),
                                                    length_m=pipe.length_m * (1 - 0.5 * share), k=pipe.k * (1 - share)),)))
        return tuple(out)

    spread = [r.choice((0.0, r.random())) for _ in house.sections]
    rise = r.random()
    (main,) = house.sources
    ends = []
    for better in (False, True):
        static = main.static_bar + (0.5 if better else -0.5) * rise
        ends.append(House((replace(main, static_bar=static),), sections(better),
                          tuple(replace(o, k=o.k * (1.2 if better else 0.8)) for o in house.outlets)))
    return ends[0], ends[1]


def between(worst: House, best: House, r: random.Random) -> House:
    def mid(a: float, b: float) -> float:
        return a + r.random() * (b - a)

    sections = tuple(replace(a, elements=(replace(a.elements[0], bore_mm=mid(a.elements[0].bore_mm, b.elements[0].bore_mm),
                                                  length_m=mid(a.elements[0].length_m, b.elements[0].length_m),
                                                  k=mid(a.elements[0].k, b.elements[0].k)),))
                     for a, b in zip(worst.sections, best.sections, strict=True))
    return House((replace(worst.sources[0], static_bar=mid(worst.sources[0].static_bar, best.sources[0].static_bar)),),
                 sections, tuple(replace(a, k=mid(a.k, b.k)) for a, b in zip(worst.outlets, best.outlets, strict=True)))


@pytest.mark.parametrize("block", range(4))
def test_no_house_inside_leaves_the_range(block: int) -> None:
    for seed in range(block * 15, block * 15 + 15):
        r = random.Random(seed)
        worst, best = widened(houses.random_house(seed), r)
        names = [o.name for o in worst.outlets]
        ranges = {n: flow_range(worst, best, names, n) for n in names}
        for _ in range(6):
            flows = solve(between(worst, best, r), names).flows
            for n in names:
                assert ranges[n].lo - 1e-4 <= flows[n] <= ranges[n].hi + 1e-4, (seed, n, ranges[n], flows[n])


def test_both_ends_at_their_worst_are_not_the_least() -> None:
    """Why the ends must be crossed: with every pipe poor the other shower draws less too, and leaves this one more."""
    found = False
    for seed in range(60):
        worst, best = widened(houses.random_house(seed), random.Random(seed))
        names = [o.name for o in worst.outlets]
        plain = solve(worst, names).flows
        found = found or any(flow_range(worst, best, names, n).lo < plain[n] - 0.05 for n in names)
    assert found


def test_a_mixer_makes_it_anything_and_two_different_houses_are_refused() -> None:
    assert flow_range(mixed_house(), mixed_house(), ["one"], "one") == ANYTHING
    with pytest.raises(NetworkError, match="more than figures"):
        flow_range(houses.random_house(1), houses.random_house(2), ["x"], "x")
    house = houses.random_house(1)
    with pytest.raises(NetworkError, match="not among the open"):
        flow_range(house, house, [], house.outlets[0].name)
