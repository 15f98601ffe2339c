"""One invented home with everything known: what its age, kind and household make likely (for random surveys).

The shares and ranges are common practice, no statistics; they only have to make homes that could stand somewhere.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

ERAS = ("before 1919", "1919-1944", "1945-1964", "1965-1980", "1981-1999", "2000-2010", "after 2010")
ERA_SHARES = (17, 12, 17, 20, 18, 10, 6)
LOSS_W_M2 = ((70, 115), (65, 105), (60, 95), (55, 90), (45, 70), (35, 55), (22, 40))
AREA_M2 = {"house": (62, 210), "bungalow": (52, 135), "flat": (32, 88), "maisonette": (48, 105)}
# the share of each material; lead was not laid new after 1969, iron hardly after the war
SERVICE = ({"lead": 35, "iron": 10, "copper": 28, "plastic": 27}, {"lead": 36, "iron": 8, "copper": 30, "plastic": 26},
           {"lead": 14, "iron": 3, "copper": 56, "plastic": 27}, {"lead": 3, "copper": 64, "plastic": 33},
           {"copper": 35, "plastic": 65}, {"copper": 4, "plastic": 96}, {"plastic": 1})
MAINS_L_MIN = {"lead": (5, 13), "iron": (6, 14), "copper": (10, 24), "plastic": (13, 38)}
ASBESTOS = ({"none suspected": 65, "suspected": 28, "confirmed": 7}, {"none suspected": 58, "suspected": 33,
            "confirmed": 9}, {"none suspected": 45, "suspected": 44, "confirmed": 11}, {"none suspected": 45,
            "suspected": 44, "confirmed": 11}, {"none suspected": 80, "suspected": 19, "confirmed": 1})
COMBI, CISTERN_FED, UNVENTED = "combination boiler", "boiler with cistern-fed cylinder", "boiler with unvented cylinder"
BACK_BOILER, ELECTRIC = "back boiler with cistern-fed cylinder", "electric cylinder"
EXISTING = ({COMBI: 50, CISTERN_FED: 36, UNVENTED: 6, BACK_BOILER: 2, "none": 6},
            {COMBI: 50, CISTERN_FED: 38, UNVENTED: 5, BACK_BOILER: 4, "none": 3},
            {COMBI: 46, CISTERN_FED: 38, UNVENTED: 4, BACK_BOILER: 10, "none": 2},
            {COMBI: 44, CISTERN_FED: 38, UNVENTED: 4, BACK_BOILER: 12, "none": 2},
            {COMBI: 50, CISTERN_FED: 40, UNVENTED: 9, "none": 1}, {COMBI: 60, CISTERN_FED: 12, UNVENTED: 27, "none": 1},
            {COMBI: 52, UNVENTED: 46, "none": 2})
OLDEST_YEARS = (28, 28, 28, 28, 28, 25, 15)  # of what makes the hot water; never older than the home
MODERN, RECENT = 5, 4  # eras from 2000 on; from 1981 on
FEW_M2 = 60.0


class Dice(random.Random):
    """Chance in the words used here."""

    def happens(self, share: float) -> bool:
        return self.random() < share

    def pick(self, shares: Mapping[Any, float]) -> Any:
        return self.choices(list(shares), list(shares.values()))[0]

    def between(self, low: float, high: float) -> float:
        """Values near the middle come more often."""
        return self.triangular(low, high)


@dataclass
class Home:
    """Everything about one home: field -> number in the project's unit, or word; the lists and their links."""

    truth: dict[str, Any] = field(default_factory=dict)
    lists: dict[str, list[str]] = field(default_factory=dict)
    links: dict[str, tuple[str, str]] = field(default_factory=dict)
    era: int = 0

    def tell(self, section: str, **answers: Any) -> None:
        self.truth |= {f"{section}.{key}": value for key, value in answers.items() if value is not None}

    @property
    def flat(self) -> bool:
        return self.truth["home.kind"] in ("flat", "maisonette")


BORES = {"lead": 12.7, "iron": 20.0, "copper": 20.2, "plastic": 20.4}  # of a service pipe as usually found [mm]


def invent(dice: Dice) -> Home:
    """A home, its people and their wishes; each part follows from those before it."""
    home = Home()
    for part in (_building, _people, _existing, _heating, _boiler, _water, _outlets, _wishes, _cistern, _gas, _places,
                 _electric, _least, _cold_pipes, _figures):
        part(dice, home)
    return home


def _building(dice: Dice, home: Home) -> None:
    home.era = era = dice.choices(range(len(ERAS)), ERA_SHARES)[0]
    kind = dice.pick({"house": 58, "bungalow": 9, "flat": 25, "maisonette": 8})
    area = 600.0 if dice.happens(0.01) else 20.0 if kind == "flat" and dice.happens(0.04) else \
        dice.between(*AREA_M2[kind]) * (1.12 if era == 0 else 0.92 if era in (3, 4) else 1.0)
    storeys = {"house": 2, "bungalow": 1, "flat": 1, "maisonette": 2}[kind]
    if kind == "house" and area > FEW_M2 * 2:
        storeys = dice.pick({2: 60, 3: 34, 4: 6})
    own = {"leasehold": 55, "let by a landlord": 43, "owner occupied": 2} if kind in ("flat", "maisonette") else \
        {"owner occupied": 80, "let by a landlord": 17, "leasehold": 3}
    home.tell("home", kind=kind, built=ERAS[era], floor_area=area, storeys=storeys,
              bathrooms=min(6, 1 + int(dice.happens(0.3)) + int(area > FEW_M2 * 2) + int(area > FEW_M2 * 3)),
              tenure=dice.pick(own),
              listed=dice.pick({"no": 74, "conservation area": 20, "listed": 6} if era == 0 else
                               {"no": 97, "conservation area": 3}),
              asbestos=dice.pick(ASBESTOS[era]) if era < MODERN else "none suspected",
              outdoor_space="yes" if dice.happens({"flat": 0.12, "maisonette": 0.35}.get(kind, 0.8)) else "no")


def _people(dice: Dice, home: Home) -> None:
    area = home.truth["home.floor_area"]
    people = dice.pick({1: 50, 2: 38, 3: 12} if area < FEW_M2 else {1: 16, 2: 34, 3: 18, 4: 22, 5: 8, 6: 2})
    if dice.happens(0.02):
        people = dice.choice([0, 12])
    home.tell("household", people=people, busy_showers=dice.randint(min(1, people), max(1, min(people, 5))),
              shower_minutes=dice.between(4, 14), busy_baths=int(people > 2 and dice.happens(0.35)),
              bath_fill=dice.between(80, 160),
              heating_pause_ok=dice.pick({0: 6, 20: 14, 30: 25, 45: 25, 60: 22, 120: 8}))


def _existing(dice: Dice, home: Home) -> None:
    shares = dict(EXISTING[home.era])
    if home.flat:
        shares[ELECTRIC] = 40
    kind = dice.pick(shares)
    boiler = kind not in (ELECTRIC, "none")
    age = 0.0 if kind == "none" else dice.between(1, 45 if kind == BACK_BOILER else OLDEST_YEARS[home.era])
    home.tell("existing", kind=kind, boiler_power=dice.between(11, 24 if kind == CISTERN_FED else 32) if boiler else 0,
              cylinder=dice.choice([96, 117, 120, 144, 166, 210]) if "cylinder" in kind else 0,
              condition="unsafe" if dice.happens(0.05) else "worn" if age > 14 or kind == "none" else "sound", age=age)


def _heating(dice: Dice, home: Home) -> None:
    loss = max(1.0, min(60.0, home.truth["home.floor_area"] * dice.between(*LOSS_W_M2[home.era]) / 1000))
    kind = home.truth["existing.kind"]
    open_share = {COMBI: 0.0, UNVENTED: 0.05, ELECTRIC: 0.1}.get(kind, 0.78 if home.era < MODERN else 0.2)
    modern = home.era >= MODERN
    home.tell("heating", heat_loss=loss, emitters=min(80.0, loss * dice.between(1.0, 1.9)),
              circuit="open vented" if dice.happens(open_share) else "sealed",
              pressure_test=dice.pick({"not done": 70, "held": 24, "failed": 6 if not modern else 1}),
              water_state="dirty" if dice.happens(0.2 if modern else 0.6) else "clear",
              interlock="yes" if dice.happens(0.85 if modern else 0.45) else "no",
              radiator_valves="yes" if dice.happens(0.95 if modern else 0.6) else "no",
              pipes_insulated="yes" if dice.happens(0.5 if modern else 0.12) else "no")


def _boiler(dice: Dice, home: Home) -> None:
    inside = {"kitchen": 55, "cupboard": 25, "utility room": 8, "bathroom": 5, "bedroom": 3}
    routes = {"outside wall": 68, "roof": 5, "shared duct": 11, "none": 16} if home.flat else \
        {"outside wall": 88, "roof": 11, "none": 1}
    drain = dice.pick({"internal stack": 30, "internal waste": 42, "outside gully": 20, "soakaway": 4, "none found": 4})
    outside = dice.between(0.3, 5) if drain in ("outside gully", "soakaway") else 0
    end = dice.pick({"low level outside": 46, "visible inside over a tundish": 20, "none found": 34} if home.flat else
                    {"low level outside": 88, "visible inside over a tundish": 8, "none found": 4})
    home.tell("boiler", position=dice.pick(inside if home.flat else inside | {"loft": 10, "garage": 12}),
              flue_route=dice.pick(routes), flue_to_opening=dice.between(150, 1800),
              flue_to_boundary=dice.between(400, 6000), condensate_to=drain, condensate_outside=outside,
              condensate_bore=dice.choice([19, 19, 30, 36]), relief_end=end,
              relief_length=None if end == "none found" else dice.between(0.5, 9))


def _water(dice: Dice, home: Home) -> None:
    material = dice.pick(SERVICE[home.era])
    static = dice.choice([0.1, 12.0]) if dice.happens(0.02) else dice.betavariate(2.2, 3.2) * 5.6 + 0.7
    flow = dice.between(*MAINS_L_MIN[material]) * min(1.3, max(0.35, static / 3))
    shared = dice.happens(0.28 if home.era < 3 or home.flat else 0.03)
    home.tell("water", stop_tap=dice.pick({"fully open": 76, "part open": 19, "seized": 5}),
              inside_pipe=dice.pick({15: 30, 22: 55, 28: 15} if home.era >= MODERN else {15: 78, 22: 22}),
              service_material=material, shared="yes" if shared else "no", static_pressure=static, flow=max(1.0, flow),
              # a thousandth below would be lost in rounding; a share never reaches the pressure at rest
              flow_pressure=static * dice.between(0.15, 0.75),
              tested_at="busy time" if dice.happens(0.45) else "quiet time", hardness=dice.between(20, 420))


def _cold_pipes(_dice: Dice, home: Home) -> None:
    """Follow from the home without a throw, so that the homes of earlier versions stay what they were."""
    area = home.truth["home.floor_area"]
    home.tell("water", inside_pipe_length=1 + area % 9, service_length=5 + area % 17,
              service_bore=BORES[home.truth["water.service_material"]])


def _figures(_dice: Dice, home: Home) -> None:
    """What makers' tables and the bill say; follows from the home without a throw as well."""
    area = round(home.truth["home.floor_area"])
    home.tell("water", low_pressure_ok="yes" if area % 5 < 2 else "no")
    loss = home.truth["heating.heat_loss"]
    home.tell("heating", thinnest_pipe=(8, 10, 15, 15, 15)[area % 5], largest_on_it=min(6.0, max(0.1, loss / 6)))
    home.tell("electric", export_price=2 + area % 17 if home.truth["electric.solar"] == "yes" else 0)


def _outlets(dice: Dice, home: Home) -> None:
    bathrooms = home.truth["home.bathrooms"]
    wanted = {"kitchen": ("kitchen tap", (4, 7)), "basin": ("basin", (3, 5))}
    if bathrooms and dice.happens(0.92):
        wanted["shower"] = ("shower", (5, 13))
    if bathrooms > 1:
        wanted["second_shower"] = ("shower", (5, 12))
    if "shower" not in wanted or dice.happens(0.7):
        wanted["bath"] = ("bath", (9, 20))
    home.lists["outlets"] = sorted(wanted)
    for name in home.lists["outlets"]:
        kind, flow = wanted[name]
        home.tell(f"outlets.{name}", kind=kind, flow=dice.between(*flow))


def _wishes(dice: Dice, home: Home) -> None:
    many, flat = home.truth["household.people"] > 2, home.flat
    shares = {"outlets_at_once": 0.7 if many else 0.15, "lasts_busy_hour": 0.6 if many else 0.25, "no_pumps": 0.25,
              "no_loft_tank": 0.3, "no_cylinder": 0.3 if flat else 0.1, "backup_heat": 0.2, "no_heating_pause": 0.08,
              "low_running_cost": 0.5, "low_price": 0.35, "little_disruption": 0.45 if flat else 0.25,
              "save_space": 0.5 if flat else 0.2}
    stated = [wish for wish, share in shares.items() if dice.happens(share)]
    home.tell("wishes", **{wish: "must" if dice.happens(0.3) else "prefer" for wish in stated})
    if "outlets_at_once" in stated:
        baths = [o for o in home.lists["outlets"] if home.truth[f"outlets.{o}.kind"] in ("shower", "bath")]
        for name in (baths if len(baths) > 1 else [*baths, "basin"])[:3]:
            home.tell(f"outlets.{name}", at_once="yes")


def _cistern(dice: Dice, home: Home) -> None:
    fed = home.truth["existing.kind"] in (CISTERN_FED, BACK_BOILER)
    room = dice.happens(0.06 if home.flat else 0.95 if fed else 0.68)
    home.tell("cistern", loft="yes" if room else "no")
    if room:
        head = dice.choice([-1.0, 8.0]) if dice.happens(0.03) else dice.between(-0.3, 3.0)
        home.tell("cistern", head=head, base=dice.pick({"sound": 55, "poor": 30, "none": 15}),
                  volume=dice.choice([115, 115, 180, 230, 230, 320]) if fed or dice.happens(0.6) else 0)


def _gas(dice: Dice, home: Home) -> None:
    electric = home.truth["existing.kind"] == ELECTRIC
    supply = dice.pick({"mains gas": 30, "none": 70} if electric else {"mains gas": 88, "lpg": 5, "none": 7})
    home.tell("gas", supply=supply)
    home.lists |= {"gas.legs": [], "gas.appliances": []}
    if supply == "none":
        return
    home.tell("gas", meter_capacity=dice.pick({6: 90, 10: 6, 16: 4}), working_pressure=dice.between(17.5, 23.5)
              if supply == "mains gas" else dice.between(26, 30),
              worked_design=dice.choice(["accepted", "refused"]) if dice.happens(0.08) else None)
    appliances = [a for a, share in (("hob", 0.6), ("gas_fire", 0.12 if home.era < MODERN else 0.02))
                  if dice.happens(share)]
    home.lists["gas.appliances"] = appliances
    for name in appliances:
        home.tell(f"gas.appliances.{name}", input=dice.between(6, 12) if name == "hob" else dice.between(3, 7))
    _legs(dice, home, appliances)


def _legs(dice: Dice, home: Home, appliances: Sequence[str]) -> None:
    """A trunk of one or two legs from the meter, then one leg to the boiler and one to each appliance."""
    trunk = ["meter_to_hall", "under_floor"][: dice.randint(1, 2)]
    main = dice.pick({22: 40, 28: 56, 35: 4} if home.era >= RECENT else {15: 6, 22: 72, 28: 22})
    ends = {f"to_{a}": a for a in ("boiler", *appliances)}
    home.lists["gas.legs"] = [*trunk, *ends]
    for i, leg in enumerate(trunk):
        home.links[leg] = (trunk[i - 1] if i else "meter", "")
    for leg, end in ends.items():
        home.links[leg] = (trunk[-1], end)
    for leg in home.lists["gas.legs"]:
        size = main if leg in trunk else dice.choice([main, 22 if main > 15 else 15]) if leg == "to_boiler" else \
            dice.choice([10, 15, 15])
        home.tell(f"gas.legs.{leg}", size=size, length=dice.between(0.5, 9), elbows=dice.randint(0, 6),
                  seen="yes" if dice.happens(0.7) else "no")


def _places(dice: Dice, home: Home) -> None:
    kinds = {"airing_cupboard": "cupboard", "hall_cupboard": "cupboard"} if home.flat else \
        {"airing_cupboard": "cupboard", "utility": "room", "garage": "garage", "loft_space": "loft"}
    home.lists["places"] = sorted(dice.sample(list(kinds), min(len(kinds), dice.pick({0: 12, 1: 38, 2: 34, 3: 16}))))
    for name in home.lists["places"]:
        _place(dice, home, f"places.{name}", kinds[name])


def _place(dice: Dice, home: Home, path: str, kind: str) -> None:
    wide = (450, 1000) if kind == "cupboard" else (700, 2400)
    timber = kind == "loft" or (kind != "garage" and dice.happens(0.25 if home.flat and home.era > 2 else 0.65))
    ends = {"none found": 42, "stack shown to take heat": 26, "low level outside": 18, "safe roof": 8, "gully": 6} \
        if home.flat else {"low level outside": 62, "gully": 20, "safe roof": 5, "none found": 8,
                           "stack shown to take heat": 5}
    end = dice.pick(ends)
    home.tell(path, kind=kind, width=dice.between(*wide), depth=dice.between(*wide),
              height=dice.between(900, 1900) if kind == "loft" else dice.between(1900, 2600),
              door=dice.between(500, 760) if kind != "garage" else dice.between(760, 2000),
              floor="timber joists" if timber else "concrete",
              bearing=("by a bearing wall" if dice.happens(0.5) else "mid-span") if timber else None,
              frost="yes" if dice.happens({"loft": 0.7, "garage": 0.6}.get(kind, 0.02)) else "no", discharge_end=end,
              worked_design=dice.pick({"none": 88, "accepted": 8, "refused": 4}))
    if end != "none found":
        home.tell(path, discharge_length=dice.between(1, 40 if home.flat else 16), discharge_elbows=dice.randint(0, 9),
                  discharge_falls="yes" if dice.happens(0.9) else "no")


def _least(dice: Dice, home: Home) -> None:
    home.tell("household", least_shower=dice.between(3, 8))
    home.tell("home", left_empty="yes" if dice.happens(0.1) else "no",
              shared_heating="yes" if home.flat and dice.happens(0.05) else "no")
    if home.truth["cistern.loft"] == "yes":
        home.tell("cistern", feeds=dice.choice(["cylinder only", "cylinder and cold taps"]),
                  pipe=dice.pick({15: 10, 22: 75, 28: 15}))


def _electric(dice: Dice, home: Home) -> None:
    old = home.era < RECENT
    home.tell("electric", main_fuse=dice.pick({60: 45, 80: 30, 100: 25} if old else {60: 8, 80: 30, 100: 62}),
              demand_now=dice.between(20, 58), looped="yes" if dice.happens(0.14 if old else 0.01) else "no",
              spare_ways=dice.randint(0, 2 if old else 5),
              solar="yes" if dice.happens(0.02 if home.flat else 0.4 if home.era == len(ERAS) - 1 else 0.1) else "no")
