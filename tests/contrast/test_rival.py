"""The rival's quote: one we beat, one that beats us, one level but for a point; conditions that make the engine choose it."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import paths
from advisor.contrast import quick, quotes
from advisor.contrast.quotes import QuoteError
from advisor.contrast.rival import Reply, reply
from advisor.contrast.whatif import whatif
from advisor.records import Advice
from advisor.report.claims import claims
from advisor.report.lint import lint
from advisor.report.rivalry import rival_document, rival_json
from tests import homes

QUOTES = {"terrace_combination_boiler": homes.DEMO, "estate_combination_boiler": "estate_microbore",
          "large_house_mains_fed": "large_family_house"}


def quoted(tmp_path: Path, advice: Advice, text: str) -> quotes.Quote:
    path = tmp_path / "quote.toml"
    path.write_text(text, encoding="utf-8")
    return quotes.read(path, advice)


@pytest.fixture(scope="module")
def replies() -> dict[str, tuple[Advice, quotes.Quote, Reply]]:
    found = {}
    for name, survey in QUOTES.items():
        advice = homes.advice(survey)
        quote = quotes.read(paths.SURVEYS.parent / "quotes" / f"{name}.toml", advice)
        found[name] = (advice, quote, reply(advice, quote))
    return found


def test_the_three_endings(replies: dict[str, tuple[Advice, quotes.Quote, Reply]]) -> None:
    beaten, beats, level = (replies[n][2] for n in QUOTES)
    assert not beaten.concede and {"outlets_at_once", "lasts_busy_hour"} <= set(beaten.gives_up)
    assert "low_price" in beaten.better_on
    assert beats.concede and not beats.gives_up and not beats.left_out
    assert not level.concede and level.gives_up == ("low_running_cost",) and not level.better_on


def test_the_conditions_make_the_engine_choose_the_rivals_layout(
        replies: dict[str, tuple[Advice, quotes.Quote, Reply]]) -> None:
    tried = 0
    for advice, _, answer in replies.values():
        if answer.right_if:
            tried += 1
            after, _ = whatif(advice, answer.right_if, "plain")
            assert after[after.recommended].arrangement.family == advice[answer.rival].arrangement.family
    assert tried == 2


def test_the_replies_hold_and_share_no_sentence_but_the_cautions(
        replies: dict[str, tuple[Advice, quotes.Quote, Reply]]) -> None:
    said: list[set[str]] = []
    for advice, quote, answer in replies.values():
        document = rival_document(advice, answer)
        assert lint(document, advice) == []
        text = " ".join(c.text for c in claims(document)).lower()
        assert not {"illegal", "unlawful", "cowboy", "wrong", "poor"} & set(text.replace(".", " ").split())
        said.append({c.text for c in claims(document)})
        found = rival_json(advice, quote, answer)
        assert {"rival", "verdict", "better_on", "gives_up", "right_if", "left_out", "questions", "concede"} <= found.keys()
    assert not said[0] & said[1] and not said[0] & said[2] and not said[1] & said[2]


def test_every_layout_at_least_as_good_on_everything_is_conceded(tmp_path: Path) -> None:
    """Their layout is ours whenever the home's own recommendation is quoted back, in any of the demos."""
    for name in homes.SURVEYS:
        advice = homes.advice(name)
        if advice.recommended:
            quote = quoted(tmp_path, advice, f'quote_format = 1\narrangement = "{advice.recommended}"\n')
            assert reply(advice, quote).concede, name


def test_units_do_not_matter(tmp_path: Path, replies: dict[str, tuple[Advice, quotes.Quote, Reply]]) -> None:
    advice, quote, answer = replies["terrace_combination_boiler"]
    same = quoted(tmp_path, advice, 'quote_format = 1\narrangement = "combination-boiler"\nboiler_power = "30000 W"\n'
                  'price = "2650"\nincluded = ["filter", "notification", "relief route", "making good"]\n')
    assert rival_json(advice, same, reply(advice, same)) == rival_json(advice, quote, answer)


def test_conditions_for_other_layouts_that_are_ruled_out(tmp_path: Path) -> None:
    advice = homes.advice("semi_weak_mains")
    quote = quoted(tmp_path, advice, 'quote_format = 1\narrangement = "combination-boiler"\n')
    answer = reply(advice, quote)
    if answer.right_if:
        first = quick.recommended(advice.survey.with_changes(answer.right_if), advice.rulebase)
        assert advice[first].arrangement.family == "combination-boiler"
    assert answer.found == bool(answer.right_if)


@pytest.mark.parametrize(("text", "words"), [
    ("not toml [", ["no TOML file"]),
    ('quote_format = 2\narrangement = "combination-boiler"\n', ["quote_format", "must be 1"]),
    ('quote_format = 1\narrangement = "combination-boilr"\n', ["Did you mean combination-boiler"]),
    ('quote_format = 1\narrangement = "combination-boiler"\nboiler_power = "31 kW"\n', ["no combination-boiler of these sizes"]),
    ('quote_format = 1\narrangement = "combination-boiler"\nboiler_power = 30\nincludes = []\nprice = "cheap"\n'
     'included = ["filtre"]\n', ["boiler_power", "includes", "Did you mean included", "price", 'Did you mean "filter"']),
    ("quote_format = 1\n", ["arrangement"]),
])
def test_a_broken_quote_shows_all_its_faults_at_once(tmp_path: Path, text: str, words: list[str]) -> None:
    with pytest.raises(QuoteError) as caught:
        quoted(tmp_path, homes.advice(homes.DEMO), text)
    message = "\n".join(caught.value.faults)
    assert all(w in message for w in words), message
    assert all(f.startswith("quote.toml: ") for f in caught.value.faults)


def texts(advice: Advice, quote_text: str, tmp_path: Path) -> list[str]:
    answer = reply(advice, quoted(tmp_path, advice, quote_text))
    return [c.text for c in claims(rival_document(advice, answer))]


def rewritten(tmp_path: Path, name: str, *changes: tuple[str, str], more: str = "") -> Advice:
    text = (paths.SURVEYS / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return homes.quick(homes.written(tmp_path, text + more))


TERRACE = 'quote_format = 1\narrangement = "combination-boiler"\nboiler_power = "30 kW"\nincluded = ["filter"]\n'
# the same readings: 1 bar is 100 kPa, 60 l/min is 1 l/s, 1 m is 1000 mm
UNITS = (('"3.4 bar"', '"340 kPa"'), ('"1.4 bar"', '"140 kPa"'), ('"25 l/min"', '"0.41666666666667 l/s"'),
         ('"1100 mm"', '"1.1 m"'), ('"0.9 bar"', '"90 kPa"'))
TWIN = """
[places.zz_twin]
kind = "room"
width = "1100 mm"
depth = "900 mm"
height = "2350 mm"
door = "740 mm"
floor = "concrete"
frost = "no"
discharge_end = "low level outside"
discharge_length = "4 m"
discharge_elbows = 3
discharge_falls = "yes"
"""
WORSE = TWIN.replace('"1100 mm"', '"450 mm"').replace("zz_twin", "zz_small")


def test_units_of_the_survey_a_twin_place_and_a_worse_place_change_no_text(tmp_path: Path) -> None:
    """The same home in other units, with a second scullery, with a cupboard nothing fits in: the same reply."""
    plain = texts(rewritten(tmp_path, homes.DEMO), TERRACE, tmp_path)
    assert texts(rewritten(tmp_path, homes.DEMO, *UNITS), TERRACE, tmp_path) == plain
    assert texts(rewritten(tmp_path, homes.DEMO, more=TWIN), TERRACE, tmp_path) == plain
    assert texts(rewritten(tmp_path, homes.DEMO, more=WORSE), TERRACE, tmp_path) == plain


def test_what_a_quote_may_leave_out_is_asked_in_full(tmp_path: Path) -> None:
    """An empty quote for a mains-fed cylinder on a gas boiler is asked all nine things, one each."""
    advice = homes.advice("large_family_house")
    answer = reply(advice, quoted(tmp_path, advice, 'quote_format = 1\narrangement = "boiler-unvented-cylinder"\n'))
    assert {i.word for i in answer.left_out} == {
        "gas pipe", "relief route", "insulation and controls", "cleaning", "filter", "notification", "cut-out valve",
        "cold main", "making good"}
    combi = reply(advice, quoted(tmp_path, advice, 'quote_format = 1\narrangement = "combination-boiler"\n'))
    assert {i.word for i in answer.left_out} - {i.word for i in combi.left_out} == {"cut-out valve", "cold main"}


def conditions_hold(advice: Advice, family: str, tmp_path: Path) -> bool | None:
    """A quote made up for one kind of layout: whether its conditions make the engine choose it; None if it has none."""
    answer = reply(advice, quoted(tmp_path, advice, f'quote_format = 1\narrangement = "{family}"\n'))
    if not answer.right_if:
        return None
    first = quick.recommended(advice.survey.with_changes(answer.right_if), advice.rulebase)
    return first is not None and advice[first].arrangement.family == family


@pytest.mark.parametrize("name", [n for n in homes.SURVEYS if n != homes.EMPTY])
def test_the_conditions_of_generated_quotes_make_the_engine_choose_them(name: str, tmp_path: Path) -> None:
    advice = homes.advice(name)
    found = [conditions_hold(advice, j.arrangement.family, tmp_path) for j in advice.families()]
    assert found.count(True) >= 2 and False not in found
