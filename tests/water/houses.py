"""Houses of pipes for the network's tests: the published cases, and random small ones."""

from __future__ import annotations

import random

from advisor.water.network import House, Outlet, Section
from advisor.water.parts import Cistern, Pipe, ReducingValve, Resistance, Supply, by_kv

BORES = (10.8, 13.6, 20.2, 26.2)


def still(name: str, static_bar: float) -> Supply:
    """A source whose pressure does not fall, as a reservoir in a network program."""
    return Supply(name, static_bar, 0.0, 2.0, 1e9)


def two_bathrooms(static_bar: float, service_bore: float, flows: dict[str, float]) -> House:
    """The outside material's house: service to A, A-B, B-K, B-C, C-S1, C-S2, C-BT, lengths, bores, K and heights there."""
    sections = [("A", "main", 15, service_bore, 5, 0.0), ("B", "A", 6, 20.2, 4, 0.5), ("K", "B", 5, 13.6, 6, 0.5),
                ("C", "B", 8, 20.2, 4, 2.5), ("S1", "C", 6, 13.6, 8, 1.8), ("S2", "C", 9, 13.6, 8, 1.8),
                ("BT", "C", 4, 20.2, 4, 0.6)]
    return House((still("main", static_bar),),
                 tuple(Section(n, after, (Pipe(n, bore, m, k),), rise) for n, after, m, bore, k, rise in sections),
                 tuple(Outlet(n, 1e3, n, at_most=q) for n, q in flows.items()))


def gravity_shower(head_m: float, k: float, bore1: float, bore2: float) -> House:
    """8 m and 4 m of pipe, K 4 and 8, water at 40 C, under a cistern."""
    return House((Cistern("cistern", head_m),),
                 (Section("first", "cistern", (Pipe("first", bore1, 8, 4),), 0.0, 40.0),
                  Section("last", "first", (Pipe("last", bore2, 4, 8),), 0.0, 40.0)), (Outlet("rose", k, "last"),))


def random_house(seed: int) -> House:
    """A tree of 3 to 9 pipes with 1 to 4 open outlets, as houses have them."""
    r = random.Random(seed)
    names = ["main"]
    sections = []
    for i in range(r.randint(3, 9)):
        after = r.choice(names) if i else "main"
        name = f"p{i}"
        sections.append(Section(name, after, (Pipe(name, r.choice(BORES), r.uniform(1, 15), r.uniform(0, 10)),),
                                r.uniform(-0.5, 1.5), 10.0))
        names.append(name)
    ends = r.sample([s.name for s in sections], r.randint(1, min(4, len(sections))))
    outlets = tuple(Outlet(f"o{e}", r.uniform(4, 20), e) for e in ends)
    return House((still("main", r.uniform(2.0, 5.0)),), tuple(sections), outlets)


def random_mixers(seed: int) -> House:
    """A service pipe, an inlet set, a hot main and one to three mixers, each with a hot and a cold pipe of its own."""
    r = random.Random(seed)

    def pipe(name: str) -> Pipe:
        return Pipe(name, r.choice(BORES[:3]), r.uniform(2, 15), r.uniform(0, 10))

    loss = r.uniform(0.1, 0.6)
    valve = ReducingValve("valve", r.uniform(1.5, 3.5), loss, 20.0, r.choice((0.0, 0.5 * loss, loss)))
    sections = [Section("service", "main", (pipe("service"),)), Section("set", "service", (by_kv("strainer", 6.0), valve)),
                Section("hot", "set", (Resistance("exchanger", r.uniform(0.1, 0.5), 15.0), pipe("hot main")), 0.0)]
    outlets = []
    for i in range(r.randint(1, 3)):
        rise = r.uniform(0.0, 5.0)
        sections += [Section(f"h{i}", "hot", (pipe("hot"),), rise),
                     Section(f"c{i}", r.choice(("set", "service")), (pipe("cold"),), rise)]
        outlets.append(Outlet(f"o{i}", r.uniform(5, 12), f"c{i}", f"h{i}", r.uniform(0.4, 0.9)))
    return House((still("main", r.uniform(2.0, 6.0)),), tuple(sections), tuple(outlets))
