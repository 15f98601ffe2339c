"""Collects what the long proofs found and rewrites `tests/PROOF.md`."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

HERE = Path(__file__).resolve().parent
RESULTS = HERE / ".results"
PAGE = HERE.parent / "PROOF.md"
HEAD = """# What the long proofs found

Written by `make proof`; each line is printed by a test in `tests/proof` that fails when it is not so.

| proof | found |
|---|---|
"""


def record(proof: str, found: str) -> None:
    """Keep one line for the table; the newest of a name counts."""
    RESULTS.mkdir(exist_ok=True)
    (RESULTS / f"{re.sub('[^a-z0-9]+', '-', proof.lower())}.json").write_text(json.dumps([proof, found]))


def main() -> None:
    """Rewrite the page from the results of this run, then forget them."""
    lines = sorted(json.loads(path.read_text()) for path in RESULTS.glob("*.json"))
    PAGE.write_text(HEAD + "".join(f"| {proof} | {found} |\n" for proof, found in lines))
    shutil.rmtree(RESULTS, ignore_errors=True)


if __name__ == "__main__":
    main()
