"""What was learnt: draws of everything about every shot, and the summary of a shot on a day."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.player.bag import Shot
from carrybook.player.ball_fit import BallFits
from carrybook.player.day import Day
from carrybook.player.learn.effects import LIES, cold
from carrybook.player.robust import HALF_WIDTH_68
from carrybook.player.shape import STRAIGHT, Curve
from carrybook.player.summary import DayShift, ShotSummary
from carrybook.player.warmth import warmed, with_ball

__all__ = ["Diagnostics", "Learnt"]

_NO_FITS = BallFits()


@dataclass(frozen=True, slots=True)
class Diagnostics:
    """Whether full sampling can be believed.

    Parameters
    ----------
    chains, draws : int
        How many chains, and draws kept of each.
    r_hat : float
        Largest rank-normalised split R-hat; near 1 the chains agree.
    effective : float
        Smallest number of independent draws that those of any quantity are worth, bulk or tail.
    divergences : int
        Steps of the sampler that went astray.
    worst : str
        The quantity with the largest R-hat.
    """

    chains: int
    draws: int
    r_hat: float
    effective: float
    divergences: int
    worst: str


@dataclass(frozen=True, slots=True)
class Learnt:
    """Draws from the posterior, with what they rest on.

    Parameters
    ----------
    method : str
        "quick" or "full".
    shots : tuple of str
        Labels of the shots, in the order of the columns.
    balls, days, not_flown, launch_measured : tuple of int
        As in `ShotSummary`, shot by shot.
    draws : dict of str to ndarray
        One row a draw. Shape (d, shots): `bias`, `slope`, `log_scale` (at stock carry), `drift` (a
        year), `side` and `side_log_scale` [rad], `long` (direction per scale of carry error [rad]),
        `launch` [rad], `spin` [rad/m]. Shape (d,): `growth`, `cold` (ln carry per 10 K below 20 C),
        one by the name of each lie and moisture, `competition`, `day` (the next day), `day_sd`,
        `odd`.
    diagnostics : Diagnostics, optional
        Of full sampling.
    fits : BallFits
        How each model of ball flies; the draws are of carries with the usual one.
    curves : tuple of (Curve, Curve)
        How each shot curves, of a right-hander and of a left-hander; none: all are straight.
    """

    method: str
    shots: tuple[str, ...]
    balls: tuple[int, ...]
    days: tuple[int, ...]
    not_flown: tuple[int, ...]
    launch_measured: tuple[int, ...]
    draws: dict[str, Floats]
    diagnostics: Diagnostics | None = None
    fits: BallFits = _NO_FITS
    curves: tuple[tuple[Curve, Curve], ...] = ()

    def shift(self, day: Day) -> dict[str, Floats]:
        """Draws of what a day does to ln carry: body, lie, competition, and the day itself."""
        lie = sum(
            (self.draws[word] for word, _ in LIES if word in (day.moisture.value, day.lie.value)),
            np.zeros(len(self.draws["cold"])),
        )
        return {
            "body": self.draws["cold"] * float(cold(day.air.temperature_k)),
            "lie": lie,
            "competition": self.draws["competition"] * float(day.competition),
            "day": self.draws["day"],
        }

    def summaries(
        self,
        shots: Sequence[Shot],
        day: Day | None = None,
        *,
        ball_model: str | None = None,
        left_handed: bool = False,
    ) -> tuple[ShotSummary, ...]:
        """Summaries of the shots, for the reference day or for another.

        Parameters
        ----------
        shots : sequence of Shot
            The shots that were learnt.
        day : Day, optional
            The day; none: the reference day itself, without what makes one day differ from the
            next.
        ball_model : str, optional
            Model of ball that is now played, as the log names it; the usual one if not given.
        left_handed : bool
            Whose draw and cut they are, where the log does not show their curve.

        Raises
        ------
        BadInputError
            A model of ball that the log does not know well enough.
        """
        played = self.fits.named(ball_model)
        shift = self.shift(day) if day else {}
        moved = sum(shift.values(), np.zeros(len(self.draws["cold"])))
        means = {name: float(d.mean()) for name, d in shift.items() if name != "day"}
        plain = [self._summary(shot, moved, DayShift(**means), left_handed) for shot in shots]
        now = [with_ball(summary, played) for summary in plain]
        return warmed(now, day) if day else tuple(now)

    def _summary(
        self, shot: Shot, moved: Floats, shift: DayShift, left_handed: bool
    ) -> ShotSummary:
        k = self.shots.index(shot.label)
        own = {name: d[:, k] for name, d in self.draws.items() if d.ndim == 2}
        bias = own["bias"] + moved
        stock = shot.stock_carry_m * np.exp(own["bias"])
        side_scale = np.hypot(np.exp(own["side_log_scale"]), own["long"])
        return ShotSummary(
            shot=shot,
            balls=self.balls[k],
            stock_m=float(np.exp(own["bias"].mean()) * shot.stock_carry_m),
            stock_se_m=float(stock.std()),
            bias=float(own["bias"].mean()) + shift.total,
            bias_se=float(bias.std()),
            spread=HALF_WIDTH_68 * float(np.exp(own["log_scale"].mean())),
            side_rad=HALF_WIDTH_68 * float(np.exp(np.log(side_scale).mean())),
            side_bias_rad=float(own["side"].mean()),
            correlation=float(np.mean(own["long"] / side_scale)),
            launch_rad=float(own["launch"].mean()),
            spin_per_speed=float(np.exp(np.log(own["spin"]).mean())),
            launch_measured=self.launch_measured[k],
            bias_slope=float(own["slope"].mean()),
            not_flown=self.not_flown[k],
            days=self.days[k],
            curve=self.curves[k][left_handed] if self.curves else STRAIGHT,
            ball=self.fits.usual,
            spread_growth=float(self.draws["growth"].mean()),
            shift=shift,
            learnt=self.method,
        )
