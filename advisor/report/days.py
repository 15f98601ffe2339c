"""Whole days in words and as JSON: the European load profiles, and the household's own week as generated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from advisor.facts import Span
from advisor.records import Judged
from advisor.report.busy import MOST_SHOWN, wrap
from advisor.report.wording import NBSP, clean, number, show
from advisor.water.day import DAY_MIN, OWN, PROFILES, Day, Days
from advisor.water.household import Count

OWN_TITLE = "A WEEK AS THIS HOUSEHOLD MIGHT DRAW, GENERATED"
OWN_ASSUMED = ("Made up from the household's answers and, where there is none, from measured means; another seed gives "
               "another week. Draw-offs that overlap follow each other. What others assumed is named so: it is no "
               "measurement.")


def day_text(judged: Sequence[Judged], days: Sequence[Days], profile: str,
             counts: Sequence[Count] = ()) -> str:
    """What `advisor busy-hour --day` prints."""
    lines = ([OWN_TITLE, *wrap(OWN_ASSUMED, "  "), "", *_beside(counts)] if profile == OWN else
             [f"A DAY OF THE EUROPEAN LOAD PROFILE {profile}", *wrap(PROFILES.source.cite() + ".", "  ")])
    for j, (found, reasons) in zip(judged, days, strict=True):
        lines += ["", *wrap(clean(j.arrangement.title))]
        lines += [line for r in reasons for line in wrap(f"Not computed: {clean(r)}.", "  ")]
        lines += [line for text in _day_lines(found) for line in wrap(text, "  ")] if found else []
    return "\n".join(lines).replace(NBSP, " ") + "\n"


def _day_lines(found: Sequence[Day]) -> Iterator[str]:
    def ends(values: Sequence[float], unit: str = "kWh") -> str:
        return show(Span(min(values), max(values)), unit)

    yield (f"Delivers {ends([d.delivered_kwh for d in found])} of {ends([d.wanted_kwh for d in found])} wanted.")
    missed = max(found, key=lambda d: len(d.missed)).missed
    for m in missed[:MOST_SHOWN]:
        yield (f"At worst misses the draw at {_clock(m.minute, found[0].days)}: "
               f"{number(m.coldest_c, 0)} °C where {number(m.asked_c, 0)} °C are asked.")
    if len(missed) > MOST_SHOWN:
        yield f"And {len(missed) - MOST_SHOWN} more."
    if slow := max(d.slow for d in found):
        yield f"At worst {slow} draw{'s come' if slow > 1 else ' comes'} slower than asked."
    if any(d.lost_kwh for d in found):
        yield (f"Standing loss {ends([d.lost_kwh for d in found])}, taken at the limit of label class C; heat put in "
               f"{ends([d.heated_kwh or 0.0 for d in found])}. The store need not end as hot as it began.")
    if any(d.heating_lost_min for d in found):
        waits = ends([d.heating_lost_min for d in found], "min")
        yield f"The heating waits {waits} of the {'day' if found[0].days == 1 else 'week'}."


def _clock(minute: float, days: int) -> str:
    """"07:05", and on which day where there are several."""
    day, of_day = divmod(int(minute), int(DAY_MIN))
    return f"{of_day // 60:02d}:{of_day % 60:02d}" + (f" of day {day + 1}" if days > 1 else "")


def _beside(counts: Sequence[Count]) -> Iterator[str]:
    """What was generated beside what was measured, a row a statistic."""
    yield f"  {'':32s}{'here':>6s}{'others':>7s}  {'':7s}whose figure"
    for c in counts:
        there = "" if c.measured is None else number(c.measured, 1)
        yield f"  {c.what:32s}{number(c.generated, 1):>6s}{there:>7s}  {c.unit:7s}{c.document}".rstrip()


def day_json(judged: Sequence[Judged], days: Sequence[Days],
             profile: str, counts: Sequence[Count] = ()) -> dict[str, Any]:
    """The document of `advisor busy-hour --day M --json`."""
    said = {"statistics": [asdict(c) for c in counts]} if profile == OWN else {"source": PROFILES.source.as_json()}
    return {"profile": profile, **said, "arrangements": [
        {"arrangement": j.id, "title": j.arrangement.title, "computed": bool(found), "because": list(reasons),
         "days": [asdict(d) for d in found]} for j, (found, reasons) in zip(judged, days, strict=True)]}


