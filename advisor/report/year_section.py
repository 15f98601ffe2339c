"""A year of hot water in the installer's report: heat drawn and lost, fuel and a band of cost, side by side."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.facts import ANYTHING, Fact
from advisor.records import Judged
from advisor.report import busy, standing
from advisor.report.claims import Block, Heading, Note, Para, Sentence, Table
from advisor.report.say import Teller

COLUMNS = ("layout", "cost a year", "gas or electricity", "heat drawn", "store loses", "lost on the way")
DRAWN, STORE, FUEL, COST = "year.drawn_kwh", "year.store_kwh", "year.fuel_kwh", "year.cost_pounds"
ON_THE_WAY = ("year.pipes_kwh", "year.waiting_kwh")
PRICES = ("year.gas_price_p", "threshold.electricity_price_p")


def section(teller: Teller) -> Iterator[Block]:
    """Recommended, runner-up and cheapest; nothing where no layout shown has a cost that could be worked out."""
    chosen = busy.chosen(teller.advice)
    known = [j for j in chosen if _known(_about(teller, COST, j.id))]
    if not known:
        return
    yield Heading(2, "A year of hot water")
    people, daily = (_about(teller, n, "site") for n in ("household.people", "year.daily_l"))
    assert people and daily
    yield Para((teller.claim("People in the home: {people}; hot water a day, on average: {daily}.", [daily.id],
                             people=teller.value(people), daily=teller.value(daily)),
                *(teller.claim("{name}: {price}.", [f.id], name=teller.plain(f.name), price=teller.value(f))
                  for n in PRICES if (f := _about(teller, n, "site")) is not None and _known(f)), Note(standing.YEAR)))
    yield Table(COLUMNS, tuple(_row(teller, j) for j in chosen))


def _about(teller: Teller, name: str, entity: str) -> Fact | None:
    return teller.book.about(name, entity)


def _known(fact: Fact | None) -> bool:
    return fact is not None and fact.value != ANYTHING


def _row(teller: Teller, judged: Judged) -> tuple[Sentence, ...]:
    named = teller.claim("{short}", short=teller.short(judged))
    fuel, cost = (_about(teller, n, judged.id) for n in (FUEL, COST))
    if fuel is None or not _known(cost):
        return (named, *(Note(standing.YEAR_LEFT_OUT if n == 0 else "") for n, _ in enumerate(COLUMNS[1:])))
    below = {key: teller.book[key] for _, key in fuel.inputs}
    way = next((f for f in below.values() if f.name in ON_THE_WAY), None)
    cells = (cost, fuel, _about(teller, DRAWN, "site"), _about(teller, STORE, judged.id), way)
    return (named, *(Note(standing.YEAR_NONE) if f is None else teller.claim("{x}", [f.id], x=teller.value(f))
                     for f in cells))
