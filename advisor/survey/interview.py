"""A survey by question and answer: one question at a time, every answer in the file before the next is asked."""

from __future__ import annotations

import re
import shutil
import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from advisor import units
from advisor.files import write_whole
from advisor.rulebase.model import Entry
from advisor.survey.fields import ORDER
from advisor.survey.reader import FORMAT, read_bytes
from advisor.survey.record import Survey, SurveyError
from advisor.survey.walk import DATES, NAMED, ONE, TITLES, Step, answered, walk

NARROWEST, WIDEST = 20, 76  # columns
LEAVE, BACK, EXPLAIN, TAKE_OUT = "q", "b", "?", "-"
KEYS = "Enter skips, ? explains, b goes back, - takes an answer out, q leaves."
MORE_WAYS = ('Also: "between X and Y", "one of A, B", "unknown". '
             'Behind an answer: ", told", ", assumed" or ", at 07:40".')
TAIL = re.compile(r"(.+?),\s*(?:(measured|told|assumed)|at (\d{1,2}:\d{2}))", re.IGNORECASE)
YES, NO = ("yes", "y", "1"), ("no", "n", "2")
LEG_QUESTIONS = {"from": "Where does it begin: meter, or which pipe?",
                 "to": "Where does it end: boiler, or which appliance? Enter where it ends in a tee."}
PRIVATE_QUESTIONS = {"name": "The customer's name?", "address": "The address?", "phone": "The telephone number?",
                     "notes": "Anything else to remember? One line."}
SHORT_WHY = 2


class Interview:
    """One interview on one file.

    Parameters
    ----------
    path : the file; an existing one is gone on with, and its comments stay
    vocabulary : fact name -> entry
    why : field (NAME for an entry's name) -> titles of the rules that read it
    ask, say : how a line is got and how one is shown
    """

    def __init__(self, path: Path, vocabulary: Mapping[str, Entry], why: Mapping[str, Sequence[str]],
                 ask: Callable[[str], str] = input, say: Callable[[str], None] = print):
        self.path, self.vocabulary, self.why = path, vocabulary, why
        self.ask, self._print = ask, say
        self.text = path.read_text(encoding="utf-8-sig") if path.exists() else f"survey_format = {FORMAT}\n"
        self.survey = self._read(self.text)
        self.seen: set[str] = set()
        self.section: str | None = None
        if not path.exists():
            write_whole(path, self.text)

    def run(self) -> bool:
        """Ask until all is asked; False where the interview was left before. The file is whole at any moment."""
        self.say(KEYS)
        if there := len(self.survey.answers):
            self.say(f"{there} answers are there already; they are passed over. b goes back to them.")
        try:
            self._through()
        except (EOFError, KeyboardInterrupt):
            self._print("")
            self._close(done=False)
            return False
        self._close(done=True)
        return True

    def _through(self) -> None:
        """Question after question; EOFError where the interview is left."""
        at = self._forward(0)
        while at < len(steps := walk(self.survey)):
            self.seen.add(steps[at].path)
            at = self._move(steps, at, self._one(steps[at], at, len(steps)))

    def _move(self, steps: Sequence[Step], at: int, said: str) -> int:
        """The place of the next question, found again in what applies now."""
        if said == LEAVE:
            raise EOFError
        if said == BACK:
            return max(0, at - 1)
        here = next((i for i, s in enumerate(walk(self.survey)) if s.path == said), None)
        if here is not None and said != steps[at].path:  # the first question about a new entry
            return here
        return self._forward((at if here is None else here) + 1)

    def _forward(self, at: int) -> int:
        """From here on, past what was answered before this interview began."""
        steps = walk(self.survey)
        while at < len(steps) and steps[at].path not in self.seen and answered(self.survey, steps[at]):
            at += 1
        return at

    def _one(self, step: Step, at: int, of: int) -> str:
        """Ask one question until it is answered, skipped or left; returns a key, or the path to go on from."""
        self._show(step, at, of)
        while True:
            text = " ".join(self.ask("> ").split())
            if text == EXPLAIN:
                self._explain(step)
            elif text in (LEAVE, BACK):
                return text
            elif text == "":
                return step.path
            elif not text.isprintable():
                self.say("That holds characters which cannot be shown. Type it again.")
            elif (went := self._take(step, text)) is not None:
                return went

    # --- what is shown -----------------------------------------------------------------------------------------------

    def say(self, text: str) -> None:
        """One paragraph, wrapped for a narrow screen."""
        width = max(NARROWEST, min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns - 1))
        self._print("\n".join(textwrap.wrap(text, width, subsequent_indent="  ", break_on_hyphens=False)))

    def _show(self, step: Step, at: int, of: int) -> None:
        if step.section != self.section:
            self.section = step.section
            self._print(f"\n== {TITLES.get(step.section, step.section)} ==")
        self._print("")
        about = step.path.split(".")[-2] + ": " if step.path.count(".") > step.section.count(".") + 1 else ""
        self.say(f"{at + 1}/{of} {about}{question(step)}")
        for line in self._hints(step):
            self.say(line)
        if now := answered(self.survey, step):
            self.say(f"now: {now} (Enter keeps it)")
        if reasons := self._reasons(step):
            rest = f" and {len(reasons) - SHORT_WHY} more: ?" if len(reasons) > SHORT_WHY else ""
            self.say(f"why: {'; '.join(reasons[:SHORT_WHY])}{rest}")

    def _hints(self, step: Step) -> Iterator[str]:
        if step.entry is not None:
            if step.entry.tool and step.entry.tool != "none":
                yield f"with: {step.entry.tool}"
            yield from allowed(step.entry)
        elif step.kind == "more":
            listed = self.survey.lists.get(step.section, ())
            yield f"so far: {', '.join(listed)}" if listed else "so far: none"
            yield f"write: a name, such as {NAMED[step.section]}; Enter where there is no more"
        elif step.kind == "complete":
            yield "1 yes  2 no"
        elif step.kind == "order":
            yield from (f"{i} {wish}" for i, wish in enumerate(self.survey.wishes, 1))
            yield "write: the numbers, the most important first"
        elif step.kind == "date":
            yield "write: 2027-01-15"

    def _reasons(self, step: Step) -> list[str]:
        if step.entry is None:
            return []
        return list(self.why.get(step.entry.field, ()))

    def _explain(self, step: Step) -> None:
        if step.entry is not None:
            self.say(f"It means: {step.entry.meaning}.")
            if step.entry.typical is not None and step.entry.default is None:
                self.say(f"Often: {typical(step.entry)}. That is an example and decides nothing.")
            self.say(MORE_WAYS)
        for reason in self._reasons(step):
            self.say(f"- {reason}")
        if not self._reasons(step):
            self.say("No rule reads it by itself. It is kept with the survey.")
        self.say(KEYS)

    def _close(self, done: bool) -> None:
        for warning in self.survey.warnings if done else ():
            self.say(f"look again: {warning}")
        self.say(f"{'Done' if done else 'Left'}. {len(self.survey.answers)} answers are in {self.path.name}."
                 + ("" if done else " The same command goes on from here."))

    # --- what is taken -----------------------------------------------------------------------------------------------

    def _take(self, step: Step, text: str) -> str | None:
        """Put an answer into the file; None where it was refused (the reader's own words are shown)."""
        path, value = step.path, text
        if text == TAKE_OUT and step.kind != "more":
            return step.path if self._write(step.path, None) else None
        if step.kind == "more":
            return self._entry(step, text)
        if step.kind == "complete":
            if text.casefold() not in YES + NO:
                self.say("Write yes or no.")
                return None
            return step.path if self._write(path, True if text.casefold() in YES else None) else None
        if step.kind == "order":
            value = self._ordered(text)
        elif step.kind == "date":
            value = _date(text)
        elif step.entry is not None:
            value = answer(text, step.entry)
        return step.path if self._write(path, value) else None

    def _entry(self, step: Step, text: str) -> str | None:
        """A new entry of a list, or (a - before its name) one taken out."""
        listed, name = step.section, re.sub(r"[\s-]+", "_", text.removeprefix(TAKE_OUT).strip().casefold())
        there = name in self.survey.lists.get(listed, ())
        if text.startswith(TAKE_OUT):
            if not there:
                self.say("Write - and the name of the one to take out.")
            return step.path if there and self._write(f"{listed}.{name}", None) else None
        if there:
            self.say(f"{name} is listed already. Another name, or Enter.")
            return None
        if not self._write(f"{listed}.{name}", {}):
            return None
        return next(s.path for s in walk(self.survey) if s.path.startswith(f"{listed}.{name}."))

    def _ordered(self, text: str) -> list[str]:
        wishes = self.survey.wishes
        parts = re.split(r"[\s,]+", text)
        return [wishes[int(p) - 1] if p.isdigit() and 0 < int(p) <= len(wishes) else p for p in parts if p]

    def _write(self, path: str, value: Any) -> bool:
        """Whether the file with this answer is a survey; only then it is written, whole."""
        try:
            text = changed(self.text, path, value)
            survey = self._read(text)
        except SurveyError as error:
            for fault in error.faults:
                self.say(fault.removeprefix(f"{self.path.name}: "))
            return False
        write_whole(self.path, text)
        self.text, self.survey = text, survey
        if (given := survey.answers.get(path)) and given.echo:
            self.say(f"read as {given.echo}")
        return True

    def _read(self, text: str) -> Survey:
        return read_bytes(text.encode(), self.path, self.vocabulary)


def question(step: Step) -> str:
    """The question as it is put."""
    if step.entry is not None:
        return step.entry.question
    if step.kind == "link":
        return LEG_QUESTIONS[step.path.rpartition(".")[2]]
    if step.kind == "more":
        return f"Is there one more {ONE[step.section]}? Give it a name."
    if step.kind == "complete":
        return "Are these all there are? None overlooked?"
    if step.kind == "order":
        return "Which wish comes first, if not all can be had?"
    return DATES.get(step.path) or PRIVATE_QUESTIONS[step.path.removeprefix("private.")]


def allowed(entry: Entry) -> Iterator[str]:
    """What may be written: numbered words, or a number with its unit."""
    if entry.kind == "words":
        yield from (f"{i} {word}" for i, word in enumerate(entry.domain, 1))
        return
    low, high = entry.domain
    example = units.EXAMPLES.get(entry.unit, typical(entry)) if entry.unit else "a whole number"
    yield f"write: {example} ({f'{low:g} to {high:g} {entry.unit}'.strip()})"


def typical(entry: Entry) -> str:
    """The typical answer as one would write it."""
    return str(entry.typical) if entry.kind == "words" else f"{entry.typical:g} {entry.unit}".strip()


def answer(text: str, entry: Entry) -> Any:
    """A typed line as the value of the survey file: a word by its number, and what is said behind a comma."""
    said: dict[str, str] = {}
    while match := TAIL.fullmatch(text):
        text = match[1].strip()
        said |= {"how": match[2].casefold()} if match[2] else {"when": match[3]}
    if entry.kind == "words" and text.isdigit() and 0 < int(text) <= len(entry.domain):
        text = str(entry.domain[int(text) - 1])
    value: Any = int(text) if entry.kind == "number" and not entry.unit and re.fullmatch(r"-?\d{1,9}", text) else text
    return {"value": value, **said} if said else value


def _date(text: str) -> Any:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return text  # the reader says what is wrong with it


def changed(text: str, path: str, value: Any) -> str:
    """The file's text with one line put in, replaced or (None) taken out; comments and order stay.

    Raises
    ------
    SurveyError : where the file is written in a way that this line cannot be put into
    """
    try:
        document = tomlkit.parse(text)
        *tables, key = path.split(".")
        at: Any = document
        for table in tables:
            if table not in at:
                at[table] = tomlkit.table(is_super_table=True) if table != tables[-1] else tomlkit.table()
            at = at[table]
        if value is None:
            at.pop(key, None)
        else:
            at[key] = _item(value)
        if path.startswith("wishes.") and path != ORDER:
            _keep_order(document)
        return tomlkit.dumps(document)
    except (TOMLKitError, TypeError, AttributeError) as error:
        raise SurveyError([f"{path}: it cannot be put into the file ({error}). Write it in with an editor."]) from None


def _item(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    if not value:
        return tomlkit.table()
    table = tomlkit.inline_table()
    table.update(value)
    return table


def _keep_order(document: Any) -> None:
    """A wish taken out or made none is no longer part of the order."""
    wishes = document["wishes"]
    if "order" in wishes:
        wishes["order"] = [w for w in wishes["order"] if w in wishes]
