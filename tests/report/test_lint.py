"""The claim lint bites: every kind of change to a finished report is refused, and the untouched one passes.

The mutants are made by hand on the small advice, whose figures are typed in
`small.py`; none is compared with a text the generator wrote for the purpose.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from advisor.report.claims import Claim, Document, Heading, Note, Para, Table
from advisor.report.html import html
from advisor.report.letter import letter
from advisor.report.lint import lint, lint_html, too_long
from advisor.report.technical import technical
from tests import homes
from tests.report import small

NB = "\u00a0"


@pytest.fixture
def advice(chapter):
    return small.advice()


def ids(advice, *keys: str) -> tuple[str, ...]:
    return tuple(advice.book[k].id for k in keys)


def flow_claim(advice, text: str = f"It gives 12.3{NB}l/min.", shown: str = f"12.3{NB}l/min", **more) -> Claim:
    key = f"{small.FLOW}@{small.COMBI}"
    return Claim(text, more.get("ids", ids(advice, key)), ((shown, more.get("key", key)),))


def faults(advice, *sentences) -> list[str]:
    return lint(Document("A test", (Para(tuple(sentences)),)), advice)


def test_a_true_sentence_passes(advice) -> None:
    assert faults(advice, flow_claim(advice)) == []


def test_more_decimals_of_the_same_value_pass(advice) -> None:
    assert faults(advice, flow_claim(advice, f"It gives 12.28{NB}l/min.", f"12.28{NB}l/min")) == []


WRONG = {
    "number nudged": (f"It gives 12.4{NB}l/min.", f"12.4{NB}l/min"),
    "number rounded down": (f"It gives 12{NB}l/min.", f"12{NB}l/min"),
    "unit changed": (f"It gives 12.3{NB}bar.", f"12.3{NB}bar"),
    "figure typed beside": (f"It gives 12.3{NB}l/min of 18.", f"12.3{NB}l/min"),
    "shown text not in the sentence": ("It gives something.", f"12.3{NB}l/min"),
    "praise": (f"It gives an excellent 12.3{NB}l/min.", f"12.3{NB}l/min"),
}


@pytest.mark.parametrize("kind", WRONG)
def test_a_wrong_sentence_is_refused(kind: str, advice) -> None:
    text, shown = WRONG[kind]
    assert faults(advice, flow_claim(advice, text, shown))


def test_anchor_moved(advice) -> None:
    elsewhere = ids(advice, "nation@site")
    assert faults(advice, flow_claim(advice, ids=elsewhere))
    assert faults(advice, flow_claim(advice, key=f"{small.FLOW}@{small.STORE}"))


def test_anchorless_and_unknown_anchors(advice) -> None:
    assert faults(advice, Claim("The pipe is too thin."))
    assert faults(advice, Note("The pipe is too thin."))
    assert faults(advice, replace(flow_claim(advice), ids=(*flow_claim(advice).ids, "f9999")))
    assert faults(advice, replace(flow_claim(advice), ids=(*flow_claim(advice).ids, "no-such-rule")))


def test_option_name_swapped(advice) -> None:
    title = "18 kW system boiler with a 180 litre cylinder"
    anchor = ids(advice, f"arrangement.family@{small.STORE}")
    assert faults(advice, Claim(f"We recommend: {title}.", anchor, ((title, f"title:{small.STORE}"),))) == []
    other = "30 kW combination boiler, no cylinder"
    assert faults(advice, Claim(f"We recommend: {other}.", anchor, ((other, f"title:{small.STORE}"),)))
    assert faults(advice, Claim(f"We recommend: {other}.", anchor, ((other, f"title:{small.COMBI}"),)))
    assert faults(advice, Claim(f"We recommend: {other}.", anchor))


def test_a_figure_in_a_heading_or_a_column_head(advice) -> None:
    assert lint(Document("A test", (Heading(2, "All 7 layouts"),)), advice)
    assert lint(Document("A test", (Table(("Within 3 m", "Why"), ()),)), advice)
    assert lint(Document("A test", (Heading(2, "30 kW combination boiler, no cylinder"),)), advice) == []


def test_names_that_hold_figures_are_no_figures(advice) -> None:
    said = "Two 2-port valves, a 3-port valve, Part G, BS 7593:2019, BS EN 12828, table 3.1 and regulation 26(9)."
    assert faults(advice, Claim(said, ids(advice, "nation@site"))) == []


def test_long_sentences_are_named() -> None:
    assert too_long(Document("A", (Para((Note(" ".join(["word"] * 26)), Note("Short."))),))) == [" ".join(["word"] * 26)]


# ---------------------------------------------------------------- the finished page
@pytest.fixture
def page(advice) -> tuple[str, Document]:
    document = letter(advice)
    return html(document, {f.key: f.id for f in advice.book}), document


def test_the_untouched_page_passes(page, advice) -> None:
    assert lint_html(page[0], page[1], advice) == []


def swap(old: str, new: str):
    def change(text: str) -> str:
        assert old in text, f"the mutant needs {old!r} in the page"
        return text.replace(old, new, 1)

    return change


def pattern(old: str, new: str):
    def change(text: str) -> str:
        assert re.search(old, text), f"the mutant needs {old!r} in the page"
        return re.sub(old, new, text, count=1)

    return change


MUTANTS = {
    "number nudged": swap(f"12.3{NB}l/min", f"12.4{NB}l/min"),
    "unit changed": swap(f"12.3{NB}l/min", f"12.3{NB}bar"),
    "option swapped": swap("18 kW system boiler with a 180 litre cylinder", "30 kW combination boiler, no cylinder"),
    "not put in": swap("costs less to install", "does not cost less to install"),
    "not taken out": swap("must be confirmed", "need not be confirmed"),
    "word changed": swap("can burn skin", "can warm skin"),
    "claim's anchor moved": pattern(r'data-claim="f\d+', 'data-claim="f1'),
    "claim's anchor dropped": pattern(r'data-claim="[^"]+"', 'data-claim=""'),
    "figure's anchor moved": pattern(r'data-fact="f\d+"', 'data-fact="f1"'),
    "figure's mark removed": pattern(r'<span data-fact="f\d+">([^<]+)</span>', r"\1"),
    "claim's mark removed": pattern(r'<span data-claim="[^"]+">((?:(?!</?span).)+)</span>', r"\1"),
    "sentence added": swap("<h2>Why this one</h2>", "<h2>Why this one</h2><p>Everybody buys it.</p>"),
    "sentence removed": pattern(r"<li>.*?</li>", ""),
    "sentences exchanged": pattern(r"(<li>.*?</li>)\s*(<li>.*?</li>)", r"\2\1"),
    "heading changed": swap("What speaks against it", "What little speaks against it"),
    "picture from elsewhere": swap("<main>", '<main><img src="https://example.org/a.png">'),
    "script": swap("</main>", "<script>alert('x')</script></main>"),
    "style from elsewhere": swap("<style>", "<style>@import 'https://example.org/a.css';"),
    "link outward": pattern(r'<span class="blank">', '<a href="https://example.org">x</a><span class="blank">'),
}


@pytest.mark.parametrize("kind", MUTANTS)
def test_a_changed_page_is_refused(kind: str, page, advice) -> None:
    changed = MUTANTS[kind](page[0])
    assert changed != page[0]
    assert lint_html(changed, page[1], advice), kind


@pytest.mark.parametrize("make", [letter, technical])
def test_every_figure_of_the_demo_report_bites_when_nudged(make) -> None:
    """Each figure in turn gets its last digit changed: the lint must refuse every single one."""
    advice = homes.advice(homes.DEMO)
    document = make(advice)
    missed = []
    for block in document.blocks:
        for claim in [s for s in getattr(block, "sentences", ()) if isinstance(s, Claim)]:
            for n, (shown, key) in enumerate(claim.quantities):
                if key in advice.book and re.search(r"\d", shown):
                    last = re.search(r"\d(?=\D*$)", shown)
                    nudged = shown[: last.start()] + str((int(last[0]) + 1) % 10) + shown[last.end():]
                    quantities = tuple((nudged, k) if i == n else (t, k) for i, (t, k) in enumerate(claim.quantities))
                    mutant = Claim(claim.text.replace(shown, nudged), claim.ids, quantities)
                    if not lint(Document("A test", (Para((mutant,)),)), advice):
                        missed.append(mutant.text)
    assert not missed
