"""A firm's folder over the rule base: it may add, switch off and tune, and every report says so."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor import certificate, paths, rulebase, verifier
from advisor.advise import advise, load_and_advise
from advisor.cli.app import app
from advisor.report.claims import Para, sentences
from advisor.report.letter import letter
from advisor.report.lint import lint as report_lint
from advisor.report.technical import technical
from advisor.report.terminal import summary
from advisor.rulebase import RulebaseError
from advisor.survey import read
from tests import homes

HOUSES = paths.SHARED / "houses"
TERRACE = paths.SURVEYS / "terrace_two_showers.toml"


def with_house(name: str, survey: Path = TERRACE):
    return load_and_advise(str(survey), "plain", str(HOUSES / name))


def house(folder: Path, text: str) -> rulebase.Rulebase:
    (folder / "house.toml").write_text(text, encoding="utf-8")
    return rulebase.load_from(paths.RULES, paths.SHARED / "remedies.toml", house=folder)


def test_a_firm_that_fits_no_pumped_discharge_rules_those_layouts_out_and_nothing_else() -> None:
    plain, firm = homes.advice("terrace_two_showers"), with_house("no_pumped_discharges")
    before, after = homes.verdicts(plain), homes.verdicts(firm)
    pumped = {j.id for j in firm.judged if j.arrangement.family == "boiler-unvented-pumped-discharge"}
    assert pumped and {after[a] for a in pumped} == {"ruled_out"}
    assert all("we-fit-no-pumped-discharge" in {f.rule for f in firm[a].findings} for a in pumped)
    # its other change, 150 mm round a cylinder for 100 mm, may only turn what fitted into what needs room made
    for a in set(before) - pumped:
        assert before[a] == after[a] or "cylinder-place-is-tight" in {f.rule for f in firm[a].findings}, a


def test_its_own_figure_reaches_the_margin() -> None:
    """The same cylinder in the same place has 50 mm less to spare where its sides decide."""
    plain, firm = homes.advice("terrace_two_showers"), with_house("no_pumped_discharges")
    moved = [plain.fact("fit.space_margin_mm", j.id).value.lo - firm.fact("fit.space_margin_mm", j.id).value.lo
             for j in plain.judged if plain.fact("fit.space_margin_mm", j.id)]
    assert moved and max(moved) == pytest.approx(50) and min(moved) >= 0


def test_a_firm_that_shuns_lofts_puts_no_cylinder_there(tmp_path: Path) -> None:
    text = TERRACE.read_text(encoding="utf-8") + (
        '\n[places.roof]\nkind = "loft"\nwidth = "2 m"\ndepth = "2 m"\nheight = "2 m"\ndoor = "800 mm"\n'
        'floor = "timber joists"\nbearing = "by a bearing wall"\nfrost = "no"\ndischarge_end = "low level outside"\n'
        'discharge_length = "3 m"\ndischarge_elbows = 2\ndischarge_falls = "yes"\n')
    survey = tmp_path / "loft.toml"
    survey.write_text(text, encoding="utf-8")
    plain, firm = load_and_advise(str(survey), "plain"), with_house("no_loft_cylinders", survey)
    in_roof = [j.id for j in plain.judged if j.arrangement.place == "roof"]
    assert any(plain[a].verdict != "ruled_out" for a in in_roof)
    assert {firm[a].verdict for a in in_roof} == {"ruled_out"}


def test_a_rule_switched_off_says_nothing_and_the_reports_say_why() -> None:
    off = "hard-water-scale-reducer"
    survey = read(TERRACE, homes.base().survey_entries()).with_changes({"water.hardness": "350 mg/l"})
    plain = homes.quick(survey)
    firm = advise(survey, rulebase.load(str(HOUSES / "no_loft_cylinders")), "plain")
    assert any(f.rule == off for j in plain.judged for f in j.findings)
    assert not any(f.rule.startswith(off) for j in firm.judged for f in j.findings)
    report = technical(firm)
    assert not report_lint(report, firm)
    assert "switched off: hard-water-scale-reducer" in " ".join(summary(firm).split()).replace("- ", "-")
    assert "the water here is soft" in " ".join(summary(firm).split())


def test_advice_under_a_house_is_checked_like_any_other() -> None:
    document = json.loads(json.dumps(certificate.certificate(with_house("no_pumped_discharges"))))
    assert not verifier.verify(document, None).refusals
    assert document["advisor"]["rulebase"] != homes.base().sha


FAULTS = [
    ('colour = "red"\n', "house.toml: unknown keys ['colour']. Allowed: firm, off, price, rule, size, threshold."),
    ('[[rule]]\nid = "x"\ntitle = "We like it"\nwhen = [{ fact = "arrangement.store", of = "$a", is = "none" }]\n'
     'effect = "rules_out"\n', "Begin it with \"This firm\""),
    ('[[rule]]\nid = "x"\ntitle = "This firm likes it"\nwhen = [{ fact = "arrangement.stor", of = "$a", is = "none" }]\n'
     'effect = "rules_out"\n', "house.toml: rule 'x': reads arrangement.stor, which the vocabulary does not know."),
    ('[[rule]]\nid = "lead-service-pipe"\ntitle = "This firm likes it"\n'
     'when = [{ fact = "arrangement.store", of = "$a", is = "none" }]\neffect = "rules_out"\n', "Choose another."),
    ('[[off]]\nrule = "lead-service-pipe"\nreason = "no"\n', "it guards against harm"),
    ('[[off]]\nrule = "unvented-no-safe-discharge"\nreason = "no"\n', "it guards against harm"),
    ('[[off]]\nrule = "boiler-below-heat-loss"\nreason = "no"\n', "or a sum forbids it"),
    ('[[off]]\nrule = "hard-water-scale-reducer"\n', "Write rule and reason, both in quotes."),
    ('[[off]]\nrule = "nosuch"\nreason = "no"\n', "no such rule"),
    ('[[threshold]]\nid = "store_c"\nvalue = 50\nreason = "cheaper"\n', "the figure is published"),
    ('[[threshold]]\nid = "door_play_mm"\nvalue = "5"\nreason = "x"\n', "Give one number."),
    ('[[size]]\nlike = "store.unvented-175"\nlitres = 170\n', "no such size. Allowed: store.unvented-150"),
    ('[[size]]\nlike = "controls.none"\nlitres = 170\n', "no such size. Allowed: store.unvented-150"),
    ('[[size]]\nlike = "source.combination-24"\npower_kw = 28\n', "all wanted: like, power_kw, heating_kw, lowest_kw."),
    ('[[size]]\nlike = "source.combination-24"\npower_kw = 30\nheating_kw = 24\nlowest_kw = 4\n',
     "source.combination-30 is there already."),
    ('[[size]]\nlike = "source.combination-24"\npower_kw = 90\nheating_kw = 24\nlowest_kw = 4\n',
     "power_kw is 90. Allowed: a number above 0, 70 at most."),
    ('[[price]]\nlayout = "combi"\nfrom = 1\nto = 2\n', "no layout of this kind and size. Allowed: back-boiler-out"),
    ('[[price]]\nlayout = "combination-boiler"\npower_kw = 31\nfrom = 1\nto = 2\n', "no layout of this kind and size."),
    ('[[price]]\nlayout = "combination-boiler"\nfrom = 3\nto = 2\n', "from 3 is above to 2."),
    ('[[price]]\nlayout = "combination-boiler"\nfrom = "3"\nto = 4\n', "from and to are pounds."),
    ('[[price]]\nlayout = "keep-what-is-there"\nfrom = 3\nto = 4\n[[price]]\nlayout = "keep-what-is-there"\nfrom = 3\nto = 5\n',
     "it is priced twice."),
    ("[[off]\n", "cannot be read"),
]


@pytest.mark.parametrize("text, said", FAULTS)
def test_what_a_firm_may_not_do_is_refused_with_its_place(text: str, said: str, tmp_path: Path) -> None:
    with pytest.raises(RulebaseError) as refusal:
        house(tmp_path, text)
    assert any(said in fault for fault in refusal.value.faults), refusal.value.faults


def test_all_faults_at_once(tmp_path: Path) -> None:
    with pytest.raises(RulebaseError) as refusal:
        house(tmp_path, "".join(text for text, _ in FAULTS[:-1]))
    assert len(refusal.value.faults) >= len(FAULTS) - 1


# ---------------------------------------------------------------- sizes and prices
OWN = "own_sizes_and_prices"


def test_a_firms_own_sizes_are_offered_beside_the_standard_ones_and_measured_by_their_own_figures() -> None:
    plain, firm = homes.advice("terrace_two_showers"), with_house(OWN)
    new = {j.id for j in firm.judged} - {j.id for j in plain.judged}
    assert {j.id for j in plain.judged} <= {j.id for j in firm.judged}
    assert "combination-boiler:28kw" in new and any("170l" in i for i in new)
    small = next(i for i in new if "170l" in i and i.startswith("boiler-unvented-cylinder:scullery"))
    # by hand: 170 l of water and 44 kg empty
    assert firm.fact("store.full_mass_kg", small).value.lo == pytest.approx(214, abs=0.5)
    # by hand: 60 x 28 / (4.187 x 35) = 11.46 l/min
    assert firm.fact("source.hot_flow_l_min", "combination-28").value.lo == pytest.approx(11.46, abs=0.01)


def test_its_price_stands_beside_the_layout_and_is_called_its_own() -> None:
    firm = with_house(OWN)
    for document in (letter(firm), technical(firm)):
        assert not report_lint(document, firm)
    said = [s.text for s in sentences(letter(firm))]
    assert firm.recommended == "boiler-unvented-cylinder:scullery-170l-18kw"
    assert "This firm's price for it: 4,900 to 5,800 pounds." in said  # the narrower of its two prices for this layout
    cells = [s.text for s in sentences(technical(firm))]
    assert "4,900 to 5,800 pounds" in cells and "this firm's price" in cells


def test_without_prices_nothing_is_said_of_them() -> None:
    for advice in (homes.advice("terrace_two_showers"), with_house("no_loft_cylinders")):
        texts = " ".join(s.text for d in (letter(advice), technical(advice)) for s in sentences(d))
        assert "this firm's price" not in texts.lower()


def test_a_price_that_was_changed_afterwards_is_refused() -> None:
    firm = with_house(OWN)
    document = letter(firm)
    blocks = tuple(replace(b, sentences=tuple(_nudged(s) for s in b.sentences)) if isinstance(b, Para) else b
                   for b in document.blocks)
    assert any("is not what text:price:" in fault for fault in report_lint(replace(document, blocks=blocks), firm))


def _nudged(sentence):
    if "4,900" not in sentence.text:
        return sentence
    return replace(sentence, text=sentence.text.replace("4,900", "3,900"),
                   quantities=tuple((t.replace("4,900", "3,900"), k) for t, k in sentence.quantities))


def test_advice_on_a_firms_own_sizes_is_checked_like_any_other() -> None:
    document = json.loads(json.dumps(certificate.certificate(with_house(OWN))))
    assert not verifier.verify(document, None).refusals


JUDGING = [
    ["recommend"], ["why", "combination-boiler"], ["whatif", "water.flow=14 l/min"], ["trace", "f1"], ["ask"], ["flips"],
    ["rather", "combination-boiler", "boiler-unvented-cylinder"], ["unlock", "combination-boiler"], ["busy-hour"],
]


def test_every_command_that_judges_takes_a_house() -> None:
    """The help of each names the option; `rival` reads a quote too."""
    runner = CliRunner()
    for name in [*(c[0] for c in JUDGING), "rival", "demo", "verify"]:
        assert "--house" in runner.invoke(app, [name, "--help"], terminal_width=200).output, name
    for name in ("list", "show", "lint", "coverage", "changes"):
        assert "--house" in runner.invoke(app, ["rules", name, "--help"], terminal_width=200).output, name


@pytest.mark.parametrize("command", [c for c in JUDGING if c[0] not in ("ask", "flips")], ids=lambda c: c[0])
def test_a_command_judges_by_the_firms_rules(command: list[str], tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text("firm = 3\n[[nonsense]]\n", encoding="utf-8")
    argv = [command[0], str(TERRACE), *command[1:], "--house"]
    assert CliRunner().invoke(app, [*argv, str(HOUSES / OWN)]).exit_code == 0
    assert isinstance(CliRunner().invoke(app, [*argv, str(tmp_path)]).exception, RulebaseError)
