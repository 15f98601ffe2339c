"""Where a mains-fed layout's own inlet set or heat exchanger costs the litres that are missing: said plainly."""

from __future__ import annotations

from advisor.facts import Span, exactly
from advisor.records import Finding, Judged
from advisor.report.claims import Claim
from advisor.report.say import Teller

INLET_SET, EXCHANGER = "inlet-set-costs-what-is-missing", "exchanger-costs-what-is-missing"
IN_TIME = ("together-for-less-than-one-shower", "runs-short-in-the-busiest-hour")
MAKERS_FIGURE = {  # what an open layout waits for where every answer is given and only this is not known
    INLET_SET: "the maker's figure for its inlet valves", EXCHANGER: "the maker's figure for its heat exchanger",
    **dict.fromkeys(IN_TIME, "the maker's figures for its store"),
}
LEAVES = {
    INLET_SET: "The valves at its inlet leave {flow}, and you want {wanted}: ask for the maker's figure.",
    EXCHANGER: "The narrow ways that warm its water leave {flow}, and you want {wanted}: ask for the maker's figure.",
}


def finding(teller: Teller, judged: Judged) -> Finding | None:
    """What is found of this layout's own parts; None unless there would surely be enough without them."""
    bare = teller.book.about("bare_margin_l_min", judged.id)
    if bare is None or not isinstance(bare.value, Span) or bare.value.lo < 0:
        return None  # the main, or who else draws on it, may be what is missing
    return next((f for f in judged.findings if f.rule in LEAVES), None)


def waited_for(teller: Teller, judged: Judged) -> Finding | None:
    """The finding that only a maker's figure settles: of its own parts, or of how a small store is kept warm."""
    if (found := finding(teller, judged)) is not None:
        return found
    store = teller.book.about("arrangement.store", judged.id)
    small = store is not None and store.value == exactly("built-in")
    return next((f for f in judged.findings if f.rule in IN_TIME), None) if small else None


def sentence(teller: Teller, judged: Judged) -> Claim | None:
    """What its own parts leave of what is wanted, for a householder; None where that is not known in figures."""
    found = finding(teller, judged)
    flow = teller.book.about("outlet_flow_l_min", judged.id)
    wanted = teller.book.about("demand.draw_l_min", "site")
    if found is None or flow is None or wanted is None or not (teller.known(flow) and teller.known(wanted)):
        return None
    return teller.claim(LEAVES[found.rule], [*teller.finding_ids(found), flow.id, wanted.id], flow=teller.value(flow),
                        wanted=teller.value(wanted))
