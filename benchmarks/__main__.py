"""`make bench`: how fast, against what, in one run."""

from benchmarks import (
    bag,
    choice,
    flights,
    ground,
    learning,
    page,
    plan,
    putting,
    review,
    shots,
    start,
)

PARTS = (
    flights,
    shots,
    ground,
    putting,
    choice,
    learning,
    plan,
    bag,
    review,
    page,
    start,
)

if __name__ == "__main__":
    for part in PARTS:
        for line in part.lines():
            print(line, flush=True)
