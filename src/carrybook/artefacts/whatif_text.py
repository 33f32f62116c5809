"""What would change an owned shot, as a table for a terminal: about, and from where to where."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import degrees
from textwrap import wrap

from carrybook.artefacts import words as w
from carrybook.base.constants import FOOT, RPM
from carrybook.player.whatif import Effect, Explained, Question, WhatIf

__all__ = ["explained_text"]

_WIDTH = 80  # columns of the narrowest terminal that people use
_HEAD = "change, about"
_SPIN_STEP = 100.0  # rpm: no more is known
_GAP = 2

# Head, unit, quantity of `WhatIf`, how to count it, decimals.
_Column = tuple[str, str, str, Callable[[float], float], int]


def explained_text(explained: Explained, *, units: str = "yards") -> str:
    """Tabulate a shot and what would change it.

    Parameters
    ----------
    explained : Explained
        The shot and its changes.
    units : str
        "yards" or "metres".

    Returns
    -------
    text : str
        Plain lines of at most 80 columns.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    e = explained
    hand = "left-handed" if e.left_handed else "right-handed"
    blocks = [
        _title(e, u),
        _block("LIE (face and ball; not the green)", e, Question.LIE, _flight(u)),
        _block("DELIVERY (head speed as stock, but for a shorter finish)", e, Question.DELIVERY,
               _flight(u)),
        _block(f"SHAPE ({hand}; the face looks at the target, plus is right)", e, Question.SHAPE,
               _shape(u)),
        _notes(e),
    ]  # fmt: skip
    return "\n\n".join("\n".join(block) for block in blocks)


def _flight(u: w.Units) -> tuple[_Column, ...]:
    return (
        ("launch", "deg", "launch_rad", degrees, 0),
        _spin(),
        ("carry", u.far, "carry_m", lambda m: m / u.far_m, 0),
        ("apex", u.near, "apex_m", lambda m: m / u.near_m, 0),
        ("descent", "deg", "descent_rad", degrees, 0),
        ("run", u.far, "release_m", lambda m: m / u.far_m, 0),
    )


def _shape(u: w.Units) -> tuple[_Column, ...]:
    return (
        ("start", "deg", "start_right_rad", degrees, 1),
        ("curve", u.far, "curve_right_m", lambda m: m / u.far_m, 0),
        _spin(),
        ("carry", u.far, "carry_m", lambda m: m / u.far_m, 0),
        ("descent", "deg", "descent_rad", degrees, 0),
        ("run", u.far, "release_m", lambda m: m / u.far_m, 0),
    )


def _spin() -> _Column:
    return ("spin", "rpm", "spin_rad_s", lambda s: _SPIN_STEP * round(s / RPM / _SPIN_STEP), 0)


def _title(e: Explained, u: w.Units) -> list[str]:
    green = (
        f"{w.firmness_words(e.firmness_g)} green ({e.firmness_g:.0f} g), speed"
        f" {e.stimp_m / FOOT:.0f} ft ({e.stimp_m:.2f} m)"
    )
    label = w.one_line(e.summary.shot.label)
    return [
        *wrap(f"{label} at stock feel: about {_stock(e.stock, u)}", _WIDTH),
        *wrap(f"{w.air_words(e.air)}; level, calm, dry fairway; {green}", _WIDTH),
    ]


def _stock(stock: WhatIf, u: w.Units) -> str:
    run = _ends(stock.release_m, lambda m: m / u.far_m)
    spin = _ends(stock.spin_rad_s, lambda s: _SPIN_STEP * round(s / RPM / _SPIN_STEP))
    apex = _ends(stock.apex_m, lambda m: m / u.near_m)
    down = _ends(stock.descent_rad, degrees)
    return (
        f"{w.whole(stock.carry_m.value, u)} {u.far} of carry,"
        f" launched at {degrees(stock.launch_rad.value):.0f} deg with {spin} rpm,"
        f" {apex} {u.near} high, down at {down} deg, {run} {u.far} of run"
    )


def _ends(effect: Effect, count: Callable[[float], float]) -> str:
    """Middle and ends of the stock shot itself: "7 (6 to 9)"."""
    low, high = count(effect.value + effect.low), count(effect.value + effect.high)
    return f"{_plain(count(effect.value))} ({_plain(low)} to {_plain(high)})"


def _plain(value: float) -> str:
    return f"{round(value)}"


def _block(title: str, e: Explained, question: Question, columns: Sequence[_Column]) -> list[str]:
    rows = [r for r in e.rows if r.question is question]
    cells = [(_about(r, columns), _range(r, columns)) for r in rows]
    heads = [(head, unit) for head, unit, *_ in columns]
    widths = [
        max(len(text) for text in (*heads[k], *(c[k] for pair in cells for c in pair)))
        for k in range(len(columns))
    ]
    widths.insert(0, max(len(name) for name in (_HEAD, *(r.name for r in rows))))
    lines = [title, _row(_HEAD, [h for h, _ in heads], widths)]
    lines.append(_row("", [unit for _, unit in heads], widths))
    for r, (about, range_) in zip(rows, cells, strict=True):
        lines += [_row(r.name, about, widths), _row("", range_, widths)]
    return lines


def _about(row: WhatIf, columns: Sequence[_Column]) -> list[str]:
    return [_signed(count(getattr(row, name).change), d) for _, _, name, count, d in columns]


def _range(row: WhatIf, columns: Sequence[_Column]) -> list[str]:
    return list(_ranges(row, columns))


def _ranges(row: WhatIf, columns: Sequence[_Column]) -> Iterator[str]:
    for _, _, name, count, digits in columns:
        effect: Effect = getattr(row, name)
        low, high = (_signed(count(end), digits) for end in (effect.low, effect.high))
        yield f"{low}..{high}" if low != high else ""


def _signed(value: float, digits: int) -> str:
    shown = round(value, digits) + 0.0
    return f"{shown:+.{digits}f}" if shown else "0"


def _row(name: str, cells: Sequence[str], widths: Sequence[int]) -> str:
    gap = " " * _GAP
    padded = (cell.rjust(width) for cell, width in zip(cells, widths[1:], strict=True))
    return gap + gap.join([name.ljust(widths[0]), *padded]).rstrip()


def _notes(e: Explained) -> list[str]:
    measured = e.summary.launch_measured
    rests = (
        f"Launch and spin rest on {measured} measured ball{'s' if measured > 1 else ''}."
        if measured
        else "Launch and spin come from the loft: no measured ball yet, so take the signs first."
    )
    notes = [
        "Differences from the stock shot; under each, from where to where: sizes of the change,"
        " and lift and drag, which nobody has measured for such balls.",
        _sizes(e),
        rests,
    ]
    if e.left_out:
        notes.append(f"Left out, as no such strike can be computed: {', '.join(e.left_out)}.")
    return [line for note in notes for line in wrap(note, _WIDTH)]


def _sizes(e: Explained) -> str:
    s = e.sizes
    shorter = [100.0 * (1.0 - share) for share in s.shorter]
    return (
        "Sizes are working values, not measured on you:"
        f" ball back {_size(map(degrees, s.ball_back_rad))} deg of loft,"
        f" forward {_size(map(degrees, s.face_open_rad))},"
        f" a shorter finish {_size(shorter)} % of head speed,"
        f" a shape {_size(map(degrees, s.across_rad))} deg of path past the face with loft"
        f" {_size(map(degrees, s.draw_loft_rad))} (draw), {_size(map(degrees, s.cut_loft_rad))}"
        " (cut) deg."
    )


def _size(sizes: Iterable[float]) -> str:
    low, middle, high = sizes
    return f"{middle:.3g} ({low:.3g} to {high:.3g})"
