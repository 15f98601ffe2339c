"""Check a finished piece of advice (`advice.json`) without trusting the program that wrote it.

One file, standard library only, written from the specification of the file it reads: `python verifier.py ADVICE.json
[--rulebase SHA]`. A refusal names its section and place. Taken on trust and counted: facts of a solver or simulation,
and `if_typical`. No self-contained file stops a forger who is consistent: compare the rule-base digest printed.
"""
import ast
import hashlib
import json
import math
import operator
import sys
from collections import Counter, defaultdict
from functools import lru_cache
from graphlib import TopologicalSorter
from itertools import product
from typing import NamedTuple

STRATA = ("circumstances", "parts", "exceptions", "findings", "verdicts", "preferences", "questions")
HOW = ("measured", "told", "assumed", "default")  # strongest first
RULEBASE = ("rules", "needs", "slots", "absences", "formulas", "thresholds")
META = ("survey_format", "works_date", "surveyed_on", "wishes.order", ".from", ".to", ".complete")  # not facts
GOOD, ANYTHING, NOWHERE = {"suitable", "suitable_after_works"}, (-math.inf, math.inf), "no place recorded"
OPERATORS = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv, ast.Pow: math.pow,
    ast.USub: operator.neg, ast.Not: operator.not_, ast.Lt: operator.lt, ast.LtE: operator.le, ast.Gt: operator.gt,
    ast.GtE: operator.ge, ast.Eq: operator.eq, ast.NotEq: operator.ne, ast.And: all, ast.Or: any}
FUNCTIONS = {"min": min, "max": max, "abs": abs, "sum": sum, "len": len, "sqrt": math.sqrt, "exp": math.exp,
             "log": math.log, "log10": math.log10, "floor": math.floor, "ceil": math.ceil}
READ = {  # the only node types a formula may be made of; a whole number becomes a float, so no power grows for ever
    ast.Name: lambda n, v: v[n.id],
    ast.Constant: lambda n, v: n.value if isinstance(n.value, str) else float(n.value),
    ast.BinOp: lambda n, v: OPERATORS[type(n.op)](read(n.left, v), read(n.right, v)),
    ast.UnaryOp: lambda n, v: OPERATORS[type(n.op)](read(n.operand, v)),
    ast.BoolOp: lambda n, v: OPERATORS[type(n.op)](read(part, v) for part in n.values),
    ast.Compare: lambda n, v: all(OPERATORS[type(op)](read(a, v), read(b, v)) for op, a, b in zip(
        n.ops, (n.left, *n.comparators[:-1]), n.comparators, strict=True)),
    ast.IfExp: lambda n, v: read(n.body if read(n.test, v) else n.orelse, v),
    ast.Call: lambda n, v: FUNCTIONS[n.func.id](*(read(argument, v) for argument in n.args))}

class Report(NamedTuple):
    """What the check found: `refusals` name section and place, `did` counts what was looked at."""
    passed: bool
    refusals: list[str]
    did: dict[str, int]

def digest(data):
    """The digest of canonical JSON: sorted keys, no spaces, UTF-8 unescaped."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return "sha256 " + hashlib.sha256(text.encode()).hexdigest()

def as_set(value):
    """What a JSON value stands for: (lowest, highest) of a number, or the frozenset of the words still possible."""
    if isinstance(value, list) or isinstance(value, dict) and "one_of" in value:
        return frozenset(value if isinstance(value, list) else value["one_of"])
    if isinstance(value, str) and value != "anything":
        return frozenset([value])
    low, high = ANYTHING if value == "anything" else value["between"] if isinstance(value, dict) else (value, value)
    if not float(low) <= float(high):
        raise ValueError(f"{value} is not a value")
    return float(low), float(high)

def single(values):
    """Whether only one value is left."""
    return len(values) == 1 if isinstance(values, frozenset) else values[0] == values[1]

def same(a, b):
    """Whether two value sets agree: words exactly, numbers to one part in 10^9."""
    if isinstance(a, frozenset) or isinstance(b, frozenset):
        return a == b
    return all(math.isclose(x, y, rel_tol=1e-9, abs_tol=1e-9) for x, y in zip(a, b, strict=True))

def test(values, op, limit):
    """(possible, certain): how a test against `limit`, a value set too, stands on the set `values`."""
    if op == "applies":
        return True, True
    if isinstance(limit, frozenset):
        return bool(values & limit), values <= limit
    (low, high), (least, most) = values, limit
    return {"below": (low < most, high < least), "at_most": (low <= most, high <= least),
            "above": (high > least, low > most), "at_least": (high >= least, low >= most),
            "is": (low <= most and high >= least, low == high == least == most)}[op]

def read(node, names):
    """The value of an expression; a KeyError where it holds anything not listed above."""
    return READ[type(node)](node, names)

@lru_cache(maxsize=512)
def parsed(text):
    """The tree of an expression, read once."""
    return ast.parse(text, mode="eval").body

def over(formula, inputs):
    """The set of results over a box of inputs, from its corners and turns; where not valid, anything at all."""
    unknown = frozenset(formula.get("domain") or ()) or ANYTHING
    text, valid = (parsed(formula.get(key) or "1") for key in ("text", "valid"))
    if formula["variadic"]:
        points = [{name: [values[end] for values in sets] for name, sets in inputs.items()} for end in (0, 1)]
    else:
        turns = formula.get("turns") or {}
        axes = [{*s, *(t for t in turns.get(name) or () if isinstance(s, tuple) and s[0] < t < s[1])}
                for name, s in inputs.items()]
        points = [dict(zip(inputs, corner, strict=True)) for corner in product(*axes)]
    try:
        results = [read(text, point) if read(valid, point) else math.nan for point in points]
    except (ArithmeticError, ValueError):
        return unknown
    if any(r != r for r in results):
        return unknown
    return frozenset(results) if isinstance(results[0], str) else (float(min(results)), float(max(results)))

class Case:
    """One certificate under examination; each section is a method, `at` is the place it looks at."""
    SECTIONS = ("seal", "facts", "survey", "recompose", "calc", "replay", "verdicts", "ranking", "questions")

    def __init__(self, advice, rulebase):
        self.advice, self.rulebase, self.section, self.at = advice, rulebase, "", ""
        self.refusals, self.did, self.tested, self.live, self.sure, self.value = [], Counter(), {}, set(), set(), {}
        self.by = defaultdict(lambda: defaultdict(list))  # name -> entity -> ids

    def run(self):
        """All sections; what cannot be read at all is a refusal of that place."""
        for self.section in self.SECTIONS:
            self.at = "start"
            try:
                getattr(self, self.section)()
            except Exception as fault:  # the file is not trusted: any fault in reading it is a refusal
                self.refuse(f"cannot be read ({type(fault).__name__}: {fault})")
        return Report(not self.refusals, self.refusals, dict(self.did))

    def refuse(self, what):
        self.refusals.append(f"{self.section}, {self.at}: {what}")

    def expect(self, found, wanted, what):
        """Refuse unless `found` is what it should be."""
        if found != wanted:
            self.refuse(f"{what} is {found!r}, should be {wanted!r}")

    def seal(self):
        """The seal, the digest of the rule base and, where one is expected, that it is this one."""
        advice, base = self.advice, digest({key: self.advice[key] for key in RULEBASE})
        self.expect(advice["seal"], digest({k: v for k, v in advice.items() if k not in ("run", "seal")}), "seal")
        self.expect(advice["advisor"]["rulebase"], base, "advisor.rulebase")
        if self.rulebase and self.rulebase.removeprefix("sha256 ") != base.removeprefix("sha256 "):
            self.refuse(f"the rules are {base}, not the {self.rulebase} expected")

    def facts(self):
        """Each fact stands once, about a known entity of its sort, made as the vocabulary says; thresholds are right."""
        self.sorts, self.rules, self.book = self.advice["sorts"], self.advice["rules"], self.advice["facts"]
        self.entities, seen = {"site": ["site"], **self.advice["entities"]}, set()
        for self.at, fact in self.book.items():
            self.did["facts"] += 1
            name, values, ((sort, entity),) = fact["name"], as_set(fact["value"]), fact["about"].items()
            own = "threshold" if name.startswith("threshold.") else "absence" if name.startswith("absent:") else "rule"
            entry, made = self.sorts.get(name, {"sort": sort, "made": own}), fact["made_by"].partition(".")[0]
            self.expect((sort, made), (entry["sort"], entry["made"]), "sort and maker")
            if entity not in self.entities.get(sort, ()):
                self.refuse(f"there is no {sort} {entity}")
            if (key := (name, entity, values if made == "rule" else "")) in seen:
                self.refuse(f"{name} of {entity} stands twice")
            if made not in ("rule", "absence"):
                self.live.add(self.at)
                self.expect(fact["certain"], True, "certain")
            if made == "threshold":
                self.expect(values, as_set(self.advice["thresholds"][name[10:]]["value"]), "value")
            self.value[self.at] = values
            self.by[name][entity].append(self.at)
            seen.add(key)
        self.sure |= self.live

    def survey(self):
        """Every field of the vocabulary has its fact: the answer, a wish's default, or the whole domain."""
        answers, fields = self.advice["survey"], set()
        for name, entry in self.sorts.items():
            for entity in self.entities.get(entry["sort"], ()) if entry["made"] == "survey" else ():
                self.at, ids = entry["field"].replace("NAME", entity), self.by[name].get(entity)
                fields.add(self.at)
                if not ids:
                    self.refuse("the field has no fact")
                    continue
                fact, typed = self.book[ids[0]], entry.get("default")
                unanswered = (entry["domain"] if entry["kind"] == "words" else {"between": entry["domain"]}, "default")
                wanted = (typed, "told") if typed is not None else unanswered
                answer = answers.get(self.at) or {"value": wanted[0], "how": wanted[1]}
                if not same(self.value[ids[0]], as_set(answer["value"])):
                    self.refuse(f"{ids[0]} is {fact['value']}, the survey says {answer['value']}")
                self.expect((fact["field"], fact["how"]), (self.at, answer["how"]), "field and how")
        for self.at in answers:
            if self.at not in fields and not self.at.endswith(META):
                self.refuse("the answer has no fact")

    def compose(self, parts):
        """What the slots say of one choice of parts: id, family, title, links and structure facts."""
        slots, place = self.advice["slots"], parts.get("place", "")
        used = {slot: slots["slots"][slot][part] for slot, part in parts.items() if slot != "place"}
        words = {name: word for part in used.values() for name, word in part["words"].items()}
        names = {name for every in slots["slots"].values() for part in every.values() for name in part["numbers"]}
        sums = {name: sum(part["numbers"].get(name, 0) for part in used.values()) for name in names}
        words |= {"arrangement.source": parts["source"]} | ({"arrangement.place": place} if place else {})
        name = next(n for n in slots["naming"] if all(words.get(key) in any_of for key, any_of in n["words"].items()))
        fill = {"power": f"{sums['power_kw']:g}", "litres": f"{sums['litres']:g}", "place": place}
        ports = {f"{slot}.{port}" for slot, part in used.items() for port in part["ports"]}
        links = [[link["from"], link["to"]] for link in slots["links"] if {link["from"], link["to"]} <= ports]
        spoken = {**fill, "place": place.replace("_", " ").replace("-", " ")}
        counted = {n: sums[n] for n in sums if n in self.sorts and (
            n.startswith(("cost.", "space.")) or any(n in part["numbers"] for part in used.values()))}
        return {"id": f"{name['family']}:{name['variant'].format(**fill)}", "family": name["family"], "parts": parts,
                "title": name["title"].format(**spoken), "links": links, "sums": sums,
                "facts": {**words, "arrangement.family": name["family"], **counted}}

    def recompose(self):
        """The candidates, their parts, names and structure facts follow from the recipes; every owed fact is there."""
        places, self.made = self.entities["place"] or [NOWHERE], {}
        for recipe in self.advice["slots"]["recipes"]:
            choices = {slot: places if any_of == "each place" else any_of for slot, any_of in recipe["slots"].items()}
            for chosen in product(*choices.values()):
                made = self.compose(dict(zip(choices, chosen, strict=True)))
                self.made[made["id"]] = made
        self.list = {a["id"]: a for a in self.advice["arrangements"]}
        self.expect((sorted(self.list), sorted(self.entities["arrangement"])), (sorted(self.made),) * 2, "candidates")
        for self.at, made in self.made.items():
            self.did["arrangements"] += 1
            found = self.list[self.at]
            self.expect({k: found[k] for k in ("family", "title", "parts")}, {k: made[k] for k in ("family", "title", "parts")}, "it")
            self.expect([link[:2] for link in found["links"]], made["links"], "links")
            for name, value in made["facts"].items():
                self.expect([self.value[i] for i in self.by[name][self.at]], [as_set(value)], name)
            for slot, part in made["parts"].items():
                for name in self.advice["needs"].get(slot, {}).get(part, ()):
                    if any(not self.by[name][entity] for entity in self.about(name, self.at)):
                        self.refuse(f"{part} owes {name}, which is missing")

    def about(self, name, arrangement):
        """The known entities that a fact owed to an arrangement is about."""
        sort = self.sorts.get(name, {"sort": "site"})["sort"]
        own = {"arrangement": [arrangement], "source": [self.made[arrangement]["parts"]["source"]], "place": [self.made[arrangement]["parts"].get("place")]}
        return [entity for entity in own.get(sort, self.entities[sort]) if entity in self.entities[sort]]

    def calc(self):
        """Every sum comes out the same from the formula's text, on the corners of its box; none rests on itself."""
        rests = {key: [i for ids in fact["inputs"].values() for i in ([ids] if isinstance(ids, str) else ids)]
                 for key, fact in self.book.items() if fact["made_by"].startswith("calc.")}
        tuple(TopologicalSorter(rests).static_order())
        for self.at, ids in rests.items():
            fact = self.book[self.at]
            formula = self.advice["formulas"][fact["made_by"][5:]]
            self.expect((set(fact["inputs"]), fact["trust"]), (set(formula["args"]), formula["trust"]), "inputs and trust")
            self.expect(fact["how"], max((self.book[i]["how"] for i in ids), key=HOW.index, default=HOW[0]), "how")
            if not set(fact["rests_on"]).issuperset(field for i in ids for field in self.book[i]["rests_on"]):
                self.refuse("rests_on leaves out a field of an input")
            self.did["taken on trust" if formula["trust"] else "formulas recomputed"] += 1
            inputs = {name: self.value[i] if isinstance(i, str) else [self.value[one] for one in i] for name, i in fact["inputs"].items()}
            if not formula["trust"] and not same(self.value[self.at], found := over(formula, inputs)):
                self.refuse(f"{fact['name']} is {fact['value']}, {fact['made_by']} gives {found}")

    def replay(self):
        """Stratum by stratum, the instances and marks of our own matcher must be those of the derivation."""
        found, told = {}, set()
        for level in range(len(STRATA)):
            found |= self.close([rule for rule in self.rules.values() if rule["stratum"] == level])
        grounded = {i for i, fact in self.book.items() if not fact["made_by"].startswith("rule.")}
        for n, step in enumerate(self.advice["derivation"]):
            self.at, key = f"step {n}", (step["rule"], tuple(step["premises"]), step["conclusion"])
            if key not in found or key in told or not grounded.issuperset(step["premises"]):
                self.refuse(f"{key} is no instance, or stands twice, or stands before its premises")
                continue
            self.expect((step["certain"], step["stratum"]), (found[key], STRATA[self.rules[key[0]]["stratum"]]), "mark")
            told.add(key)
            grounded.add(step["conclusion"])
        self.did["instances replayed"] = len(found)
        for self.at, *key in found.keys() - told:
            self.refuse(f"fires on {key} but is left out")
        for self.at, fact in self.book.items():
            if fact["made_by"].startswith("rule."):
                self.expect(fact["certain"], self.at in self.sure, "certain")
                if (fact["made_by"][5:], tuple(fact["because"]), self.at) not in found:
                    self.refuse("what it is said to follow from is no instance of its rule")
            elif fact["made_by"] == "absence":
                entry, = (a for a in self.advice["absences"] if "absent:" + a["id"] == fact["name"])
                self.expect(self.absence(entry, *fact["about"].values()), self.at, "absence")
        for self.at, about in self.by.items():
            for entity, ids in about.items():
                if self.sorts.get(self.at, {}).get("single") and len(self.sure.intersection(ids)) > 1:
                    self.refuse(f"two certain values of {entity}: {ids}")

    def close(self, rules):
        """All instances of one stratum's rules with their certain marks, run until nothing new comes."""
        found, due = {}, rules
        while due:
            made = set()
            for rule in due:
                self.at = rule["id"]
                for premises, tests, conclusion in self.instances(rule):
                    found[self.at, premises, conclusion] = tests
                    made |= {rule["conclude"]["fact"]} - ({...} if conclusion in self.live else set())
                    self.live.add(conclusion)
            due = [rule for rule in rules if any(pattern["fact"] in made for pattern in rule["when"])]
        while fresh := {key[2] for key, tests in found.items() if tests and self.sure.issuperset(key[1])} - self.sure:
            self.sure |= fresh
        return {key: tests and self.sure.issuperset(key[1]) for key, tests in found.items()}

    def instances(self, rule):
        """Each way to meet a rule's conditions: (premises, whether every test is certain, conclusion)."""
        ways, goal = [({"site": "site"}, (), True)], rule["conclude"]
        for pattern in rule["when"]:
            ways = [way for known in ways for way in self.extend(pattern, *known)]
        for pattern in rule["unless"]:
            if any(r["conclude"]["fact"] == pattern["fact"] and r["stratum"] >= rule["stratum"] for r in self.rules.values()):
                self.refuse(f"tests the absence of {pattern['fact']} before it is made")
            ways = [(env, (*ids, gone), tests) for env, ids, tests in ways if (gone := self.absence(pattern, env[pattern["of"]]))]
        for env, ids, tests in ways:
            made = [i for i in self.by[goal["fact"]].get(env[goal["of"]], ()) if self.value[i] == {goal["is"]}]
            if made:
                yield ids, tests, made[0]
            else:
                self.refuse(f"fires on {ids}, but {goal['fact']} of {env[goal['of']]} is not among the facts")

    def extend(self, pattern, env, ids, tests):
        """The ways to meet one more condition: by which fact, about which entity, binding which word."""
        of, bind, facts = pattern["of"], pattern["bind"], self.by[pattern["fact"]]
        for entity in [env[of]] if of in env else list(facts):
            for fact in self.live.intersection(facts.get(entity, ())):
                possible, certain = self.stand(pattern, fact)
                for word in (self.value[fact] if bind else [""]) if possible else ():
                    if env.get(bind, word) == word:
                        yield ({**env, of: entity, bind: word}, (*ids, fact), tests and certain and (not bind or single(self.value[fact])))

    def stand(self, pattern, fact):
        """How a pattern's test stands on a fact, decided once."""
        key = pattern["op"], str(pattern["arg"]), fact
        if key not in self.tested:
            threshold = self.advice["thresholds"].get(str(pattern["arg"]).removeprefix("threshold:"))
            limit = None if pattern["arg"] is None else as_set(threshold["value"] if threshold else pattern["arg"])
            self.tested[key] = test(self.value[fact], pattern["op"], limit)
        return self.tested[key]

    def absence(self, pattern, entity):
        """The fact that nothing about the entity matches, or None where something certainly does."""
        entry, = (a for a in self.advice["absences"] if all(a[key] == pattern[key] for key in ("fact", "op", "arg")))
        here = [(i, *self.stand(pattern, i)) for i in self.live.intersection(self.by[pattern["fact"]].get(entity, ()))]
        if entity not in self.entities[entry["sort"]] or any(certain and i in self.sure for i, _, certain in here):
            return None
        ids = self.by["absent:" + entry["id"]].get(entity)
        if not ids:
            return self.refuse(f"the absence {entry['id']} of {entity} is not among the facts")
        certain = not any(possible for _, possible, _ in here)
        self.expect(self.book[ids[0]]["certain"], certain, f"certain mark of {ids[0]}")
        self.sure |= set(ids if certain else ())
        return ids[0]

    def verdicts(self):
        """Findings, verdict, works, requirements and checks of each arrangement are what the facts say."""
        self.found = defaultdict(list)
        for name, about in self.by.items():
            for entity, ids in about.items() if name.startswith("finding.") else ():
                self.found[entity] += [(self.rules[name[8:]], self.book[ids[0]])] if ids else []
        for self.at, a in self.list.items():
            found = self.found[self.at] + self.found["site"]
            says = sorted((rule["id"], rule["effect"], fact["certain"], fact["because"]) for rule, fact in found)
            self.expect(sorted((f["rule"], f["effect"], f["certain"], f["because"]) for f in a["findings"]), says, "findings")
            possible = self.fate(found)
            self.expect(set(a["possible_verdicts"]), possible, "possible verdicts")
            self.expect(a["verdict"], min(possible) if len(possible) == 1 else "open", "verdict")
            self.expect(sorted(a["works"]), sorted({r["remedies"][0] for r, _ in found if r["effect"] == "needs_work"}), "works")
            self.expect(sorted(a["requires"]), sorted(r["id"] for r, _ in found if r["effect"] == "requires"), "requires")
            for check in a["checks"]:
                self.check(check)

    def fate(self, found):
        """The verdicts still possible under these findings."""
        maybe, certain = {r["effect"] for r, _ in found}, {r["effect"] for r, fact in found if fact["certain"]}
        if "rules_out" in certain:
            return {"ruled_out"}
        asked = any(r["effect"] == "asks" and r["stratum"] < 6 and not self.answered(r["asks"], self.at) for r, _ in found)
        return ({"ruled_out"} if asked or "rules_out" in maybe else set()) | (
            {"suitable_after_works"} if "needs_work" in maybe else set()) | (set() if "needs_work" in certain else {"suitable"})

    def answered(self, name, arrangement):
        """Whether the survey gives one value to the field a rule asks for."""
        fields = [self.book[i]["field"] for entity in self.about(name, arrangement) for i in self.by[name][entity]]
        answers = [self.advice["survey"].get(field) for field in fields]
        return bool(answers) and all(answer and single(as_set(answer["value"])) for answer in answers)

    def check(self, check):
        """A printed check equals the facts it names, and passes as its margin says."""
        for key in ("", "limit_", "margin_"):
            wanted, found = self.book[check[key + "fact"]]["value"], check[key.rstrip("_") or "value"]
            self.expect(found, wanted, f"{check['name']} {key or 'value'}")
        low, high = as_set(check["margin"])
        self.expect(check["passes"], True if low >= 0 else False if high < 0 else None, f"{check['name']} passes")

    def ranking(self):
        """Steps, order, family representatives, the recommendation and each deciding comparison."""
        ranking = self.advice["ranking"]
        criteria = {criterion["id"]: criterion for criterion in ranking["criteria"]}
        names = ["verdict", *ranking["wishes"], "nothing left to confirm", *ranking["default_order"], "id"]
        stated = [n for n in criteria if "none" not in self.value[self.by[f"wishes.{n}"]["site"][0]]]
        self.expect(sorted(ranking["wishes"]), sorted(stated), "wishes")
        keys, fold = {}, {}
        for self.at, a in self.list.items():
            steps = {name: self.worst_step(a, criterion) for name, criterion in criteria.items()}
            possible = set(a["possible_verdicts"])
            first = 2 if possible == {"ruled_out"} else 0 if possible <= GOOD else 1
            wished, sums = [steps[w] for w in ranking["wishes"]], self.made[self.at]["sums"]
            keys[self.at] = (first, *wished, a["verdict"] not in GOOD, *(steps[c] for c in ranking["default_order"]), self.at)
            order = (first, *wished, len(a["works"]), sums["litres"], sums["power_kw"], self.at)
            fold[a["family"]] = min(order, fold.get(a["family"], order))
        chosen = {order[-1] for order in fold.values()}
        ranked = sorted(self.list, key=lambda i: (i not in chosen, keys[i]))
        self.at = "order"
        self.expect([a["id"] for a in sorted(self.list.values(), key=lambda a: a["rank"])], ranked, "rank")
        self.expect(self.advice["recommended"], ranked[0] if keys[ranked[0]][0] == 0 else None, "recommended")
        pairs = list(zip(ranked[:len(chosen)], ranked[1:len(chosen)], strict=False))
        told = [(c["first"], c["second"], c["criterion"]) for c in self.advice["comparison"]]
        differs = [next(n for n, x, y in zip(names, keys[a], keys[b], strict=True) if x != y) for a, b in pairs]
        self.expect(told, [(a, b, name) for (a, b), name in zip(pairs, differs, strict=True)], "comparison")

    def worst_step(self, a, criterion):
        """The worst step of an arrangement on a criterion, after what favours it, counts against it and adds to it."""
        ids = self.by[criterion["fact"]].get(a["id"])
        if not ids:
            step = 4
        elif "words" in criterion:
            step = max(criterion["words"][word] for word in self.value[ids[0]])
        else:
            (low, high), edges = self.value[ids[0]], criterion["edges"]
            step = sum(low < e for e in edges) if criterion["better"] == "more" else sum(high > e for e in edges)
        for finding in a["findings"]:
            if self.rules[finding["rule"]]["criterion"] == criterion["id"]:
                step += 1 if finding["effect"] == "counts_against" else -1 if finding["certain"] else 0
        step += sum(self.advice["remedies"][work]["adds"].get(criterion["id"], 0) for work in a["works"])
        return min(max(step, 0), 4)

    def questions(self):
        """What is asked is unanswered, and what an open arrangement waits for is among the questions."""
        asked = {q["field"] for q in self.advice["questions"]}
        for question in self.advice["questions"]:
            self.at = question["field"]
            answer = self.advice["survey"].get(self.at)
            if answer and single(as_set(answer["value"])):
                self.refuse("is asked although the survey answers it")
            waiting = sorted(i for i, a in self.list.items() if self.at in a["decided_by"])
            self.expect(sorted(question["decides"]), waiting, "decides")
        for self.at, a in self.list.items():
            if missing := set(a["decided_by"]) - asked:
                self.refuse(f"waits for {sorted(missing)}, which nobody asks")
        self.did["taken on trust"] += 1  # if_typical is a second run


def verify(advice, rulebase=None):
    """Check a certificate (the parsed advice.json); `rulebase` is the digest expected, where there is one."""
    return Case(advice, rulebase).run()


def main(arguments):
    """The command line; 0 when everything holds, 1 when something is refused, 2 for a wrong call."""
    if not arguments or len(arguments) not in (1, 3) or (len(arguments) == 3 and arguments[1] != "--rulebase"):
        print(__doc__, file=sys.stderr)
        return 2
    try:
        with open(arguments[0], encoding="utf-8") as file:
            advice = json.load(file)
    except (OSError, ValueError) as fault:
        print(f"{arguments[0]}: {fault}", file=sys.stderr)
        return 1
    report = verify(advice, arguments[2] if len(arguments) == 3 else None)
    print(*report.refusals, *(f"{what}: {count}" for what, count in report.did.items()), sep="\n")
    print("passed" if report.passed else "REFUSED", digest({key: advice.get(key) for key in RULEBASE}))
    return 0 if report.passed else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
