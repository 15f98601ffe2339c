"""Making claims: a fixed sentence with named gaps, and pieces that know what they show.

`Teller` is the one place where a sentence gets its ids: every piece put into a
gap brings the ids of the facts behind it, so a figure cannot be set without
its anchor.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from advisor.facts import SITE, Fact, Span, key_of
from advisor.records import Advice, Check, Finding, Judged
from advisor.report import wording
from advisor.report.claims import Claim
from advisor.rulebase.model import Entry, Remedy, Rule

GAP = re.compile(r"\{([^{}]+)\}")


@dataclass(frozen=True, slots=True)
class Piece:
    """A text to put in a gap, the key it shows (`claims.py`) and the ids behind it."""

    text: str
    key: str
    ids: tuple[str, ...] = ()
    fact: Fact | None = None  # where the text is a value that may need more decimals
    exact: bool = False  # a name in code, which keeps its small letters at the start of a sentence


class Teller:
    """Makes claims about one piece of advice."""

    def __init__(self, advice: Advice) -> None:
        self.advice = advice
        self.book = advice.book
        self.vocabulary: Mapping[str, Entry] = advice.rulebase.vocabulary
        self.rules: Mapping[str, Rule] = advice.rulebase.rules
        self.remedies: Mapping[str, Remedy] = advice.rulebase.remedies

    # ---------------------------------------------------------------- pieces
    def value(self, fact: Fact) -> Piece:
        return Piece(wording.show_fact(fact, self.vocabulary.get(fact.name)), fact.key, (fact.id,), fact)

    def read(self, fact: Fact, text: str) -> Piece:
        """The answer as the surveyor wrote it."""
        return Piece(wording.clean(text), f"read:{fact.key}", (fact.id,))

    def title(self, judged: Judged) -> Piece:
        """An arrangement's title, anchored to the facts its words and sizes come from."""
        shaped = [self.book.about("arrangement.family", judged.id)]
        if re.search(r"\d", judged.arrangement.title):
            shaped += [self.book.about("source.hot_kw", judged.arrangement.source)]
            shaped += [self.book.about("space.litres_l", judged.id)] if judged.arrangement.litres else []
        ids = tuple(f.id for f in shaped if f is not None)
        return Piece(wording.clean(judged.arrangement.title), f"title:{judged.id}", ids)

    def short(self, judged: Judged) -> Piece:
        """The kind of layout in a few words, without sizes."""
        family = self.book.about("arrangement.family", judged.id)
        return Piece(wording.clean(judged.arrangement.short), f"short:{judged.id}", (family.id,) if family else ())

    def name(self, entity: str) -> Piece:
        return Piece(wording.plain_name(entity), f"name:{entity}")

    def plain(self, name: str) -> Piece:
        return Piece(wording.plain(name, self.vocabulary), f"plain:{name}")

    def rule(self, rule_id: str, by_id: bool = False) -> Piece:
        text = rule_id if by_id else self.rules[rule_id].title.rstrip(".")
        return Piece(wording.clean(text), f"rule:{rule_id}", (rule_id,), exact=by_id)

    def lower_rule(self, rule_id: str) -> Piece:
        """A rule's title inside a sentence."""
        piece = self.rule(rule_id)
        return replace(piece, text=piece.text[:1].lower() + piece.text[1:])

    def known(self, fact: Fact) -> bool:
        return wording.known(fact, self.vocabulary.get(fact.name))

    def remedy(self, remedy_id: str, lower: bool = False) -> Piece:
        title = wording.clean(self.remedies[remedy_id].title.rstrip("."))
        return Piece(title[:1].lower() + title[1:] if lower else title, f"remedy:{remedy_id}")

    def criterion(self, criterion: str) -> Piece:
        return Piece(wording.clean(criterion_title(self.advice, criterion)), f"criterion:{criterion}")

    @staticmethod
    def count(what: str, value: int) -> Piece:
        return Piece(str(value), f"count:{what}")

    @staticmethod
    def text(text: object, what: str) -> Piece:
        return Piece(wording.clean(text), f"text:{what}")

    @staticmethod
    def code(text: object, what: str, ids: tuple[str, ...] = ()) -> Piece:
        """A name in code: a field, a formula, a fact's id."""
        return Piece(wording.clean(text), f"text:{what}", ids, exact=True)

    def token(self, fact: Fact) -> Piece:
        return Piece(fact.id, f"token:{fact.key}", (fact.id,), exact=True)

    # ---------------------------------------------------------------- claims
    def claim(self, template: str, ids: Iterable[str] = (), **gaps: Piece) -> Claim:
        """Fill `template`; the gaps' names stand in braces, once each or more.

        Values of one unit in one sentence that differ never print alike: all of
        them get as many decimals as keep them apart.
        """
        return self.fill(template, gaps, ids)

    def fill(self, template: str, gaps: Mapping[str, Piece], ids: Iterable[str] = ()) -> Claim:
        used = [gaps[name] for name in GAP.findall(template)]
        sharp = dict(zip(used, self._kept_apart(used), strict=True))
        order = [sharp[p] for p in used if p.text]
        text = GAP.sub(lambda m: sharp[gaps[m.group(1)]].text, template)
        shown = [p.text for p in order]
        if not (order and order[0].exact and text.startswith(order[0].text)):
            text, shown[:1] = _sentence_case(text), [_first_case(text, t) for t in shown[:1]]
        anchors = [*ids, *(i for p in order for i in p.ids)]
        return Claim(text, tuple(dict.fromkeys(anchors)), tuple((t, p.key) for t, p in zip(shown, order, strict=True)))

    def cells(self, *pieces: Piece | None) -> list[Claim | None]:
        """The cells of one row, each a claim of one piece as it stands; values of one unit are kept apart."""
        sharp = iter(self._kept_apart([p for p in pieces if p is not None]))
        row = [next(sharp) if p is not None else None for p in pieces]
        return [Claim(p.text, p.ids, ((p.text, p.key),)) if p is not None and p.text else None for p in row]

    def _kept_apart(self, used: list[Piece]) -> list[Piece]:
        numbers = [p for p in used if p.fact is not None and isinstance(p.fact.value, Span)]
        out = []
        for piece in used:
            more = max((self._apart(piece, other) for other in numbers), default=0) if piece in numbers else 0
            entry = self.vocabulary.get(piece.fact.name) if piece.fact else None
            out.append(replace(piece, text=wording.show_fact(piece.fact, entry, more)) if more else piece)
        return out

    @staticmethod
    def _apart(piece: Piece, other: Piece) -> int:
        a, b = piece.fact, other.fact
        if a is None or b is None or a.key == b.key or a.unit != b.unit:
            return 0
        if wording.printer(a.name) is not wording.show or wording.printer(b.name) is not wording.show:
            return 0
        return wording.extra_decimals(a.value, b.value, a.unit)

    # ---------------------------------------------------------------- facts
    def look_up(self, name: str, judged: Judged | None, because: Iterable[str] = ()) -> Fact | None:
        """The fact a brace means.

        A premise of that name first; else the fact about the arrangement, its
        source, its place or the site; else the nearest one the premises were
        made from; else the only one of that name.
        """
        wanted = re.sub(r"^threshold:", "threshold.", name)
        premises = [self.book[k] for k in because if k in self.book]
        near = [f for f in premises if f.name == wanted]
        near += [f for e in self._entities(judged) if (f := self.book.about(wanted, e)) is not None]
        if near:
            return near[0]
        far = [f for f in self._grounds(premises) if f.name == wanted]
        others = far or [f for facts in self.book.of(wanted).values() for f in facts]
        return others[0] if far or len(others) == 1 else None

    def _grounds(self, facts: Iterable[Fact]) -> list[Fact]:
        """These facts and, breadth first, all they were concluded or calculated from."""
        seen: dict[str, Fact] = {}
        queue = list(facts)
        while queue:
            fact = queue.pop(0)
            if fact.key not in seen:
                seen[fact.key] = fact
                queue += [self.book[k] for k in (*fact.because, *(k for _, k in fact.inputs)) if k in self.book]
        return list(seen.values())

    @staticmethod
    def _entities(judged: Judged | None) -> tuple[str, ...]:
        if judged is None:
            return (SITE,)
        return (judged.id, judged.arrangement.source, *([judged.arrangement.place] if judged.arrangement.place else []),
                SITE)

    def finding_ids(self, finding: Finding) -> tuple[str, ...]:
        """The finding's own fact, the rule, and the facts it was concluded from."""
        keys = [finding.key, *finding.because]
        return (finding.rule, *(self.book[k].id for k in keys if k in self.book))

    def check_facts(self, check: Check) -> tuple[Fact, Fact | None, Fact | None]:
        """(value, limit, margin) of a check; None where there is none."""
        limit = self.book[check.limit_key] if check.limit_key else None
        margin = self.book[check.margin_key] if check.margin_key else None
        return self.book[check.key], limit, margin

    def structure(self, judged: Judged, name: str) -> Fact | None:
        key = key_of(name, judged.id)
        return self.book[key] if key in self.book else self.book.about(name, judged.id)


def criterion_title(advice: Advice, criterion: str) -> str:
    """How a criterion of the ranking is called; the comparison's own words where it is none of them."""
    for entry in advice.rulebase.ranking["criterion"]:
        if entry["id"] == criterion:
            return entry["title"]
    return {"verdict": "what the rules allow", "id": "nothing but the alphabet"}.get(criterion, criterion)


def _sentence_case(text: str) -> str:
    """The text with its first letter large, as a sentence starts."""
    return text[:1].upper() + text[1:]


def _first_case(text: str, shown: str) -> str:
    """A piece that opens the sentence is set with a capital too."""
    return _sentence_case(shown) if text.startswith(shown) else shown
