"""Runs a formula on facts and enters the result as a fact, with its inputs, its reach and how well it is known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from advisor.calc import REGISTRY
from advisor.facts import Fact, FactBook, Value, key_of, weakest
from advisor.rulebase.model import Entry

Ref = tuple[str, str]  # fact name, entity


class Measure:
    """The only way a check makes a fact; a check names formulas and facts, it holds no sums."""

    def __init__(self, book: FactBook, vocabulary: Mapping[str, Entry]):
        self.book, self.vocabulary = book, vocabulary

    def fact(self, name: str, entity: str, formula: str, **inputs: Ref | str) -> Fact:
        """`formula` over the value sets of its inputs. A plain text input is a site fact's name."""
        keys = [(arg, self._key(ref)) for arg, ref in inputs.items()]
        value = REGISTRY[formula].over({arg: self.book[key].value for arg, key in keys})
        return self.enter(name, entity, formula, keys, value)

    def over_all(self, name: str, entity: str, formula: str, refs: Iterable[Ref | str]) -> Fact:
        """A variadic formula (a sum, an extreme) over any number of facts."""
        keys = [("values", self._key(ref)) for ref in refs]
        values = {str(i): self.book[key].value for i, (_, key) in enumerate(keys)}
        return self.enter(name, entity, formula, keys, REGISTRY[formula].over(values))

    def enter(self, name: str, entity: str, formula: str, keys: list[tuple[str, str]], value: Value) -> Fact:
        """Enter a result; it is known no better than the weakest of what it was made from."""
        used = [self.book[key] for _, key in keys]
        entry = self.vocabulary[name]
        this = REGISTRY[formula]
        return self.book.add(Fact(
            key_of(name, entity), name, entry.sort, entity, value, unit=entry.unit,
            how=weakest(f.how for f in used), made_by=f"calc.{formula}", because=tuple(k for _, k in keys),
            rests_on=frozenset().union(*(f.rests_on for f in used)), inputs=tuple(keys), trust=this.trust,
            source=this.source,
        ))

    def value(self, name: str, entity: str = "site") -> Value:
        """The value set of a fact in the book."""
        return self.book[key_of(name, entity)].value

    @staticmethod
    def _key(ref: Ref | str) -> str:
        return key_of(ref, "site") if isinstance(ref, str) else key_of(*ref)
