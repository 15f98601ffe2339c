"""The commands as an installer runs them: output, exit codes, errors on one line, no traceback."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from advisor import paths
from tests import homes

DEMO = str(paths.SURVEYS / f"{homes.DEMO}.toml")
EMPTY = str(paths.SURVEYS / f"{homes.EMPTY}.toml")


def advisor(*arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "advisor.cli.app", *arguments], capture_output=True, text=True,
                          cwd=cwd, timeout=120)


def test_recommend_says_what_and_why_at_80_columns() -> None:
    done = advisor("recommend", DEMO)
    assert done.returncode == 0 and done.stderr.count("Traceback") == 0
    for heading in ("RECOMMENDED", "RUNNER-UP", "EVERY OTHER KIND OF LAYOUT", "TO CONFIRM BEFORE QUOTING", "CAUTIONS"):
        assert heading in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "Checked: yes" in done.stdout


def test_recommend_writes_nothing_without_out(tmp_path: Path) -> None:
    advisor("recommend", DEMO, cwd=tmp_path)
    assert not list(tmp_path.iterdir())


def test_recommend_json_is_one_document_with_the_contract_names() -> None:
    document = json.loads(advisor("recommend", DEMO, "--json").stdout)
    assert {"run", "advisor", "survey", "recommended", "if_typical", "arrangements", "comparison", "questions", "facts",
            "formulas", "rules", "needs", "slots", "absences", "thresholds", "derivation", "seal"} <= document.keys()
    first = document["arrangements"][0]
    assert {"id", "family", "title", "verdict", "possible_verdicts", "rank", "parts", "links", "works", "requires",
            "checks", "findings"} <= first.keys()
    assert first["id"] == document["recommended"] and first["rank"] == 1


def test_private_lines_stay_private() -> None:
    text = advisor("recommend", DEMO, "--json").stdout
    for secret in homes.survey(homes.DEMO).private.values():
        assert secret not in text


def test_nothing_known_is_an_answer() -> None:
    done = advisor("recommend", EMPTY)
    assert done.returncode == 0
    assert "Nothing can be recommended yet" in done.stdout and "an example, not a verdict" in done.stdout


def test_verify_passes_and_a_changed_figure_is_refused(tmp_path: Path) -> None:
    assert advisor("recommend", DEMO, "--out", str(tmp_path)).returncode == 0
    assert {p.name for p in tmp_path.iterdir() if p.suffix != ".svg"} == {"letter.md", "letter.html", "technical.md",
                                                                          "technical.html", "advice.json"}
    path = tmp_path / "advice.json"
    done = advisor("verify", str(path), "--replay")
    assert done.returncode == 0, done.stderr
    assert "Passed" in done.stdout
    document = json.loads(path.read_text(encoding="utf-8"))
    document["recommended"] = document["arrangements"][1]["id"]
    path.write_text(json.dumps(document), encoding="utf-8")
    done = advisor("verify", str(path))
    assert done.returncode == 1 and "seal" in done.stderr


def test_why_not_names_every_independent_reason() -> None:
    done = advisor("why", DEMO, "combination-boiler", "--json")
    answer = json.loads(done.stdout)
    assert answer["verdict"] == "ruled_out" and answer["reasons"]
    for reason in answer["reasons"]:
        assert reason["facts"] and reason["text"]


def test_why_of_an_unknown_arrangement_says_what_there_is() -> None:
    done = advisor("why", DEMO, "steam-engine")
    assert done.returncode == 1 and "combination-boiler" in done.stderr and "Traceback" not in done.stderr


def test_whatif_changes_the_advice_for_a_reason() -> None:
    document = json.loads(advisor("whatif", DEMO, "wishes.outlets_at_once=none", "--json").stdout)
    assert document["changed"] and all(c["because"] for c in document["changed"])
    assert {c["from"] for c in document["changed"]} >= {"ruled_out"}


def test_whatif_with_a_wrong_field_names_the_nearest() -> None:
    done = advisor("whatif", DEMO, "water.flwo=20 l/min")
    assert done.returncode == 1 and "water.flow" in done.stderr


def test_trace_walks_a_figure_back_to_the_survey() -> None:
    done = advisor("trace", DEMO, "supply.flow_at_useful_l_min")
    assert done.returncode == 0
    assert "supply_flow_at" in done.stdout and "25 l/min" in done.stdout and "water.static_pressure" in done.stdout


def test_rules_list_json_and_show() -> None:
    rules = json.loads(advisor("rules", "list", "--json").stdout)["rules"]
    assert len(rules) >= 25 and {"id", "title", "stratum", "effect", "where", "source", "added"} <= rules[0].keys()
    done = advisor("rules", "show", rules[0]["id"])
    assert done.returncode == 0 and "Source:" in done.stdout and "Finding:" in done.stdout


def test_rules_lint_is_clean() -> None:
    done = advisor("rules", "lint")
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("arguments", [["recommend"], ["nonsense"], ["whatif", DEMO, "no-equals-sign"],
                                       ["recommend", DEMO, "--engine", "steam"]])
def test_wrong_command_lines_exit_2(arguments: list[str]) -> None:
    done = advisor(*arguments)
    assert done.returncode == 2 and "Traceback" not in done.stderr


def test_a_missing_file_is_one_line() -> None:
    done = advisor("recommend", "no-such-file.toml")
    assert done.returncode == 1 and "Traceback" not in done.stderr and len(done.stderr.splitlines()) == 1


def test_version_names_program_and_rule_base() -> None:
    assert "rule base of" in advisor("--version").stdout


def test_demo_writes_where_it_is_told(tmp_path: Path) -> None:
    done = advisor("demo", "--out", str(tmp_path / "a b"))
    assert done.returncode == 0 and (tmp_path / "a b" / "letter.html").exists()


def test_a_choice_needs_its_reason_and_is_marked_as_opinion() -> None:
    done = advisor("recommend", DEMO, "--choose", "combination-boiler")
    assert done.returncode == 2 and "reason" in done.stderr
    done = advisor("recommend", DEMO, "--choose", "combination-boiler", "--reason", "the owner insists", "--json")
    choice = json.loads(done.stdout)["choice"]
    assert choice["standing"] == "opinion" and choice["reason"] == "the owner insists"


def test_the_questions_answer_in_the_agreed_json() -> None:
    found = json.loads(advisor("rather", DEMO, "boiler-unvented-cylinder", "combination-boiler", "--json").stdout)
    assert {"first", "second", "differs", "second_is_better_on"} <= found.keys()
    found = json.loads(advisor("unlock", DEMO, "combination-boiler", "--json").stdout)
    assert {"arrangement", "possible", "searched", "changes", "impossible_because"} <= found.keys()
    edit = found["changes"][0]["set"][0]
    assert advisor("whatif", DEMO, f"{edit['field']}={edit['to']}", "--json").returncode == 0
    found = json.loads(advisor("ask", DEMO, "--json").stdout)
    assert {"settled", "certain_already", "ask", "need_not_ask"} <= found.keys()
