"""Which rules read an answer of the survey, directly or through a sum: a run on a home of which nothing is known."""

from __future__ import annotations

from pathlib import Path

from advisor import advise, reasoner
from advisor.rulebase import Rulebase
from advisor.survey.fields import NAME, Fields
from advisor.survey.reader import read_bytes

# one unnamed entry of every list, so that their questions are met too
PROBE = b"""survey_format = 1
outlets.one.at_once = "yes"
outlets.two.at_once = "yes"
places.one = {}
gas.appliances.one = {}
gas.legs.one = { from = "meter", to = "boiler" }
"""


def readers(base: Rulebase) -> dict[str, list[str]]:
    """Field (NAME for an entry's name) -> titles of the rules whose conclusion may rest on it, in rule order."""
    survey = read_bytes(PROBE, Path("probe.toml"), base.survey_entries())
    advice = advise.run(survey, base, reasoner.matcher("plain"))
    rested: dict[str, set[str]] = {}
    for firing in advice.derivation:
        fields = set().union(*(advice.book[p].rests_on for p in firing.premises))
        rested.setdefault(firing.rule, set()).update(_pattern(survey.fields, f) for f in fields)
    found: dict[str, list[str]] = {}
    for rule in base.rules.values():
        named = {base.vocabulary[p.fact].field for p in (*rule.when, *rule.unless) if p.fact in base.vocabulary}
        for field in named | rested.get(rule.id, set()):
            if field and not rule.twin_of and rule.title not in found.setdefault(field, []):
                found[field].append(rule.title)
    return found


def _pattern(fields: Fields, path: str) -> str:
    listed = fields.split(path)
    return f"{listed[0]}.{NAME}.{listed[2]}" if listed else path
