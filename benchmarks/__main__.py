"""`make bench`: how fast, against what, in one run."""

from benchmarks import choice, flights, plan, shots, start

if __name__ == "__main__":
    for part in (flights, shots, choice, plan, start):
        for line in part.lines():
            print(line, flush=True)
