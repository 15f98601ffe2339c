"""What costs more to run is said in figures, by reason or by custom, and never against the sum of a year."""

from __future__ import annotations

from advisor.contrast.rather import rather
from advisor.facts import ANYTHING
from advisor.report import letter_parts, picks
from advisor.report.claims import sentences
from advisor.report.contrasting import rather_document
from advisor.report.lint import lint
from advisor.report.say import Teller
from tests import corpus, homes

COST = "year.cost_pounds"


def layout(advice, family: str):
    return next(j for j in advice.families() if j.arrangement.family == family)


def clause(advice, one: str, other: str) -> str | None:
    found = letter_parts.criterion_clause(Teller(advice), "low_running_cost", layout(advice, one), layout(advice, other))
    return None if found is None else found.text.replace("\u00a0", " ")


def test_bands_apart_are_said_in_figures() -> None:
    """The cottage, two people: 1,351 kWh drawn. Electric 150 l: (1,351 + 491) x 26.11 p x 0.8 = 385 pounds at least; heat
    pump 210 l: (1,351 + 765 + 274) / 2.6 x 26.11 p x 1.2 = 288 pounds at most."""
    advice = homes.advice("cottage_no_gas")
    said = clause(advice, "direct-electric-cylinder", "heat-pump-unvented-cylinder")
    assert said == ("Hot water costs more than with a heat pump with a mains-fed cylinder: 385 to 639 pounds a year, against "
                    "151 to 288 pounds.")


def test_equal_points_are_said_by_the_reason_that_tells_them_apart() -> None:
    said = clause(homes.advice(homes.DEMO), "combination-boiler", "boiler-unvented-cylinder")
    assert said == "It may cost more to run than a mains-fed cylinder: a boiler that cycles burns more gas."


def test_overlapping_bands_are_called_so() -> None:
    """The terrace: 196 to 318 pounds with the cylinder, 183 to 277 with the combination boiler: nothing to choose by."""
    advice = homes.advice(homes.DEMO)
    document = rather_document(advice, rather(advice, "boiler-unvented-cylinder:scullery-180l-18kw", "combination-boiler:30kw"))
    said = [s.text.replace("\u00a0", " ") for s in sentences(document)]
    assert "The two bands overlap: there is nothing to choose by in them." in said
    assert any(t.startswith("A year of hot water: a mains-fed cylinder, 196 to 318 pounds; a combination boiler") for t in said)
    assert lint(document, advice) == []


def test_no_sentence_goes_against_the_sum_of_a_year() -> None:
    """Invented homes: where a sentence says one costs less or more, no band of a year's hot water says the opposite."""
    in_figures = other_words = 0
    for seed in range(4100, 4112):
        advice = homes.quick(corpus.survey(seed))
        first, teller = advice.families()[0], Teller(advice)
        for other in advice.families()[1:]:
            found = letter_parts.criterion_clause(teller, "low_running_cost", other, first)
            theirs, ours = (f.value if (f := advice.fact(COST, j.id)) is not None else ANYTHING for j in (other, first))
            if found is None or ANYTHING in (theirs, ours):
                continue
            better = picks.worst(other, "low_running_cost") < picks.worst(first, "low_running_cost")
            assert theirs.lo <= ours.hi if better else theirs.hi >= ours.lo, found.text
            if "pounds" in found.text:
                in_figures += 1
                assert theirs.hi < ours.lo if better else theirs.lo > ours.hi
            else:
                other_words += 1
    assert in_figures > 5 and other_words > 5, (in_figures, other_words)


def test_no_sentence_on_works_or_price_goes_against_the_points() -> None:
    """Invented homes: "disturbs more" and "costs more to install" stand only where points and works add up to more."""
    said = by_reason = 0
    for seed in range(4120, 4132):
        advice = homes.quick(corpus.survey(seed))
        first, teller = advice.families()[0], Teller(advice)
        for criterion, points in (("little_disruption", "cost.disruption_points"), ("low_price", "cost.installed_points")):
            def sum_of(judged, criterion=criterion, points=points, advice=advice) -> float:
                added = (advice.rulebase.remedies[w].adds.get(criterion, 0) for w in judged.works)
                return advice.fact(points, judged.id).value.lo + sum(added)

            for other in advice.families()[1:]:
                found = letter_parts.criterion_clause(teller, criterion, other, first)
                if found is None:
                    continue
                if ":" in found.text:
                    by_reason += 1
                    continue
                said += 1
                assert (sum_of(other) < sum_of(first)) == (" less " in found.text), found.text
    assert said > 40 and by_reason > 0, (said, by_reason)


def test_a_boiler_without_a_cylinder_is_not_said_to_keep_one() -> None:
    """A worn combination boiler in a home without a place: what is found neither keeps a tank nor takes a cupboard."""
    changes = {"existing.kind": "combination boiler", "existing.condition": "worn"}
    advice = homes.quick(homes.survey(homes.DEMO).with_changes(changes))
    kept, cylinder = layout(advice, "keep-what-is-there"), layout(advice, "boiler-unvented-cylinder")
    for criterion in ("no_cylinder", "no_loft_tank"):
        assert kept.steps[criterion] == (0, 0)
    found = letter_parts.criterion_clause(Teller(advice), "no_cylinder", kept, cylinder)
    assert found is not None and found.text == "It needs no hot-water cylinder."
    with_one = homes.quick(homes.survey(homes.DEMO).with_changes({"existing.kind": "boiler with cistern-fed cylinder"}))
    assert layout(with_one, "keep-what-is-there").steps["no_cylinder"] == layout(with_one, "keep-what-is-there").steps["no_loft_tank"] == (2, 2)
