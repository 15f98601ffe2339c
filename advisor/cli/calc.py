"""`advisor calc`: one formula on its own, with its working and its source."""

from __future__ import annotations

import json
from typing import Annotated, Any

import typer

from advisor.calc.public import Answer, CalcError, Calculator, answer, calculators, n

USAGE = 2  # exit code of a wrong command line


def register(app: typer.Typer) -> None:
    """Add the command to the program."""
    app.command("calc", help="Work out one formula: advisor calc list, or advisor calc NAME key=value ...")(calc)


def calc(
    name: Annotated[str, typer.Argument(help="a calculator's name, or list")],
    pairs: Annotated[list[str] | None, typer.Argument(metavar="key=value ...", help='such as volume="210 l"')] = None,
    as_json: Annotated[bool, typer.Option("--json", help="print one JSON document")] = False,
) -> None:
    """Print the answer; exit 2 with every fault where the call cannot be understood."""
    try:
        if name == "list":
            if pairs:
                raise CalcError([f"list takes nothing after it; found {' '.join(pairs)}."])
            typer.echo(json.dumps(listing(), ensure_ascii=False, indent=2) if as_json else listing_text())
            return
        if name == "thumbs":
            typer.echo(json.dumps(thumbs_json(), ensure_ascii=False, indent=2) if as_json else thumbs_text())
            return
        texts, faults = split(pairs or [])
        found = _answer(name, texts, faults)
    except CalcError as error:
        for fault in error.faults:
            typer.echo(f"advisor calc {fault}" if not fault.startswith("advisor") else fault, err=True)
        raise typer.Exit(USAGE) from error
    typer.echo(json.dumps(found.as_json(), ensure_ascii=False, indent=2) if as_json else text(found))


def thumbs_json() -> dict[str, Any]:
    """Every rule of thumb with the range in which it is within a tenth of its sum, computed."""
    from advisor.calc.thumbs import load, within

    return {"thumbs": [{"saying": t.saying, "sum": t.exact, "says": t.says, "x": t.x, "unit": t.unit,
                        "within_a_tenth": [[round(a, 3), round(b, 3)] for a, b in within(t)],
                        "tried": list(t.tried), "misleads": t.misleads} for t in load()]}


def thumbs_text() -> str:
    """The same as a list for a terminal."""
    from advisor.calc.thumbs import load, within

    lines = []
    for thumb in load():
        if not thumb.exact:
            lines += [thumb.saying, "    no sum stands behind it", f"    misleads: {thumb.misleads}"]
            continue
        ranges = ", ".join(f"{n(a)} to {n(b)}" for a, b in within(thumb)) or "nowhere"
        lines += [thumb.saying, f"    sum: {thumb.exact}   (x: {thumb.x})",
                  f"    within a tenth for x from {ranges} {thumb.unit}".rstrip(), f"    misleads: {thumb.misleads}"]
    return "\n".join(lines)


def solvers() -> tuple[Calculator, ...]:
    """Calculators that solve rather than sum up; read on first use."""
    from advisor.water.calculator import CALCULATORS

    return CALCULATORS


def _answer(name: str, texts: dict[str, str], faults: list[str]) -> Answer:
    """The answer, or every fault of the pairs and of the keys together."""
    try:
        found = answer(name, texts, solvers())
    except CalcError as error:
        raise CalcError([*(f"{name}: {f}" for f in faults), *error.faults]) from error
    if faults:
        raise CalcError([f"{name}: {f}" for f in faults])
    return found


def split(pairs: list[str]) -> tuple[dict[str, str], list[str]]:
    """key=value words into a table, and what is wrong with them."""
    texts: dict[str, str] = {}
    faults = []
    for pair in pairs:
        key, sign, value = pair.partition("=")
        if not sign or not key.strip():
            faults.append(f'"{pair}" is not key=value. Put quotes round a value with a space: volume="210 l".')
        elif key.strip() in texts:
            faults.append(f"{key.strip()} is given twice. Give it once.")
        else:
            texts[key.strip()] = value
    return texts, faults


def text(found: Answer) -> str:
    """The answer for people: result, working, source."""
    lines = [f"{found.calculator.name}: {found.calculator.title}"]
    lines += [f"  {key} = {value['read']}" for key, value in found.inputs.items()]
    if found.result is None:
        lines += [f"not computed: {found.reason}."]
    else:
        lines += [f"    {line}" for line in found.working]
        lines += [f"{key} = {_shown(value, found.calculator.results[key])}" for key, value in found.result.items()]
    return "\n".join([*lines, f"source: {found.source.cite()}"])


def _shown(value: float | str, unit: str) -> str:
    if isinstance(value, str):
        return value
    return n(value) if unit in ("", "-") else f"{n(value)} {unit}"


def listing() -> dict[str, Any]:
    """Every calculator with its keys and results, for programs."""
    return {"calcs": [{
        "name": c.name, "title": c.title, "source": c.source.as_json(), "results": dict(c.results),
        "keys": [{"key": k.name, "unit": k.unit, "meaning": k.meaning, "words": list(k.words), "default": k.default,
                  "optional": bool(k.default or k.optional or k.name in c.one_of)} for k in c.keys],
        "one_of": list(c.one_of),
    } for c in (*calculators().values(), *solvers())]}


def listing_text() -> str:
    """Every calculator with its keys and results, for people."""
    lines: list[str] = []
    for c in sorted((*calculators().values(), *solvers()), key=lambda c: "." in c.name):
        if "." in c.name and "." not in lines[-3].partition(":")[0]:
            lines += ["", "The formulas of the reports, by the names their traces print:", ""]
        keys = " ".join(k.wanted() for k in c.keys)
        results = ", ".join(f"{k} ({u})" for k, u in c.results.items())
        only_one = f" (exactly one of {', '.join(c.one_of)})" if c.one_of else ""
        lines += [f"{c.name}: {c.title}", f"    {keys}{only_one}", f"    gives {results}"]
    return "\n".join(lines)
