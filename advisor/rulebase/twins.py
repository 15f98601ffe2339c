"""What the loader adds to the authors' rules: the nation they hold in, the twin for elsewhere, declared exceptions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from advisor.rulebase.model import NATIONS, Conclusion, Entry, Pattern, Rule

ELSEWHERE = "@elsewhere"
DECIDING = ("rules_out", "needs_work", "asks")


def expand(rules: Iterable[Rule]) -> list[Rule]:
    """Exceptions become `unless exception.<id>`; rules of some nations get their condition and their twin."""
    listed = list(rules)
    exceptions = {r.exception_to for r in listed if r.exception_to}
    made: list[Rule] = []
    for rule in listed:
        if rule.id in exceptions:
            rule = replace(rule, unless=(*rule.unless, Pattern(f"exception.{rule.id}", rule.about, "is", ("yes",))))
        if set(rule.where) == set(NATIONS):
            made.append(rule)
            continue
        here = Pattern("nation", "site", "is", tuple(n for n in NATIONS if n in rule.where))
        made.append(replace(rule, when=(*rule.when, here)))
        if not rule.exception_to:
            made.append(_twin(rule))
    return made


def _twin(rule: Rule) -> Rule:
    """Outside its nations a rule neither forbids nor lets pass: it asks for the local equivalent to be confirmed."""
    away = Pattern("nation", "site", "is", tuple(n for n in NATIONS if n not in rule.where))
    settled = Pattern(f"confirmed.{rule.id}", "site", "is", ("yes",))
    unless = tuple(p for p in rule.unless if not p.fact.startswith("exception."))
    return replace(
        rule, id=rule.id + ELSEWHERE, title=f"Check the local equivalent: {rule.title[:1].lower()}{rule.title[1:]}",
        stratum=rule.stratum if rule.effect in DECIDING else "questions", where=NATIONS, when=(*rule.when, away),
        unless=(*unless, settled), effect="asks", asks=f"confirmed.{rule.id}",
        conclude=Conclusion(f"finding.{rule.id}{ELSEWHERE}", rule.about, "yes"), remedies=(), criterion="",
        twin_of=rule.id,
    )


def entries(rules: Iterable[Rule]) -> dict[str, Entry]:
    """Vocabulary of what the expansion made: confirmations, exceptions, findings."""
    made: dict[str, Entry] = {}
    for rule in rules:
        sort = "site" if rule.about == "site" else "arrangement"
        if rule.twin_of:
            name = f"confirmed.{rule.twin_of}"
            made[name] = Entry(
                name, "site", "words", domain=("yes", "no"), field=name, typical="no", may_change="easy", minutes=15,
                meaning=f"Somebody competent confirmed the local equivalent of {rule.twin_of}",
                plain="local rule confirmed", question=f"Has the local equivalent been confirmed? ({rule.title})",
                tool="local building control or a registered installer",
            )
        if rule.conclude.fact.startswith(("finding.", "exception.")):
            made[rule.conclude.fact] = Entry(rule.conclude.fact, sort, "words", domain=("yes",), made="rule",
                                             meaning=rule.title, plain=rule.title)
    return made
