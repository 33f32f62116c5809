"""What is known of the ball's flight, in words: its drag, the sets of lift and drag, warnings."""

from collections.abc import Sequence

from carrybook.artefacts import words as w
from carrybook.physics.band import GUARDED_BAND
from carrybook.player.ball_fit import SET_NAMES, BallFit
from carrybook.player.numbers import TodayNumber

__all__ = ["ball_words", "guard_words"]

_REVERSE = (
    "slow with little spin, so that lift may vanish or reverse, which is not modelled; the band is"
    f" at least {100.0 * GUARDED_BAND:.0f} % either way"
)
_SPIN = "spin parameter {:.2f} to {:.2f} in flight, where lift and drag are hardly known"
_REYNOLDS = "Reynolds number {:.0f} to {:.0f} in flight, where lift and drag are hardly known"


def ball_words(fit: BallFit) -> str:
    """Say what drag a ball has, by the log, and how likely each set of lift and drag is.

    Parameters
    ----------
    fit : BallFit
        What the log says of it.
    """
    odds = ", ".join(
        f"{name} {w.per_cent(weight)}" for name, weight in zip(SET_NAMES, fit.weights, strict=True)
    )
    if not fit.balls:
        return (
            "Ball: none in the log has ball speed, launch, spin and carry, so its drag is that of"
            f" the {SET_NAMES[fit.likeliest]} set +- {100.0 * fit.drag_se:.0f} %; sets of lift and"
            f" drag count {odds}"
        )
    name = f"{w.one_line(fit.model)}, " if fit.model else ""
    return (
        f"Ball: {name}drag {fit.drag_factor:.2f} +- {max(fit.drag_se, 0.01):.2f} of the"
        f" {SET_NAMES[fit.likeliest]} set, from {fit.balls} measured"
        f" ball{'s' if fit.balls > 1 else ''}; sets of lift and drag: {odds}"
    )


def guard_words(numbers: Sequence[TodayNumber]) -> tuple[str, ...]:
    """Name the shots whose flight leaves what lift and drag were made for.

    Parameters
    ----------
    numbers : sequence of TodayNumber
        One for each shot.
    """
    found = (
        (_REVERSE, [n for n in numbers if n.guard.reverse], ()),
        (
            _SPIN,
            (out := [n for n in numbers if n.guard.spin_beyond]),
            _range("spin_parameters", out),
        ),
        (
            _REYNOLDS,
            (far := [n for n in numbers if n.guard.reynolds_beyond]),
            _range("reynolds", far),
        ),
    )
    return tuple(
        f"Warning: {', '.join(w.one_line(n.summary.shot.label) for n in some)}:"
        f" {words.format(*ends)}."
        for words, some, ends in found
        if some
    )


def _range(name: str, numbers: Sequence[TodayNumber]) -> tuple[float, ...]:
    """Least and greatest of a range over some shots."""
    ranges = [getattr(n.guard, name) for n in numbers]
    return (min(r[0] for r in ranges), max(r[1] for r in ranges)) if ranges else ()
