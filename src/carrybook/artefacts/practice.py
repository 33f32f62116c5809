"""Pictures of practice: where strokes leak, and the standing tests against each other."""

from datetime import datetime
from typing import Any

import numpy as np
from matplotlib.figure import Figure

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.artefacts.fonts import drawable
from carrybook.base.errors import NoSolutionError
from carrybook.decision.practise.history import History
from carrybook.decision.practise.parts import Plan

__all__ = ["history_figure", "leaks_figure"]

_MOST_ROWS = 14
_ROW_IN = 0.24


def leaks_figure(plan: Plan, *, units: str = "yards") -> Figure:
    """Draw what each kind of shot loses a ball, and what that is worth in a round.

    Parameters
    ----------
    plan : Plan
        A plan; the fourteen rows worth most are drawn, the worthiest on top.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        Left: strokes lost a ball against the baseline, bars of one standard deviation either way.
        Right: strokes a round that practice may win there: leak, and a tenth less scatter.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    rows = plan.leaks.rows[:_MOST_ROWS]
    height = 1.65 + _ROW_IN * len(rows)
    figure = new_figure(height)
    y = np.arange(len(rows))[::-1]
    left = panel(figure, (1.62, 0.82, 1.5, height - 1.5))
    right = panel(figure, (3.3, 0.82, 1.0, height - 1.5))
    loss, unsure = (np.array([getattr(r, name) for r in rows]) for name in ("loss", "unsure"))
    left.errorbar(
        loss, y, xerr=unsure, fmt="o", ms=4.5, color=style.INK, elinewidth=1.0, capsize=2.5,
        gid="loss",
    )  # fmt: skip
    left.axvline(0.0, color=style.INK, lw=0.7, ls=":")
    leaked, worth = (np.array([getattr(r, name) for r in rows]) for name in ("leaked", "worth"))
    look: dict[str, Any] = {"height": 0.6, "edgecolor": style.INK, "linewidth": 0.6}
    right.barh(y, leaked, color=style.INK, label="leaks", **look)
    right.barh(
        y, worth - leaked, left=leaked, color=style.FAINT, label="if you came closer", **look
    )
    labels = [
        f"{words.whole(r.faced.distance_m, u)} {u.far} {drawable(r.play.shot, 8)}"
        f"{'' if r.faced.lie == 'fairway' else ', rough'}"
        for r in rows
    ]
    left.set_yticks(y, labels, fontsize=style.SIZE_SMALL)
    right.set_yticks([])
    for axes, label, bins in ((left, "strokes lost a ball", 4), (right, "strokes a round", 2)):
        axes.set(ylim=(-0.7, len(rows) - 0.3), xlabel=label)
        axes.locator_params(axis="x", nbins=bins)
    figure.legend(loc="lower right", ncols=2, **LEGEND)
    against = f"against {drawable(plan.leaks.baseline.words, 52)}"
    _title(figure, "where strokes leak", against)
    return finished(figure)


def history_figure(found: History) -> Figure:
    """Draw the score of each standing test with its interval, and what would be a real change.

    Parameters
    ----------
    found : History
        With one test at least.

    Returns
    -------
    figure : Figure
        Lower is closer. The band is where a later test could fall by luck alone, as seen from the
        first.

    Raises
    ------
    NoSolutionError
        No test yet.
    """
    if not found.tests:
        raise NoSolutionError(
            "no standing test was struck in full yet, so there is nothing to draw; begin one:"
            " carrybook practise test"
        )
    tests = found.tests
    figure = new_figure(3.6)
    axes = panel(figure, (0.62, 0.95, style.WIDTH_IN - 0.8, 2.1))
    score = np.array([t.result.percent for t in tests])
    ends = np.array([(t.result.low, t.result.high) for t in tests]).T
    x = np.arange(len(tests))
    axes.errorbar(
        x, score, yerr=np.abs(ends - score), fmt="o-", ms=5, color=style.INK, lw=1.0,
        elinewidth=1.0, capsize=3, label="score and its 95 % interval", gid="score",
    )  # fmt: skip
    if len(tests) > 1 and (last := tests[-1].since_first) is not None:
        low, high = score[0] * (1.0 - last.smallest), score[0] / (1.0 - last.smallest)
        axes.axhspan(
            low, high, color=style.FAINT, alpha=0.35, lw=0, label="may be luck, against first"
        )
    axes.set_xticks(x, [_day(t.begun) for t in tests], rotation=30 if len(tests) > 5 else 0)
    axes.set(xlim=(-0.5, len(tests) - 0.5), ylim=(0.0, 1.15 * float(ends.max())))
    axes.set_ylabel("mean miss / distance [%]")
    what = "depth and side" if tests[-1].result.side else "carry alone"
    said = f"{tests[-1].result.balls} balls, {what}; lower is closer"
    _title(figure, "standing test", said)
    figure.legend(loc="lower center", ncols=2, **LEGEND)
    return finished(figure)


def _title(figure: Figure, title: str, said: str) -> None:
    """What a picture shows, and a line below it."""
    lines = ((title, style.SIZE_TITLE, "bold"), (said, style.SIZE_LABEL, "normal"))
    for row, (text, size, weight) in enumerate(lines):
        y = 1.0 - (0.24 + 0.2 * row) / figure.get_figheight()
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _day(begun: str) -> str:
    return f"{datetime.fromisoformat(begun):%d %b}"
