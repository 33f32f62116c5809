"""Which balls a session holds."""

from datetime import UTC, datetime, timedelta

import pytest

from carrybook.player.occasion import Occasion

BEGUN = datetime(2026, 6, 1, 17, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("hours", "holds"), [(0.0, True), (5.9, True), (6.0, False), (-5.9, True), (-72.0, False)]
)
def test_a_session_holds_the_balls_of_some_hours(hours: float, holds: bool) -> None:
    assert Occasion(BEGUN).holds(BEGUN + timedelta(hours=hours)) is holds
