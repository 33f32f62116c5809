"""Questions about an owned shot: what wet, rough, hands or shape would change, never a bare number.

The shot itself is the player's own, as logged. Physics gives the differences only, each flown with
the same lift and drag as the stock shot beside it, so that what nobody knows of them cancels.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import NoSolutionError, OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.physics.delivery import Contact, Delivery, deliver, delivery_for
from carrybook.physics.flight import Launch, body_row, wind_row
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import play_batch
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import lie_effect, off_this_lie
from carrybook.physics.turf import turf_of_firmness
from carrybook.player.ball_fit import BallFit
from carrybook.player.shape import Sizes
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.ground import flat_ground
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM

__all__ = ["Effect", "Explained", "Question", "Sizes", "WhatIf", "explain"]

_MEDIUM_GREEN = 90.0  # Clegg g, the middle of "medium"
_STIMP = 10.0 * FOOT
_FAR = (-1.0e4, 0.0)  # no hole to fall into
_LIES = {
    "dew": (Lie.FAIRWAY, Moisture.DEW),
    "wet": (Lie.FAIRWAY, Moisture.WET),
    "light rough": (Lie.LIGHT_ROUGH, Moisture.DRY),
    "deep rough": (Lie.DEEP_ROUGH, Moisture.DRY),
}


class Question(StrEnum):
    """What is asked of the shot."""

    LIE = "lie"
    DELIVERY = "delivery"
    SHAPE = "shape"


@dataclass(frozen=True, slots=True)
class Effect:
    """One quantity of a changed shot: what it is about, and by how much that differs from stock.

    Parameters
    ----------
    value : float
        With the middle size and the middle set of lift and drag. [unit of the quantity]
    change : float
        That, less the same of the stock shot; for the stock shot itself 0. [same]
    low, high : float
        Ends of the change over the sizes and the sets of lift and drag. [same]
    """

    value: float
    change: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A changed shot, level and calm.

    Parameters
    ----------
    name : str
        What is changed.
    question : Question
        Which kind of question it answers.
    start_right_rad, launch_rad, spin_rad_s, carry_m, apex_m, descent_rad : Effect
        Start line right of the target line, launch, spin rate at launch, carry along the target
        line, apex, descent. [rad], [rad], [rad/s], [m], [m], [rad]
    curve_right_m : Effect
        Landing beside the start line, right positive. [m]
    release_m : Effect
        Run along the start line on the green, negative comes back. [m]
    """

    name: str
    question: Question
    start_right_rad: Effect
    launch_rad: Effect
    spin_rad_s: Effect
    carry_m: Effect
    apex_m: Effect
    descent_rad: Effect
    curve_right_m: Effect
    release_m: Effect


@dataclass(frozen=True, slots=True)
class Explained:
    """An owned shot and what would change it.

    Parameters
    ----------
    summary : ShotSummary
        What the log says of it.
    air : Air
        What it was flown through.
    firmness_g, stimp_m : float
        The green it lands on. [Clegg gravities], [m]
    left_handed : bool
        Whose draw and cut they are.
    sizes : Sizes
        How large the changes are.
    stock : WhatIf
        The shot as it is, dry from the fairway; low and high are what lift and drag leave open.
    rows : tuple of WhatIf
        The changed shots, in the order of `Question`.
    left_out : tuple of str
        Names of changes that leave no shot that can be computed.
    """

    summary: ShotSummary
    air: Air
    firmness_g: float
    stimp_m: float
    left_handed: bool
    sizes: Sizes
    stock: WhatIf
    rows: tuple[WhatIf, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Asked:
    """A change by name: launches as [set of lift and drag][size], size 1 in the middle."""

    name: str
    question: Question
    launches: list[list[Launch]] = field(default_factory=list)


def explain(
    summary: ShotSummary,
    air: Air = REFERENCE_DAY,
    *,
    left_handed: bool = False,
    sizes: Sizes | None = None,
    firmness_g: float = _MEDIUM_GREEN,
    stimp_m: float = _STIMP,
) -> Explained:
    """Say what lie, delivery and shape would change in a shot at stock feel.

    Parameters
    ----------
    summary : ShotSummary
        What the log says of the shot.
    air : Air
        The air, level and calm.
    left_handed : bool
        A left-hander's draw curves right.
    sizes : Sizes, optional
        How large the changes are.
    firmness_g, stimp_m : float
        The level green it lands on. [Clegg gravities], [m]

    Returns
    -------
    explained : Explained
        The stock shot and its changes.

    Raises
    ------
    OutOfRangeError
        A green that is not one.
    NoSolutionError
        A stock carry that no flight gives.

    Notes
    -----
    The straight delivery behind launch and spin is found with the usual attack, 5 deg down, and
    changed; head speed, attack and grip stay. A draw or cut starts from that straight delivery
    whatever the shape of the shot is called. Wetness is that of face and ball, not of the green.
    """
    sizes = sizes or Sizes()
    sets = _stock_launches(summary)
    asked = list(_lies(sets))
    left_out: list[str] = []
    for name, question, change in _deliveries(sizes, -1.0 if left_handed else 1.0):
        try:
            launches = [_delivered(launches[1], change) for _, launches in sets]
            asked.append(_Asked(name, question, launches))
        except OutOfRangeError:
            left_out.append(name)
    stock, *rows = _answers(summary.ball, sets, asked, air, firmness_g, stimp_m)
    return Explained(
        summary, air, firmness_g, stimp_m, left_handed, sizes, stock, tuple(rows), tuple(left_out)
    )


_Sets = Sequence[tuple[int, list[Launch]]]


def _stock_launches(summary: ShotSummary) -> _Sets:
    """Launch of the stock shot under each set of lift and drag that explains it, by its number."""
    found = []
    for k, aerodynamics in summary.ball.likely():
        launch, ratio = summary.launch_rad, summary.spin_per_speed
        try:
            speed = speed_for_carry(
                summary.stock_m, launch, ratio, REFERENCE_DAY, aerodynamics=aerodynamics
            )
        except NoSolutionError:
            if k == summary.ball.likeliest:
                raise NoSolutionError(
                    f"no flight carries {summary.shot.label} its {summary.stock_m / YARD:.0f} yd;"
                    " check its carry, and the launch and spin in its logged balls"
                ) from None
            continue
        found.append((k, [Launch(speed, launch, ratio * speed)] * 3))
    return found


def _lies(sets: _Sets) -> Iterator[_Asked]:
    yield _Asked("stock", Question.LIE, [launches for _, launches in sets])
    for name, (lie, moisture) in _LIES.items():
        effect = lie_effect(lie, moisture)
        ends = list(zip(effect.spin, effect.speed, strict=True))
        yield _Asked(name, Question.LIE, [[_off(s[1], *end) for end in ends] for _, s in sets])


def _off(stock: Launch, spin: float, speed: float) -> Launch:
    launch, ratio = off_this_lie(stock.launch_rad, stock.spin_rad_s / stock.speed_mps, spin)
    return Launch(stock.speed_mps * speed, launch, ratio * stock.speed_mps * speed)


_Change = list[tuple[float, float, float]]  # loft added, factor on speed, path right of face


def _deliveries(sizes: Sizes, hand: float) -> Iterator[tuple[str, Question, _Change]]:
    """Each change of delivery, small, middle and large."""
    across = [hand * a for a in sizes.across_rad]
    asked: tuple[tuple[str, Question, _Change], ...] = (
        ("back, hands ahead", Question.DELIVERY, [(d, 1.0, 0.0) for d in sizes.ball_back_rad]),
        (
            "forward, open face",
            Question.DELIVERY,
            [(d, 1.0, 0.0) for d in sizes.face_open_rad],
        ),
        ("shorter finish", Question.DELIVERY, [(0.0, f, 0.0) for f in sizes.shorter]),
        (
            "turned over (draw)",
            Question.SHAPE,
            [(d, 1.0, a) for d, a in zip(sizes.draw_loft_rad, across, strict=True)],
        ),
        (
            "slid across (cut)",
            Question.SHAPE,
            [(d, 1.0, -a) for d, a in zip(sizes.cut_loft_rad, across, strict=True)],
        ),
    )
    yield from asked


def _delivered(stock: Launch, change: _Change) -> list[Launch]:
    base, contact = delivery_for(stock.speed_mps, stock.launch_rad, stock.spin_rad_s)
    return [_changed(base, contact, *each) for each in change]


def _changed(
    base: Delivery, contact: Contact, loft: float, speed: float, path_right: float
) -> Launch:
    return deliver(
        Delivery(
            base.club_speed_mps * speed, base.dynamic_loft_rad + loft, base.attack_rad, path_right
        ),
        contact,
    )


def _answers(
    ball: BallFit, sets: _Sets, asked: Sequence[_Asked], air: Air, firmness_g: float, stimp_m: float
) -> Iterator[WhatIf]:
    """Play everything in one batch and set each change beside the stock shot."""
    numbers = [k for k, _ in sets]
    shape = (len(asked), len(numbers), 3)
    launches = np.array(
        [launch.row() for each in asked for sized in each.launches for launch in sized]
    )
    which = np.broadcast_to(np.array(numbers)[None, :, None], shape).ravel()
    played = _play(launches, ball, which, air, firmness_g, stimp_m).reshape(*shape, -1)
    middle = numbers.index(ball.likeliest)
    stock = played[0]
    for each, rows in zip(asked, played, strict=True):
        change = rows - (stock if each is not asked[0] else stock[middle, 1])
        effects = [
            Effect(*(float(v) for v in four))
            for four in zip(
                rows[middle, 1],
                change[middle, 1],
                change.min(axis=(0, 1)),
                change.max(axis=(0, 1)),
                strict=True,
            )
        ]
        yield WhatIf(each.name, each.question, *effects)


def _play(
    launches: Floats, ball: BallFit, which: Floats, air: Air, firmness_g: float, stimp_m: float
) -> Floats:
    """Play launches onto a level green; columns are the quantities of `WhatIf`, shape (n, 8)."""
    turf = turf_of_firmness(firmness_g)
    resistance = rolling_resistance(stimp_m)
    n = len(launches)
    ends, landings = play_batch(
        launches,
        np.tile(turf.row(resistance), (n, 1)),
        body_row(air),
        np.array([a.row() for a in ball.sets]),
        np.ascontiguousarray(which, dtype=np.int64),
        np.tile(wind_row(CALM), (n, 1)),
        flat_ground(),
        np.zeros(3),
        _FAR,
    )
    start = launches[:, 4]
    ahead, right = landings[:, 0], -landings[:, 1]
    run_ahead, run_right = ends[:, 0] - ends[:, 4], ends[:, 5] - ends[:, 1]
    return np.column_stack(
        [
            start,
            launches[:, 1],
            launches[:, 2],
            ahead,
            landings[:, 8],
            np.arctan2(-landings[:, 5], np.hypot(landings[:, 3], landings[:, 4])),
            right * np.cos(start) - ahead * np.sin(start),
            run_ahead * np.cos(start) + run_right * np.sin(start),
        ]
    )
