"""The table of what would change a shot: units, ranges, notes, width."""

from math import radians

import pytest

from carrybook.artefacts.whatif_text import explained_text
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise
from carrybook.player.whatif import Sizes, explain

SHOT = Shot(Club("54\x1b[2J", radians(54.0)), Flight.LOW, Shape.STRAIGHT, 75.0, 50.0, 75.0)
SUMMARY = summarise([SHOT], [])[0]


@pytest.mark.parametrize("units", ["yards", "metres"])
def test_every_row_has_its_range_below_and_fits_the_terminal(units: str) -> None:
    explained = explain(SUMMARY)
    lines = explained_text(explained, units=units).splitlines()
    assert max(map(len, lines)) <= 80
    for row in explained.rows:
        (at,) = (k for k, line in enumerate(lines) if line.strip().startswith(row.name + " "))
        assert ".." in lines[at + 1]


def test_a_label_cannot_steer_the_terminal() -> None:
    assert "\x1b" not in explained_text(explain(SUMMARY))


def test_the_sizes_that_were_used_are_told() -> None:
    sizes = Sizes(shorter=(0.9, 0.8, 0.7))
    text = " ".join(explained_text(explain(SUMMARY, sizes=sizes, left_handed=True)).split())
    assert "shorter finish 20 (10 to 30) % of head speed" in text
    assert "left-handed" in text


def test_units_of_another_name_are_refused() -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        explained_text(explain(SUMMARY), units="feet")
