"""The claim lint: read a finished report and refuse what does not stand on a fact, a check or a rule.

Two readings. `lint` walks the document: every sentence is anchored, every
filled-in piece says what its key holds, no figure stands in fixed text, nobody
is praised. `lint_html` parses the finished page and compares it, sentence by
sentence, figure by figure, with the document: what was changed afterwards shows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

from advisor.contrast.spread import FEWEST, spread
from advisor.records import Advice
from advisor.report import drawing, hour, known, standing
from advisor.report.claims import Claim, Document, Drawings, Heading, Note, Ruled, Sentence, Table, pieces, sentences
from advisor.report.wording import clean

# Figures that are names: kinds of valve, parts of the regulations, standards, licence marks.
NAMES = re.compile(r"\b(?:[23]-port|Part [A-Z]\d?|G3|BS(?: EN)? \d[\d-]*(?::\d{4})?|EN \d[\d-]*|"
                   r"[Tt]able \d+(?:\.\d+)?|"
                   r"Annex [A-Z]\d*|regulation \d+(?:\(\d+\))?|paragraphs? \d+(?:\.\d+)*)(?!\w)")
PRAISE = re.compile(r"\b(?:best|excellent|ideal(?:ly)?|perfect(?:ly)?|superb(?:ly)?|great|outstanding|"
                    r"superior|premium|unbeatable|wonderful|amazing|fantastic|brilliant|impressive(?:ly)?|luxur\w+|first-class|"
                    r"state-of-the-art|cutting-edge|top-quality|exceptional(?:ly)?|ultimate|flawless(?:ly)?|"
                    r"world-class|unrivalled|unmatched|remarkabl[ey]|delight\w*|fabulous|terrific|effortless(?:ly)?)\b",
                    re.IGNORECASE)
MOST_WORDS = 25


def lint(document: Document, advice: Advice) -> list[str]:
    """Every fault of the document, one line each with the sentence shown; empty when there is none."""
    exist = known.ids(advice)
    listed = list(sentences(document))
    judged_again = sum(known.judged_again(key) for s in listed if isinstance(s, Claim) for _, key in s.quantities)

    def read(n: int) -> list[str]:
        return list(_sentence(listed[n], advice, exist))

    every = range(len(listed))
    faults = [f for found in (spread(read, every) if judged_again >= FEWEST else map(read, every)) for f in found]
    titles = sorted((clean(j.arrangement.title) for j in advice.judged), key=len, reverse=True)
    for block in document.blocks:
        if isinstance(block, Ruled) and block.text and block.text not in known.expected(advice, block.key):
            faults.append(f"'{block.text}' is not what {block.key} says")
        if isinstance(block, Drawings):
            faults += [f"the drawing of {d.about} says '{t}', which its busiest hour does not" for d in block.drawn
                       for t in drawing.strange(d.svg, drawing.words(hour.simulate(advice, advice[d.about])))]
        if isinstance(block, Heading | Ruled | Table):
            fixed = {Heading: "text", Ruled: "label"}.get(type(block))
            for text in block.head if isinstance(block, Table) else (getattr(block, str(fixed)),):
                bare = text
                for title in titles:
                    bare = bare.replace(title, "")
                faults += [f"heading '{text}': {f}" for f in fixed_faults(bare)]
    return faults


def _sentence(sentence: Sentence, advice: Advice, exist: frozenset[str]) -> Iterator[str]:
    shown = f"'{sentence.text}'"
    if isinstance(sentence, Note):
        if sentence.text not in standing.SENTENCES and sentence.text not in standing.LABELS:
            yield f"{shown}: has no ids and is not one of the standing sentences"
        return
    if not sentence.ids:
        yield f"{shown}: claims something and rests on nothing"
    for missing in sorted(set(sentence.ids) - exist):
        yield f"{shown}: rests on '{missing}', which is no fact and no rule"
    try:
        cut = pieces(sentence)
    except ValueError as error:
        yield f"{shown}: {error}"
        return
    for text, key in cut:
        for fault in _piece(text, key, sentence, advice) if key else fixed_faults(text):
            yield f"{shown}: {fault}"


def _piece(text: str, key: str, claim: Claim, advice: Advice) -> Iterator[str]:
    allowed = known.expected(advice, key)
    if text not in allowed and text not in {a[:1].upper() + a[1:] for a in allowed}:
        yield f"'{text}' is not what {key} says ({' / '.join(sorted(allowed)[:3]) or 'nothing'})"
    for anchor in sorted(known.anchors(advice, key) - set(claim.ids)):
        yield f"'{text}' shows {key}, and the sentence does not rest on {anchor}"


def fixed_faults(text: str) -> Iterator[str]:
    """Faults of text that was not filled in: a figure, or praise."""
    bare = NAMES.sub("", text)
    for numeral in re.findall(r"\d[\d.,]*", bare):
        yield f"the figure {numeral} is no fact's value"
    for word in PRAISE.findall(text):
        yield f"'{word}' is praise"


def too_long(document: Document, most: int = MOST_WORDS) -> list[str]:
    """Sentences with more words than a reader should be given (a matter of style: no internal error).

    A cell that lists kinds of layout is read name by name; all else is counted whole, semicolons or not.
    """
    return [s.text for s in sentences(document) if _longest(s) > most]


def _longest(sentence: Sentence) -> int:
    kinds = isinstance(sentence, Claim) and len(sentence.quantities) > 1 and \
        all(key.startswith("short:") for _, key in sentence.quantities)
    return max(len(part.split()) for part in (sentence.text.split("; ") if kinds else [sentence.text]))


# ---------------------------------------------------------------- the finished page
@dataclass(frozen=True, slots=True)
class _Run:
    """One stretch of a page: a claim with its ids and figures, or loose text."""

    text: str
    ids: tuple[str, ...] | None = None
    figures: tuple[tuple[str, str], ...] = ()  # (fact id, text)


@dataclass
class _Open:
    ids: tuple[str, ...]
    text: list[str] = field(default_factory=list)
    figures: list[tuple[str, list[str]]] = field(default_factory=list)


class _Page(HTMLParser):
    """Reads a finished page back into runs; notes what would ask the network for something."""

    FETCHES = frozenset({"script", "link", "iframe", "object", "embed", "form", "img"})
    SKIP = frozenset({"style", "title", "script", "svg"})
    BREAKS = frozenset({"p", "figcaption", "li", "ul", "td", "th", "tr", "h1", "h2", "h3", "table", "div"})

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.runs: list[_Run] = []
        self.outside: list[str] = []
        self.loose: list[str] = []
        self.claim: _Open | None = None
        self.stack: list[str] = []  # what each open span or link is
        self.skipping = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {k: v or "" for k, v in attrs}
        self.outside += [f"{k}={v}" for k, v in values.items()
                         if k in ("src", "srcset", "href", "data", "action", "poster") and not v.startswith("#")]
        self.outside += [f"{tag} element"] if tag in self.FETCHES else []
        self.outside += [f"{k} handler" for k in values if k.startswith("on")]
        if tag in self.SKIP:
            self.skipping += 1
        if tag in self.BREAKS:
            self.flush()
        if tag in ("span", "a"):
            self._open(values)

    def _open(self, values: dict[str, str]) -> None:
        kind = "other"
        if "data-claim" in values:
            self.flush()
            self.claim, kind = _Open(tuple(values["data-claim"].split())), "claim"
        elif "data-fact" in values and self.claim is not None:
            self.claim.figures.append((values["data-fact"], []))
            kind = "figure"
        elif values.get("class") == "token":
            kind = "token"
        self.stack.append(kind)

    def handle_endtag(self, tag: str) -> None:
        if tag in self.SKIP:
            self.skipping -= 1
        if tag in self.BREAKS:
            self.flush()
        if tag in ("span", "a") and self.stack and self.stack.pop() == "claim" and self.claim is not None:
            done, self.claim = self.claim, None
            self.runs.append(_Run(_even("".join(done.text)), done.ids,
                                  tuple((i, _even("".join(t))) for i, t in done.figures)))

    def handle_data(self, data: str) -> None:
        if self.skipping or "token" in self.stack:
            return
        if self.claim is None:
            self.loose.append(data)
            return
        self.claim.text.append(data)
        if "figure" in self.stack:
            self.claim.figures[-1][1].append(data)

    def flush(self) -> None:
        text = _even("".join(self.loose))
        self.loose = []
        if text:
            self.runs.append(_Run(text))


def _even(text: str) -> str:
    """White space between words as one blank; the non-breaking space within figures is kept."""
    return re.sub(r"[ \t\r\n]+", " ", text).strip(" ")


def _expected_runs(document: Document, ids: dict[str, str]) -> Iterator[_Run]:
    yield _Run(document.title)
    for block in document.blocks:
        if isinstance(block, Heading):
            yield _Run(block.text)
        elif isinstance(block, Ruled):
            yield _Run(_even(f"{block.label}: {block.text}"))
        else:
            yield from (_Run(h) for h in (block.head if isinstance(block, Table) else ()) if h)
            for group in _groups(block):
                yield from _runs(group, ids)


def _groups(block: object) -> Iterator[tuple[Sentence, ...]]:
    """The runs of sentences that stand in one element each."""
    if isinstance(block, Table):
        yield from ((cell,) for row in block.rows for cell in row)
    else:
        yield from getattr(block, "items", None) or (getattr(block, "sentences", ()),)


def _runs(group: tuple[Sentence, ...], ids: dict[str, str]) -> Iterator[_Run]:
    loose: list[str] = []
    for sentence in group:
        if isinstance(sentence, Note):
            loose.append(sentence.text)
            continue
        if loose:
            yield _Run(" ".join(loose))
            loose = []
        shown = tuple((ids[k], t) for t, k in ((t, k.removeprefix("read:")) for t, k in pieces(sentence)) if k in ids)
        yield _Run(_even(sentence.text), sentence.ids, tuple((i, _even(t)) for i, t in shown))
    if any(loose):
        yield _Run(" ".join(loose))


def lint_html(page: str, document: Document, advice: Advice) -> list[str]:
    """Every difference between a finished page and the document it was made from; empty when there is none."""
    reader = _Page()
    reader.feed(page)
    reader.close()
    reader.flush()
    wanted = list(_expected_runs(document, {f.key: f.id for f in advice.book}))
    faults = [f"the page asks for something outside itself: {o}" for o in reader.outside]
    drawn = [d.svg for b in document.blocks if isinstance(b, Drawings) for d in b.drawn if d.svg]
    if page.count("<svg") != len(drawn) or any(d not in page for d in drawn):
        faults.append("the page's drawings are not the document's")
    if re.search(r"url\((?!#)|@import", page):
        faults.append("the page's style asks for something outside itself")
    for got, want in zip(reader.runs, wanted, strict=False):
        if got != want:
            faults.append(_difference(got, want))
            break
    else:
        if len(reader.runs) != len(wanted):
            faults.append(f"the page has {len(reader.runs)} pieces of text, the document {len(wanted)}")
    return faults


def _difference(got: _Run, want: _Run) -> str:
    if got.text != want.text:
        return f"'{got.text}': the document says '{want.text}'"
    if got.ids != want.ids:
        return f"'{got.text}': rests on {got.ids or 'nothing'} in the page, on {want.ids or 'nothing'} in the document"
    return f"'{got.text}': figures {got.figures} in the page, {want.figures} in the document"
