"""Pictures of a result: the chosen shot from above and from the side, and the ladder of carries.

A result goes in, a matplotlib Figure comes out. Only the object interface is used, so that nothing
is shared between two calls.
"""

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from carrybook.artefacts import plan, side, style, words
from carrybook.artefacts.drawing import LEGEND, Box, finished, new_figure, panel
from carrybook.artefacts.fonts import drawable
from carrybook.artefacts.view import View
from carrybook.decision.advice import Advice, Option
from carrybook.player.numbers import TodayNumber

__all__ = ["ladder", "plan_and_side"]

_ENOUGH_BALLS = 10  # ours: with fewer the spread itself is a quarter off (standard theory)
_HEIGHT_IN = 8.9
_PLAN: Box = (0.56, 4.2, 3.82, 3.75)
_FLIGHT: Box = (0.56, 2.08, 3.82, 1.15)
_LANDING: Box = (0.56, 0.45, 3.82, 1.1)


def plan_and_side(advice: Advice, *, units: str = "yards") -> Figure:
    """Draw the best option from above, in flight, and landing.

    Parameters
    ----------
    advice : Advice
        The answer; another option is drawn too, in ink, where it is too close to call.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        Three panels, 4.5 in wide. The player looks up the page; distances count from the ball.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    view = View(advice.situation, words.units_named(units))
    best = advice.options[0]
    rival = next((o for o in advice.options[1:] if o.close_call), None)
    figure = new_figure(_HEIGHT_IN)
    _write_title(figure, best, view)
    above = panel(figure, _PLAN)
    plan.set_limits(above, best, view)
    plan.draw_green(above, view)
    if rival is not None:
        plan.draw_rival(above, rival, view)
    plan.draw_chosen(above, best, view)
    plan.draw_hole(above, view)
    plan.draw_wind(above, view)
    figure.legend(
        handles=plan.legend_handles(view, rival),
        loc="upper center",
        bbox_to_anchor=(0.5, (_PLAN[1] - 0.36) / _HEIGHT_IN),
        ncols=3,
        **LEGEND,
    )
    side.draw_flight(panel(figure, _FLIGHT), best, view)
    side.draw_landing(panel(figure, _LANDING), best, view)
    _write_credit(figure, advice.situation.hole.attribution)
    return finished(figure)


def ladder(numbers: Sequence[TodayNumber], *, units: str = "yards") -> Figure:
    """Draw today's carries as a ladder: centre, scatter, and the partials each shot is used for.

    Parameters
    ----------
    numbers : sequence of TodayNumber
        One for each shot.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        One rung a shot, longest on top; a shot with fewer than ten balls is open and dashed.
        Partials are what the ends of the felt range carry today; below each rung what drag, lift
        and lie leave open.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    rungs = sorted(numbers, key=lambda n: n.today_m)
    height_in = 1.5 + 0.46 * len(rungs)
    figure = new_figure(height_in)
    axes = panel(figure, (1.3, 1.1, style.WIDTH_IN - 1.45, height_in - 1.25))
    axes.grid(axis="x", color=style.FAINT, linewidth=0.4)
    for y, n in enumerate(rungs):
        _draw_rung(axes, y, n, u.far_m)
    axes.set_yticks(range(len(rungs)), [drawable(n.summary.shot.label, 13) for n in rungs])
    axes.set_ylim(-0.6, len(rungs) - 0.3)
    axes.set_xlabel(f"carry today, level [{u.far}]")
    axes.set_ylabel("shot")
    ink, paper = style.INK, style.PAPER
    handles = [
        Line2D([], [], color=ink, marker="o", ms=5, lw=1.6, label="centre, two in three"),
        Line2D([], [], color=style.TINTS[1], lw=6, label="one ball, two in three"),
        Line2D([], [], color=style.FAINT, lw=2, label="partials it is used for"),
        Line2D([], [], color=ink, marker="o", ms=5, mfc=paper, ls="--", label="under ten balls"),
        Line2D([], [], color=ink, marker="|", ms=5, lw=0.8, label="drag, lift, lie leave open"),
    ]
    figure.legend(handles=handles, loc="lower center", ncols=2, **LEGEND)
    return finished(figure)


def _write_title(figure: Figure, best: Option, view: View) -> None:
    s, u = view.situation, view.units
    where = words.short_or_past(best.landing_to_hole_m, u)
    title = f"{drawable(best.summary.shot.label, 20)}, feel {words.distance(best.feel_m, u)}"
    land = f"land {where}, {words.sideways(best.landing_right_m, u)}"
    hole = f"{drawable(s.hole.venue, 28)}, hole {drawable(s.hole.ref, 6)}"
    at = f"{hole}: {words.distance(s.number_m, u)}"
    lines = ((title, style.SIZE_TITLE), (land, style.SIZE_LABEL), (at, style.SIZE_LABEL))
    for row, (text, size) in enumerate(lines):
        weight = "bold" if row == 0 else "normal"
        y = 1.0 - (0.24 + 0.2 * row) / _HEIGHT_IN
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _write_credit(figure: Figure, attribution: str) -> None:
    """Credit the map up its right edge, out of the way and always there."""
    if not attribution:
        return
    x = (_PLAN[0] + _PLAN[2] + 0.07) / style.WIDTH_IN
    figure.text(
        x,
        _PLAN[1] / _HEIGHT_IN,
        f"Map: {drawable(attribution, 60)}",
        size=style.SIZE_SMALL,
        color=style.INK,
        rotation=90.0,
        ha="center",
        va="bottom",
    )


def _draw_rung(axes: Axes, y: int, n: TodayNumber, unit_m: float) -> None:
    """One shot: partials, scatter of one ball over them, centre with its error; the band below."""
    known = n.summary.balls >= _ENOUGH_BALLS
    today = n.today_m / unit_m
    partials = [m / unit_m for m in (n.shortest_m, n.longest_m)]
    line = "-" if known else (0, (2.0, 1.6))
    axes.plot(partials, (y, y), color=style.FAINT, lw=2, ls=line, gid="partials")
    spread, se = n.spread_m / unit_m, n.centre_se_m / unit_m
    axes.plot(
        (today - spread, today + spread),
        (y, y),
        color=style.TINTS[1],
        lw=7 if known else 2.5,
        ls=line,
        solid_capstyle="butt",
        gid="one ball",
    )
    band = (n.today_low_m / unit_m, n.today_high_m / unit_m)
    axes.plot(band, (y - 0.26, y - 0.26), color=style.INK, marker="|", ms=5, lw=0.8, gid="band")
    axes.plot((today - se, today + se), (y, y), color=style.INK, lw=1.6, ls=line, gid="centre")
    axes.plot(
        today, y, "o", ms=6, mec=style.INK, mfc=style.INK if known else style.PAPER, gid="today"
    )
    axes.annotate(
        f"{today:.0f}",
        (today, y),
        (0, 6),
        textcoords="offset points",
        ha="center",
        fontsize=style.SIZE_LABEL,
        color=style.INK,
    )
