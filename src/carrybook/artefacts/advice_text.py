"""Advice as plain text for a terminal: what a caddie would say, with the numbers behind it."""

from collections.abc import Iterable, Iterator, Sequence
from math import degrees
from textwrap import wrap

from carrybook.artefacts import words as w
from carrybook.artefacts.facts_text import find_out_lines, flip_lines
from carrybook.artefacts.numbers_text import WIDTH, columns, name_of, rests_on
from carrybook.base.constants import FOOT
from carrybook.decision.advice import Advice, Option, Situation, Trouble
from carrybook.player.bag import Shape
from carrybook.world.firmness import TurfKind

__all__ = [
    "advice_text",
    "answer_pairs",
    "headline",
    "ledger",
    "other_row",
]

_WORTH_TELLING = 0.6  # share of balls from which a side is more than a coin toss; ours
_WORTH_A_PUTT = 0.01  # share of balls on the green below which no putt is described; ours
_LABEL = 9  # columns of the label before each line of an answer


def advice_text(advice: Advice, *, units: str = "yards") -> str:
    """Say the answer to one situation.

    Parameters
    ----------
    advice : Advice
        The answer.
    units : str
        "yards" or "metres".

    Returns
    -------
    text : str
        Plain lines of at most 92 columns.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    best, *others = advice.options
    blocks = [
        _situation(advice.situation, u),
        _best(best, advice.situation, u),
        _others(others, advice, u),
        _why(best, advice.situation, u),
        _bullets("Would change it", flip_lines(advice, u)),
        _bullets("Find out first", find_out_lines(advice)),
        _bullets("Not well known", advice.doubts),
        _bullets("Left out", advice.left_out),
        [*wrap(_basis(advice), WIDTH), "The player decides."],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block)


def ledger(option: Option, number_m: float, unit_m: float) -> tuple[tuple[str, float, float], ...]:
    """Account for the feel number, fact by fact, in tenths that add up on paper.

    Parameters
    ----------
    option : Option
        The shot.
    number_m : float
        Distance from ball to hole. [m]
    unit_m : float
        The unit to count in. [m]

    Returns
    -------
    rows : tuple of (str, float, float)
        Fact, what it adds, and the total after it; the first row is the number itself and adds
        nothing. [unit]

    Notes
    -----
    Totals are rounded and their differences shown, so a fact may show 0.1 off its rounding.
    """
    total_m, before = number_m, round(number_m / unit_m, 1)
    rows = [("to the hole", 0.0, before)]
    for cause in option.why:
        total_m += cause.metres
        after = round(total_m / unit_m, 1)
        name = f"{cause.name}, {cause.note}" if cause.note else cause.name
        rows.append((name, round(after - before, 1), after))
        before = after
    return tuple(rows)


def _basis(advice: Advice) -> str:
    return (
        f"{advice.candidates} candidates, {advice.draws:,} balls each, seed {advice.seed};"
        " strokes +- one standard error of the simulation alone."
    )


def _situation(s: Situation, u: w.Units) -> list[str]:
    at = s.location
    title = f"{w.one_line(s.hole.venue)}, hole {w.one_line(s.hole.ref)}"
    return [
        *wrap(f"{title}: {w.distance(s.number_m, u)} to the hole", WIDTH),
        *_line(
            "hole",
            f"{w.location_words(at)}, room {w.paces(at.behind_m)} behind (paces)",
        ),
        *_line("lie", f"{s.lie}, {s.moisture}"),
        *_line("air", w.air_words(s.air)),
        *_line("wind", _wind(s, u)),
        *_line(
            "green",
            f"{w.firmness_words(s.firmness_g)} ({s.firmness_g:.0f} +- {s.firmness_sd_g:.0f} g),"
            f"{_kind(s)} speed {s.stimp_m / FOOT:.1f} ft ({s.stimp_m:.2f} m)",
        ),
    ]


def _kind(s: Situation) -> str:
    return "" if s.kind is TurfKind.UNKNOWN else f" {s.kind},"


def _wind(s: Situation, u: w.Units) -> str:
    """Add the height it was stated at: the ball meets less of it near the ground."""
    call = w.wind_words(s.wind, u)
    return call if call == w.CALM else f"{call} (at {s.wind.height_m:g} m up)"


def headline(o: Option, u: w.Units) -> str:
    """Say what to do in one line."""
    where = _where(o, u)
    label, feel = w.one_line(o.summary.shot.label), w.distance(o.feel_m, u)
    return f"PLAY {label}, feel {feel}: land it {where}"


def answer_pairs(o: Option, s: Situation, u: w.Units) -> Iterator[tuple[str, str]]:
    """What is said below the headline: label and text, line by line."""
    shot = o.summary.shot
    if shot.cue:
        yield "cue", f'"{w.one_line(shot.cue)}"'
    yield "number", f"plays {w.distance(o.playing_m, u)}, feel {w.distance(o.feel_m, u)}"
    yield "land", f"{w.distance(o.landing_m, u)} out, {_where(o, u)}, {_landing_paces(o, s)}"
    yield (
        "start",
        f"{w.start_words(o.aim_right_m, u)} ({abs(degrees(o.start_right_rad)):.1f} degrees)"
        f"{_curve(o, s, u)}",
    )
    yield "spot", f"start it over one {w.spot_words(o.start_right_rad, u)}"
    yield (
        "flight",
        f"{w.short_distance(o.apex_m, u)} high, {o.time_s:.1f} s in the air,"
        f" comes down at {degrees(o.descent_rad):.0f} degrees",
    )
    yield "landed", f"it should {w.run_words(o.run_low_m, o.run_m, o.run_high_m, u)}"
    yield (
        "finish",
        f"half within {w.short_distance(o.near_m, u)}, nine in ten within"
        f" {w.short_distance(o.far_m, u)}; {w.per_cent(o.green)} on the green,"
        f" {w.per_cent(_beside(o))} just beside it, {w.per_cent(o.holed)} holed",
    )
    yield "trouble", _troubles(o.troubles)
    if o.green >= _WORTH_A_PUTT:
        yield "putt", _leave(o, u)
    yield "strokes", f"{o.strokes:.2f} {w.standard_error(o.strokes_se)} to hole out"
    if o.chance is not None:
        yield "chance", f"{w.per_cent(o.chance)} to need no more strokes than you asked for"
    yield "known", f"rests on {rests_on(o.summary.balls)}"


def _best(o: Option, s: Situation, u: w.Units) -> list[str]:
    lines = wrap(headline(o, u), WIDTH)
    for label, text in answer_pairs(o, s, u):
        lines += _line(label, text)
    return lines


def _where(o: Option, u: w.Units) -> str:
    return f"{w.short_or_past(o.landing_to_hole_m, u)}, {w.sideways(o.landing_right_m, u)}"


def _curve(o: Option, s: Situation, u: w.Units) -> str:
    """How a draw or cut bends from its start line, wind and all; nothing for a straight shot."""
    if o.summary.shot.shape is Shape.STRAIGHT:
        return ""
    wind = "" if w.wind_words(s.wind, u) == w.CALM else ", wind included"
    return f"; it curves {w.bend_words(o.curve_right_m, o.curve_se_m, u)}{wind}"


def _beside(o: Option) -> float:
    """Share of balls on fringe or fairway beside the green: neither on it nor in trouble."""
    return max(0.0, 1.0 - o.green - sum(o.troubles.values()))


def _landing_paces(o: Option, s: Situation) -> str:
    on_m = s.location.on_m + o.landing_x - s.location.x
    if on_m < 0.0:
        return f"{w.paces(-on_m)} paces short of the front edge"
    return f"{w.paces(on_m)} paces on"


def _troubles(troubles: dict[Trouble, float]) -> str:
    worst_first = sorted(troubles.items(), key=lambda item: -item[1])
    return ", ".join(f"{kind} {w.per_cent(share)}" for kind, share in worst_first) or "none seen"


def _leave(o: Option, u: w.Units) -> str:
    leave = o.leave
    shares = {
        "below the hole": leave.below,
        "above the hole": leave.above,
        "left of it": leave.left,
        "right of it": leave.right,
    }
    usual = f"usually {w.short_distance(leave.length_m, u)}, {w.slope_words(leave.rise_m, u)}"
    told = [f"{w.per_cent(v)} lie {k}" for k, v in shares.items() if v >= _WORTH_TELLING]
    return "; ".join([usual, ", ".join(told)] if told else [usual])


def _others(others: Sequence[Option], advice: Advice, u: w.Units) -> list[str]:
    at_flag, most = advice.at_flag, advice.at_most
    behind = "strokes behind" if most is None else f"less chance of {most}"
    head = ("", "feel", "lands", "on green", "9 in 10", behind, "")
    rows = [other_row(name_of(o.summary), o, u) for o in others]
    note = "no shot lands at the hole from here"
    if at_flag is not None:
        rows.append(other_row(f"{name_of(at_flag.summary)} at the flag", at_flag, u))
        note = "last row: the stock shot, landed at the hole"
    if not rows:
        return ["INSTEAD: no other shot reaches, and none lands at the hole from here"]
    return [f"INSTEAD ({u.far}; {note})", *columns([head, *rows])]


def other_row(name: str, o: Option, u: w.Units) -> tuple[str, ...]:
    """One option beside the best, as a row: name, feel, landing, green, nine in ten, behind."""
    return (
        name,
        w.whole(o.feel_m, u),
        w.short_or_past(o.landing_to_hole_m, u, brief=True),
        w.per_cent(o.green),
        w.short_distance(o.far_m, u),
        w.difference(o.behind, o.behind_se),
        "too close to call" if o.close_call else "",
    )


def _why(o: Option, s: Situation, u: w.Units) -> list[str]:
    rows = ledger(o, s.number_m, u.far_m)
    marks = {round(o.playing_m / u.far_m, 1): "playing number"}
    marks[round(o.landing_m / u.far_m, 1)] = "carry wanted"
    lines = []
    for i, (name, adds, total) in enumerate(rows):
        mark = "feel number" if i == len(rows) - 1 else marks.pop(total, "") if i > 0 else ""
        change = f"{adds:+.1f}" if i > 0 else ""
        text = f"{change:>7} {total:>7.1f}  {w.one_line(name)}{f' = {mark}' if mark else ''}"
        lines += wrap(text, WIDTH, subsequent_indent=" " * 17)
    return [f"WHY ({u.far}; plus plays longer; tenths so that the sum can be followed)", *lines]


def _bullets(title: str, items: Iterable[str]) -> list[str]:
    lines = [
        line
        for item in items
        for line in wrap("  - " + w.one_line(item), WIDTH, subsequent_indent="    ")
    ]
    return [title.upper(), *lines] if lines else []


def _line(label: str, text: str) -> list[str]:
    return wrap(f"  {label:<{_LABEL}}{text}", WIDTH, subsequent_indent=" " * (_LABEL + 2))
