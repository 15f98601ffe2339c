"""A built wheel, installed in an empty environment, runs the demo without the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def test_wheel_runs_the_demo_elsewhere(tmp_path: Path) -> None:
    subprocess.run([sys.executable, "-m", "build", "--wheel", "--outdir", str(tmp_path / "dist"), str(ROOT)],
                   check=True, capture_output=True, text=True, timeout=240)
    wheel = next((tmp_path / "dist").glob("*.whl"))
    home = tmp_path / "venv"
    venv.create(home, with_pip=True)
    run = {"check": True, "capture_output": True, "text": True, "timeout": 280, "cwd": tmp_path,
           "env": {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}}
    subprocess.run([home / "bin/python", "-m", "pip", "install", "--quiet", str(wheel)], **run)
    done = subprocess.run([home / "bin/advisor", "demo", "--out", "advice"], **run)
    assert "RECOMMENDED" in done.stdout
    written = {p.name for p in (tmp_path / "advice").iterdir()}
    assert written == {"letter.md", "letter.html", "technical.md", "technical.html", "advice.json"}
    where = subprocess.run([home / "bin/python", "-c", "import advisor; print(advisor.__file__)"], **run).stdout
    assert str(home) in where
