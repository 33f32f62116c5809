"""A rival's averages from a file: lie, distance, strokes; docs/rounds.md says how it looks."""

import re
from collections import defaultdict
from pathlib import Path

import numpy as np

from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.decision.review.baselines import GREEN, Baseline
from carrybook.store.text_rows import text_rows
from carrybook.world.lie import Lie

__all__ = ["read_baseline"]

_DISTANCE = re.compile(r"distance\s*[(\[](?P<unit>[^()\[\]]+)[)\]]", re.IGNORECASE)


def read_baseline(path: Path) -> Baseline:
    """Read a baseline.

    Parameters
    ----------
    path : Path
        CSV with the columns lie, distance with its unit in brackets, and strokes; the lie "green"
        is for putts.

    Returns
    -------
    baseline : Baseline
        Named after the file.

    Raises
    ------
    BadInputError
        It cannot be read, or a cell cannot be used; the message names the row.
    """
    first, *below = text_rows(path) or [[]]
    unit = _unit_of(first, path)
    tables: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for number, cells in enumerate(below, 2):
        if any(cells):
            lie, distance, strokes = _row(cells, unit, f"{path.name}, row {number}")
            tables[lie].append((distance, strokes))
    if not tables:
        raise BadInputError(f"{path.name} holds no averages")
    return Baseline(path.stem, {lie: np.array(sorted(held)) for lie, held in tables.items()})


def _unit_of(heads: list[str], path: Path) -> str:
    """Unit of the distances, from the header."""
    names = [head.strip().lower() for head in heads]
    match = _DISTANCE.fullmatch(names[1]) if len(names) == 3 else None
    if match is None or (names[0], names[2]) != ("lie", "strokes"):
        raise BadInputError(
            f"{path.name} needs the header: lie,distance (yd),strokes; it has: {', '.join(heads)}"
        )
    return match["unit"]


def _row(cells: list[str], unit: str, where: str) -> tuple[str, float, float]:
    if len(cells) != 3:
        raise BadInputError(f"{where}: {len(cells)} cells, not 3")
    lie = " ".join(cells[0].lower().split())
    if lie not in {*Lie, GREEN}:
        known = ", ".join((*Lie, GREEN))
        raise BadInputError(f"{where}: lie = {cells[0]!r} is not one of: {known}")
    try:
        distance = u.parse(cells[1], u.LENGTH, "distance", unit=unit)
        strokes = float(cells[2].replace(",", "."))
    except BadInputError as error:
        raise BadInputError(f"{where}: {error}") from None
    except ValueError:
        raise BadInputError(f"{where}: strokes = {cells[2]!r} is not a number") from None
    return lie, distance, strokes
