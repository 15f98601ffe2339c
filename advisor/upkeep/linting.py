"""Faults of a rule base that loading does not look for: chapters, braces, words, examples."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.report import chapters
from advisor.report.say import GAP
from advisor.rulebase import Rulebase
from advisor.rulebase.house import SUBJECT
from advisor.rulebase.model import Rule
from advisor.upkeep import examples, fates, reach, words


def faults(base: Rulebase) -> list[str]:
    """All faults, one line each: `subject: rule: what was found. What to do.`"""
    found = []
    sections = chapters.read()
    for rule in base.rules.values():
        if not rule.twin_of and rule.subject != SUBJECT:  # a firm's rule needs no chapter: its title speaks
            found += [f"{rule.subject}: rule {rule.id!r}: {text}" for text in
                      (*_chapter(rule, sections), *_examples(rule, base))]
    written = {*base.rules, *(base.house.off if base.house else ())}
    found += [f"{s.chapter}.md: section {s.title!r} is about {s.rule!r}, which is no rule." for s in sections.values()
              if s.rule not in written]
    return [*found, *fates.faults(base), *reach.faults(base)]


def _chapter(rule: Rule, sections: dict[str, chapters.Section]) -> Iterator[str]:
    section = sections.get(rule.id)
    if section is None:
        yield f"has no section in explanations/{rule.subject}.md. Write one with `id: {rule.id}`."
        return
    if section.chapter != rule.subject:
        yield f"its section stands in {section.chapter}.md; it belongs in {rule.subject}.md."
    for label, text in (("Finding", section.finding), ("Why it matters", section.why),
                        ("To the householder", section.householder)):
        if not text:
            yield f"its section has no *{label}:*."
    texts = " ".join((section.finding, section.why, section.householder, section.rival))
    for name in sorted({n.replace("threshold:", "threshold.") for n in GAP.findall(texts)} - set(rule.shows)):
        yield f"its section fills {{{name}}}, which the rule does not show."
    yield from words.faults(section)


def _examples(rule: Rule, base: Rulebase) -> Iterator[str]:
    for wanted in examples.OUTCOMES:
        listed = getattr(rule, wanted)
        if not listed:
            yield f"has no example that is {wanted!r}. Give at least one."
        for example in listed:
            try:
                got = examples.run(rule, example, base)
            except KeyError as error:
                yield str(error.args[0])
                continue
            if got != wanted:
                yield f"example {dict(example)} is {got}, not {wanted}."
