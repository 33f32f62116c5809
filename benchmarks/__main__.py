"""`make bench`: how fast, against what, in one run."""

from benchmarks import choice, flights, learning, start

if __name__ == "__main__":
    for part in (flights, choice, learning, start):
        for line in part.lines():
            print(line, flush=True)
