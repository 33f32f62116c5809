"""`python -m carrybook` is the same as the command `carrybook`."""

from carrybook.app.cli import run

if __name__ == "__main__":
    run()
