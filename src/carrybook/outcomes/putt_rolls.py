"""The rolls behind a putting map: a net of putts around the line into the hole, for every point.

From each point a few putts are rolled: some start lines (columns) times some reaches (rows), most
of them between the putt that just gets there and the fastest that still drops. Everything a player
may do with this putt lies between them, so no more rolls are needed, whatever is aimed at.
"""

import numpy as np

from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.physics.putt import putt_kernel

__all__ = ["COLUMNS", "ERROR_ROW", "ROWS", "net_kernel"]

ROWS = 9  # three short of the hole, four that may drop, two past it
COLUMNS = 5
ERROR_ROW = ("direction", "pace", "reading", "floor")


@kernel
def net_kernel(
    first: int,
    last: int,
    x: Floats,
    y: Floats,
    starts: Floats,
    beyond: Floats,
    entries: Floats,
    hole_x: float,
    hole_y: float,
    numbers: Floats,
    resistances: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    errors: Floats,
    drop: Floats,
    lines: Floats,
    reaches: Floats,
    spread: Floats,
    offsets: Floats,
    energies: Floats,
    stop_x: Floats,
    stop_y: Floats,
) -> None:
    """Roll the nets of points first to last.

    `starts`, `beyond` and `entries` (n,) are where the search for the line begins: left of the
    straight line [rad], reach beyond the distance [m], energy at the hole [m2/s2]. `drop`: least
    and greatest energy that drops, and a slow one of which the line is still sure. Out: `lines`
    (n, COLUMNS) [rad], `reaches` (n, ROWS) [m], `spread` (n, 2): error of the line, reading in
    it [rad], and what reading adds to that of the reach [m]; `offsets`, `energies`, `stop_x`,
    `stop_y` (n, ROWS, COLUMNS).
    """
    for n in range(first, last):
        dx, dy = hole_x - x[n], hole_y - y[n]
        far = max(np.sqrt(dx * dx + dy * dy), 1e-3)
        straight = np.arctan2(dy, dx)
        line, reach = straight + starts[n], max(far + beyond[n], 0.02)
        turn, old_line, old_offset, entry = 1.0 / far, 0.0, 0.0, 0.0
        for trial in range(6):  # the line over the middle of the hole, by secants
            offset, entry, _, _ = putt_kernel(
                x[n], y[n], line, reach, hole_x, hole_y, numbers, resistances,
                heights, surfaces, x0, y0, step,
            )  # fmt: skip
            if abs(offset) < 0.003 and abs(entry - entries[n]) < 0.03:
                break
            if trial > 0 and abs(line - old_line) > 1e-5 and abs(offset - old_offset) > 1e-7:
                secant = (line - old_line) / (offset - old_offset)
                if 0.2 / far < secant < 5.0 / far:
                    turn = secant
            old_line, old_offset = line, offset
            line -= min(max(offset * turn, -0.3), 0.3)
            more = (entries[n] - entry) / numbers[4]
            more = min(max(more, -0.4 * far), 0.4 * far)
            reach = max(reach + more, 0.3 * reach, 0.02)
            entry = entries[n]
        _lay_net(
            n, straight, far, line, reach, entry, numbers[4], errors, drop, lines, reaches, spread
        )
        for i in range(reaches.shape[1]):
            for j in range(lines.shape[1]):
                b, e, sx, sy = putt_kernel(
                    x[n], y[n], lines[n, j], reaches[n, i], hole_x, hole_y, numbers, resistances,
                    heights, surfaces, x0, y0, step,
                )  # fmt: skip
                offsets[n, i, j], energies[n, i, j] = b, e
                stop_x[n, i, j], stop_y[n, i, j] = sx, sy


@kernel
def _lay_net(
    n: int,
    straight: float,
    far: float,
    line: float,
    reach: float,
    entry: float,
    resistance: float,
    errors: Floats,
    drop: Floats,
    lines: Floats,
    reaches: Floats,
    spread: Floats,
) -> None:
    """Choose lines and reaches around the putt that enters in the middle with some energy."""
    level = reach - far - entry / resistance  # what the slope adds to the reach
    spread[n, 0] = np.sqrt(errors[0] ** 2 + (errors[2] * (line - straight)) ** 2)
    spread[n, 1] = errors[2] * level
    pace = np.sqrt(errors[1] ** 2 * (reach**2 + errors[3] ** 2) + spread[n, 1] ** 2)
    low = max(reach - (entry - drop[0]) / resistance, 0.02)
    slow = low + (drop[2] - drop[0]) / resistance
    high = low + min((drop[1] - drop[0]) / resistance, max(6.0 * pace, 0.6))
    wide = high - slow
    reaches[n, 0] = max(low - 2.2 * pace, 0.2 * low)
    reaches[n, 1] = max(low - 1.1 * pace, 0.5 * low)
    reaches[n, 2] = max(low - 0.3 * pace, 0.8 * low)
    reaches[n, 3], reaches[n, 4] = slow, slow + 0.27 * wide
    reaches[n, 5], reaches[n, 6] = slow + 0.6 * wide, high
    reaches[n, 7], reaches[n, 8] = high + 0.8 * pace, high + 2.0 * pace
    middle = (lines.shape[1] - 1) // 2
    for j in range(lines.shape[1]):
        lines[n, j] = line + 2.7 * (j - middle) / middle * spread[n, 0]
