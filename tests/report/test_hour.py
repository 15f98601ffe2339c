"""The busy hour in letter and report: one sentence, drawings and the band; every figure worked out again by the lint."""

from __future__ import annotations

import builtins
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from advisor import report
from advisor.report import busy, drawing, hour, hour_section, standing
from advisor.report.claims import Document, Drawings, Note, Para, Table
from advisor.report.html import html
from advisor.report.letter import letter
from advisor.report.lint import lint, lint_html, too_long
from advisor.report.markdown import markdown
from advisor.report.say import Teller
from advisor.report.technical import technical
from advisor.report.wording import NBSP
from tests import homes


def quick(name: str):
    return homes.quick(homes.survey(name))


def section(advice) -> Document:
    return Document("The hour", tuple(hour_section.section(Teller(advice))))


def page(advice, document: Document) -> str:
    return html(document, {f.key: f.id for f in advice.book}, "technical")


def no_plotter(monkeypatch) -> None:
    real = builtins.__import__

    def missing(name, *rest, **more):
        if name.startswith("matplotlib"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", missing)


@pytest.fixture(scope="module")
def demo():
    return quick(homes.DEMO)


def test_the_letter_says_what_the_household_would_notice(demo) -> None:
    text = markdown(letter(demo), {}).replace(NBSP, " ")
    assert re.search(r"In your busiest hour everyone has warm water, with \d+ to \d+ l left\.", text)
    assert "busiest hour everyone has" not in markdown(letter(quick(homes.EMPTY)), {})


def test_it_takes_the_place_of_the_reason_that_says_the_same(demo) -> None:
    text = markdown(letter(demo), {})
    assert "Hot water lasts" not in text and "- In your busiest hour" in text


def test_a_layout_that_falls_short_says_so_in_the_letter() -> None:
    """36 psi = 2.482 bar, 16 l/min at 1.3 bar, of which 8 l/min are left at the worst: c = 1.182 / 8^1.85 = 0.02523. At 8.87

    l/min 2.482 - 0.02523 x 56.7 - 0.5 (8.87 / 20)2 = 0.953, and the mixer wants 1.0 (8.87 / 9.09)2 = 0.952 bar.
    """
    text = markdown(letter(quick("flat_no_gas")), {}).replace(NBSP, " ")
    assert "At worst, in your busiest hour the shower gets 8.9 l/min of the 9.1 l/min wanted." in text


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_no_sentence_is_too_long_and_every_one_holds(name: str) -> None:
    advice = quick(name)
    document = section(advice)
    assert lint(document, advice) == [] and not too_long(document)
    assert lint_html(page(advice, document), document, advice) == []


def test_the_table_holds_the_band(demo) -> None:
    """30 kW warm 60 x 30 / (4.187 x 35) = 12.28 l/min of 18: short at once. 180 l do for 216 l at 40 C: never short."""
    table = next(b for b in section(demo).blocks if isinstance(b, Table))
    rows = {r[0].text: [c.text.replace(NBSP, " ") for c in r[1:]] for r in table.rows}
    assert rows["A combination boiler"][:3] == ["At once", "At once", "-"]
    assert rows["A mains-fed cylinder"][:2] == ["Never", "Never"]


def test_what_the_layout_itself_costs_is_a_figure_like_any_other() -> None:
    """On a weaker main the store's exchanger, 1 bar at 18 l/min at the worst, costs 0.3 l/min; a forged cost is refused."""
    demo = homes.quick(homes.survey(homes.DEMO).with_changes({"water.static_pressure": "2.8 bar", "water.flow_pressure": "1 bar"}))
    judged = next(j for j in demo.families() if j.arrangement.family == "boiler-heating-store")
    outcome = hour.simulate(demo, judged)
    said = [hour.claim(Teller(demo), judged, outcome, t) for t in hour.told(outcome)]
    document = Document("x", (Para(tuple(said)),))
    assert lint(document, demo) == [] and not too_long(document)
    (costly,) = (s for s in said if "heat exchanger costs" in s.text)
    shown = [(t.replace("0.3", "2.3"), k) for t, k in costly.quantities]
    forged = replace(costly, text=costly.text.replace("0.3", "2.3"), quantities=tuple(shown))
    assert lint(Document("x", (Para((forged,)),)), demo)


def test_a_changed_figure_is_caught(demo) -> None:
    document = section(demo)
    drawings = next(b for b in document.blocks if isinstance(b, Drawings))
    combi = next(d for d in drawings.drawn if d.about.startswith("combination-boiler"))
    said = combi.run[1]
    shown = [(t.replace("6.1", "8.1"), k) for t, k in said.quantities]
    false = replace(said, text=said.text.replace("6.1", "8.1"), quantities=tuple(shown))
    assert lint(Document("x", (Para((false,)),)), demo)
    assert not lint(Document("x", (Para((said,)),)), demo)
    bare = replace(said, ids=said.ids[:1])
    assert any("does not rest on" in f for f in lint(Document("x", (Para((bare,)),)), demo))


def test_a_changed_drawing_is_caught(demo) -> None:
    pytest.importorskip("matplotlib")
    document = section(demo)
    written = page(demo, document)
    assert "6.1 l/min of 9.0 l/min" in written
    forged = written.replace("6.1 l/min of 9.0 l/min", "9.0 l/min of 9.0 l/min")
    assert "the page's drawings are not the document's" in lint_html(forged, document, demo)
    drawn = next(b for b in document.blocks if isinstance(b, Drawings)).drawn
    wrong = tuple(replace(d, svg=d.svg.replace("6.1 l/min", "8.8 l/min")) for d in drawn)
    assert any("which its busiest hour does not" in f for f in lint(Document("x", (Drawings(wrong),)), demo))


def test_drawings_are_vectors_of_our_own_words_and_the_same_each_time(demo) -> None:
    pytest.importorskip("matplotlib")
    judged = busy.chosen(demo)
    outcomes = busy.simulate(demo, judged)
    first, second = drawing.svg(judged, outcomes), drawing.svg(judged, outcomes)
    assert first == second and len(first) == 3
    for text, outcome in zip(first, outcomes, strict=True):
        ET.fromstring(text)
        assert "<image" not in text and "http:" not in re.sub(r' xmlns(:\w+)?="[^"]*"', "", text)
        assert not drawing.strange(text, drawing.words(outcome))
        assert "loft shower: " in text


def test_the_page_asks_for_nothing_and_no_id_stands_twice(demo) -> None:
    pytest.importorskip("matplotlib")
    written = page(demo, section(demo))
    assert not re.search(r"src=|url\((?!#)|@import|<script|<link", written)
    ids = re.findall(r' id="([^"]*)"', written)
    assert ids and len(ids) == len(set(ids))


def test_without_the_library_sentence_and_table_stay(demo, monkeypatch) -> None:
    no_plotter(monkeypatch)
    document = section(demo)
    written = page(demo, document)
    assert standing.NO_CHARTS in written.replace("<code>", "`").replace("</code>", "`") and "<svg" not in written
    assert "gets 6.1" in written.replace(NBSP, " ") or "6.1" in written
    assert any(isinstance(b, Table) for b in document.blocks)
    assert lint(document, demo) == [] and lint_html(written, document, demo) == []


def test_files_beside_the_reports(demo, tmp_path) -> None:
    pytest.importorskip("matplotlib")
    names = {p.name for p in report.write(demo, tmp_path)}
    drawn = {n for n in names if n.endswith(".svg")}
    assert len(drawn) == 3
    text = (tmp_path / "technical.md").read_text(encoding="utf-8")
    assert set(re.findall(r"!\[[^]]*\]\(([^)]*)\)", text)) == drawn
    again = tmp_path / "again"
    report.write(demo, again)
    assert all((tmp_path / n).read_bytes() == (again / n).read_bytes() for n in names)


def test_nothing_known_is_said_once_without_drawing() -> None:
    document = section(quick(homes.EMPTY))
    assert [s.text for b in document.blocks if isinstance(b, Para) for s in b.sentences] == [standing.HOUR_NOT_YET]


def test_json_alone_never_loads_the_plotting_library() -> None:
    from advisor import paths

    code = ("import sys; from advisor.cli.app import main; sys.argv = ['advisor', 'recommend', sys.argv[1], '--json']\n"
            "try: main()\nexcept SystemExit: pass\nassert 'matplotlib' not in sys.modules and 'numpy' not in sys.modules")
    subprocess.run([sys.executable, "-c", code, str(paths.SURVEYS / f"{homes.DEMO}.toml")], check=True,
                   stdout=subprocess.DEVNULL)


def test_a_flow_just_below_what_is_wanted_does_not_print_alike() -> None:
    assert hour.flow_below(19.98, 20.0).replace(NBSP, " ") == "19.98 l/min"
    assert hour.flow_below(21.8, 22.0).replace(NBSP, " ") == "21.8 l/min"
    assert hour.flow_below(6.14, 9.0).replace(NBSP, " ") == "6.1 l/min"


def test_the_whole_report_holds_it(demo) -> None:
    heads = [b.text for b in technical(demo).blocks if getattr(b, "level", 0) == 2]
    assert heads.index("The busiest hour") == heads.index("Checks") + 1
    assert Note(standing.HOUR) in [s for b in technical(demo).blocks if isinstance(b, Para) for s in b.sentences]
