"""Cautions in words: the tier, what it feels like, and the sun."""

import pytest

from carrybook.artefacts.cautions import LIGHTNING, caution_lines
from carrybook.base.constants import CELSIUS_ZERO
from carrybook.world.exposure import Exposure


def told(heat_c: float, cold_c: float = 20.0) -> list[str]:
    return list(caution_lines(Exposure(heat_c + CELSIUS_ZERO, None, cold_c + CELSIUS_ZERO)))


def test_a_mild_day_has_none() -> None:
    assert told(20.0) == []


def test_heat_has_its_tier_and_the_suns() -> None:
    (line,) = told(34.0)
    assert line == (
        "Heat: feels 34 C (93 F) in the shade, extreme caution; full sun adds up to 8 C (15 F):"
        " danger. Drink, shade, pauses."
    )


@pytest.mark.parametrize(
    ("celsius", "said"),
    [
        (23.8, None),  # 74.8 F: the sun makes caution alone
        (24.1, "in the shade; full sun adds up to 8 C (15 F): extreme caution"),
        (27.0, "in the shade, caution; full sun"),
        (52.0, "extreme danger; full sun adds up to 8 C (15 F): extreme danger"),
    ],
)
def test_where_the_line_begins(celsius: float, said: str | None) -> None:
    lines = told(celsius)
    assert len(lines) == int(said is not None)
    assert said is None or said in lines[0]


def test_cold() -> None:
    (line,) = told(5.0, -12.0)
    assert line.startswith("Cold: feels -12 C (10 F), very cold. Warm up longer")
    assert "Rule 4.2a" in line


def test_lightning() -> None:
    assert LIGHTNING == "Lightning: leave at the first thunder, wait 30 minutes after the last."
