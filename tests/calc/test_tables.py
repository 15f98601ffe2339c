"""Tables: every shipped one loads and cites its source; a poor one is refused with all its faults."""

from __future__ import annotations

import pytest

from advisor import tables
from advisor.facts import PROVENANCES
from advisor.paths import TABLES

GOOD = """[table]
id = "demo"
title = "A table"
document = "A document"
place = "Table 1"
edition = "first"
provenance = "PUBLISHED"
seen = "reprint"
terms = "figures only"

[[row]]
a = 1
"""


@pytest.mark.parametrize("path", sorted(TABLES.glob("*.toml")), ids=lambda p: p.stem)
def test_every_table_loads_and_cites(path):
    if path.read_text(encoding="utf-8").find("[table]") < 0:
        pytest.skip("not a published table")
    table = tables.load(path.stem)
    assert table.rows and table.terms and table.source.document and table.source.provenance in PROVENANCES


def refused(folder, text):
    (folder / "demo.toml").write_text(text, encoding="utf-8")
    with pytest.raises(tables.TableError) as caught:
        tables.load("demo", folder)
    return str(caught.value)


def test_a_good_table(tmp_path):
    (tmp_path / "demo.toml").write_text(GOOD, encoding="utf-8")
    table = tables.load("demo", tmp_path)
    assert table.source.cite() == "A document, first, Table 1 [published]" and table.row(a=1)["a"] == 1
    with pytest.raises(KeyError, match="0 rows"):
        table.row(a=2)


@pytest.mark.parametrize("key", ["document", "place", "provenance", "seen", "terms"])
def test_a_table_that_does_not_say_it_is_refused(tmp_path, key):
    text = "\n".join(line for line in GOOD.splitlines() if not line.startswith(key))
    assert f"'{key}' is missing" in refused(tmp_path, text)


def test_all_faults_at_once(tmp_path):
    text = GOOD.replace("PUBLISHED", "HEARSAY").replace('"demo"', '"other"') + "\n[[row]]\nb = 2\n"
    said = refused(tmp_path, text)
    assert "HEARSAY" in said and "'other'" in said and "different columns" in said and len(said.splitlines()) == 3


def test_broken_toml_and_unknown_name(tmp_path):
    assert "demo.toml" in refused(tmp_path, "[table")
    with pytest.raises(tables.TableError, match="Known: demo"):
        tables.load("nothing", tmp_path)
