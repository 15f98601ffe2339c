"""Check a finished piece of advice (`advice.json`) without trusting the program that wrote it.

`python verifier.py FILE [--rulebase SHA]`: standard library only, written from the specification of the file. Taken on
trust, and counted: facts of a solver or a simulation, `if_typical`. No file that stands alone stops a forger who is
consistent: give the digest of the rule base you expect, or compare the one printed.
"""
import ast
import hashlib
import json
import math
import operator
import sys
from collections import Counter, defaultdict, namedtuple
from functools import lru_cache
from graphlib import TopologicalSorter
from itertools import pairwise, product
from types import SimpleNamespace

RULEBASE = ("rules", "needs", "slots", "absences", "formulas", "thresholds")
STRATA = ("circumstances", "parts", "exceptions", "findings", "verdicts", "preferences", "questions")
LINKS = {"value": "fact", "limit": "limit_fact", "margin": "margin_fact"}  # the facts a check shows
HOW, QUESTIONS, ANYTHING = ("measured", "told", "assumed", "default"), 6, (-math.inf, math.inf)
META = ("survey_format", "works_date", "surveyed_on", "wishes.order", ".from", ".to", ".complete")  # answers, not facts
READ = {  # the only nodes a formula may be made of; a whole number becomes a float, so that no power grows for ever
    ast.Name: lambda n, v: v[n.id],
    ast.Constant: lambda n, v: n.value if isinstance(n.value, str) else float(n.value),
    ast.BinOp: lambda n, v: USE[type(n.op)](read(n.left, v), read(n.right, v)),
    ast.UnaryOp: lambda n, v: USE[type(n.op)](read(n.operand, v)),
    ast.BoolOp: lambda n, v: USE[type(n.op)](read(part, v) for part in n.values),
    ast.Compare: lambda n, v: all(USE[type(op)](read(a, v), read(b, v)) for op, (a, b) in zip(
        n.ops, pairwise([n.left, *n.comparators]), strict=True)),
    ast.IfExp: lambda n, v: read(n.body if read(n.test, v) else n.orelse, v),
    ast.Call: lambda n, v: USE[n.func.id](*(read(argument, v) for argument in n.args))}
USE = {  # and the only operators and functions
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv, ast.Pow: math.pow,
    ast.USub: operator.neg, ast.Not: operator.not_, ast.Lt: operator.lt, ast.LtE: operator.le, ast.Gt: operator.gt,
    ast.GtE: operator.ge, ast.Eq: operator.eq, ast.NotEq: operator.ne, ast.And: all, ast.Or: any,
    "min": min, "max": max, "abs": abs, "sum": sum, "len": len, "sqrt": math.sqrt, "exp": math.exp, "log": math.log,
    "log10": math.log10, "floor": math.floor, "ceil": math.ceil}
parse = lru_cache(maxsize=1000)(lambda text: ast.parse(text or "1", mode="eval").body)  # an empty text is true
Report = namedtuple("Report", "passed refusals did")  # a bool, a list of texts, counts of what was looked at

def read(node, names):
    """The value of an expression; a KeyError where it holds anything not listed above."""
    return READ[type(node)](node, names)

def over(formula, inputs):
    """The set of results over a box of inputs, from its corners and turns; where not valid, anything at all."""
    if formula["variadic"]:
        points = [{name: [s[end] for s in sets] for name, sets in inputs.items()} for end in (0, 1)]
    else:
        axes = [{*s, *(t for t in formula["turns"].get(n, ()) if s[0] < t < s[1])} for n, s in inputs.items()]
        points = [dict(zip(inputs, corner, strict=True)) for corner in product(*axes)]
    text, valid = parse(formula["text"]), parse(formula["valid"])
    try:
        results = [read(text, point) if read(valid, point) else math.nan for point in points]
    except (ArithmeticError, ValueError):
        results = [math.nan]
    if any(r != r for r in results):
        return frozenset(formula["domain"]) or ANYTHING
    return frozenset(results) if isinstance(results[0], str) else (float(min(results)), float(max(results)))

def digest(data):
    """The digest of canonical JSON: sorted keys, no spaces, UTF-8 unescaped."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return "sha256 " + hashlib.sha256(text.encode()).hexdigest()

def as_set(value):
    """What a JSON value stands for: (lowest, highest) of a number, or the frozenset of the words still possible."""
    words = [value] if isinstance(value, str) else value.get("one_of") if isinstance(value, dict) else value
    if isinstance(words, list) and value != "anything":
        return frozenset(words)
    low, high = ANYTHING if value == "anything" else value["between"] if isinstance(value, dict) else (value, value)
    return float(low), float(high)

def differences(place, found, wanted):
    """The places where what is found is not what is wanted; tables are compared entry by entry."""
    if isinstance(found, dict) and isinstance(wanted, dict):
        for key in sorted({*found, *wanted}, key=str):
            yield from differences(f"{place} {key}", found.get(key, "missing"), wanted.get(key, "nothing"))
    elif found != wanted:
        yield f"{place}: is {found}, should be {wanted}"

def seal(c):
    """The seal, the digest of the rule base and, where one is expected, that it is this one."""
    base = digest({key: c.advice[key] for key in RULEBASE})
    yield "seal", c.advice["seal"], digest({key: c.advice[key] for key in c.advice.keys() - {"run", "seal"}})
    yield "advisor.rulebase", c.advice["advisor"]["rulebase"], base
    yield "rule base expected", base.split()[-1], (c.expected or base).split()[-1]

def facts(c):
    """Each fact stands once, about a known entity of its sort, made as the vocabulary says, certain where given."""
    vars(c).update(c.advice, by=defaultdict(dict), value={}, kind=defaultdict(dict), did=c.did)
    c.entities, c.did["facts"] = {"site": ["site"], **c.entities}, len(c.facts)
    for i, fact in c.facts.items():
        c.at = i
        name, made, ((sort, entity),) = fact["name"], fact["made_by"].partition(".")[0], fact["about"].items()
        entry = c.sorts.get(name, {"sort": sort, "made": made if made in ("threshold", "absence") else "rule"})
        certain, ids = fact["certain"] or made in ("rule", "absence"), c.by[name].setdefault(entity, [])
        yield f"{i} {name}", (sort, made, fact["unit"], certain, entity in c.entities[sort]), (
            entry["sort"], entry["made"], entry.get("unit", fact["unit"]), True, True)
        yield f"{i} {name} of {entity} stands again", [] if made == "rule" else [*ids], []
        c.value[i], c.kind[made][i] = as_set(fact["value"]), fact
        ids.append(i)

def compose(c, parts):
    """What the slots say of one choice of parts, by its id: what is shown of it, its facts and its sums."""
    used = {slot: c.slots["slots"][slot][part] for slot, part in parts.items() if slot != "place"}
    words = {name: word for part in used.values() for name, word in part["words"].items()}
    sums = Counter({name: 0 for name in c.sorts if name.startswith(("cost.", "space."))})
    for part in used.values():
        sums.update(part["numbers"])
    name = next(n for n in c.slots["naming"] if all(words.get(key) in some for key, some in n["words"].items()))
    fill = {"power": f"{sums['power_kw']:g}", "litres": f"{sums['litres']:g}", "place": parts.get("place", "")}
    spoken = fill | {"place": fill["place"].replace("_", " ").replace("-", " ")}
    ports = {f"{slot}.{port}" for slot, part in used.items() for port in part["ports"]}
    links = [[link["from"], link["to"]] for link in c.slots["links"] if {link["from"], link["to"]} <= ports]
    words |= {f"arrangement.{key}": parts[key] for key in ("source", "place") if key in parts}
    words["arrangement.family"] = name["family"]
    return f"{name['family']}:{name['variant'].format(**fill)}", {
        "shown": {"family": name["family"], "title": name["title"].format(**spoken), "parts": parts, "links": links},
        "facts": words | {n: sums[n] for n in sums if n in c.sorts}, "sums": sums}

def arrangements(c):
    """The candidates, their parts and names follow from the recipes and the places; every owed fact is there."""
    c.list, c.made = {a["id"]: a for a in c.arrangements}, {}
    for slots in (recipe["slots"] for recipe in c.slots["recipes"]):
        for choice in product(*(c.entities["place"] if some == "each place" else some for some in slots.values())):
            c.made |= [compose(c, dict(zip(slots, choice, strict=True)))]
    c.did["arrangements"] = len(c.arrangements)
    yield "number of candidates", len(c.arrangements), len(c.made)
    families = {name["family"] for name in c.slots["naming"]}
    yield "families without a candidate", families - {a["family"] for a in c.arrangements}, set()
    yield "", {i: {"links": [link[:2] for link in a["links"]], **{k: a[k] for k in ("family", "title", "parts")}}
               for i, a in c.list.items()}, {i: made["shown"] for i, made in c.made.items()}
    for i, made in c.made.items():
        owed = {n for slot, part in made["shown"]["parts"].items() for n in c.needs.get(slot, {}).get(part, ())}
        yield f"{i} owes", sorted(n for n in owed for e in about(c, n, i) if e not in c.by[n]), []

def about(c, name, arrangement):
    """The known entities that a fact about this arrangement, or about what it is made of, can be about."""
    parts, sort = c.made[arrangement]["shown"]["parts"], c.sorts.get(name, {"sort": "site"})["sort"]
    own = {"arrangement": [arrangement], "source": [parts["source"]], "place": [parts.get("place")]}
    return [entity for entity in own.get(sort, c.entities[sort]) if entity in c.entities[sort]]

def given(c):
    """Survey facts are the answers, defaults or whole domains; threshold and structure facts are as stated."""
    c.answers, wanted = {}, {}
    for name, entry in c.sorts.items():
        for entity in c.entities[entry["sort"]] if entry["made"] == "survey" and not entry.get("personal") else ():
            field, typed = entry["field"].replace("NAME", entity), entry["default"]
            whole = entry["domain"] if entry["kind"] == "words" else {"between": entry["domain"]}
            blank = {"value": whole, "how": "default"} if typed is None else {"value": typed, "how": "told"}
            answer = c.answers[field] = c.survey.get(field, blank)
            wanted[name, entity] = as_set(answer["value"]), answer["how"], field
    yield "answers without a fact", [f for f in c.survey if f not in c.answers and not f.endswith(META)], []
    stated = [("threshold." + name, "site", limit["value"]) for name, limit in c.thresholds.items()]
    stated += [(n, i, value) for i, made in c.made.items() for n, value in made["facts"].items()]
    stated += [(n, i, value) for i, part in c.slots["slots"]["source"].items() for n, value in part["entity"].items()]
    wanted |= {(name, entity): (as_set(value),) for name, entity, value in stated}
    shown = {"survey": ("how", "field"), "threshold": (), "structure": ()}
    yield "", {(f["name"], *f["about"].values()): (c.value[i], *(f[key] for key in keys))
               for kind, keys in shown.items() for i, f in c.kind[kind].items()}, wanted

def support(c):
    """How a fact is known and the fields it rests on are those of the facts it is made from, the weakest way of all."""
    for i, fact in c.facts.items():
        c.at, made = i, fact["made_by"].partition(".")[0]
        below = [c.facts[one] for one in fact["because"]]
        rests = {field for one in below for field in one["rests_on"]}
        rests |= {fact["field"]} if made == "survey" else {*fact["rests_on"]} if made == "rule" else set()
        how = fact["how"] if made == "survey" else max((one["how"] for one in below), key=HOW.index, default=HOW[0])
        inputs = [one for ids in fact["inputs"].values() for one in ([ids] if isinstance(ids, str) else ids)]
        yield f"{i} {fact['name']}", (fact["how"], {*fact["rests_on"]}, inputs, fact["trust"]), (
            how, rests, fact["because"] if made == "calc" else [], made == "calc" and fact["trust"])

def calc(c):
    """Every sum comes out the same from the formula's text, on the corners of its box; none rests on itself."""
    rests = {i: fact["because"] for i, fact in c.kind["calc"].items()}
    tuple(TopologicalSorter(rests).static_order())  # CycleError where a sum rests on itself
    for i, ids in rests.items():
        c.at, fact = i, c.facts[i]
        formula = c.formulas[fact["made_by"].removeprefix("calc.")]
        yield f"{i} {fact['name']} inputs", ({*fact["inputs"]}, fact["trust"], c.kind["rule"].keys() & ids), (
            {*formula["args"]}, formula["trust"], set())
        c.did["taken on trust" if formula["trust"] else "formulas recomputed"] += 1
        box = {name: c.value[one] if isinstance(one, str) else [*map(c.value.get, one)]
               for name, one in fact["inputs"].items()}
        result = c.value[i] if formula["trust"] else over(formula, box)
        near = isinstance(result, tuple) and all(map(math.isclose, result, c.value[i]))  # to one part in 10^9
        yield f"{i} {fact['name']}", c.value[i], c.value[i] if near else result

def replay(c):
    """What our own matcher finds over all facts, with its marks, is the derivation, which starts from the given."""
    made, c.gone, told, grounded = defaultdict(int), {}, {}, c.facts.keys() - c.kind["rule"]
    for rule in c.rules.values():
        made[rule["conclude"]["fact"]] = max(rule["stratum"], made[rule["conclude"]["fact"]])
    yield "rules that read what is made too late", [
        rule["id"] for rule in c.rules.values() for late, key in ((0, "unless"), (1, "when")) for p in rule[key]
        if p["fact"] in made and made[p["fact"]] >= rule["stratum"] + late], []
    found = {key: tests for rule in c.rules.values() for key, tests in instances(c, rule)}
    for pattern in c.absences:
        for entity in c.entities[pattern["sort"]]:
            absence(c, pattern, entity)
    absent = c.kind["absence"]
    yield "certain mark of", {i: absent[i]["certain"] for i in absent}, {i: c.gone.get(i) for i in absent}
    sure = {i for i in grounded if c.facts[i]["certain"]}
    while fresh := {key[-1] for key, tests in found.items() if tests and sure.issuperset(key[1])} - sure:
        sure |= fresh
    for step in c.derivation:
        c.at = step["rule"], tuple(step["premises"]), step["conclusion"]
        yield f"{c.at} stands before", [i for i in step["premises"] if i not in grounded], []
        told[c.at] = step["certain"], step["stratum"]
        grounded.add(step["conclusion"])
    c.did["instances replayed"] = len(found)
    yield "number of steps", len(c.derivation), len(found)
    yield "", told, {key: (tests and sure.issuperset(key[1]), STRATA[c.rules[key[0]]["stratum"]])
                     for key, tests in found.items()}
    for i, fact in c.kind["rule"].items():
        proof = fact["made_by"].removeprefix("rule."), tuple(fact["because"]), i
        yield f"{i} {fact['name']}", (fact["certain"], proof in found), (i in sure, True)
    single = [ids for name, here in c.by.items() if c.sorts.get(name, {}).get("single") for ids in here.values()]
    yield "two certain values", [ids for ids in single if len(sure.intersection(ids)) > 1], []

def instances(c, rule):
    """Each way to meet a rule's conditions: ((rule, premises, conclusion), whether every test is certain)."""
    c.at, goal, ways = rule["id"], rule["conclude"], [({"site": "site"}, (), True)]
    for p in rule["when"]:
        ways = [({**env, p["of"]: entity, p["bind"]: word}, (*ids, i), sure and certain and len(words) == 1)
                for env, ids, sure in ways
                for entity in ([env[p["of"]]] if p["of"] in env else c.by[p["fact"]])
                for i, possible, certain in stand(c, p, entity) if possible
                for words in [c.value[i] if p["bind"] else [""]]
                for word in words if env.get(p["bind"], word) == word]
    for p in rule["unless"]:
        ways = [(env, (*ids, gone), sure) for env, ids, sure in ways if (gone := absence(c, p, env[p["of"]]))]
    for env, ids, sure in ways:
        made = [i for i in c.by[goal["fact"]].get(env[goal["of"]], ()) if c.value[i] == {goal["is"]}]
        yield (rule["id"], ids, *made), sure

def stand(c, pattern, entity):
    """(id, possible, certain) of each fact about an entity that a pattern tests."""
    arg = pattern["arg"]
    if isinstance(arg, str) and arg.startswith("threshold:"):
        arg = c.thresholds[arg.removeprefix("threshold:")]["value"]
    limit = None if arg is None else as_set(arg)
    return [(i, *test(c.value[i], pattern["op"], limit)) for i in c.by[pattern["fact"]].get(entity, ())]

def test(values, op, limit):
    """(possible, certain): how a test against `limit`, a value set too, stands on the set `values`."""
    if op == "applies" or isinstance(limit, frozenset):
        return (True, True) if op == "applies" else (bool(values & limit), values <= limit)
    (low, high), (least, most) = values, limit
    return {"below": (low < most, high < least), "at_most": (low <= most, high <= least),
            "above": (high > least, low > most), "at_least": (high >= least, low >= most),
            "is": (low <= most and high >= least, low == high == least == most)}[op]

def absence(c, pattern, entity):
    """The fact that nothing about the entity matches, noting its mark; None where something certainly does."""
    (entry,) = (a for a in c.absences if all(a[key] == pattern[key] for key in ("fact", "op", "arg")))
    here = stand(c, pattern, entity)
    if entity not in c.entities[entry["sort"]] or any(certain and c.facts[i]["certain"] for i, _, certain in here):
        return None
    gone = c.by["absent:" + entry["id"]].get(entity, [f"no absence of {entry['id']}"])[0]
    c.gone[gone] = not any(possible for _, possible, _ in here)
    return gone

def verdicts(c):
    """Findings, verdict, works, requirements and checks of each arrangement are what the facts say."""
    c.found, says = {}, defaultdict(list)
    for name, here in c.by.items():
        for entity, ids in here.items() if name.startswith("finding.") else ():
            says[entity] += [(c.rules[name.removeprefix("finding.")], c.facts[i]) for i in ids]
    for i, a in c.list.items():
        c.at, here = i, says[i] + says["site"]
        c.found[i], left = here, possible_verdicts(c, i, here)
        yield i, {
            "findings": sorted((f["rule"], f["effect"], f["certain"], f["because"]) for f in a["findings"]),
            "possible_verdicts": sorted(a["possible_verdicts"]), "verdict": a["verdict"],
            "works": sorted(a["works"]), "requires": sorted(a["requires"])}, {
            "findings": sorted((rule["id"], rule["effect"], f["certain"], f["because"]) for rule, f in here),
            "possible_verdicts": sorted(left), "verdict": min(left) if len(left) == 1 else "open",
            "works": works(here), "requires": sorted(rule["id"] for rule, _ in here if rule["effect"] == "requires")}
        for check in a["checks"]:
            margin, (low, high) = c.facts[check["margin_fact"]], c.value[check["margin_fact"]]
            shown = {key: c.facts[check[link]]["value"] for key, link in LINKS.items()}
            yield f"{i} check {check['name']}", {**check, "from": {check["fact"], check["limit_fact"]}}, {
                **check, **shown, "name": margin["name"], "unit": margin["unit"],
                "from": {*margin["inputs"].values()}, "passes": low >= 0 or (False if high < 0 else None)}

def possible_verdicts(c, arrangement, here):
    """The verdicts that what is found of an arrangement leaves possible."""
    maybe, sure = {rule["effect"] for rule, _ in here}, {rule["effect"] for rule, f in here if f["certain"]}
    if "rules_out" in sure:
        return {"ruled_out"}
    left = {"ruled_out": "rules_out" in maybe or asked(c, arrangement, here, QUESTIONS),
            "suitable_after_works": "needs_work" in maybe, "suitable": "needs_work" not in sure}
    return {verdict for verdict, possible in left.items() if possible}

def asked(c, arrangement, here, below):
    """{(field, rule id)}: the unanswered survey fields that rules of the strata `below` ask for."""
    asking = [rule for rule, _ in here if rule["effect"] == "asks" and rule["stratum"] < below]
    fields = {(field, rule["id"]) for rule in asking for field in [
        c.facts[i]["field"] for e in about(c, rule["asks"], arrangement) for i in c.by[rule["asks"]].get(e, ())]
        or [rule["asks"]]}  # what is not there to be answered stays unanswered
    return {(field, rule) for field, rule in fields if unanswered(c, field)}

def unanswered(c, field):
    """Whether the survey leaves more than one value to a field, or says nothing of it."""
    answer = c.answers.get(field, {"how": "default"})
    return answer["how"] == "default" or len({*as_set(answer["value"])}) > 1

def works(here):
    """The remedies named by the works that are or may be needed, each once."""
    return sorted({rule["remedies"][0] for rule, _ in here if rule["effect"] == "needs_work"})

def ranking(c):
    """Wishes, ranks, recommendation and comparison follow from the steps of each arrangement."""
    wishes, order, keys, lean, best = c.ranking["wishes"], c.ranking["default_order"], {}, {}, {}
    stated = [n for n, here in c.by.items() if n.startswith("wishes.") and c.value[here["site"][0]] - {"none", "no"}]
    first = [wish for wish in c.survey.get("wishes.order", {"value": []})["value"] if "wishes." + wish in stated]
    yield "wishes", (sorted("wishes." + wish for wish in wishes), wishes[:len(first)]), (sorted(stated), first)
    for i, a in c.list.items():
        step = {criterion["id"]: worst_step(c, criterion, i) for criterion in c.ranking["criteria"]}
        group = 0 if "ruled_out" not in a["possible_verdicts"] else 2 if a["verdict"] == "ruled_out" else 1
        wished, sums = [step[wish] for wish in wishes], c.made[i]["sums"]
        keys[i] = group, *wished, a["verdict"] == "open" or group == 2, *(step[name] for name in order), i
        lean[i] = group, wished, len(a["works"]), sums["litres"], sums["power_kw"], keys[i]
        best[a["family"]] = min(i, best.get(a["family"], i), key=lean.get)
    ranked = sorted(keys, key=lambda i: (i not in best.values(), keys[i]))
    names = ["verdict", *wishes, "nothing left to confirm", *order, "id"]
    yield "rank", {i: a["rank"] for i, a in c.list.items()}, {i: n for n, i in enumerate(ranked, 1)}
    yield "recommended", c.recommended, ranked[0] if keys[ranked[0]][0] == 0 else None
    yield "comparison", [(x["first"], x["second"], x["criterion"]) for x in c.comparison], [
        (a, b, next(name for name, x, y in zip(names, keys[a], keys[b], strict=True) if x != y))
        for a, b in pairwise(ranked[:len(best)])]

def worst_step(c, criterion, arrangement):
    """The worst step an arrangement can stand on: its fact's, moved by preferences and by works, within 0 to 4."""
    name, edges, words = criterion["fact"], criterion.get("edges"), criterion.get("words")
    passed = operator.gt if criterion.get("better") == "less" else operator.lt
    ends = [x for e in about(c, name, arrangement) for i in c.by[name].get(e, ()) for x in c.value[i]]
    step = max((words[x] if words else sum(passed(x, edge) for edge in edges) for x in ends), default=0)
    for rule, fact in c.found[arrangement]:
        if rule["criterion"] == criterion["id"]:
            step += {"counts_against": 1, "favours": -1 if fact["certain"] else 0}.get(rule["effect"], 0)
    step += sum(c.remedies[work]["adds"].get(criterion["id"], 0) for work in works(c.found[arrangement]))
    return min(max(step, 0), 4)

def questions(c):
    """A question for each unanswered field that a rule asks for or that keeps a verdict open, with what it decides."""
    reasons, wanted, allowed = set(), set(), set()
    for i, here in c.found.items():
        reasons |= asked(c, i, here, len(STRATA))
        rests = {field for rule, fact in here if rule["effect"] in ("rules_out", "needs_work") and not fact["certain"]
                 for field in fact["rests_on"]}
        left = {field for field in rests if unanswered(c, field)} | {field for field, _ in asked(c, i, here, QUESTIONS)}
        if c.list[i]["verdict"] == "open":
            wanted |= {(field, i) for field in left}
            allowed |= {(field, i) for field in left or rests}  # all answered, yet not computed: ask any of them
    told = {(q["field"], i) for q in c.questions for i in q["decides"]}
    yield "left out", sorted({field for field, _ in reasons | wanted} - {q["field"] for q in c.questions}), []
    yield "decides", sorted(wanted - told) + sorted(told - allowed), []
    yield "without a reason", [q["field"] for q in c.questions if (q["field"], q["because"]) not in reasons
                               and not (q["because"] == "open" and q["decides"])], []

def verify(advice, rulebase=None):
    """Check one certificate, section by section; what cannot be read at all is a refusal of its place."""
    c, refusals = SimpleNamespace(advice=advice, expected=rulebase, did=Counter()), []
    for section in (seal, facts, arrangements, given, support, calc, replay, verdicts, ranking, questions):
        c.at = place = "start"
        try:
            for place, found, wanted in section(c):
                refusals += differences(f"{section.__name__}, {place}", found, wanted)
        except Exception as fault:  # the file is not trusted: any fault in reading it is a refusal
            refusals.append(f"{section.__name__}, {c.at}: cannot be read ({type(fault).__name__}: {fault})")
    c.did["taken on trust"] += 1  # the recommendation with typical values needs a second run
    return Report(not refusals, refusals, dict(c.did))

def main(argv):
    """Print each refusal and what was looked at; 0 when the file passed, 1 when refused, 2 for a wrong command line."""
    if len(argv) not in (1, 3) or argv[1:2] not in ([], ["--rulebase"]):
        print("usage: python verifier.py ADVICE.json [--rulebase SHA]", file=sys.stderr)
        return 2
    try:
        with open(argv[0], encoding="utf-8") as file:
            advice = json.load(file)
        report = verify(advice, *argv[2:])
    except (OSError, ValueError, RecursionError) as fault:
        report = Report(False, [f"file, {argv[0]}: {fault}"], {})
    print(*report.refusals, *(f"{what}: {count}" for what, count in report.did.items()), sep="\n")
    print("passed; rule base " + advice["advisor"]["rulebase"] if report.passed else "REFUSED")
    return 0 if report.passed else 1

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
