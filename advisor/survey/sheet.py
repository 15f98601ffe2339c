"""The blank survey as a sheet to print and write on: the questions of the walk, tool and unit beside each."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from pathlib import Path

from advisor.rulebase.model import Entry
from advisor.survey.fields import LEGS, NAME, Fields
from advisor.survey.walk import DATES, TITLES, ordered_sections

STYLE = Path(__file__).with_name("sheet.css")
COLUMNS = {"outlets": 6, "places": 3, "gas.legs": 6, "gas.appliances": 4}  # entries there is room for
HINTS = {
    "wishes": "Tick must or prefer; in the last column 1 for the most important. Nothing ticked: not a wish.",
    "water": "Note the clock beside each reading.",
    "gas": "Look only. Readings at the meter are for a registered person.",
    "electric": "Read labels; open nothing.",
    "outlets": "One column an outlet.", "gas.legs": "One column for each length between two tees, from the meter on.",
    "gas.appliances": "All but the boiler.", "places": "One column for each place where a cylinder could stand.",
}
LEG_ENDS = (("begins at", "meter, or the pipe it leaves"), ("ends at", "boiler, an appliance, or a tee"))
INTRO = ("Walk in this order. Tick or write what is found; leave empty what is not known: no answer is required. "
         "Not exactly known: write both ends, or tick both words. Read twice: write both, and strike out the first. "
         "M T A: ring what it is, measured, told or assumed.")


def sheet(fields: Fields) -> str:
    """One self-contained HTML page that prints on four A4 sides or fewer; every question of the vocabulary is on it."""
    body = "\n".join(_body(fields))
    return ('<!DOCTYPE html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n<title>Survey sheet</title>\n'
            f'<meta name="viewport" content="width=device-width, initial-scale=1">\n<style>\n'
            f'{STYLE.read_text(encoding="utf-8")}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n')


def _body(fields: Fields) -> Iterator[str]:
    yield "<header><h1>Survey of a home: heating and hot water</h1></header>"
    yield f'<p>{escape(INTRO)}</p>\n<div class="head">'
    for label in ("Job", "Surveyor", "Sheet", *DATES):
        yield f"<div>{_label(label)} {_line()}</div>"
    yield "</div>"
    for section in ordered_sections(fields):
        yield f'<section class="{section.replace(".", "-")}">'
        yield _heading(section, fields)
        yield from _rows(section, fields)
        yield "</section>"
    yield ('<section><h2>Notes<small>what could not be seen, and why</small></h2><div class="notes"></div></section>\n'
           "<footer>Gas work, unvented hot water and wiring are for registered and qualified people. Stop and make "
           "safe first what is unsafe.</footer>")


def _label(name: str) -> str:
    return {"surveyed_on": "Day of survey", "works_date": "Day of work"}.get(name, name)


def _heading(section: str, fields: Fields) -> str:
    hint = f"<small>{escape(HINTS[section])}</small>" if section in HINTS else ""
    every = f'<span class="all">{_box("all listed")}</span>' if section in fields.lists else ""
    return f"<h2>{escape(TITLES[section])}{hint}{every}</h2>"


def _rows(section: str, fields: Fields) -> Iterator[str]:
    entries = [e for p, e in fields.entries.items()
               if p.rpartition(".")[0] == (f"{section}.{NAME}" if section in fields.lists else section)]
    if section in fields.lists:
        yield from _list(section, entries)
        return
    yield "<table>"
    for entry in entries:
        yield _wish(entry) if section == "wishes" else _row(entry)
    yield "</table>"


def _row(entry: Entry) -> str:
    return (f'<tr><td>{_question(entry)}</td><td class="answer">{_answer(entry)}</td>'
            '<td class="known">M&ensp;T&ensp;A</td></tr>')


def _wish(entry: Entry) -> str:
    boxes = "".join(_box(str(word)) for word in entry.domain if word != entry.default)
    return (f'<tr><td>{escape(entry.question)}</td><td class="answer">{boxes}</td>'
            f'<td class="known">{_line("short")}</td></tr>')


def _question(entry: Entry) -> str:
    tool = f' <span class="tool">{escape(entry.tool)}</span>' if entry.tool not in ("", "none") else ""
    return escape(entry.question) + tool


def _answer(entry: Entry) -> str:
    if entry.kind == "words":
        return "".join(_box(str(word)) for word in entry.domain)
    return f"{_line()}{escape(entry.unit)}"


def _box(word: str) -> str:
    return f'<span class="word"><span class="box"></span>{escape(word)}</span>'


def _line(kind: str = "") -> str:
    return f'<span class="write {kind}"></span>'


def _list(section: str, entries: list[Entry]) -> Iterator[str]:
    """The questions as rows, the entries as columns."""
    empty = "<td></td>" * COLUMNS[section]
    yield '<table class="list">'
    yield f"<tr><td>name</td>{empty}</tr>"
    if section == LEGS:
        yield from (f'<tr><td>{label} <span class="tool">{hint}</span></td>{empty}</tr>' for label, hint in LEG_ENDS)
    for entry in entries:
        cell = _answer(entry) if entry.kind == "words" else f'<span class="unit">{escape(entry.unit)}</span>'
        yield f"<tr><td>{_question(entry)}</td>{f'<td>{cell}</td>' * COLUMNS[section]}</tr>"
    yield "</table>"
