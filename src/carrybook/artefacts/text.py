"""Results as plain text for a terminal: what a caddie would say, with the numbers behind it."""

from collections.abc import Iterable, Iterator, Sequence
from math import degrees
from textwrap import wrap

from carrybook.artefacts import words as w
from carrybook.artefacts.ball_text import ball_words, guard_words
from carrybook.artefacts.facts_text import find_out_lines, flip_lines
from carrybook.base.constants import FOOT
from carrybook.decision.advice import Advice, Option, Situation, Trouble
from carrybook.player.bag import Shape
from carrybook.player.numbers import TodayNumber
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.firmness import TurfKind
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "advice_text",
    "answer_pairs",
    "headline",
    "ledger",
    "number_row",
    "numbers_text",
    "other_row",
    "rests_on",
]

_WIDTH = 80  # columns of the narrowest terminal that people use
_WORTH_TELLING = 0.6  # share of balls from which a side is more than a coin toss; ours
_WORTH_A_PUTT = 0.01  # share of balls on the green below which no putt is described; ours
_NAME = 18  # columns of a shot in a table
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
        [*wrap(_basis(advice), _WIDTH), "The player decides."],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block)


def numbers_text(
    numbers: Sequence[TodayNumber],
    air: Air,
    *,
    units: str = "yards",
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
) -> str:
    """Tabulate what every shot carries today, level.

    Parameters
    ----------
    numbers : sequence of TodayNumber
        One for each shot, in the order to print.
    air : Air
        Today's air.
    units : str
        "yards" or "metres".
    lie, moisture : Lie, Moisture
        What the numbers were computed for.

    Returns
    -------
    text : str
        Plain lines. The band of lift, drag and lie stands only where it is 2 units wide or more.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    head = ("shot", "reference", "today", "change", "centre", "one ball", "band", "rests on")
    table = _table([head, *(number_row(n, u) for n in numbers)])
    notes: tuple[str, ...] = (
        f"Carries in {u.far} at stock feel, level. Centre: how well the middle is known,"
        " +- one standard error. One ball: two balls in three stray no further from it."
        " Band: where lift, drag or the lie leave a range.",
        f"Reference day: {w.air_words(REFERENCE_DAY)}, level and calm; every logged ball is carried"
        " to it, so that days compare.",
    )
    played = dict.fromkeys(ball_words(n.summary.ball) for n in numbers)
    notes = (*notes, *played, *guard_words(numbers))
    title = f"Today: {w.air_words(air)}; {lie}, {moisture}"
    return "\n".join([title, "", *table, "", *(line for n in notes for line in wrap(n, _WIDTH))])


def rests_on(balls: int) -> str:
    """How much is known of a shot: "62 balls", or that it is the player's word."""
    if balls == 0:
        return "your word, no balls yet"
    return f"{balls} ball{'s' if balls > 1 else ''}"


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
        *wrap(f"{title}: {w.distance(s.number_m, u)} to the hole", _WIDTH),
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
    lines = wrap(headline(o, u), _WIDTH)
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
    rows = [other_row(_name(o), o, u) for o in others]
    note = "no shot lands at the hole from here"
    if at_flag is not None:
        rows.append(other_row(f"{_name(at_flag)} at the flag", at_flag, u))
        note = "last row: the stock shot, landed at the hole"
    if not rows:
        return ["INSTEAD: no other shot reaches, and none lands at the hole from here"]
    return [f"INSTEAD ({u.far}; {note})", *_table([head, *rows])]


def _name(o: Option | TodayNumber) -> str:
    """Label, cut to what a table can hold."""
    label = w.one_line(o.summary.shot.label)
    return label if len(label) <= _NAME else label[: _NAME - 2] + ".."


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
        lines += wrap(text, _WIDTH, subsequent_indent=" " * 17)
    return [f"WHY ({u.far}; plus plays longer; tenths so that the sum can be followed)", *lines]


def number_row(n: TodayNumber, u: w.Units) -> tuple[str, ...]:
    """One shot of today as a row of words, in the order of the table's head."""
    reference, today = (round(x / u.far_m) for x in (n.reference_m, n.today_m))
    low, high = round(n.today_low_m / u.far_m), round(n.today_high_m / u.far_m)
    return (
        _name(n),
        f"{reference}",
        f"{today}",
        f"{today - reference:+d}" if today != reference else "0",
        f"+- {w.tenths_below_ten(n.centre_se_m / u.far_m)}",
        f"+- {max(1, round(n.spread_m / u.far_m))}",
        f"{low} to {high}" if high - low >= 2 else "",
        rests_on(n.summary.balls),
    )


def _bullets(title: str, items: Iterable[str]) -> list[str]:
    lines = [
        line
        for item in items
        for line in wrap("  - " + w.one_line(item), _WIDTH, subsequent_indent="    ")
    ]
    return [title.upper(), *lines] if lines else []


def _line(label: str, text: str) -> list[str]:
    return wrap(f"  {label:<{_LABEL}}{text}", _WIDTH, subsequent_indent=" " * (_LABEL + 2))


def _table(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Columns as wide as their widest cell; the first and last to the left, the others right."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    last = len(widths) - 1
    for row in rows:
        cells = (
            cell.ljust(width) if k in (0, last) else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        yield "  " + "  ".join(cells).rstrip()
