"""The table of docs/flight.md is what its tool prints today."""

from pathlib import Path
from runpy import run_path

ROOT = Path(__file__).parents[2]


def test_the_band_of_wedges_is_up_to_date() -> None:
    printed = run_path(str(ROOT / "tools" / "draw_lift_drag.py"))["lines"]()
    rows = [line for line in printed if line.startswith("|")]
    page = (ROOT / "docs" / "flight.md").read_text("utf-8")
    assert len(rows) == 3
    assert [row for row in rows if row not in page] == []
