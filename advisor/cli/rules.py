"""`advisor rules list|show|lint|fates|coverage|impact|changes`: the rule base as a reader meets it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(no_args_is_help=True)
House = Annotated[Path | None, typer.Option("--house", metavar="DIR", help="A firm's folder, laid over ours.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]


@app.command(name="list")
def list_rules(as_json: AsJson = False, house: House = None) -> None:
    """Every rule, by stratum."""
    from advisor import rulebase
    from advisor.rulebase.model import STRATA

    rules = [r for r in rulebase.load(str(house) if house else None).rules.values() if not r.twin_of]
    rules.sort(key=lambda r: (STRATA.index(r.stratum), r.subject, r.id))
    if as_json:
        print(json.dumps({"rules": [
            {"id": r.id, "title": r.title, "stratum": r.stratum, "effect": r.effect, "where": list(r.where),
             "source": r.source.as_json(), "added": r.added.isoformat() if r.added else None} for r in rules]},
            ensure_ascii=False, indent=1))
        return
    stratum = ""
    for rule in rules:
        if rule.stratum != stratum:
            stratum = rule.stratum
            typer.echo(f"\n{stratum}")
        typer.echo(f"  {rule.id}: {rule.title} ({rule.effect})")


@app.command()
def show(rule_id: Annotated[str, typer.Argument(metavar="ID")], house: House = None) -> None:
    """One rule in words: when, what follows, its source, its chapter."""
    from advisor import rulebase
    from advisor.cli.advice import Refusal
    from advisor.upkeep.reading import rule_text

    base = rulebase.load(str(house) if house else None)
    if rule_id not in base.rules:
        import difflib

        near = difflib.get_close_matches(rule_id, base.rules, n=3)
        raise Refusal(f"{rule_id}: no such rule. "
                      + (f"Near: {', '.join(near)}." if near else "See `advisor rules list`."))
    typer.echo(rule_text(base, base.rules[rule_id]), nl=False)


@app.command()
def lint(house: House = None) -> None:
    """Check the whole rule base: schema, names, sources, chapters and every rule's own examples."""
    from advisor import rulebase
    from advisor.upkeep.linting import faults

    base = rulebase.load(str(house) if house else None)
    found = faults(base)
    for line in found:
        typer.echo(line)
    if found:
        raise SystemExit(1)
    written = sum(not r.twin_of for r in base.rules.values())
    typer.echo(f"{written} rules, {len(base.thresholds)} thresholds, {len(base.vocabulary)} names: no faults.")


@app.command()
def fates(write: Annotated[bool, typer.Option("--write", help="Write the page in explanations/ anew.")] = False
          ) -> None:
    """What has become of every fact of the trade: the rule, work or sum that holds it, or why it was dropped."""
    from advisor import paths
    from advisor.files import write_whole
    from advisor.upkeep import fates as table

    if not write:
        typer.echo(table.page(), nl=False)
        return
    write_whole(paths.EXPLANATIONS / table.PAGE, table.page())
    typer.echo(f"Written to {paths.EXPLANATIONS / table.PAGE}.")


@app.command()
def coverage(homes: Annotated[int, typer.Option("--homes", min=1, max=5000, help="How many invented homes.")] = 100,
             house: House = None) -> None:
    """Which rules speak, certainly or possibly, over invented homes; the silent ones first."""
    from advisor import rulebase
    from advisor.upkeep.coverage import cover

    base = rulebase.load(str(house) if house else None)
    for line in cover(base, homes).lines(base):
        typer.echo(line)


@app.command()
def impact(old: Annotated[Path, typer.Argument(metavar="OLD", help="A folder of rules.")],
           new: Annotated[Path, typer.Argument(metavar="NEW", help="The folder it is held against.")],
           surveys: Annotated[list[Path] | None, typer.Argument(metavar="[SURVEY ...]", help="Else the demo homes.")]
           = None) -> None:
    """What changes between two folders of rules: layouts whose verdict differs, and the rules to blame."""
    from advisor import paths
    from advisor.upkeep.coverage import impact as compare

    wrong = [str(f) for f in (old, new) if not (f / "thresholds.toml").is_file()]
    if wrong:
        raise typer.BadParameter(f"{', '.join(wrong)}: no folder of rules. Give a copy of rules/.")
    changes = list(compare(old, new, surveys or sorted(paths.SURVEYS.glob("*.toml"))))
    for change in changes:
        typer.echo(change.line())
    typer.echo(f"{len(changes)} changes.")


@app.command()
def changes(day: Annotated[str, typer.Argument(metavar="SINCE", help="A date such as 2026-11-25.")],
            house: House = None) -> None:
    """Rules added or changed since a day, and limits that come into force from it on."""
    from datetime import date

    from advisor import rulebase
    from advisor.upkeep.coverage import since

    try:
        first = date.fromisoformat(day)
    except ValueError:
        raise typer.BadParameter(f"{day!r} is no date. Write it as 2026-11-25.") from None
    lines = sorted(since(rulebase.load(str(house) if house else None), first))
    for line in lines:
        typer.echo(line)
    typer.echo(f"{len(lines)} since {day}.")
