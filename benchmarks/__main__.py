"""`make bench`: how fast, against what, in one run."""

from benchmarks import choice, flights, ground, learning, page, plan, putting, review, shots, start

PARTS = (
    flights,
    shots,
    ground,
    putting,
    choice,
    learning,
    plan,
    review,
    page,
    start,
)

if __name__ == "__main__":
    for part in PARTS:
        for line in part.lines():
            print(line, flush=True)
