"""A rule in words, for `advisor rules show`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from advisor.report import chapters
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Pattern, Rule
from advisor.upkeep.examples import value_of

OPS = {"below": "is below", "at_most": "is at most", "above": "is above", "at_least": "is at least", "is": "is"}


def rule_text(base: Rulebase, rule: Rule) -> str:
    """The rule read aloud: title, conditions, effect, source, what could make it mistaken, its chapter's words."""
    return "\n".join(_lines(base, rule)) + "\n"


def _lines(base: Rulebase, rule: Rule) -> Iterator[str]:
    yield rule.title
    yield f"{rule.id}  ({rule.subject}, {rule.stratum}, {rule.effect}; {', '.join(rule.where)})"
    yield ""
    for i, pattern in enumerate(rule.when):
        yield from _wrap(f"{'when' if i == 0 else ' and'} {_condition(base, pattern)}")
    for pattern in rule.unless:
        yield from _wrap(f"unless {_condition(base, pattern)}")
    yield from _wrap(f"then {_effect(base, rule)}")
    yield ""
    yield from _wrap(f"Source: {rule.source.cite()}")
    yield from _wrap(f"Mistaken if: {rule.mistaken_if}")
    section = chapters.read().get(rule.twin_of or rule.id)
    for label, text in (("Finding", section.finding), ("Why it matters", section.why),
                        ("To the householder", section.householder),
                        ("Against a cheaper quote", section.rival)) if section else ():
        if text:
            yield ""
            yield from _wrap(f"{label}: {_filled(base, rule, text)}")


def _condition(base: Rulebase, pattern: Pattern) -> str:
    entry = base.vocabulary[pattern.fact]
    name = f"{entry.plain or pattern.fact} [{pattern.fact}{'' if pattern.of == 'site' else ' of ' + pattern.of}]"
    if pattern.bind:
        return f"{name} is {pattern.bind}"
    if pattern.op == "applies":
        return f"{name} is known of"
    if isinstance(pattern.arg, tuple):
        return f"{name} is {' or '.join(pattern.arg)}"
    if isinstance(pattern.arg, str):
        threshold = base.thresholds[pattern.arg.removeprefix("threshold:")]
        value = threshold.on(base.date)[1].lo
        return f"{name} {OPS[pattern.op]} {value:g} {threshold.unit} ({threshold.id}: {threshold.source.cite()})"
    return f"{name} {OPS[pattern.op]} {pattern.arg:g} {entry.unit}".rstrip()


def _effect(base: Rulebase, rule: Rule) -> str:
    if rule.effect == "derives":
        return f"{rule.conclude.fact} of {rule.conclude.of} is {rule.conclude.word}"
    tail = ""
    if rule.remedies:
        tail += "; remedies: " + ", ".join(base.remedies[r].title for r in rule.remedies)
    if rule.asks:
        tail += f"; asks for {rule.asks}"
    if rule.criterion:
        tail += f"; criterion: {rule.criterion}"
    return f"{rule.effect} {'' if rule.about == 'site' else rule.about}".strip() + tail


def _filled(base: Rulebase, rule: Rule, text: str) -> str:
    """Braces filled from the rule's first example that fires, where it gives the fact; else the fact's plain name."""
    from advisor.report.wording import NBSP, show

    example = rule.fires[0] if rule.fires else {}

    def fill(name: str) -> str:
        entry = base.vocabulary.get(name.replace("threshold:", "threshold."))
        if name in example and example[name] != "absent":
            return show(value_of(example[name]), entry.unit if entry else "").replace(NBSP, " ")
        return f"<{entry.plain if entry and entry.plain else name}>"

    import re

    return re.sub(r"\{([^{}]+)\}", lambda m: fill(m.group(1)), text)


def _wrap(text: str) -> list[str]:
    return textwrap.wrap(text, 78, subsequent_indent="    ")
