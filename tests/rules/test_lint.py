"""A rule base broken in one place is refused, each fault with its place and what to do."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from advisor import paths, rulebase
from advisor.upkeep import linting, reach
from tests import homes

RULES = "rules"


def broken(folder: Path, file: str, old: str, new: str) -> list[str]:
    """The faults of a copy of the rule base with one text replaced once: those of loading, else those of the lint."""
    shutil.copytree(paths.RULES, folder / RULES)
    path = folder / RULES / file
    text = path.read_text(encoding="utf-8")
    assert old in text, old
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    try:
        base = rulebase.load_from(folder / RULES, paths.SHARED / "remedies.toml")
    except rulebase.RulebaseError as refusal:
        return refusal.faults
    return list(linting.faults(base))


CASES = [
    ("schema", "water.toml", 'stratum = "circumstances"', 'stratum = "sometimes"', "stratum is 'sometimes'. Allowed:"),
    ("schema, a key nobody knows", "water.toml", 'effect = "derives"', 'effect = "derives"\ncolour = "red"', "unknown keys ['colour']"),
    ("a name nobody knows", "water.toml", 'fact = "water.hardness_mg_l", above', 'fact = "water.hardnes", above', "reads water.hardnes, which the vocabulary does not know."),
    ("source without a document", "gas.toml", 'source = { document = "BS 6891:2015 (with amendment 1:2019)", place = "pressure loss"', 'source = { document = "", place = "pressure loss"', "source names no document"),
    ("published without a place", "gas.toml", 'place = "pressure loss", provenance', 'provenance', "its source is PUBLISHED, yet place or seen"),
    ("braces", "water.toml", 'shows = ["water.hardness_mg_l"]', 'shows = []', "its section fills {water.hardness_mg_l}, which the rule does not show."),
    ("orphan section", "water.toml", 'id = "supply-rich"', 'id = "supply-wealthy"', "section 'The mains gives both pressure and flow' is about 'supply-rich', which is no rule."),
    ("no section", "water.toml", 'id = "supply-rich"', 'id = "supply-wealthy"', "'supply-wealthy': has no section in explanations/water.md."),
    ("no fate", "water.toml", 'id = "supply-rich"', 'id = "supply-wealthy"', "no fact names the rule 'supply-wealthy'"),
    ("orphan word", "facts-derived.toml", 'domain = ["looped"]', 'domain = ["looped", "its own"]', "electric.supply_state: no rule makes 'its own'."),
    ("unreachable: a word no rule makes", "electric.toml", 'derives = { fact = "electric.supply_state", is = "looped" }', 'derives = { fact = "circuit.state", is = "not proved tight" }', "can never fire: no rule makes electric.supply_state looped."),
    ("unreachable: conditions that exclude each other", "cistern.toml", '{ fact = "cistern.head_m", below = "threshold:comfortable_head_m" }', '{ fact = "cistern.head_m", below = 0.5 }', "'cistern-height-wants-short-pipes': can never fire: its conditions on cistern.head_m exclude each other."),
    ("contradiction", "water.toml", '{ fact = "supply.flow_at_useful_l_min", below = "threshold:useful_flow_l_min" },', '{ fact = "supply.flow_at_useful_l_min", at_most = 30 },', "rules 'supply-pressure-rich-flow-poor' and 'supply-rich' may both decide supply.kind"),
    ("circular absence", "electric.toml", 'effect = "derives"\nderives = { fact = "electric.supply_state"', 'unless = [{ fact = "electric.network", is = "must answer first" }]\neffect = "derives"\nderives = { fact = "electric.supply_state"', "unless electric.network: it is made in the same stratum or later"),
    ("owed fact nobody knows", "families.toml", '"source.turn_down_share", "flue.clearance_margin_mm"]', '"source.turn_down_share", "flue.clearence_margin_mm"]', "owes 'flue.clearence_margin_mm', which is no calculated fact."),
    ("owed fact no check makes", "families.toml", 'needs = ["source.current_a", "electric.margin_a"]', 'needs = ["source.current_a", "store.people_margin_l", "helper.flow_l_min"]', "owes helper.flow_l_min about"),
    ("example", "water.toml", 'fires = [{ "water.static_pressure_bar" = 1.9 }]', 'fires = [{ "water.static_pressure_bar" = 2.1 }]', "is silent, not fires."),
    ("a part nobody knows", "requirements.toml", 'parts = ["feed.mains"]', 'parts = ["feed.river"]', "requirement 'supplier-is-told-of-some-fittings': names 'feed.river', which is no part, series or work."),
    ("a requirement that runs on", "requirements.toml", 'says = "Tell the supplier', f'says = "{"again " * 30}Tell the supplier', "words. Write one sentence of at most 25, without its full stop."),
]


@pytest.mark.parametrize(("file", "old", "new", "said"), [pytest.param(*c[1:], id=c[0]) for c in CASES])
def test_a_broken_rule_base_is_refused(file: str, old: str, new: str, said: str, tmp_path: Path) -> None:
    found = broken(tmp_path, file, old, new)
    assert any(said in fault for fault in found), found[:8]


def test_a_word_no_part_makes_can_never_fire() -> None:
    base = homes.base()
    slots = {s: {i: p for i, p in parts.items() if "pumped" not in p.words.values()} for s, parts in base.families.slots.items()}
    without = replace(base, families=replace(base.families, slots=slots))
    assert any("'pumped-discharge-must-be-agreed': can never fire: no part makes arrangement.discharge_needed pumped." in f
               for f in reach.unreachable(without))
