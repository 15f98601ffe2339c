"""A blank survey in the order of the walk: every question as a comment, every answer waiting behind a #."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator

from advisor.rulebase.model import Entry
from advisor.survey.fields import CONFIRMED, LEGS, NAME, PRIVATE_KEYS, Fields

WIDTH = 110
HEAD = """\
# A survey. Take the # from a line and write what was found; leave the rest: no answer is required.
#
# An answer is a number with its unit, or one of the words listed, always in quotes:   flow = "15 l/min"
#   more can be said:      flow = { value = "15 l/min", how = "measured", when = "07:40", note = "kitchen tap" }
#   read twice:            flow = { value = "14 l/min", instead_of = "19 l/min" }
#   not exactly known:     flow = { between = ["12 l/min", "16 l/min"] }
#   one of several words:  service_material = { one_of = ["lead", "iron"] }
#   asked, nobody knows:   hardness = "unknown"
# how is measured, told or assumed. An example value is no advice: it shows only how the answer is written.
survey_format = 1

# Limits change with the years: the day the work would be done, and the day of this survey.
# works_date = 2027-01-15
# surveyed_on = 2026-11-25
"""
INTRO = {
    "wishes": 'Write "must" or "prefer" behind what the household asked for. A wish not written is not a wish.',
    "outlets": "One table for each outlet; the name is yours (small letters, digits and _).",
    "places": "One table for each place where a cylinder could stand; the name is yours.",
    "gas.legs": "One table for each length of pipe between two tees, from the meter on; the name is yours.",
    "gas.appliances": "One table for each gas appliance but the boiler; the name is yours.",
}
EXAMPLE_NAMES = {"outlets": "main_shower", "places": "landing_cupboard", "gas.legs": "meter_to_boiler",
                 "gas.appliances": "hob"}
LAST = f"""
# Rules of another nation that somebody competent confirmed: the rule's id, who, and when.
# [{CONFIRMED}]
# rule-id = {{ value = "yes", who = "building control", when = "2027-01-10" }}

# Names and addresses stay in this file: no report and no advice holds them.
[private]
""" + "".join(f'# {key} = ""\n' for key in PRIVATE_KEYS)


def blank(fields: Fields) -> str:
    """The text of a blank survey; valid as it is, and still valid with any example line taken in."""
    asked = {p: e for p, e in fields.entries.items() if not p.startswith(f"{CONFIRMED}.")}
    lines = [HEAD]
    for pattern, entry in asked.items():
        if "." not in pattern:  # these belong before the first table
            lines += _field(pattern, entry)
    sections: dict[str, list[str]] = {}  # in the order of the walk; a later entry of a section joins it
    for pattern, entry in asked.items():
        here, _, key = pattern.rpartition(".")
        if here:
            sections.setdefault(here, []).extend(_field(key, entry))
    for here, fields_of_section in sections.items():
        lines += ["", *_heading(here), *fields_of_section]
    return "\n".join(lines) + "\n" + LAST


def _heading(section: str) -> Iterator[str]:
    listed = section.removesuffix(f".{NAME}")
    if listed in INTRO:
        yield f"# {INTRO[listed]}"
    if listed == section:
        yield f"[{section}]"
        if section == "wishes":
            yield '# order = ["outlets_at_once", "no_pumps"]   # the most important first; only wishes written below'
        return
    yield f"[{listed}]"
    yield "# complete = true   # when every one is listed"
    yield f"# [{listed}.{EXAMPLE_NAMES[listed]}]"
    if listed == LEGS:
        yield '# from = "meter"   # or the leg it begins at'
        yield '# to = "boiler"    # or an appliance; left out where it ends in a tee'


def _field(key: str, entry: Entry) -> Iterator[str]:
    """The question, the tool and what is allowed, then the line to fill in."""
    tool = f" ({entry.tool})" if entry.tool and entry.tool != "none" else ""
    allowed = (" | ".join(str(w) for w in entry.domain) if entry.kind == "words" else
               f"{entry.domain[0]:g} to {entry.domain[1]:g} {entry.unit or '(a whole number)'}")
    for text in (f"{entry.question}{tool}", f"  {allowed}"):
        yield from textwrap.wrap(text, WIDTH, initial_indent="## ", subsequent_indent="##   ", break_on_hyphens=False,
                                 drop_whitespace=True)
    yield f"# {key} = {example(entry)}"


def example(entry: Entry) -> str:
    """The typical answer as it stands in a file; a wish shows "prefer"."""
    if entry.kind == "words":
        word = entry.typical or ("prefer" if "prefer" in entry.domain else entry.domain[-1])
        return json.dumps(str(word))
    value = entry.domain[0] if entry.typical is None else entry.typical
    return json.dumps(f"{value:g} {entry.unit}") if entry.unit else f"{value:g}"
