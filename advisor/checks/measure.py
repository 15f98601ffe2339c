"""Runs a formula on facts and enters the result as a fact, with its inputs, its reach and how well it is known."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Protocol

from advisor.calc import REGISTRY
from advisor.facts import Fact, FactBook, Value, key_of, weakest
from advisor.rulebase.model import Entry

Ref = tuple[str, str]  # fact name, entity


class Values(Protocol):
    """Where a sum reads the value sets of facts: a fact book, or one with some answers changed."""

    def value(self, name: str, entity: str = "site") -> Value: ...

    def about(self, name: str, entity: str) -> Fact | None: ...


def again(formula: str, keys: Iterable[tuple[str, str]], value_of: Callable[[str], Value]) -> Value:
    """The result of a formula over the facts of `keys`, (argument, key) each."""
    this = REGISTRY[formula]
    if this.variadic:
        return this.over({str(i): value_of(key) for i, (_, key) in enumerate(keys)})
    return this.over({arg: value_of(key) for arg, key in keys})


class Measure:
    """The only way a check makes a fact; a check names formulas and facts, it holds no sums."""

    def __init__(self, book: FactBook, vocabulary: Mapping[str, Entry]):
        self.book, self.vocabulary = book, vocabulary

    def fact(self, name: str, entity: str, formula: str, **inputs: Ref | str) -> Fact:
        """`formula` over the value sets of its inputs. A plain text input is a site fact's name."""
        keys = [(arg, self._key(ref)) for arg, ref in inputs.items()]
        return self._enter(name, entity, formula, keys, again(formula, keys, lambda k: self.book[k].value))

    def over_all(self, name: str, entity: str, formula: str, refs: Iterable[Ref | str]) -> Fact:
        """A variadic formula (a sum, an extreme) over any number of facts."""
        keys = [("values", self._key(ref)) for ref in refs]
        return self._enter(name, entity, formula, keys, again(formula, keys, lambda k: self.book[k].value))

    def enter(self, name: str, entity: str, formula: str, keys: list[tuple[str, str]],
              work: Callable[[Values], Value]) -> Fact:
        """Enter a result that `work` finds its own way; it may read nothing but the facts of `keys`.

        The book keeps `work`, so that the result can be found again with some answers changed.
        """
        self.book.again[key_of(name, entity)] = work
        return self._enter(name, entity, formula, keys, work(self))

    def _enter(self, name: str, entity: str, formula: str, keys: list[tuple[str, str]], value: Value) -> Fact:
        """It is known no better than the weakest of what it was made from."""
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

    def about(self, name: str, entity: str) -> Fact | None:
        """The fact of a name about an entity, None where there is none."""
        return self.book.about(name, entity)

    @staticmethod
    def _key(ref: Ref | str) -> str:
        return key_of(ref, "site") if isinstance(ref, str) else key_of(*ref)
