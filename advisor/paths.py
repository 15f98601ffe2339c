"""Where the rule base, the chapters and the shared data lie: the only module that knows.

In a checkout they stand beside the package; in an installed wheel, inside it.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_INSTALLED = _PACKAGE / "_data"
_ROOT = _INSTALLED if _INSTALLED.is_dir() else _PACKAGE.parent

RULES = _ROOT / "rules"
EXPLANATIONS = _ROOT / "explanations"
SHARED = _ROOT / "shared"
TABLES = SHARED / "tables"
SURVEYS = SHARED / "surveys"
