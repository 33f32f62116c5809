"""What all short texts share."""

from collections.abc import Iterable, Sequence

__all__ = ["counted", "table"]


def table(rows: Iterable[Sequence[str]]) -> str:
    """Columns as wide as their widest cell; one that is empty below its head is left out."""
    columns = [column for column in zip(*rows, strict=True) if any(column[1:])]
    widths = [max(map(len, column)) for column in columns]
    lines = zip(*columns, strict=True)
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in lines
    )


def counted(number: int, thing: str) -> str:
    """Count a thing in words: "1 ball", "3 balls"."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
