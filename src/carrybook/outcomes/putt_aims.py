"""What comes of an aim, from the rolls of :mod:`carrybook.outcomes.putt_rolls`; and the best aim.

Start line and reach scatter like two independent normals. Between the rows the line into the hole,
how much of a turn is a centimetre at the hole, and the energy there are taken as straight; so the
set of putts that drop is a strip, and its share of the scatter is a sum of normal integrals.
"""

from math import erf

import numpy as np

from carrybook.base.numerics import Floats, kernel

__all__ = ["aim_kernel", "strip_kernel", "value_kernel"]


@kernel
def _cdf(z: float) -> float:
    """Normal integral."""
    below: float = 0.5 * (1.0 + erf(z * 0.7071067811865476))
    return below


@kernel
def _crossing(values: Floats, energies: Floats, share: Floats) -> bool:
    """Where a row of offsets crosses zero nearest to its middle: index and part into `share`.

    Only pieces count whose putts pass the hole. Beyond them the nearest goes on, up to twice its
    length; says whether it was found.
    """
    last = values.shape[0] - 1
    best, found = 1e9, False
    for i in range(last):
        a, b = values[i], values[i + 1]
        if b <= a or energies[i] < 0.01 or energies[i + 1] < 0.01:
            continue
        part = -a / (b - a)
        beyond = abs(part - 0.5)
        away = 100.0 * max(beyond, 0.5) + abs(i + 0.5 - 0.5 * last)
        if beyond < 2.5 and away < best:
            best, found = away, True
            share[0], share[1] = i, part
    return found


@kernel
def strip_kernel(
    first: int,
    last: int,
    lines: Floats,
    reaches: Floats,
    offsets: Floats,
    energies: Floats,
    drop: Floats,
    captures: Floats,
    edges: Floats,
    left: Floats,
    right: Floats,
) -> None:
    """Find the putts that drop: between `edges` (n, k + 1) of reach, `right` to `left` (n, k).

    `captures`: greatest offset that drops by speed, evenly spaced up to the greatest energy. Line
    and turn go straight with the speed at the hole, its energy with the reach.
    """
    rows, pieces = reaches.shape[1], left.shape[1]
    line, turn, energy = np.zeros(rows), np.zeros(rows), np.zeros(rows)
    share, ok = np.zeros(2), np.zeros(rows, dtype=np.bool_)
    greatest = np.sqrt(2.0 * drop[1])
    for n in range(first, last):
        for i in range(3, 7):
            ok[i] = _crossing(offsets[n, i], energies[n, i], share)
            j, part = int(share[0]), share[1]
            between = lines[n, j + 1] - lines[n, j]
            line[i] = lines[n, j] + part * between
            turn[i] = between / max(offsets[n, i, j + 1] - offsets[n, i, j], 1e-9)
            energy[i] = energies[n, i, j] + part * (energies[n, i, j + 1] - energies[n, i, j])
        begin = 3 if ok[3] else 4
        rate = (energy[begin + 1] - energy[begin]) / (reaches[n, begin + 1] - reaches[n, begin])
        low = reaches[n, 2]
        if rate > 0.0:  # where the putt just gets there
            low = max(reaches[n, begin] - (energy[begin] - drop[0]) / rate, reaches[n, 2])
        wide = reaches[n, 6] - low
        for k in range(pieces + 1):
            edges[n, k] = low + wide * k / pieces
        for k in range(pieces):
            middle = 0.5 * (edges[n, k] + edges[n, k + 1])
            i = begin
            while i < 5 and middle > reaches[n, i + 1]:
                i += 1
            part = (middle - reaches[n, i]) / (reaches[n, i + 1] - reaches[n, i])
            speed = np.sqrt(2.0 * max(energy[i] + part * (energy[i + 1] - energy[i]), 0.0))
            slower, faster = (
                np.sqrt(2.0 * max(energy[i], 0.0)),
                np.sqrt(2.0 * max(energy[i + 1], 0.0)),
            )
            part = (speed - slower) / max(faster - slower, 1e-6)
            at = speed / greatest * (captures.shape[0] - 1)
            offset = 0.0
            if at < captures.shape[0] - 1 and ok[i] and ok[i + 1]:
                s = int(at)
                offset = captures[s] + (at - s) * (captures[s + 1] - captures[s])
            centre = line[i] + part * (line[i + 1] - line[i])
            half = offset * (turn[i] + part * (turn[i + 1] - turn[i]))
            left[n, k], right[n, k] = centre + half, centre - half


@kernel
def _lookup(
    x: float,
    y: float,
    hole_x: float,
    hole_y: float,
    table: Floats,
    table_step: float,
    grid: Floats,
    grid_x: float,
    grid_y: float,
    grid_step: float,
) -> float:
    """A table by distance from the hole, plus what a net of nodes adds to it."""
    far = np.sqrt((x - hole_x) ** 2 + (y - hole_y) ** 2) / table_step
    i = min(int(far), table.shape[0] - 2)
    value = table[i] + min(far - i, 1.0) * (table[i + 1] - table[i])
    u = min(max((x - grid_x) / grid_step, 0.0), grid.shape[0] - 1.000001)
    v = min(max((y - grid_y) / grid_step, 0.0), grid.shape[1] - 1.000001)
    i, j = int(u), int(v)
    u, v = u - i, v - j
    low = grid[i, j] + v * (grid[i, j + 1] - grid[i, j])
    high = grid[i + 1, j] + v * (grid[i + 1, j + 1] - grid[i + 1, j])
    more: float = value + low + u * (high - low)
    return more


@kernel
def value_kernel(
    first: int,
    last: int,
    x: Floats,
    y: Floats,
    hole_x: float,
    hole_y: float,
    table: Floats,
    table_step: float,
    grid: Floats,
    grid_x: float,
    grid_y: float,
    grid_step: float,
    out: Floats,
) -> None:
    """Look up many points."""
    for n in range(first, last):
        out[n] = _lookup(
            x[n], y[n], hole_x, hole_y, table, table_step, grid, grid_x, grid_y, grid_step
        )


@kernel
def _weigh(
    n: int,
    line: float,
    reach: float,
    errors: Floats,
    spread: Floats,
    lines: Floats,
    reaches: Floats,
    edges: Floats,
    left: Floats,
    right: Floats,
    share: Floats,
    column: Floats,
    missed: Floats,
) -> float:
    """Chance that a putt so aimed drops; `missed` (ROWS, COLUMNS): where the others stop."""
    rows, columns, pieces = reaches.shape[1], lines.shape[1], left.shape[1]
    turn = spread[n, 0]
    pace = np.sqrt(errors[1] ** 2 * (reach**2 + errors[3] ** 2) + spread[n, 1] ** 2)
    made, below = 0.0, _cdf((edges[n, 0] - reach) / pace)
    for k in range(pieces):
        above = _cdf((edges[n, k + 1] - reach) / pace)
        if above - below > 1e-9 and left[n, k] > right[n, k]:
            made += (above - below) * (
                _cdf((left[n, k] - line) / turn) - _cdf((right[n, k] - line) / turn)
            )
        below = above
    for j in range(columns - 1):
        share[j] = 0.5 * (lines[n, j] + lines[n, j + 1])
        column[j] = _cdf((share[j] - line) / turn)
    column[columns - 1] = 1.0
    below, total = 0.0, 0.0
    for i in range(rows):
        above = 1.0
        if i == 2:
            above = _cdf((edges[n, 0] - reach) / pace)
        elif i == 6:
            above = _cdf((edges[n, pieces] - reach) / pace)
        elif i < rows - 1:
            above = _cdf((0.5 * (reaches[n, i] + reaches[n, i + 1]) - reach) / pace)
        above = max(above, below)
        holed = 3 <= i <= 6
        a, b = 0.0, 0.0
        if holed:
            middle = min(max(reaches[n, i], edges[n, 0]), edges[n, pieces])
            k = int((middle - edges[n, 0]) / (edges[n, pieces] - edges[n, 0]) * pieces)
            k = min(max(k, 0), pieces - 1)
            a, b = _cdf((right[n, k] - line) / turn), _cdf((left[n, k] - line) / turn)
        before = 0.0
        for j in range(columns):
            part = column[j] - before
            if holed:
                part -= max(0.0, min(column[j], b) - max(before, a))
            before = column[j]
            missed[i, j] = (above - below) * part
            total += missed[i, j]
        below = above
    scale = (1.0 - made) / max(total, 1e-12)
    for i in range(rows):
        for j in range(columns):
            missed[i, j] *= scale
    return made


@kernel
def _cost(missed: Floats, values: Floats) -> float:
    """Putts still to come, over the misses."""
    total = 0.0
    for i in range(missed.shape[0]):
        for j in range(missed.shape[1]):
            total += missed[i, j] * values[i, j]
    return total


@kernel
def _line_for(
    n: int,
    reach: float,
    pace: float,
    edges: Floats,
    left: Floats,
    right: Floats,
    otherwise: float,
) -> float:
    """The middle of the strip that drops, weighed by how often a putt so meant is there."""
    total, weight, below = 0.0, 0.0, _cdf((edges[n, 0] - reach) / pace)
    for k in range(left.shape[1]):
        above = _cdf((edges[n, k + 1] - reach) / pace)
        w = (above - below) * (left[n, k] - right[n, k])
        total += w * 0.5 * (left[n, k] + right[n, k])
        weight += w
        below = above
    return total / weight if weight > 1e-12 else otherwise


@kernel
def aim_kernel(
    first: int,
    last: int,
    errors: Floats,
    spread: Floats,
    lines: Floats,
    reaches: Floats,
    edges: Floats,
    left: Floats,
    right: Floats,
    values: Floats,
    paces: Floats,
    aims: Floats,
    weights: Floats,
) -> None:
    """Find the aim with the fewest putts: `aims` (n, 4): line, reach, chance, putts.

    `values` (n, ROWS, COLUMNS): putts from where each roll stops; `paces`: reaches to try, as
    shares of the way from just there to too fast; `weights` (n, ROWS, COLUMNS): the misses.
    """
    rows, columns, tries = reaches.shape[1], lines.shape[1], paces.shape[0]
    share, column = np.zeros(columns), np.zeros(columns)
    missed, costs = np.zeros((rows, columns)), np.zeros(tries)
    now, way, at = np.zeros(tries + 4), np.zeros(tries + 4), np.zeros(3)
    for n in range(first, last):
        low, wide = edges[n, 0], edges[n, left.shape[1]] - edges[n, 0]
        best, k = 1e9, 1
        for t in range(tries + 4):
            if t < tries:  # paces on a scale
                now[t] = low + paces[t] * wide
            elif t == tries:  # where a parabola through the best three is lowest
                for s in range(2, tries - 1):
                    k = s if costs[s] < costs[k] else k
                now[t] = low + wide * _lowest(paces[k - 1 : k + 2], costs[k - 1 : k + 2])
            else:
                now[t] = aims[n, 1]
            if t <= tries:
                pace = np.sqrt(errors[1] ** 2 * (now[t] ** 2 + errors[3] ** 2) + spread[n, 1] ** 2)
                middle = lines[n, (columns - 1) // 2]
                way[t] = _line_for(n, now[t], pace, edges, left, right, middle)
            elif t == tries + 1:  # then lines to either side of the middle, by the same parabola
                middle, at[1] = aims[n, 0], best
                way[t] = middle - 0.4 * spread[n, 0]
            elif t == tries + 2:
                way[t] = middle + 0.4 * spread[n, 0]
            else:
                sides = np.array([-0.4, 0.0, 0.4])
                way[t] = middle + spread[n, 0] * _lowest(sides, at)
            made = _weigh(
                n, way[t], now[t], errors, spread, lines, reaches, edges, left, right,
                share, column, missed,
            )  # fmt: skip
            cost = 1.0 + _cost(missed, values[n])
            if t < tries:
                costs[t] = cost
            elif t == tries + 1:
                at[0] = cost
            elif t == tries + 2:
                at[2] = cost
            if cost < best:
                best = cost
                aims[n, 0], aims[n, 1], aims[n, 2], aims[n, 3] = way[t], now[t], made, cost
                weights[n] = missed


@kernel
def _lowest(at: Floats, costs: Floats) -> float:
    """Where the parabola through three points is lowest, between the outer two."""
    p = (at[1] - at[0]) * (costs[1] - costs[2])
    q = (at[1] - at[2]) * (costs[1] - costs[0])
    if abs(p - q) < 1e-15:
        return float(at[1])
    vertex = at[1] - 0.5 * ((at[1] - at[0]) * p - (at[1] - at[2]) * q) / (p - q)
    return float(min(max(vertex, at[0]), at[2]))
