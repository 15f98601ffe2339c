"""What applying a remedy means: the survey answers it changes, for one arrangement."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.facts import Span, exactly
from advisor.records import Advice, Judged
from advisor.site import field_of


def edits(advice: Advice, judged: Judged, remedies: Iterable[str]) -> dict[str, str]:
    """Survey field -> new text, for these remedies applied to one arrangement.

    A remedy about a place changes the arrangement's own place; one about gas legs changes every leg that is smaller
    than what the remedy lays, one about outlets every outlet but the baths (nobody wants a bath at a trickle); the rest
    is about the site.
    """
    made: dict[str, str] = {}
    for remedy in remedies:
        for change in advice.rulebase.remedies[remedy].sets:
            entry = advice.rulebase.vocabulary[change["field"]]
            for entity in _entities(advice, judged, entry.sort):
                if entry.sort != "leg" or _is_below(advice, change["field"], entity, str(change["to"])):
                    made[field_of(entry, entity)] = str(change["to"])
    return made


def _entities(advice: Advice, judged: Judged, sort: str) -> list[str]:
    if sort == "place":
        return [judged.arrangement.place] if judged.arrangement.place else []
    if sort == "site":
        return ["site"]
    found = sorted(advice.book.of({"leg": "leg.size_mm", "outlet": "outlet.flow_l_min",
                                   "appliance": "appliance.input_kw"}[sort]))
    return [e for e in found if sort != "outlet" or not _is_bath(advice, e)]


def _is_bath(advice: Advice, outlet: str) -> bool:
    kind = advice.book.about("outlet.kind", outlet)
    return kind is not None and kind.value == exactly("bath")


def _is_below(advice: Advice, name: str, entity: str, text: str) -> bool:
    fact = advice.book.about(name, entity)
    return fact is None or not isinstance(fact.value, Span) or fact.value.lo < float(text.split()[0])
