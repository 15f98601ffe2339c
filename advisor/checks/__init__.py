"""Measures every candidate: each owed fact is made, if only as "anything"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from advisor.arrangements import parts_of
from advisor.checks import services, storage, water, year
from advisor.checks.measure import Measure
from advisor.facts import FactBook, only
from advisor.records import Arrangement
from advisor.rulebase import Rulebase
from advisor.site import NOT_LISTED

if TYPE_CHECKING:
    from advisor.survey import Survey


class OwedError(AssertionError):
    """A part owes a fact that no check made."""


def measure_site(book: FactBook, base: Rulebase, survey: Survey, listed: Mapping[str, tuple[str, ...]]) -> None:
    """Everything that can be measured before an arrangement is in view."""
    m = Measure(book, base.vocabulary)
    water.site(m, listed["outlet"])
    services.site(m, listed["appliance"])
    year.site(m)
    for place in listed["place"]:
        services.place(m, place)


def measure(book: FactBook, base: Rulebase, survey: Survey, listed: Mapping[str, tuple[str, ...]],
            arrangements: Iterable[Arrangement]) -> None:
    """The heat sources once each, then every arrangement; OwedError names what was forgotten."""
    m = Measure(book, base.vocabulary)
    chosen = tuple(arrangements)
    tree = gas_tree(survey, listed)
    for source in sorted({a.source for a in chosen}):
        services.heat_source(m, source, tree)
    for a in chosen:
        store = str(only(m.value("arrangement.store", a.id)))
        water.arrangement(m, a.id, a.source)
        has_coil = ("store.coil_return", "source.heating_return") in a.links
        storage.arrangement(m, a, store, has_coil, listed["outlet"])
        year.arrangement(m, a.id, has_coil)
        if a.place:
            storage.siting(m, a.id, a.place, store == "cistern-fed")
    owed(book, base, chosen)


def gas_tree(survey: Survey, listed: Mapping[str, tuple[str, ...]]) -> services.GasTree:
    """The gas pipe as surveyed: its legs, and what hangs on them."""
    unseen = [a for a in listed["appliance"] if a == NOT_LISTED]
    seen = [a for a in listed["appliance"] if a != NOT_LISTED]
    legs = survey.links or {NOT_LISTED: (services.METER, services.BOILER)}  # a pipe nobody has looked at yet
    return services.GasTree(legs, seen, unseen)


def owed(book: FactBook, base: Rulebase, arrangements: Iterable[Arrangement]) -> None:
    """Refuse a run in which a part's check was left out: its findings would be missing without a trace."""
    for a in arrangements:
        for part in parts_of(base.families, a):
            for name in part.needs:
                entity = {"site": "site", "source": a.source, "place": a.place}.get(base.vocabulary[name].sort, a.id)
                if book.about(name, entity) is None:
                    raise OwedError(f"{part.id} of {a.id} owes {name} about {entity}; no check made it")
