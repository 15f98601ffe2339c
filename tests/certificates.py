"""A small certificate typed by hand: four arrangements, ten rules, every kind of fact, rule and check.

Nothing here is computed by the program: each value, mark, verdict and rank is worked out in the comment beside it.

The home: 12 l/min from the mains (10 is useful), a landing cupboard 700 mm deep, a loft nobody measured, a wish to have
no cylinder. The candidates: two combination boilers, and a boiler with a cylinder 650 mm deep in either place.
"""

from __future__ import annotations

import hashlib
import json
from functools import lru_cache
from typing import Any

COMBI, STRONG = "combi:24kw", "combi:35kw"
LANDING, LOFT = "cylinder:landing-150l", "cylinder:loft-150l"
SITE = {"site": "site"}


def digest(data: Any) -> str:
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return "sha256 " + hashlib.sha256(text.encode("utf-8")).hexdigest()


def sealed(document: dict[str, Any]) -> dict[str, Any]:
    """The document with both digests made anew, as a careful forger would."""
    base = {key: document[key] for key in ("rules", "needs", "slots", "absences", "formulas", "thresholds")}
    document["advisor"]["rulebase"] = digest(base)
    document["seal"] = digest({key: document[key] for key in document if key not in ("run", "seal")})
    return document


# ------------------------------------------------------------------ facts
def fact(name: str, about: dict[str, str], value: Any, made_by: str, rests_on: list[str],
         **more: Any) -> dict[str, Any]:
    unit = "l/min" if name.endswith("_l_min") else "mm" if name.endswith("_mm") else UNITS.get(name, "")
    return {"name": name, "about": about, "value": value, "unit": unit, "certain": True, "how": "measured",
            "made_by": made_by, "because": [], "rests_on": rests_on, "inputs": {}, "trust": False} | more


UNITS = {"source.hot_kw": "kW", "source.drop_mbar": "mbar", "space.litres_l": "l", "cost.installed_points": "points"}


def answer(name: str, about: dict[str, str], value: Any, field: str, how: str = "default") -> dict[str, Any]:
    return fact(name, about, value, "survey", [field], how=how, field=field)


def structure(name: str, arrangement: str, value: Any) -> dict[str, Any]:
    return fact(name, {"arrangement": arrangement}, value, "structure", [])


def threshold(name: str, value: Any) -> dict[str, Any]:
    return fact("threshold." + name, SITE, value, "threshold", [])


def calc(name: str, about: dict[str, str], result: Any, formula: str, rests_on: list[str], how: str = "measured", /,
         **inputs: Any) -> dict[str, Any]:
    because = [i for ids in inputs.values() for i in ([ids] if isinstance(ids, str) else ids)]
    return fact(name, about, result, "calc." + formula, rests_on, how=how, inputs=inputs, because=because,
                trust=formula == "solver")


def derived(name: str, about: dict[str, str], word: str, rule: str, because: list[str], rests_on: list[str],
            how: str = "measured", certain: bool = True) -> dict[str, Any]:
    return fact(name, about, word, "rule." + rule, rests_on, because=because, how=how, certain=certain)


def finding(rule: str, about: str, because: list[str], rests_on: list[str], how: str = "measured",
            certain: bool = True) -> dict[str, Any]:
    subject = SITE if about == "site" else {"arrangement": about}
    return derived("finding." + rule, subject, "yes", rule, because, rests_on, how, certain)


def arrangement_facts(key: str, arrangement: str, family: str, source: str, kind: str, store: str, points: float,
                      litres: float, place: str = "") -> dict[str, dict[str, Any]]:
    words = {"family": family, "source": source, "source_kind": kind, "store": store}
    words |= {"place": place} if place else {}
    made = {f"{key}.{word}": structure(f"arrangement.{word}", arrangement, value) for word, value in words.items()}
    made[f"{key}.points"] = structure("cost.installed_points", arrangement, points)
    made[f"{key}.litres"] = structure("space.litres_l", arrangement, litres)
    return made


FLOW, LAND, DEEP = "water.flow", "places.landing.depth", "places.loft.depth"
LAND_DESIGN, LOFT_DESIGN, SHARED = "places.landing.worked_design", "places.loft.worked_design", "water.shared"


def facts() -> dict[str, dict[str, Any]]:
    landing, loft = {"place": "landing"}, {"place": "loft"}
    book = {
        "nation": answer("nation", SITE, "england", "nation", "told"),
        "flow": answer("water.flow_l_min", SITE, 12.0, FLOW, "measured"),
        "shared": answer("water.shared", SITE, {"one_of": ["no", "yes"]}, SHARED),  # not answered: either word
        "landing.depth": answer("place.depth_mm", landing, 700.0, LAND, "measured"),
        "loft.depth": answer("place.depth_mm", loft, {"between": [200.0, 4000.0]}, DEEP),  # not answered: the domain
        "landing.design": answer("place.worked_design", landing, {"one_of": ["accepted", "none"]}, LAND_DESIGN),
        "loft.design": answer("place.worked_design", loft, {"one_of": ["accepted", "none"]}, LOFT_DESIGN),
        "wish": answer("wishes.no_cylinder", SITE, "prefer", "wishes.no_cylinder", "told"),
        "no.wish": answer("wishes.low_price", SITE, "none", "wishes.low_price", "told"),  # not written: none
        "t.flow": threshold("useful_flow_l_min", 10.0), "t.depth": threshold("store_depth_mm", 650.0),
        "t.zero": threshold("nothing_l_min", 0.0),
        "combi-24.kw": fact("source.hot_kw", {"source": "combi-24"}, 24.0, "structure", []),
        "combi-35.kw": fact("source.hot_kw", {"source": "combi-35"}, 35.0, "structure", []),
        "system-18.kw": fact("source.hot_kw", {"source": "system-18"}, 18.0, "structure", []),
        # 12 - 10
        "spare": calc("supply.spare_l_min", SITE, 2.0, "difference", [FLOW], value="flow", limit="t.flow"),
        # 12 + 10
        "total": calc("supply.total_l_min", SITE, 22.0, "total", [FLOW], values=["flow", "t.flow"]),
        # 12 >= 10
        "word": calc("supply.word", SITE, "enough", "word_of", [FLOW], flow_l_min="flow"),
        # 12 / 0 is outside its validity
        "share": calc("supply.share", SITE, "anything", "ratio", [FLOW], value="flow", of="t.zero"),
        # |700 - 1000|; for 200 to 4000: 800 and 3000 at the ends, 0 at the turn
        "landing.bend": calc("place.bend_mm", landing, 300.0, "bend", [LAND], depth_mm="landing.depth"),
        "loft.bend": calc("place.bend_mm", loft, {"between": [0.0, 3000.0]}, "bend", [DEEP], "default",
                          depth_mm="loft.depth"),
        # 700 - 650; 200 - 650 to 4000 - 650
        "landing.margin": calc("fit.depth_margin_mm", {"arrangement": LANDING}, 50.0, "difference", [LAND],
                               value="landing.depth", limit="t.depth"),
        "loft.margin": calc("fit.depth_margin_mm", {"arrangement": LOFT}, {"between": [-450.0, 3350.0]}, "difference",
                            [DEEP], "default", value="loft.depth", limit="t.depth"),
    }
    for source in ("combi-24", "combi-35"):
        book[f"{source}.drop"] = calc("source.drop_mbar", {"source": source}, 0.8, "solver", [FLOW], flow_l_min="flow")
    book |= arrangement_facts("a24", COMBI, "combi", "combi-24", "combination boiler", "none", 3.0, 0.0)
    book |= arrangement_facts("a35", STRONG, "combi", "combi-35", "combination boiler", "none", 4.0, 0.0)
    for key, arrangement, place in (("land", LANDING, "landing"), ("loft", LOFT, "loft")):  # 2 points and 3 points
        book |= arrangement_facts(key, arrangement, "cylinder", "system-18", "system boiler", "unvented", 5.0, 150.0,
                                  place)
    return book | derived_facts()


def derived_facts() -> dict[str, dict[str, Any]]:
    book = {"kind": derived("supply.kind", SITE, "good", "supply-good", ["spare"], [FLOW]),
            "alarm": finding("fit-alarm", "site", ["nation"], ["nation"], "told"),
            "maybe.shared": finding("shared-pipe", "site", ["shared"], [SHARED], "default", certain=False),
            "ask.shared": finding("ask-shared", "site", ["nation"], ["nation"], "told"),
            "strong.out": finding("too-strong", STRONG, ["a35.source", "combi-35.kw"], []),
            "a24.liked": finding("likes-combi", COMBI, ["a24.source_kind", "kind"], [FLOW]),
            "a35.liked": finding("likes-combi", STRONG, ["a35.source_kind", "kind"], [FLOW])}
    for key, arrangement, design in (("land", LANDING, LAND_DESIGN), ("loft", LOFT, LOFT_DESIGN)):
        place, about = {"land": "landing", "loft": "loft"}[key], {"arrangement": arrangement}
        book |= {
            # the design may be accepted: an exception, only possible
            f"{key}.exception": derived("exception.shallow", about, "yes", "exception-shallow",
                                        [f"{key}.place", f"{place}.design"], [design], "default", certain=False),
            f"{key}.ask": finding("agree-design", arrangement, [f"{key}.store"], []),
            f"{key}.dear": finding("dear-pipe", arrangement, ["shared", f"{key}.store"], [SHARED], "default",
                                   certain=False),
            # no certain exception: absence is possible; a possible one: it is not certain
            f"{key}.no.exception": fact("absent:exception.shallow~applies", about, "yes", "absence", [design],
                                        because=[f"{key}.exception"], how="default", certain=False)}
    # 700 > 600 surely; 200 to 4000 perhaps
    book["land.work"] = finding("stiffen", LANDING, ["land.place", "landing.depth"], [LAND])
    book["loft.work"] = finding("stiffen", LOFT, ["loft.place", "loft.depth"], [DEEP], "default", certain=False)
    # 50 is not below 0; -450 to 3350 perhaps
    book["loft.out"] = finding("shallow", LOFT, ["loft.store", "loft.margin", "loft.no.exception"], [DEEP, LOFT_DESIGN],
                               "default", certain=False)
    for key, entity in (("a24", COMBI), ("a35", STRONG)):  # no exception at all there
        about = {"arrangement": entity}
        book[f"{key}.no.exception"] = fact("absent:exception.shallow~applies", about, "yes", "absence", [])
    return book


# ------------------------------------------------------------------ rules
def when(name: str, of: str = "site", op: str = "applies", arg: Any = None, bind: str = "") -> dict[str, Any]:
    return {"fact": name, "of": of, "op": op, "arg": arg, "bind": bind}


def rule(name: str, stratum: int, effect: str, about: str, *conditions: dict[str, Any], unless: Any = (),
         conclude: tuple[str, str] = ("", "yes"), **more: Any) -> dict[str, Any]:
    return {"id": name, "stratum": stratum, "when": list(conditions), "unless": list(unless), "effect": effect,
            "about": about, "conclude": {"fact": conclude[0] or f"finding.{name}", "of": about, "is": conclude[1]},
            "asks": "", "criterion": "", "remedies": []} | more


def rules() -> dict[str, dict[str, Any]]:
    unvented = when("arrangement.store", "$a", "is", ["unvented"])
    at = when("arrangement.place", "$a", bind="$p")
    made = [
        rule("supply-good", 0, "derives", "site", when("supply.spare_l_min", op="at_least", arg=0.0),
             conclude=("supply.kind", "good")),
        rule("exception-shallow", 2, "derives", "$a", at, when("place.worked_design", "$p", "is", ["accepted"]),
             conclude=("exception.shallow", "yes")),
        rule("shallow", 3, "rules_out", "$a", unvented, when("fit.depth_margin_mm", "$a", "below", 0.0),
             unless=[when("exception.shallow", "$a")]),
        rule("too-strong", 3, "rules_out", "$a", when("arrangement.source", "$a", bind="$s"),
             when("source.hot_kw", "$s", "above", 30.0)),
        rule("agree-design", 3, "asks", "$a", unvented, asks="place.worked_design"),
        rule("stiffen", 3, "needs_work", "$a", at, when("place.depth_mm", "$p", "above", 600.0), remedies=["boards"]),
        rule("shared-pipe", 3, "caution", "site", when("water.shared", op="is", arg=["yes"])),
        rule("fit-alarm", 3, "requires", "site", when("nation", op="is", arg=["england", "wales"])),
        rule("likes-combi", 5, "favours", "$a", when("arrangement.source_kind", "$a", "is", ["combination boiler"]),
             when("supply.kind", op="is", arg=["good"]), criterion="low_price"),
        rule("dear-pipe", 5, "counts_against", "$a", when("water.shared", op="is", arg=["yes"]), unvented,
             criterion="low_price"),
        rule("ask-shared", 6, "asks", "site", when("nation"), asks="water.shared"),
    ]
    return {r["id"]: r for r in made}


def derivation() -> list[dict[str, Any]]:
    steps: list[tuple[str, str, list[str], str, bool]] = [
        ("circumstances", "supply-good", ["spare"], "kind", True),
        ("exceptions", "exception-shallow", ["land.place", "landing.design"], "land.exception", False),
        ("exceptions", "exception-shallow", ["loft.place", "loft.design"], "loft.exception", False),
        ("findings", "shallow", ["loft.store", "loft.margin", "loft.no.exception"], "loft.out", False),
        ("findings", "too-strong", ["a35.source", "combi-35.kw"], "strong.out", True),
        ("findings", "agree-design", ["land.store"], "land.ask", True),
        ("findings", "agree-design", ["loft.store"], "loft.ask", True),
        ("findings", "stiffen", ["land.place", "landing.depth"], "land.work", True),
        ("findings", "stiffen", ["loft.place", "loft.depth"], "loft.work", False),
        ("findings", "shared-pipe", ["shared"], "maybe.shared", False),
        ("findings", "fit-alarm", ["nation"], "alarm", True),
        ("preferences", "likes-combi", ["a24.source_kind", "kind"], "a24.liked", True),
        ("preferences", "likes-combi", ["a35.source_kind", "kind"], "a35.liked", True),
        ("preferences", "dear-pipe", ["shared", "land.store"], "land.dear", False),
        ("preferences", "dear-pipe", ["shared", "loft.store"], "loft.dear", False),
        ("questions", "ask-shared", ["nation"], "ask.shared", True),
    ]
    return [dict(zip(("stratum", "rule", "premises", "conclusion", "certain"), step, strict=True)) for step in steps]


# ------------------------------------------------------------------ the rest of the rule base
def formulas() -> dict[str, dict[str, Any]]:
    def formula(text: str, *args: str, **more: Any) -> dict[str, Any]:
        return {"text": text, "args": list(args), "valid": "", "variadic": False, "unit": "", "turns": {},
                "trust": False, "domain": [], "source": {}} | more

    return {"difference": formula("value - limit", "value", "limit"),
            "total": formula("sum(values)", "values", variadic=True),
            "word_of": formula("'enough' if flow_l_min >= 10 else 'short'", "flow_l_min", domain=["enough", "short"]),
            "ratio": formula("value / of", "value", "of", valid="of > 0"),
            "bend": formula("abs(depth_mm - 1000)", "depth_mm", turns={"depth_mm": [1000.0]}),
            "solver": formula("", "flow_l_min", trust=True)}


def slots() -> dict[str, Any]:
    def boiler(kind: str, ports: list[str], kw: float, points: float) -> dict[str, Any]:
        return {"ports": ports, "words": {"arrangement.source_kind": kind}, "entity": {"source.hot_kw": kw},
                "numbers": {"power_kw": kw, "cost.installed_points": points}}

    combi, system = "combination boiler", "system boiler"
    return {
        "slots": {
            "source": {"combi-24": boiler(combi, ["gas"], 24.0, 3.0), "combi-35": boiler(combi, ["gas"], 35.0, 4.0),
                       "system-18": boiler(system, ["gas", "flow"], 18.0, 2.0)},
            "store": {"none": {"ports": [], "words": {"arrangement.store": "none"}, "numbers": {}, "entity": {}},
                      "unvented-150": {"ports": ["coil"], "words": {"arrangement.store": "unvented"}, "entity": {},
                                       "numbers": {"litres": 150.0, "space.litres_l": 150.0,
                                                   "cost.installed_points": 3.0}}}},
        "recipes": [{"id": "combi", "slots": {"source": ["combi-24", "combi-35"], "store": ["none"]}},
                    {"id": "cylinder", "slots": {"source": ["system-18"], "store": ["unvented-150"],
                                                 "place": "each place"}}],
        "links": [{"from": "source.flow", "to": "store.coil"}],
        "naming": [{"family": "combi", "title": "{power} kW combination boiler", "variant": "{power}kw",
                    "words": {"arrangement.store": ["none"]}},
                   {"family": "cylinder", "title": "{litres} litre cylinder in the {place}",
                    "variant": "{place}-{litres}l", "words": {"arrangement.store": ["unvented"]}}]}


NEEDS = {"source": {"combi-24": ["source.drop_mbar", "supply.spare_l_min"], "combi-35": ["source.drop_mbar"],
                    "system-18": []},
         "store": {"none": [], "unvented-150": ["fit.depth_margin_mm", "place.bend_mm"]}}


def sorts() -> dict[str, dict[str, Any]]:
    def entry(sort: str, made: str, kind: str = "number", domain: Any = (), field: str = "", default: Any = None,
              unit: str = "") -> dict[str, Any]:
        return {"sort": sort, "kind": kind, "domain": list(domain), "unit": unit, "made": made, "single": True,
                "field": field, "default": default}

    wish = ["none", "prefer", "must"]
    table = {
        "nation": entry("site", "survey", "words", ["england", "wales", "scotland", "northern ireland"], "nation"),
        "water.flow_l_min": entry("site", "survey", "number", [1.0, 100.0], FLOW, unit="l/min"),
        "water.shared": entry("site", "survey", "words", ["no", "yes"], SHARED),
        "place.depth_mm": entry("place", "survey", "number", [200.0, 4000.0], "places.NAME.depth", unit="mm"),
        "place.worked_design": entry("place", "survey", "words", ["none", "accepted"], "places.NAME.worked_design"),
        "wishes.no_cylinder": entry("site", "survey", "words", wish, "wishes.no_cylinder", "none"),
        "wishes.low_price": entry("site", "survey", "words", wish, "wishes.low_price", "none"),
        "cost.installed_points": entry("arrangement", "structure", unit="points"),
        "space.litres_l": entry("arrangement", "structure", unit="l"),
        "source.hot_kw": entry("source", "structure", unit="kW"),
        "supply.spare_l_min": entry("site", "calc", unit="l/min"),
        "supply.total_l_min": entry("site", "calc", unit="l/min"),
        "supply.word": entry("site", "calc", "words", ["enough", "short"]), "supply.share": entry("site", "calc"),
        "place.bend_mm": entry("place", "calc", unit="mm"),
        "fit.depth_margin_mm": entry("arrangement", "calc", unit="mm"),
        "source.drop_mbar": entry("source", "calc", unit="mbar"),
        "supply.kind": entry("site", "rule", "words", ["good", "poor"])}
    for word in ("family", "source", "source_kind", "store", "place"):
        table[f"arrangement.{word}"] = entry("arrangement", "structure", "words")
    return table


def survey() -> dict[str, dict[str, Any]]:
    return {FLOW: {"read": "12 l/min", "value": 12.0, "unit": "l/min", "how": "measured"},
            LAND: {"read": "700 mm", "value": 700.0, "unit": "mm", "how": "measured"},
            "nation": {"read": "england", "value": "england", "unit": "", "how": "told"},
            "wishes.no_cylinder": {"read": "prefer", "value": "prefer", "unit": "", "how": "told"},
            "wishes.order": {"read": "no_cylinder", "value": ["no_cylinder"]},
            "works_date": {"read": "2027-01-15", "value": "2027-01-15"}}


# ------------------------------------------------------------------ what the advice says
def check(name: str, value: Any, limit: float, margin: Any, passes: bool | None, *ids: str,
          unit: str) -> dict[str, Any]:
    return {"name": name, "value": value, "limit": limit, "unit": unit, "margin": margin, "passes": passes,
            "fact": ids[0], "limit_fact": ids[1], "margin_fact": ids[2]}


def found(*keys: str) -> list[dict[str, Any]]:
    book, effects = facts(), {r["id"]: r["effect"] for r in rules().values()}
    names = [(book[key]["name"].removeprefix("finding."), book[key]) for key in keys]
    return [{"rule": r, "effect": effects[r], "certain": f["certain"], "because": f["because"]} for r, f in names]


def arrangements() -> list[dict[str, Any]]:
    site = ("alarm", "maybe.shared", "ask.shared")  # what is said of the site is said of every arrangement
    spare = check("supply.spare_l_min", 12.0, 10.0, 2.0, True, "flow", "t.flow", "spare", unit="l/min")
    combi = {"family": "combi", "links": [], "works": [], "requires": ["fit-alarm"], "checks": [spare]}
    cylinder = {"family": "cylinder", "links": [["source.flow", "store.coil", {}]], "works": ["boards"],
                "requires": ["fit-alarm"], "verdict": "open"}
    parts = {"source": "system-18", "store": "unvented-150"}
    return [
        combi | {"id": COMBI, "title": "24 kW combination boiler", "parts": {"source": "combi-24", "store": "none"},
                 "verdict": "suitable", "possible_verdicts": ["suitable"], "rank": 1,
                 "findings": found(*site, "a24.liked")},
        # its design is not agreed, and it certainly needs boards
        cylinder | {"id": LANDING, "title": "150 litre cylinder in the landing", "parts": parts | {"place": "landing"},
                    "possible_verdicts": ["ruled_out", "suitable_after_works"], "rank": 2,
                    "findings": found(*site, "land.ask", "land.dear", "land.work"),
                    "checks": [check("fit.depth_margin_mm", 700.0, 650.0, 50.0, True, "landing.depth", "t.depth",
                                     "landing.margin", unit="mm")]},
        # perhaps too shallow, perhaps in need of boards
        cylinder | {"id": LOFT, "title": "150 litre cylinder in the loft", "parts": parts | {"place": "loft"},
                    "possible_verdicts": ["ruled_out", "suitable", "suitable_after_works"], "rank": 3,
                    "findings": found(*site, "loft.ask", "loft.dear", "loft.work", "loft.out"),
                    "checks": [check("fit.depth_margin_mm", {"between": [200.0, 4000.0]}, 650.0,
                                     {"between": [-450.0, 3350.0]}, None, "loft.depth", "t.depth", "loft.margin",
                                     unit="mm")]},
        combi | {"id": STRONG, "title": "35 kW combination boiler", "parts": {"source": "combi-35", "store": "none"},
                 "verdict": "ruled_out", "possible_verdicts": ["ruled_out"], "rank": 4,
                 "findings": found(*site, "strong.out", "a35.liked")},
    ]


def ranking() -> dict[str, Any]:
    """Worst steps. no_cylinder: 0 for no store, 2 for a cylinder. low_price (3, 4 and 5 points against 1, 3, 5):
    1 - 1 liked = 0; 2 - 1 = 1; cylinders 2 + 1 for the pipe + 1 for the boards = 4.
    Keys: combi (0, 0, 0, 0); landing and loft (1, 2, 1, 4); strong (2, 0, 1, 1). The best of each family come first.
    """
    store = {"id": "no_cylinder", "fact": "arrangement.store", "words": {"none": 0, "unvented": 2}}
    price = {"id": "low_price", "fact": "cost.installed_points", "edges": [1.0, 3.0, 5.0], "better": "less"}
    return {"criteria": [store, price], "default_order": ["low_price"], "wishes": ["no_cylinder"]}


def questions() -> list[dict[str, Any]]:
    rows = [(LAND_DESIGN, "agree-design", [LANDING]), (LOFT_DESIGN, "agree-design", [LOFT]), (DEEP, "open", [LOFT]),
            (SHARED, "ask-shared", [])]
    return [{"field": field, "ask": "?", "because": because, "decides": decides} for field, because, decides in rows]


def certificate() -> dict[str, Any]:
    """The whole document, sealed: it passes. A new copy each time."""
    return json.loads(_written())


@lru_cache(maxsize=1)
def _written() -> str:
    limits = {"useful_flow_l_min": 10.0, "store_depth_mm": 650.0, "nothing_l_min": 0.0}
    document = {
        "advisor": {"version": "0", "advice_format": 1}, "run": {"engine": "by hand"}, "survey": survey(),
        "recommended": COMBI, "if_typical": COMBI, "arrangements": arrangements(),
        "comparison": [{"first": COMBI, "second": LANDING, "criterion": "verdict", "values": ["", ""], "step": ""}],
        "questions": questions(), "facts": facts(), "derivation": derivation(), "rules": rules(),
        "formulas": formulas(),
        "thresholds": {name: {"value": value, "unit": "", "from": "2018-04-06", "source": {}}
                       for name, value in limits.items()},
        "absences": [{"id": "exception.shallow~applies", "fact": "exception.shallow", "op": "applies", "arg": None,
                      "sort": "arrangement"}],
        "slots": slots(), "needs": NEEDS, "sorts": sorts(), "ranking": ranking(),
        "remedies": {"boards": {"adds": {"low_price": 1}}},
        "entities": {"place": ["landing", "loft"], "source": ["combi-24", "combi-35", "system-18"],
                     "arrangement": [COMBI, LANDING, LOFT, STRONG]}}
    return json.dumps(sealed(document))


def agreed() -> dict[str, Any]:
    """The same home with the landing's design accepted: its exception is certain, so no absence of it is possible.

    The cylinder in the landing then certainly needs boards and nothing forbids it: suitable_after_works, and the wish
    decides between it and the boiler, (0, 0, ...) before (0, 2, ...).
    """
    document = certificate()
    document["survey"][LAND_DESIGN] = {"read": "accepted", "value": "accepted", "unit": "", "how": "told"}
    document["facts"]["landing.design"].update(value="accepted", how="told")
    document["facts"]["land.exception"].update(certain=True, how="told")
    document["facts"].pop("land.no.exception")
    next(step for step in document["derivation"] if step["conclusion"] == "land.exception")["certain"] = True
    landing = next(a for a in document["arrangements"] if a["id"] == LANDING)
    landing.update(verdict="suitable_after_works", possible_verdicts=["suitable_after_works"])
    document["comparison"][0]["criterion"] = "no_cylinder"
    document["questions"] = [q for q in document["questions"] if q["field"] != LAND_DESIGN]
    return sealed(document)
