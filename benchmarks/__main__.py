"""`make bench`: how fast, against what, in one run."""

from benchmarks import choice, flights, ground, start

if __name__ == "__main__":
    for part in (flights, choice, ground, start):
        for line in part.lines():
            print(line, flush=True)
