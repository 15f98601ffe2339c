"""A rule in words, for `advisor rules show`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from advisor.report import chapters
from advisor.rulebase import Rulebase
from advisor.rulebase.model import NATIONS, Pattern, Rule
from advisor.rulebase.twins import ELSEWHERE
from advisor.upkeep.examples import value_of

OF = {"arrangement": " of the layout", "place": " of its place", "source": " of its heat source",
      "leg": " of a gas pipe", "outlet": " of an outlet", "appliance": " of an appliance"}
EFFECTS = {
    "rules_out": "{layout} is ruled out", "needs_work": "{layout} needs work before it is suitable",
    "requires": "{layout} brings this with it: it is part of the job", "caution": "{layout} carries this caution",
    "favours": "{layout} is favoured on {criterion}",
    "counts_against": "it counts against {layout} on {criterion}",
    "asks": "{layout} waits for the answer to \"{asks}\"", "questions": "it is asked: \"{asks}\"",
}
SEEN = {"reprint": " (seen in a reprint or report: check the print itself)",
        "original": " (the publisher's page was seen)", "nothing": " (not seen)"}
OPS = {"below": "is below", "at_most": "is at most", "above": "is above", "at_least": "is at least", "is": "is"}


def rule_text(base: Rulebase, rule: Rule) -> str:
    """The rule read aloud: title, conditions, effect, source, what could make it mistaken, its chapter's words."""
    return "\n".join(_lines(base, rule)) + "\n"


def _lines(base: Rulebase, rule: Rule) -> Iterator[str]:
    yield rule.title
    yield f"{rule.id}  ({rule.subject}, {rule.stratum}, {rule.effect}; {', '.join(rule.where)})"
    yield ""
    told = [p for p in rule.when if not p.bind] or list(rule.when)  # what only leads on goes unsaid
    for i, pattern in enumerate(told):
        yield from _wrap(f"{'when' if i == 0 else ' and'} {_condition(base, rule, pattern)}")
    for pattern in rule.unless:
        yield from _wrap(f"unless {_condition(base, rule, pattern)}")
    yield from _wrap(f"then {_effect(base, rule)}")
    yield from _wrap(_elsewhere(base, rule))
    if rule.safety:
        yield from _wrap("It guards against harm: the letter never leaves it out, and no firm may switch it off.")
    yield ""
    yield from _wrap(f"Source: {rule.source.cite()}{SEEN.get(rule.source.seen, '')}")
    yield from _wrap(f"Mistaken if: {rule.mistaken_if}")
    section = chapters.read().get(rule.twin_of or rule.id)
    for label, text in (("Finding", section.finding), ("Why it matters", section.why),
                        ("To the householder", section.householder),
                        ("Against a cheaper quote", section.rival)) if section else ():
        if text:
            yield ""
            yield from _wrap(f"{label}: {_filled(base, rule, text)}")


def _elsewhere(base: Rulebase, rule: Rule) -> str:
    """What happens in the nations the rule is not written for."""
    if f"{rule.id}{ELSEWHERE}" not in base.rules:
        return ""
    away = " and ".join(n.title() for n in NATIONS if n not in rule.where)
    return f"in {away} it decides nothing: it asks for the local equivalent to be confirmed"


def _condition(base: Rulebase, rule: Rule, pattern: Pattern) -> str:
    entry = base.vocabulary[pattern.fact]
    of = OF.get(entry.sort, f" of a {entry.sort}") if pattern.of != "site" else ""
    name = f"{entry.plain or pattern.fact}{of} [{pattern.fact}]"
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
    """What follows, in words."""
    if rule.effect == "derives":
        entry = base.vocabulary[rule.conclude.fact]
        of = "" if rule.conclude.of == "site" else OF.get(entry.sort, "")
        return f"{entry.plain or rule.conclude.fact}{of} is {rule.conclude.word} [{rule.conclude.fact}]"
    form = EFFECTS["questions" if rule.effect == "asks" and rule.stratum == "questions" else rule.effect]
    said = form.format(layout="the layout" if rule.about != "site" else "every layout", criterion=rule.criterion,
                       asks=base.vocabulary[rule.asks].question if rule.asks else "")
    if rule.remedies:
        said += "; works: " + ", or ".join(base.remedies[r].title for r in rule.remedies)
    return said


def _filled(base: Rulebase, rule: Rule, text: str) -> str:
    """Braces filled from the rule's first example that fires, where it gives the fact; else the fact's plain name."""
    from advisor.report.wording import NBSP, printer, show

    example = rule.fires[0] if rule.fires else {}

    def fill(name: str) -> str:
        name = name.replace("threshold:", "threshold.")
        entry = base.vocabulary.get(name)
        if name in example and example[name] != "absent":
            return printer(name)(value_of(example[name]), entry.unit if entry else "").replace(NBSP, " ")
        if name.startswith("threshold."):
            limit = base.thresholds[name.removeprefix("threshold.")]
            return show(limit.on(base.date)[1], limit.unit).replace(NBSP, " ")
        return f"<{entry.plain if entry and entry.plain else name}>"

    import re

    return re.sub(r"\{([^{}]+)\}", lambda m: fill(m.group(1)), text)


def _wrap(text: str) -> list[str]:
    return textwrap.wrap(text, 78, subsequent_indent="    ")
