"""What a published statement may ask of the tool: one small check a word in `verdicts.toml`.

Every check raises AssertionError, and nothing else, when the tool leans another way than the source.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from advisor import paths
from advisor.facts import Span, Words
from advisor.records import Advice, Finding, Judged
from advisor.survey import Survey, SurveyError
from tests import homes

HEAD = 'survey_format = 1\nnation = "england"\n'
WARNING = ("caution", "requires", "asks", "needs_work", "counts_against", "rules_out")
Check = Mapping[str, Any]


@lru_cache(maxsize=128)
def stated(text: str) -> Survey:
    """The survey that states this and nothing else."""
    with tempfile.TemporaryDirectory() as folder:
        return homes.written(Path(folder), HEAD + text)


@lru_cache(maxsize=128)
def advised(text: str) -> Advice:
    return homes.quick(stated(text))


def of(advice: Advice, check: Check) -> list[Judged]:
    """The arrangements a check speaks of; there must be some in every family named."""
    powers, places, litres = check.get("power"), check.get("places"), check.get("litres")
    found = [j for j in advice.judged if j.arrangement.family in check["families"]
             and (powers is None or j.arrangement.power_kw in powers)
             and (places is None or j.arrangement.place in places)
             and (litres is None or j.arrangement.litres in litres)]
    missing = set(check["families"]) - {j.arrangement.family for j in found}
    if missing:
        raise LookupError(f"no arrangement of {missing}: the check names nothing")
    return found


def rests_on(advice: Advice, finding: Finding, fields: set[str]) -> bool:
    return bool(advice.book[finding.key].rests_on & fields)


def ruled_out(text: str, check: Check) -> None:
    """Every arrangement of the families is ruled out, by the rule named where one is named."""
    for j in of(advised(text), check):
        assert j.verdict == "ruled_out", f"{j.id} is {j.verdict}"
        by = {f.rule for f in j.findings if f.effect == "rules_out" and f.certain}
        assert "rule" not in check or check["rule"] in by, f"{j.id} is ruled out by {by}"


def not_forbidden(text: str, check: Check) -> None:
    """What forbids is not even possible: the rule named, or anything that rests on what the survey states.

    `apart_from` names rules about a matter the statement leaves open, such as how strong a shower is wanted.
    """
    advice = advised(text)
    fields = set(advice.survey.answers) - {"nation"}  # every rule written for some nations rests on that
    for j in of(advice, check):
        against = [f for f in j.findings if f.effect == "rules_out"]
        named = [f.rule for f in against if f.rule == check.get("rule")]
        stated_against = [f.rule for f in against if rests_on(advice, f, fields) and f.rule not in check.get("apart_from", ())]
        assert not (named if "rule" in check else stated_against), f"{j.id}: {named or stated_against}"
        assert j.verdict != "ruled_out", j.id


def a_candidate(text: str, check: Check) -> None:
    """At least one arrangement of each family is not ruled out."""
    advice = advised(text)
    for family in check["families"]:
        assert any(j.verdict != "ruled_out" for j in of(advice, {**check, "families": [family]})), family


def fires(text: str, check: Check) -> None:
    """The finding named fires certainly for every arrangement of the families."""
    assert check["rule"] in homes.base().rules
    for j in of(advised(text), check):
        assert any(f.rule == check["rule"] and f.certain for f in j.findings), f"{j.id} has no {check['rule']}"


def silent(text: str, check: Check) -> None:
    """The finding named is not even possible."""
    assert check["rule"] in homes.base().rules
    for j in of(advised(text), check):
        assert not any(f.rule == check["rule"] for f in j.findings), f"{j.id} may have {check['rule']}"


def warns(text: str, check: Check) -> None:
    """Something certain speaks against, and rests on the answers named."""
    advice, fields = advised(text), set(check["rests_on"])
    assert fields <= set(advice.survey.answers), "the statement's own fields must be stated"
    for j in of(advice, check):
        said = [f.rule for f in j.findings if f.certain and f.effect in WARNING and rests_on(advice, f, fields)]
        assert said, f"nothing about {j.id} rests on {sorted(fields)}"


def told(text: str, check: Check) -> None:
    """A finding whose title holds the words fires certainly."""
    titles = {r.id: r.title for r in homes.base().rules.values()}
    for j in of(advised(text), check):
        said = [f.rule for f in j.findings if f.certain and re.search(check["words"], titles[f.rule])]
        assert said, f"nothing about {j.id} says {check['words']}"


def fact(text: str, check: Check) -> None:
    """A fact has exactly this value (or `from` one `to` another): about the site, or about every arrangement of the families."""
    advice = advised(text)
    entities = [j.id for j in of(advice, check)] if "families" in check else [check.get("of", "site")]
    for entity in entities:
        found = advice.fact(check["fact"], entity)
        assert found is not None, f"nothing known of {check['fact']} of {entity}"
        if isinstance(found.value, Words):
            assert found.certain and found.value.words == {check["is"]}, (entity, found.value)
        else:
            assert isinstance(found.value, Span)
            near = check.get("within", 0.0)
            low, high = (check["is"], check["is"]) if "is" in check else (check["from"], check["to"])
            assert abs(found.value.lo - low) <= near and abs(found.value.hi - high) <= near, found.value


def ranks_above(text: str, check: Check) -> None:
    """The best of the first family stands before the best of the second."""
    advice = advised(text)
    first, second = (min(j.rank for j in of(advice, {"families": [f]})) for f in check["families"])
    assert first < second, f"{check['families'][1]} stands first"


def refused_answer(text: str, check: Check) -> None:
    """The survey does not take this answer, so nothing can be concluded from it; the others are taken."""
    survey = stated(text)
    for good in check.get("taken", ()):
        assert survey.with_changes({check["field"]: good}).answers[check["field"]]
    try:
        survey.with_changes({check["field"]: check["answer"]})
    except SurveyError:
        return
    raise AssertionError(f'{check["field"]} takes "{check["answer"]}"')


def has_field(text: str, check: Check) -> None:
    """The survey has a question that tells the statement's case from others."""
    fields = [e.field for e in homes.base().survey_entries().values()]
    assert any(re.search(check["like"], f) for f in fields), f"no question like {check['like']}"


def same_under(text: str, check: Check) -> None:
    """A fact of the families does not move when an answer does."""
    values = []
    for answer in check["answers"]:
        advice = homes.quick(stated(text).with_changes({check["field"]: answer}))
        values.append({j.id: advice.fact(check["fact"], j.id).value for j in of(advice, check)})
    assert all(v == values[0] for v in values), values


def always_with(text: str, check: Check) -> None:
    """Every arrangement with this word of one kind has that word of another."""
    advice = advised(text)
    having = [j.id for j in advice.judged if _is(advice, check["fact"], j.id, check["is"])]
    if not having:
        raise LookupError(f"no arrangement has {check['is']}")
    for a in having:
        assert any(_is(advice, check["with"], a, word) for word in check["words"]), a


def _is(advice: Advice, name: str, entity: str, word: str) -> bool:
    found = advice.fact(name, entity)
    return found is not None and isinstance(found.value, Words) and word in found.value.words


def burners_condense(text: str, check: Check) -> None:
    """Every new burner in the parts list has a condensate outlet: nothing else is ever offered."""
    burners = [p for p in homes.base().families.slots["source"].values() if p.words["arrangement.burns"] == "gas"]
    if len(burners) < 5:
        raise LookupError("the parts list has moved")
    assert all("condensate" in p.ports for p in burners)


def never_says(text: str, check: Check) -> None:
    """No chapter, and no title of a rule, holds the wrong wording; the pattern does find the wrong sentence."""
    pattern = re.compile(check["wrong"], re.IGNORECASE)
    if not pattern.search(check["example"]):
        raise LookupError("the pattern would not find the wrong sentence itself")
    texts = [p.read_text(encoding="utf-8") for p in sorted(paths.EXPLANATIONS.glob("*.md"))]
    for said in (*texts, *(r.title for r in homes.base().rules.values())):
        assert not pattern.search(said)


def threshold_allows(text: str, check: Check) -> None:
    """The figure the tool takes leaves the published figure possible."""
    found = advised(text).fact(f"threshold.{check['threshold']}").value
    assert isinstance(found, Span) and found.lo <= check["is"] <= found.hi, found


KINDS: dict[str, Callable[[str, Check], None]] = {f.__name__: f for f in (
    ruled_out, not_forbidden, a_candidate, fires, silent, warns, told, fact, ranks_above, refused_answer, has_field,
    same_under, always_with, burners_condense, never_says, threshold_allows)}


def run(text: str, check: Check) -> None:
    """One check of one statement; `also` is stated beside the statement's own survey."""
    KINDS[check["that"]](text + check.get("also", ""), check)
