"""The command line: one module a group; what is heavy is imported by the command that needs it."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from typing import Annotated

import typer

from advisor import __version__
from advisor.cli import advice as advice_commands
from advisor.cli import calc as calc_commands
from advisor.cli import contrast as contrast_commands
from advisor.cli import rules as rules_commands
from advisor.cli import survey as survey_commands
from advisor.cli import water as water_commands

# Facts live as long as a command does, so looking through them for rubbish every few hundred objects finds none: it
# took a sixth of the time.
RARELY = (100_000, 50, 100)

app = typer.Typer(no_args_is_help=True, add_completion=False, pretty_exceptions_enable=False,
                  help="Advice on heating and hot-water layouts for UK homes, with reasons that can be checked.")
app.add_typer(survey_commands.app, name="survey", help="Write, check and complete a survey.")
app.add_typer(rules_commands.app, name="rules", help="Look at the rule base.")
calc_commands.register(app)
advice_commands.register(app)
water_commands.register(app)
contrast_commands.register(app)


def _version(wanted: bool) -> None:
    if wanted:
        from advisor import rulebase

        base = rulebase.load()
        typer.echo(f"advisor {__version__}, rule base of {base.date.isoformat()}, {base.sha}")
        raise typer.Exit


@app.callback()
def _options(version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True,
                                                   help="Program, rule-base date and hash.")] = False) -> None:
    """Options of the program itself."""


def main() -> None:
    """Run a command; a bad file or a failed check is one plain line a fault and exit code 1, never a traceback."""
    gc.set_threshold(*RARELY)
    guard(app)


def guard(run: Callable[[], object]) -> None:
    """Turn the errors a user can cause or meet into lines on standard error."""
    try:
        run()
    except (OSError, RuntimeError) as error:
        _refuse([_plain(error)])
    except ValueError as error:
        faults = getattr(error, "faults", None)
        if faults is None:
            raise
        _refuse(faults)


def _plain(error: Exception) -> str:
    if isinstance(error, OSError) and error.filename:
        return f"{error.filename}: {error.strerror}. Check the path and try again."
    return str(error)


def _refuse(lines: list[str]) -> None:
    for line in lines:
        print(line, file=sys.stderr)
    raise SystemExit(1)


if __name__ == "__main__":
    main()
