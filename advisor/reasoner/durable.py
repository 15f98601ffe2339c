"""durable-rules as the matcher, kept inside the protocol that makes it trustworthy.

The only module that knows the engine. What is guarded against, in short: timer
threads that walk freed states (no timers), an uninitialised context (marker
fact first), an over-run after a failed last join (padding), dangling pointers
of `id` in joins (copied to `key`), unhandled facts (catch-all), a batch parser
that stops silently (short ascii-safe ids, counts compared), swallowed
exceptions in actions (recorded and re-raised), a 64-entry stack (chunks).
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from advisor.reasoner.program import Compiled, Conclude, Hold

try:
    import durable_rules_engine
    from durable import engine

    AVAILABLE = True
except ImportError:  # no compiler, or a Python the engine was not proved on
    AVAILABLE = False

CHUNK = 50  # rules a ruleset: below 60 patterns of a kind even if all share one test
SESSION = "s"


class EngineError(RuntimeError):
    """The engine did not do what was asked; the session is thrown away and the plain matcher answers."""


def version() -> str:
    """The installed engine, as the report names it."""
    from importlib.metadata import version as installed

    return f"durable-rules {installed('durable_rules')}"


class DurableMatcher:
    """See `program.Matcher`. One set of rulesets a program, built once; one session a run."""

    name = "durable-rules"

    def __init__(self) -> None:
        if not AVAILABLE:
            raise EngineError("durable-rules is not installed")
        self._hosts: dict[int, tuple[tuple[Compiled, ...], _Host]] = {}

    def run(self, program: tuple[Compiled, ...], holds: list[Hold], conclude: Conclude) -> None:
        if not program:
            return
        known = self._hosts.get(id(program))
        if known is None or known[0] is not program:
            known = self._hosts[id(program)] = (program, _Host(program))
        known[1].run(holds, conclude)


class _Host:
    """The rulesets of one program (a stratum), in chunks, and the session of one run."""

    def __init__(self, program: tuple[Compiled, ...]):
        self.fired: list[tuple[Compiled, tuple[str, ...]]] = []
        self.errors: list[BaseException] = []
        self.chunks: dict[str, frozenset[str]] = {}
        rulesets: dict[str, Any] = {}
        for start in range(0, len(program), CHUNK):
            chunk = program[start:start + CHUNK]
            name = f"c{start // CHUNK}"
            self.chunks[name] = frozenset(slot.test for compiled in chunk for slot in compiled.slots)
            rules = {f"r{i}": self._rule(compiled) for i, compiled in enumerate(chunk)}
            rules["open"] = {"all": [{"m0": {"kind": "open"}}], "run": lambda c: None}
            rules["rest"] = {"all": [{"m0": {"$ex": {"kind": 1}}}, {"m1": {"kind": "never sent"}}],
                             "run": lambda c: None}
            rulesets[name] = rules
        self.host = _quiet_host()
        self.host.set_rulesets(rulesets)

    def _rule(self, compiled: Compiled) -> dict[str, Any]:
        """Constants first, joins next, the padding join last; every join on a copied property."""
        where: dict[str, tuple[str, str]] = {}
        patterns = []
        for i, slot in enumerate(compiled.slots):
            joins = []
            for variable, prop in ((slot.of, "e"), (slot.bind, "v")):
                if not variable or variable == "site":
                    continue
                if variable in where:
                    alias, other = where[variable]
                    joins.append({prop: {alias: other}})
                else:
                    where[variable] = (f"m{i}", prop)
            test: dict[str, Any] = {"kind": slot.test}
            if joins:
                test = {"$and": [{"kind": slot.test}, *joins, {"one": {"m0": "one"}}]}
            patterns.append({f"m{i}": test})
        aliases = [f"m{i}" for i in range(len(compiled.slots))]

        def action(c: Any) -> None:
            try:
                self.fired.append((compiled, tuple(c._m[a]["key"] for a in aliases)))
            except BaseException as error:  # the engine would swallow even an interrupt
                self.errors.append(error)

        return {"all": patterns, "run": action}

    def run(self, holds: list[Hold], conclude: Conclude) -> None:
        """Queue and batch: facts in, firings out, what they add goes in again, until nothing is new."""
        short: dict[str, Hold] = {}
        sent: dict[str, int] = defaultdict(int)
        opened: set[str] = set()
        self.fired.clear()
        self.errors.clear()
        try:
            queue = sorted(holds, key=lambda h: (h.test, h.entity, h.bound, h.key))
            while queue:
                named = [(f"h{len(short) + i}", hold) for i, hold in enumerate(queue)]
                short.update(named)
                self._send(named, sent, opened)
                queue = []
                for compiled, keys in self.fired:
                    queue.extend(conclude(compiled, tuple(short[k] for k in keys)))
                self.fired.clear()
            self._guard(sent, opened)
        finally:
            for name in opened:
                self.host.delete_state(name, SESSION)

    def _send(self, named: list[tuple[str, Hold]], sent: dict[str, int], opened: set[str]) -> None:
        for name, tests in self.chunks.items():
            batch = [_fact(short, hold) for short, hold in named if hold.test in tests]
            if not batch:
                continue
            if name not in opened:
                opened.add(name)
                self.host.assert_fact(name, {"sid": SESSION, "id": "open", "kind": "open", "one": "1"})
            sent[name] += len(batch)
            self.host.assert_facts(name, batch)
        if self.errors:
            raise EngineError(f"an action failed: {self.errors[0]!r}")

    def _guard(self, sent: dict[str, int], opened: set[str]) -> None:
        for name in opened:
            state = self.host.get_state(name, SESSION)
            if "exception" in state:
                raise EngineError(f"the engine caught an exception: {state['exception']}")
            held = len(self.host.get_facts(name, SESSION))
            if held != sent[name] + 1:
                raise EngineError(f"{sent[name] + 1} facts were sent to {name}, it holds {held}")

    def close(self) -> None:
        """Free the native rulesets; Python never does."""
        for ruleset in self.host._ruleset_directory.values():
            durable_rules_engine.delete_ruleset(ruleset._handle)


def _fact(short: str, hold: Hold) -> dict[str, str]:
    """Only strings, none of them a number's text; `key` repeats the id, which must not be joined on."""
    return {"sid": SESSION, "id": short, "key": short, "kind": hold.test, "e": "e:" + hold.entity,
            "v": "e:" + hold.bound, "one": "1"}


def _quiet_host() -> Any:
    """A host without timer threads: the stock ones walk states that are already freed."""

    class QuietHost(engine.Host):
        def _run(self) -> None:
            return None

    return QuietHost()
