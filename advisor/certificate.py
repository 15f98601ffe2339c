"""Advice as the JSON a stranger can check: every rule, every formula, every fact, the derivation, and a seal."""

from __future__ import annotations

import json
from dataclasses import fields
from typing import Any

from advisor import __version__, rulebase, site
from advisor.facts import Fact, FactBook, value_to_json
from advisor.records import Advice, Check, Judged
from advisor.rulebase.model import Entry

ADVICE_FORMAT = 1


_last: list[tuple[Advice, dict[str, Any]]] = []  # the check makes it, and whoever writes or prints it asks again


def certificate(advice: Advice) -> dict[str, Any]:
    """The whole of `advice.json`; everything but `run` is the same for the same survey. Nobody may change its parts."""
    if not _last or not _alike(_last[0][0], advice):
        _last[:] = [(advice, _certificate(advice))]
    return {**_last[0][1], "run": dict(advice.run)}


def _alike(one: Advice, other: Advice) -> bool:
    """Whether two pieces of advice hold the very same things, but for how they were run."""
    return all(getattr(one, f.name) is getattr(other, f.name) for f in fields(Advice) if f.name != "run")


def as_text(document: dict[str, Any]) -> str:
    """The document as JSON, a line for every fact, rule, arrangement and derivation: quick to write, fit to compare."""
    return "{\n" + ",\n".join(f"{_one_line(key)}: {_lines(part)}" for key, part in document.items()) + "\n}"


def _lines(part: Any) -> str:
    if isinstance(part, dict) and part:
        return "{\n " + ",\n ".join(f"{_one_line(k)}: {_one_line(v)}" for k, v in part.items()) + "\n}"
    if isinstance(part, list) and part:
        return "[\n " + ",\n ".join(map(_one_line, part)) + "\n]"
    return _one_line(part)


_one_line = json.JSONEncoder(ensure_ascii=False).encode


def _certificate(advice: Advice) -> dict[str, Any]:
    base, book = advice.rulebase, advice.book
    part = rulebase.certificate_part(base, site.works_day(advice.survey, base))
    document: dict[str, Any] = {
        "advisor": {"version": __version__, "advice_format": ADVICE_FORMAT, "rulebase": rulebase.digest(part)},
        "survey": survey_json(advice),
        "recommended": advice.recommended, "if_typical": advice.if_typical,
        "arrangements": [_arrangement(book, base, j) for j in advice.judged],
        "comparison": [{"first": c.first, "second": c.second, "criterion": c.criterion, "values": list(c.values),
                        "step": c.step} for c in advice.comparison],
        "questions": [{"field": q.field, "ask": q.ask, "because": q.because, "decides": list(q.decides)}
                      for q in advice.questions],
        "facts": {f.id: _fact(book, f) for f in book},
        "entities": {sort: sorted(names) for sort, names in _entities(advice).items()},
        "sorts": {name: _entry(entry) for name, entry in sorted(base.vocabulary.items())},
        "ranking": {"criteria": [_criterion(c) for c in base.ranking["criterion"]],
                    "default_order": list(base.ranking["default_order"]), "wishes": list(advice.survey.wishes)},
        "remedies": {r.id: {"adds": dict(r.adds), "title": r.title, "band": r.band, "sets": [dict(s) for s in r.sets]}
                     for r in sorted(base.remedies.values(), key=lambda r: r.id)},
        "derivation": [{"stratum": f.stratum, "rule": f.rule, "premises": [book[p].id for p in f.premises],
                        "conclusion": book[f.conclusion].id, "certain": f.certain} for f in advice.derivation],
        **part,
    }
    document["seal"] = rulebase.digest(document)
    return document


def survey_json(advice: Advice) -> dict[str, Any]:
    """The survey flat and sorted, without anything private; wishes not written and list ends included."""
    survey = advice.survey
    flat: dict[str, Any] = {name: answer.as_json() for name, answer in survey.answers.items()}
    for leg, (start, end) in survey.links.items():
        flat[f"gas.legs.{leg}.from"] = {"read": start, "value": start}
        flat[f"gas.legs.{leg}.to"] = {"read": end, "value": end}
    for name in survey.complete:
        flat[f"{name}.complete"] = {"read": "true", "value": True}
    if survey.works_date:
        flat["works_date"] = {"read": survey.works_date.isoformat(), "value": survey.works_date.isoformat()}
    if survey.wish_order:
        flat["wishes.order"] = {"read": ", ".join(survey.wish_order), "value": list(survey.wish_order)}
    return dict(sorted(flat.items()))


def _entities(advice: Advice) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {sort: set(names) for sort, names in site.entities(advice.survey).items()}
    found["arrangement"] = {j.id for j in advice.judged}
    found["source"] = {j.arrangement.source for j in advice.judged}
    return found


def _arrangement(book: FactBook, base: rulebase.Rulebase, j: Judged) -> dict[str, Any]:
    a = j.arrangement
    return {
        "id": a.id, "family": a.family, "title": a.title, "verdict": j.verdict,
        "possible_verdicts": list(j.possible), "rank": j.rank, "representative": j.representative,
        "parts": dict(a.parts), "links": [[start, end, {}] for start, end in a.links], "works": list(j.works),
        "requires": list(j.requires), "decided_by": list(j.decided_by),
        "checks": [_check(book, base, c) for c in j.checks],
        "findings": [{"rule": f.rule, "effect": f.effect, "certain": f.certain,
                      "because": [book[p].id for p in f.because]} for f in j.findings],
    }


def _check(book: FactBook, base: rulebase.Rulebase, check: Check) -> dict[str, Any]:
    value, limit, margin = book[check.key], book[check.limit_key], book[check.margin_key]
    return {"name": check.name, "value": value_to_json(value.value), "limit": value_to_json(limit.value),
            "unit": margin.unit, "margin": value_to_json(margin.value), "passes": check.passes, "fact": value.id,
            "limit_fact": limit.id, "margin_fact": margin.id}


def _fact(book: FactBook, fact: Fact) -> dict[str, Any]:
    made: dict[str, Any] = {
        "name": fact.name, "about": {fact.sort: fact.entity}, "value": value_to_json(fact.value), "unit": fact.unit,
        "certain": fact.certain, "how": fact.how, "made_by": fact.made_by,
        "because": [book[k].id for k in fact.because], "rests_on": sorted(fact.rests_on), "inputs": _inputs(book, fact),
        "trust": fact.trust,
    }
    if fact.made_by == "survey":
        made["field"] = fact.note
    return made


def _inputs(book: FactBook, fact: Fact) -> dict[str, Any]:
    """Argument -> fact id; the values of a sum or an extreme as one list."""
    found: dict[str, Any] = {}
    for name, key in fact.inputs:
        if name == "values":
            found.setdefault("values", []).append(book[key].id)
        else:
            found[name] = book[key].id
    if not found and fact.made_by.startswith("calc."):
        found["values"] = []
    return found


def _entry(entry: Entry) -> dict[str, Any]:
    return {"sort": entry.sort, "kind": entry.kind, "domain": list(entry.domain), "unit": entry.unit,
            "made": entry.made, "single": entry.single, "field": entry.field, "default": entry.default}


def _criterion(criterion: dict[str, Any]) -> dict[str, Any]:
    kept = {k: criterion[k] for k in ("id", "fact", "edges", "words", "better") if k in criterion}
    return kept | {"wish": True}
