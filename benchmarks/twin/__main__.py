"""`python -m benchmarks.twin [players] [situations] [seed]`."""

import sys

from benchmarks.twin.study import study, table

if __name__ == "__main__":
    players, situations, seed = (
        int(a) for a in (*sys.argv[1:], *("20", "10", "7")[len(sys.argv) - 1 :])
    )
    rows = study(players, situations, seed, lambda n: print(f"\r{n}", end="", file=sys.stderr))
    print()
    print("\n".join(table(rows)))
