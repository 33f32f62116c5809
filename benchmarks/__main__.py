"""`make bench`: how fast, against what, in one run."""

from benchmarks import choice, flights, shots, start

if __name__ == "__main__":
    for part in (flights, shots, choice, start):
        for line in part.lines():
            print(line, flush=True)
