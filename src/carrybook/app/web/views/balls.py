"""Logged balls as rows of words."""

from collections.abc import Iterable
from dataclasses import dataclass

from carrybook.artefacts.words import ON_LINE, Units, air_words, one_line, sideways, whole
from carrybook.player.balls import Ball

__all__ = ["BallRow", "ball_rows"]


@dataclass(frozen=True, slots=True)
class BallRow:
    """One ball; what was not measured is a dash."""

    at: str
    shot: str
    meant: str
    called: str
    carry: str
    side: str
    air: str
    note: str


def ball_rows(balls: Iterable[Ball], units: Units) -> tuple[BallRow, ...]:
    """Put balls into words."""

    def length(metres: float | None) -> str:
        return "–" if metres is None else whole(metres, units)

    def side(metres: float | None) -> str:
        words = "–" if metres is None else sideways(metres, units)
        return "0" if words == ON_LINE else words.replace(f" {units.far}", "")

    return tuple(
        BallRow(
            at=ball.at.strftime("%d %b %H:%M") if ball.at else "–",
            shot=one_line(ball.shot),
            meant=length(ball.intended_m),
            called=length(ball.called_m),
            carry=length(ball.carry_m),
            side=side(ball.side_m),
            air="–" if ball.air is None else air_words(ball.air),
            note=ball.note,
        )
        for ball in balls
    )
