"""Collects what the long proofs found and rewrites `tests/PROOF.md`."""

from __future__ import annotations

import json
from pathlib import Path

HERE = Path(__file__).resolve().parent
RESULTS = HERE / ".results.json"
PAGE = HERE.parent / "PROOF.md"
HEAD = """# What the long proofs found

Written by `make proof`; each line is printed by a test in `tests/proof` that fails when it is not so.

| proof | found |
|---|---|
"""


def record(proof: str, found: str) -> None:
    """Keep one line for the table; the newest of a name counts."""
    known = json.loads(RESULTS.read_text()) if RESULTS.exists() else {}
    RESULTS.write_text(json.dumps({**known, proof: found}, indent=1, sort_keys=True))


def main() -> None:
    """Rewrite the page from the results of this run, then forget them."""
    known = json.loads(RESULTS.read_text()) if RESULTS.exists() else {}
    PAGE.write_text(HEAD + "".join(f"| {proof} | {found} |\n" for proof, found in sorted(known.items())))
    RESULTS.unlink(missing_ok=True)


if __name__ == "__main__":
    main()
