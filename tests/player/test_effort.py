"""Swings in words, fractions and hands of a clock; the player's own word comes first."""

from dataclasses import replace
from math import radians

import pytest

from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.player.bag import Club, Effort, Flight, Shape, Shot, Source
from carrybook.player.effort import effort_carry, share_of

SHOT = Shot(Club("54", radians(54.0)), Flight.STOCK, Shape.STRAIGHT, 80.0, 40.0, 80.0)


@pytest.mark.parametrize(
    ("words", "share"),
    [
        ("full", 1.0),
        ("Three-Quarter", 0.75),
        ("3/4", 0.75),
        ("1 / 2", 0.5),
        ("75%", 0.75),
        ("80 per cent", 0.8),
        ("9 o'clock", 0.5),
        ("9 o’clock", 0.5),
        ("10:30 o'clock", 0.75),
        ("7.30 oclock", 0.25),
        ("knee", 0.25),
        ("3/0", None),
        ("1/9", 0.111),
        ("6 o'clock", None),
        ("150%", None),
        ("70", None),
        ("pump", None),
        ("", None),
    ],
)
def test_shares(words: str, share: float | None) -> None:
    assert share_of(words) == (share if share is None else pytest.approx(share, abs=5e-4))


def test_later_on_the_clock_is_longer() -> None:
    shares = [share_of(f"{hour} o'clock") for hour in (8, 9, 10, 11, 12)]
    assert shares == sorted(shares, key=lambda share: share or 0.0)


def test_what_the_player_said_comes_before_what_the_word_says() -> None:
    shot = replace(SHOT, efforts=(Effort("Half", 47.0), Effort("pump", 55.0, Source.MEASURED)))
    assert effort_carry(shot, "half") == Effort("Half", 47.0)
    assert effort_carry(shot, "PUMP") == Effort("pump", 55.0, Source.MEASURED)
    assert effort_carry(shot, "75%") == Effort("75%", 60.0, Source.PRIOR)
    assert effort_carry(shot, "smooth") is None
    assert effort_carry(replace(shot, stock_effort="smooth"), "Smooth") == Effort("Smooth", 80.0)


def test_what_no_swing_is_called_is_refused() -> None:
    with pytest.raises(BadInputError, match="a swing needs a name of 1 to 30 characters"):
        Effort("70", 60.0)
    with pytest.raises(OutOfRangeError, match=r"carry of half = 1\.09361 yd is outside 3 to 275"):
        Effort("half", 1.0)
    with pytest.raises(BadInputError, match="at most 12, each with a name of its own"):
        replace(SHOT, efforts=(Effort("half", 40.0), Effort("Half", 41.0)))
