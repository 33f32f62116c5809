"""`python -m benchmarks.twin [players] [situations] [seed]`; a line a situation, then the table."""

import os
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small matrices; threads only wait

from benchmarks.twin.study import Row, study, table
from carrybook.base.constants import YARD


def _line(row: Row) -> str:
    lost = "  ".join(f"{row.lost(name):+.3f}" for name in row.strokes)
    told = row.told
    return (
        f"{told.number_m / YARD:4.0f} yd {told.lie.value:12s} {told.moisture.value:4s}"
        f" {told.kind.value:14s}  {lost}"
    )


if __name__ == "__main__":
    players, situations, seed = (
        int(a) for a in (*sys.argv[1:], *("20", "10", "7")[len(sys.argv) - 1 :])
    )
    rows = []
    for row in study(players, situations, seed):
        rows.append(row)
        print(_line(row), flush=True)
    print("\n".join(table(rows)))
