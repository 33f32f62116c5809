"""What was learnt, how it checks, and feel against real, in words."""

from collections.abc import Iterator, Sequence
from math import degrees, exp, expm1
from typing import TYPE_CHECKING

from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w

if TYPE_CHECKING:
    from carrybook.app.services.learn import LearnReport
    from carrybook.player.learn.check import Coverage
    from carrybook.player.learn.feel import Feel, FeelGap
    from carrybook.player.learn.result import Diagnostics, Learnt
    from carrybook.player.summary import ShotSummary
    from carrybook.store.learnt import StoredLearnt

__all__ = [
    "basis_text",
    "coverage_text",
    "effect_middles",
    "feel_text",
    "gap_words",
    "learnt_text",
]

# Quantity of the draws, what it is called, and how many of it a sentence is about.
_EFFECTS = (
    ("cold", "your body, per 10 C below 20 C, beyond air and ball"),
    ("dew", "dew, beyond its physics"),
    ("wet", "wet, beyond its physics"),
    ("light rough", "light rough, beyond its physics"),
    ("deep rough", "deep rough, beyond its physics"),
    ("competition", "playing for a score"),
)


def basis_text(state: "StoredLearnt | None") -> str:
    """Say what an answer rests on."""
    if state is None:
        return "Rests on the log as it stands; nothing is learnt yet: carrybook learn"
    way = "full sampling" if state.learnt.method == "full" else "the quick way"
    when = f"{state.at:%Y-%m-%d %H:%M} UTC"
    if state.fresh:
        return f"Rests on what was learnt {when} ({way})."
    return (
        f"Rests on the log as it stands: what was learnt {when} ({way}) is stale, the log"
        " or the bag has changed since; carrybook learn brings it up to date"
    )


def learnt_text(report: "LearnReport", units: str) -> str:
    """Tabulate the shots as learnt, and say what else was learnt."""
    u = w.units_named(units)
    learnt = report.learnt
    head = (
        "shot", f"reference {u.far}", "known", "one ball", "partials", "side deg", "long goes",
        "launch deg", "balls", "days",
    )  # fmt: skip
    rows = [_shot_row(s, u) for s in report.summaries]
    way = "full sampling" if learnt.method == "full" else "the quick way"
    lines = [
        f"learnt from {counted(sum(learnt.balls), 'ball')} by {way}; kept in the book",
        "",
        table([head, *rows]),
        "",
        "Reference: carry at stock feel on the reference day. Known: 90 % interval. One ball: two",
        "in three stray no further. Partials: how much too far a half of stock goes for its feel.",
        *(["Long goes: to which side the long ones go."] if any(r[6] for r in rows) else []),
        "",
        *_effect_lines(report),
    ]
    if learnt.diagnostics:
        lines += ["", *_diagnostic_lines(learnt.diagnostics)]
    return "\n".join(lines)


def coverage_text(rows: "Sequence[Coverage]") -> str:
    """Say how many balls fell where they should."""
    head = ("balls of", "balls", "in 50 %", "in 80 %", "in 90 %")
    shown = [
        (w.one_line(r.what), str(r.balls), *(f"{100.0 * share:.0f} %" for share in r.inside))
        for r in rows
    ]
    note = (
        "Share of balls inside the interval that should hold 50, 80 and 90 % of them. Those of one"
        " day share its luck, so the newest day may be off as a whole."
    )
    return f"{table([head, *shown])}\n\n{note}"


def feel_text(feel: "Feel", units: str) -> str:
    """Say how far feel is from real."""
    u = w.units_named(units)
    blocks = [
        _gap_block("CALLED LESS MEASURED (plus: you called it too long)", feel.called, u),
        _band_block("by meant carry", feel.called_bands, u),
        _gap_block("MEANT LESS CALLED (plus: it felt shorter than you meant)", feel.intended, u),
        _band_block("by meant carry", feel.intended_bands, u),
        "\n".join(_trust_lines(feel)),
        "\n".join(_week_lines(feel)),
        "Intervals hold the truth with 90 % probability; one that holds 0 shows no gap.",
    ]
    return "\n\n".join(block for block in blocks if block)


def _shot_row(s: "ShotSummary", u: w.Units) -> tuple[str, ...]:
    half = 100.0 * expm1(s.bias_slope * -0.6931)
    return (
        w.one_line(s.shot.label),
        w.whole(s.stock_m, u),
        f"+- {w.tenths_below_ten(1.645 * s.stock_se_m / u.far_m)}",
        f"+- {w.tenths_below_ten(s.spread * s.stock_m / u.far_m)}",
        f"{round(half) + 0:+d} %",
        f"{degrees(s.side_rad):.1f}",
        "" if abs(s.correlation) < 0.1 else "right" if s.correlation > 0.0 else "left",
        f"{degrees(s.launch_rad):.0f}" + ("" if s.launch_measured else " (loft)"),
        str(s.balls),
        str(s.days),
    )


def effect_middles(learnt: "Learnt") -> dict[str, tuple[float, float, float]]:
    """Low, middle and high of what body, lie and playing for a score do to carry. [1]"""
    import numpy as np

    return {
        name: tuple(np.expm1(np.quantile(learnt.draws[name], (0.05, 0.5, 0.95))).tolist())
        for name, _ in _EFFECTS
    }


def _effect_lines(report: "LearnReport") -> Iterator[str]:
    rows, middles = [], effect_middles(report.learnt)
    for name, what in _EFFECTS:
        low, middle, high = middles[name]
        sure = "" if low < 0.0 < high else "clear"
        rows.append((what, _percent(middle), f"{_percent(low)} to {_percent(high)}", sure))
    yield table([("effect on carry", "middle", "90 % interval", ""), *rows])
    draws = report.learnt.draws
    yield ""
    yield (
        f"from day to day carries differ by {100.0 * draws['day_sd'].mean():.1f} % (one sd);"
        f" scatter grows {100.0 * (exp(0.6931 * draws['growth'].mean()) - 1.0):.0f} % relative to"
        " carry from stock to half of it"
    )
    odd = 100.0 * draws["odd"].mean()
    yield f"mishits and wrong readings: {odd:.0f} % of balls; they stay in the log"


def _percent(share: float) -> str:
    return f"{round(100.0 * share, 1) + 0.0:+.1f} %"


def _diagnostic_lines(d: "Diagnostics") -> Iterator[str]:
    yield (
        f"{d.chains} chains of {d.draws} draws agree: largest R-hat {d.r_hat:.3f} ({d.worst}),"
        " 1 is perfect"
    )
    yield f"the least known quantity has {d.effective:.0f} independent draws; enough is 200"
    yield f"steps of the sampler that went astray: {d.divergences}"


def _gap_block(title: str, gaps: "Sequence[FeelGap]", u: w.Units) -> str:
    if not gaps:
        return ""
    head = ("shot", "balls", "middle", "90 % interval")
    rows = [(w.one_line(g.label), str(g.balls), *_gap_cells(g)) for g in gaps]
    return f"{title}\n{table([head, *rows])}"


def _band_block(title: str, gaps: "Sequence[FeelGap]", u: w.Units) -> str:
    if not gaps:
        return ""
    head = (f"{title} {u.far}", "balls", "middle", "90 % interval")
    rows = [
        (f"{w.whole(g.from_m, u)} to {w.whole(g.to_m, u)}", str(g.balls), *_gap_cells(g))
        for g in gaps
    ]
    return table([head, *rows])


def gap_words(g: "FeelGap") -> str:
    """Say a gap and the interval that holds it: "+2.1 % (+0.4 % to +3.9 %)"."""
    middle, interval = _gap_cells(g)
    return f"{middle} ({interval})"


def _gap_cells(g: "FeelGap") -> tuple[str, str]:
    return _percent(g.middle), f"{_percent(g.low)} to {_percent(g.high)}"


def _trust_lines(feel: "Feel") -> Iterator[str]:
    if not feel.trust:
        return
    yield "HOW MUCH TO TRUST YOUR CALL AT IMPACT"
    head = ("shot", "balls", "explains", "90 % interval", "call 5 long, expect")
    rows = [
        (
            w.one_line(t.label),
            str(t.balls),
            w.per_cent(t.explained),
            f"{w.per_cent(t.low)} to {w.per_cent(t.high)}",
            f"{5.0 * t.weight:+.1f}",
        )
        for t in feel.trust
    ]
    yield table([head, *rows])
    yield "Explains: the share of how far carries stray from what was meant that your call knew."


def _week_lines(feel: "Feel") -> Iterator[str]:
    if len(feel.weeks) < 2:
        return
    yield "CALLED LESS MEASURED BY WEEK"
    rows = [
        (
            f"{k.monday:%Y-%m-%d}",
            str(k.balls),
            _percent(k.middle),
            f"{_percent(k.low)} to {_percent(k.high)}",
        )
        for k in feel.weeks
    ]
    yield table([("week of", "balls", "middle", "90 % interval"), *rows])
