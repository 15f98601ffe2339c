"""What each filled-in piece of a sentence must say, worked out from the advice alone.

The lint's own reading of the keys listed in `claims.py`; it shares the printing
of values with the reports (there is one declared rounding) and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable

from advisor import calc
from advisor.contrast import quick
from advisor.contrast.ask import ask
from advisor.contrast.flips import flips, steps_between
from advisor.contrast.near import PAIR_WINDOW, WINDOW, pairs
from advisor.contrast.unlock import unlock
from advisor.contrast.why import tree
from advisor.records import Advice, Judged
from advisor.report import hour, phrases, picks, wording

ABSENT = "not recorded"


def expected(advice: Advice, key: str) -> frozenset[str]:
    """Every text the piece with this key may have; empty when the key names nothing."""
    kind, _, rest = key.partition(":")
    reader = _READERS.get(kind)
    if reader is not None:
        try:
            return frozenset(wording.clean(t) for t in reader(advice, rest) if t)
        except (KeyError, StopIteration, ValueError):
            return frozenset()
    if key in advice.book:
        fact = advice.book[key]
        return wording.renderings(fact, advice.rulebase.vocabulary.get(fact.name))
    return frozenset()


def anchors(advice: Advice, key: str) -> frozenset[str]:
    """The ids that a sentence with this piece must carry."""
    kind, _, rest = key.partition(":")
    if key in advice.book:
        return frozenset([advice.book[key].id])
    if kind == "read" and rest in advice.book:
        return frozenset([advice.book[rest].id])
    if kind in ("title", "short"):
        family = advice.book.about("arrangement.family", rest)
        return frozenset([family.id] if family else [])
    if kind == "hour":
        return hour.anchors(advice, rest)
    return frozenset([rest] if kind == "rule" else [])


def ids(advice: Advice) -> frozenset[str]:
    """All ids a sentence may rest on: facts and rules."""
    return frozenset(f.id for f in advice.book) | frozenset(advice.rulebase.rules)


# ---------------------------------------------------------------- readers, one a kind of key
def _read(advice: Advice, key: str) -> list[str]:
    fact = advice.book[key]
    answers = advice.survey.answers
    return [answers[f].read for f in fact.rests_on if f in answers]


def _names(advice: Advice, entity: str) -> list[str]:
    return [wording.plain_name(entity)] if any(f.entity == entity for f in advice.book) else []


def _rule(advice: Advice, rule_id: str) -> list[str]:
    title = advice.rulebase.rules[rule_id].title.rstrip(".")
    return [rule_id, title, title[:1].lower() + title[1:]]


def _remedy(advice: Advice, remedy_id: str) -> list[str]:
    title = advice.rulebase.remedies[remedy_id].title.rstrip(".")
    return [title, title[:1].lower() + title[1:]]


def _criterion(advice: Advice, criterion: str) -> list[str]:
    named = {c["id"]: c["title"] for c in advice.rulebase.ranking["criterion"]}
    return [named.get(criterion, {"verdict": "what the rules allow", "id": "nothing but the alphabet"}.get(
        criterion, criterion))]


def _question(advice: Advice, field: str) -> list[str]:
    asked = [q.ask for q in advice.questions if q.field == field]
    if asked:
        return asked
    entry = advice.survey.fields.entry(field)  # `ask` may list a field no layout's verdict waits for
    return [entry.question] if entry else []


def counted(advice: Advice, what: str) -> int:
    """A count by its name: families, arrangements, facts, rules, firings, questions, hidden:<id> ..."""
    name, _, rest = what.partition(":")
    simple: dict[str, Callable[[], int]] = {
        "families": lambda: len(advice.families()), "arrangements": lambda: len(advice.judged),
        "facts": lambda: sum(1 for _ in advice.book), "rules": lambda: len(advice.rulebase.rules),
        "firings": lambda: len(advice.derivation), "questions": lambda: len(advice.questions),
        "trust": lambda: sum(f.trust for f in advice.book),
        "rank": lambda: advice[rest].rank, "reasons": lambda: len(reasons_against(advice[rest])),
        "variants": lambda: sum(j.arrangement.family == rest for j in advice.judged),
        "more-reasons": lambda: len(reasons_against(advice[rest])) - 1,
        "more-steps": lambda: len(tree(advice, rest, picks.STEPS_DEEP)) - 1 - picks.STEPS_SHOWN,
        "checks": lambda: len(advice[rest].checks), "findings": lambda: len(advice[rest].findings),
        "hidden": lambda: len(advice[rest].findings) - len(picks.decisive(advice, advice[rest])),
        "unanswered": lambda: len(picks.unanswered(advice)),
        "steps": lambda: len(proof(advice, rest)),
        "cannot-flip": lambda: sum(f.proved and not f.turns for f in flips(advice).fields),
        "near-steps": lambda: WINDOW, "pair-steps": lambda: PAIR_WINDOW, "paired": lambda: pairs(advice).readings,
        "steps-off": lambda: steps_off(advice, rest),
        "visit": lambda: len(ask(advice).visit.fields),
        "after-visit": lambda: len(ask(advice).asks) - len(ask(advice).visit.fields),
        "asked": lambda: len(ask(advice).asks), "more-asks": lambda: len(ask(advice).asks) - 10,
        "could": lambda: next(len(a.could_change_to) for a in ask(advice).asks if a.field == rest),
        "open-fields": lambda: len(ask(advice).asks) + len(ask(advice).need_not),
        "searched": lambda: len(unlock(advice, rest).searched),
        "repairs": lambda: len(unlock(advice, rest).repairs),
        "more-repairs": lambda: len(unlock(advice, rest).repairs) - 6,
        "worst-step": lambda: advice[rest.partition(":")[2]].steps[rest.partition(":")[0]][1],
    }
    return simple[name]()


def steps_off(advice: Advice, change: str) -> int:
    """How many steps of its instrument a changed reading lies from the surveyed one, the last step cut short."""
    field, _, text = change.partition("=")
    entry, now = advice.survey.fields.entry(field), advice.survey.value(field)
    then = advice.survey.with_changes({field: text}).value(field)
    return steps_between(entry, now.lo if then.lo < now.lo else now.hi, then.lo)


def reasons_against(judged: Judged) -> list[str]:
    """Rules that certainly rule it out, each on its own."""
    return sorted({f.rule for f in judged.findings if f.effect == "rules_out" and f.certain})


def proof(advice: Advice, arrangement: str) -> set[str]:
    """Keys of all facts concluded by rules on the way to this arrangement's findings."""
    seen: set[str] = set()
    queue = [f.key for f in advice[arrangement].findings]
    while queue:
        key = queue.pop()
        if key not in seen and key in advice.canonical:
            seen.add(key)
            queue += advice.canonical[key].premises
    return seen


def yes_no(answer: object) -> str:
    return "yes" if answer else "no"


def _answer(advice: Advice, field: str) -> list[str]:
    """An answer as it stands in the survey, a wish's default, or "unknown"."""
    if field in advice.survey.answers:
        return [advice.survey.answers[field].read]
    entry = advice.survey.fields.entry(field)
    return [str(entry.default) if entry is not None and entry.default is not None else "unknown"] if entry else []


def _to(advice: Advice, what: str) -> list[str]:
    remedy, _, field = what.partition(":")
    entry = advice.survey.fields.entry(field)
    return [str(s["to"]) for s in advice.rulebase.remedies[remedy].sets if entry and s["field"] == entry.name]


def changes_in(text: str) -> dict[str, str]:
    """The changed answers a key names, "field=text;field=text"."""
    return dict(c.split("=", 1) for c in text.split(";") if c)


def _changed_text(advice: Advice, change: str) -> list[str]:
    """The text of a changed answer, where the survey can be read with it."""
    field, _, text = change.partition("=")
    advice.survey.with_changes({field: text})
    return [text]


def _then(advice: Advice, what: str) -> list[str]:
    """The verdict of an arrangement once some answers are changed: it is judged again."""
    arrangement, _, changes = what.partition("|")
    survey = advice.survey.with_changes(changes_in(changes))
    (found,) = quick.look(survey, advice.rulebase, {arrangement})
    return [phrases.VERDICT[found.fate.verdict]]


def _recommended_then(advice: Advice, changes: str) -> list[str]:
    """The title of what is recommended once some answers are changed: the whole survey is judged again."""
    first = quick.recommended(advice.survey.with_changes(changes_in(changes)), advice.rulebase)
    return [advice[first].arrangement.title if first else "nothing"]


def judged_again(key: str) -> bool:
    """Whether a key is only known by judging the whole survey once more."""
    return key.partition(":")[0] in ("recommended-then", "edge")


def _edge(advice: Advice, change: str) -> list[str]:
    """The text of a changed answer, where the advice is another with it: the whole survey is judged again."""
    field, _, text = change.partition("=")
    then = quick.recommended(advice.survey.with_changes({field: text}), advice.rulebase)
    return [text] if then != advice.recommended else []


def _count(advice: Advice, what: str) -> list[str]:
    return [str(counted(advice, what))]


def _text(advice: Advice, what: str) -> list[str]:
    kind, _, rest = what.partition(":")
    base = advice.rulebase
    simple: dict[str, Callable[[], object]] = {
        "absent": lambda: ABSENT, "sha": lambda: base.sha, "base-date": lambda: base.date.isoformat(),
        "engine": lambda: advice.run.get("engine", ""), "version": lambda: advice.run.get("version", ""),
        "works-date": lambda: advice.survey.works_date, "surveyed-on": lambda: wording.day(advice.survey.surveyed_on),
        "house": lambda: base.house and base.house.lines()[int(rest)], "firm": lambda: base.house and base.house.firm,
        "price": lambda: base.house and getattr(base.house.price(advice[rest].arrangement), "pounds", ""),
        "private": lambda: advice.survey.private.get(rest, ""),
        "verdict": lambda: phrases.verdict_words(advice[rest]), "made-by": lambda: advice.book[rest].made_by,
        "warning": lambda: advice.survey.warnings[int(rest)], "checked": lambda: yes_no(advice.run.get("checked")),
        "fell-back": lambda: yes_no(advice.run.get("fell_back")), "step": lambda: advice.comparison[int(rest)].step,
        "field": lambda: rest, "formula-name": lambda: rest if rest in calc.REGISTRY else "",
        "formula": lambda: calc.REGISTRY[rest].text,
        "formula-source": lambda: calc.REGISTRY[rest].source.cite(),
        "requirement": lambda: base.requirements[rest].text,
        "requirement-source": lambda: base.requirements[rest].source.cite(),
        "rule-source": lambda: base.rules[rest].source.cite(),
        "threshold": lambda: base.thresholds[rest].meaning.rstrip("."),
        "threshold-source": lambda: base.thresholds[rest].source.cite(),
        "threshold-date": lambda: base.thresholds[rest].on(advice.survey.works_date or base.date)[0].isoformat(),
        "band": lambda: base.remedies[rest].band, "who": lambda: base.remedies[rest].who,
        "disruption": lambda: base.remedies[rest].disruption,
        "tool": lambda: base.vocabulary[rest].tool, "minutes": lambda: f"{base.vocabulary[rest].minutes:g}",
        "how": lambda: wording.how_known(advice.book[rest].how), "question": lambda: next(
            q.ask.rstrip(" .?") for q in advice.questions if q.field == rest),
        "when": lambda: advice.survey.answers[rest].when, "note": lambda: advice.survey.answers[rest].note,
        "instead": lambda: advice.survey.answers[rest].instead_of,
    }
    return [str(simple[kind]() or "")]


_READERS: dict[str, Callable[[Advice, str], list[str]]] = {
    "read": _read, "name": _names, "rule": _rule, "remedy": _remedy, "criterion": _criterion, "question": _question,
    "title": lambda advice, rest: [advice[rest].arrangement.title],
    "short": lambda advice, rest: [advice[rest].arrangement.short],
    "ours": lambda advice, rest: ["ours"] if advice.recommended == rest else [],
    "plain": lambda advice, rest: [wording.plain(rest, advice.rulebase.vocabulary)],
    "count": _count, "text": _text, "answer": _answer, "to": _to, "typed": lambda advice, rest: [rest],
    "then": _then, "change": _changed_text,
    "recommended-then": _recommended_then, "edge": _edge, "hour": hour.expected,
    "token": lambda advice, rest: [advice.book[rest].id],
    "made": lambda advice, rest: [advice.book[rest].made_by],
}
