"""A small piece of advice made by hand: two layouts, one rule, a dozen facts. No reasoner, no shipped rule base.

The home is invented: two showers of 9 l/min wanted together, a main that leaves
23.5 l/min, a 30 kW combination boiler that heats 12.28 l/min in winter.
"""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace

from advisor.facts import Fact, FactBook, Source, Span, exactly, key_of, words
from advisor.records import Advice, Arrangement, Check, Comparison, Finding, Judged, Question
from advisor.rulebase.model import Conclusion, Entry, Pattern, Remedy, Rule, Threshold

COMBI, STORE = "combination-boiler:30kw", "boiler-unvented-cylinder:den-180l-18kw"
FLOW, MARGIN, WANTED = "outlet_flow_l_min", "outlet_flow_margin_l_min", "demand.at_once_l_min"

VOCABULARY = {e.name: e for e in (
    Entry("nation", "site", "words", domain=("england", "wales"), plain="nation", field="nation"),
    Entry(FLOW, "arrangement", "number", unit="l/min", made="calc", plain="flow this layout can give", better="more"),
    Entry(MARGIN, "arrangement", "number", unit="l/min", made="calc", plain="flow to spare", better="more"),
    Entry(WANTED, "site", "number", unit="l/min", made="calc", plain="flow wanted together"),
    Entry("arrangement.family", "arrangement", "words", made="structure", plain="kind of layout"),
    Entry("arrangement.store", "arrangement", "words", made="structure", plain="hot-water store"),
    Entry("cost.installed_points", "arrangement", "number", unit="points", made="structure", plain="cost points"),
    Entry("source.hot_kw", "source", "number", unit="kW", made="structure", plain="output for hot water"),
    Entry("space.litres_l", "arrangement", "number", unit="l", made="structure", plain="litres of store"),
    Entry("water.service_material", "site", "words", domain=("copper", "lead", "iron"), plain="service pipe material",
          field="water.service_material", question="What is the service pipe made of? {Look}.", how="measured"),
    Entry("heating.heat_loss_kw", "site", "number", unit="kW", domain=(1, 60), plain="heat loss",
          field="heating.heat_loss", question="What is the heat loss?"),
    Entry("wishes.outlets_at_once", "site", "words", domain=("none", "prefer", "must"), plain="two outlets at once",
          field="wishes.outlets_at_once", may_change="wish", how="told", default="none"),
    Entry("wishes.low_price", "site", "words", domain=("none", "prefer", "must"), plain="a low price"),
)}


def _rule(rule_id: str, title: str, effect: str, **more) -> Rule:
    when = (Pattern(MARGIN, "$a", "below", 0.0), Pattern("wishes.outlets_at_once", "site", "is", ("must",)))
    return Rule(id=rule_id, title=title, stratum="verdicts", where=("england",), when=when, unless=(), effect=effect,
                about="$a", conclude=Conclusion(f"finding.{rule_id}", "$a", "yes"),
                source=Source("A code of practice", "clause 4", "PUBLISHED"), shows=(FLOW, WANTED), **more)


RULES = {r.id: r for r in (
    _rule("must-serve-at-once", "The outlets that must work together cannot", "rules_out"),
    _rule("scald-at-the-bath", "Stored hot water scalds", "caution"),
    _rule("alarm-with-the-boiler", "Fit an alarm in the boiler's room", "requires"),
)}
CHAPTER = """# Outlets together

## How to think about it

Prose, with no id line: no section of a rule.

## The outlets that must work together cannot
id: must-serve-at-once

*Finding:* Wanted are {demand.at_once_l_min}; this gives {outlet_flow_l_min}, {outlet_flow_margin_l_min}. A second one.

*Why it matters:* A promise broken.

*To the householder:* You want {demand.at_once_l_min} and would get {outlet_flow_l_min}. Taking turns would do.

## Stored hot water scalds
id: scald-at-the-bath

*Finding:* The store holds {space.litres_l}.
*To the householder:* Water from a tank can burn skin. The pipe is {water.service_material}.
"""


def _facts(flows: dict[str, float], material: str) -> FactBook:
    book = FactBook()

    def add(name: str, entity: str, value, unit: str = "", **more) -> Fact:
        sort = VOCABULARY[name].sort if name in VOCABULARY else "arrangement"
        made = more.pop("made_by", "survey")
        return book.add(Fact(key_of(name, entity), name, sort, entity, value, unit, made_by=made, **more))

    add("nation", "site", words("england"), rests_on=frozenset(["nation"]), note="nation")
    add("water.service_material", "site", words(material), rests_on=frozenset(["water.service_material"]),
        note="water.service_material")
    add("heating.heat_loss_kw", "site", Span(1, 60), "kW", how="default", rests_on=frozenset(["heating.heat_loss"]),
        note="heating.heat_loss")
    add("wishes.outlets_at_once", "site", words("must"), how="told", rests_on=frozenset(["wishes.outlets_at_once"]),
        note="wishes.outlets_at_once")
    wanted = add(WANTED, "site", exactly(18.0), "l/min", made_by="calc.total", how="told")
    for source, kw in (("combination-30", 30), ("system-18", 18)):
        add("source.hot_kw", source, exactly(kw), "kW", made_by="structure")
    for a, flow in flows.items():
        add("arrangement.family", a, words(a.partition(":")[0]), made_by="structure")
        add("arrangement.store", a, words("none" if a == COMBI else "unvented"), made_by="structure")
        add("space.litres_l", a, exactly(0 if a == COMBI else 180), "l", made_by="structure")
        add("cost.installed_points", a, exactly(3 if a == COMBI else 7), "points", made_by="structure")
        made = add(FLOW, a, exactly(flow), "l/min", made_by="calc.lesser", how="told")
        margin = add(MARGIN, a, exactly(flow - 18.0), "l/min", made_by="calc.difference", how="told",
                     because=(made.key, wanted.key), inputs=(("value", made.key), ("limit", wanted.key)))
        if flow < 18.0:
            book.add(Fact(f"finding.must-serve-at-once@{a}=yes", "finding.must-serve-at-once", "arrangement", a,
                          words("yes"), made_by="rule.must-serve-at-once",
                          because=(margin.key, "wishes.outlets_at_once@site")))
    for rule in ("scald-at-the-bath", "alarm-with-the-boiler"):
        book.add(Fact(f"finding.{rule}@{STORE}=yes", f"finding.{rule}", "arrangement", STORE, words("yes"),
                      made_by=f"rule.{rule}", because=(key_of("arrangement.store", STORE),)))
    return book


def _judged(book: FactBook, a: str, arrangement: Arrangement, rank: int, flow: float) -> Judged:
    short = flow < 18.0
    check = Check(MARGIN, key_of(FLOW, a), key_of(WANTED, "site"), key_of(MARGIN, a), not short)
    rules = ["must-serve-at-once"] if short else [] if a == COMBI else ["scald-at-the-bath", "alarm-with-the-boiler"]
    findings = tuple(Finding(r, RULES[r].effect, True, f"finding.{r}@{a}=yes", book[f"finding.{r}@{a}=yes"].because, a)
                     for r in rules)
    verdict = "ruled_out" if short else "suitable"
    steps = {"outlets_at_once": (2, 2) if short else (0, 0), "low_price": (1, 1) if a == COMBI else (3, 3),
             "save_space": (0, 0) if a == COMBI else (1, 1)}
    return Judged(arrangement, verdict, (verdict,), findings, (), (), (check,), (), steps, True, rank)


def advice(combi_flow: float = 12.28, store_flow: float = 23.5, title: str = "", material: str = "lead",
           private: dict[str, str] | None = None) -> Advice:
    """The small advice; the cylinder is recommended, the combination boiler is cheaper and ruled out."""
    flows = {STORE: store_flow, COMBI: combi_flow}
    book = _facts(flows, material)
    store = Arrangement(STORE, "boiler-unvented-cylinder", title or "18 kW system boiler with a 180 litre cylinder",
                        {}, (), "system-18", "", 180.0, 18.0, "a mains-fed cylinder")
    combi = Arrangement(COMBI, "combination-boiler", "30 kW combination boiler, no cylinder", {}, (), "combination-30",
                        "", 0.0, 30.0, "a combination boiler")
    judged = (_judged(book, STORE, store, 1, store_flow), _judged(book, COMBI, combi, 2, combi_flow))
    criteria = [{"id": "outlets_at_once", "title": "serves the outlets wanted together", "fact": MARGIN, "edges": [0]},
                {"id": "low_price", "title": "installed cost band", "fact": "cost.installed_points", "edges": [1]},
                {"id": "save_space", "title": "space taken indoors", "fact": "space.litres_l", "edges": [0]}]
    ranking = {"criterion": criteria, "default_order": ["low_price", "save_space"]}
    heads = Remedy("smaller-heads", "Fit smaller shower heads", (), "plumber", "small", "hours")
    base = SimpleNamespace(requirements={},
        house=None,
        rules=RULES, vocabulary=VOCABULARY, ranking=ranking, remedies={"smaller-heads": heads},
        thresholds={"useful_bar": Threshold("useful_bar", "bar", "useful pressure", Source("A code", "4"), (
            (date(2018, 4, 6), exactly(1.5)),))}, date=date(2026, 11, 25), sha="sha256 abc123", families=None)
    answers = {"water.service_material": SimpleNamespace(read=material, how="measured", when="", note="",
                                                         instead_of="")}
    survey = SimpleNamespace(answers=answers, wishes=("outlets_at_once",), private=private or {}, surveyed_on=None, fields=SimpleNamespace(entry=lambda field: None),
                             works_date=None, warnings=(), lists={}, complete=frozenset())
    return Advice(survey, base, book, judged, STORE, None,
                  (Comparison(STORE, COMBI, "verdict", ("suitable", "ruled_out"), ("", ""), "0 before 2"),),
                  (Question("heating.heat_loss", "What is the heat loss?", "open", (STORE,)),), (),
                  {"engine": "by hand", "checked": True, "fell_back": False}, {})
