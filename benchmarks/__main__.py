"""`make bench`: how fast, against what, in one run."""

from benchmarks import choice, flights, page, start

if __name__ == "__main__":
    for part in (flights, choice, page, start):
        for line in part.lines():
            print(line, flush=True)
