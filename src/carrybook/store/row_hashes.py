"""What tells the rows of a file apart, and how they were read: one hash and one raw text a row."""

import hashlib
import json
from collections import Counter
from collections.abc import Callable

import polars as pl

from carrybook.store.fields import plain
from carrybook.store.sheet import Sheet

__all__ = ["raw_rows", "row_hashes"]

_SAFE = r"^[ !#-\[\]-~]*$"  # printable ASCII that JSON writes as it is
_TO_FOLD = r"[A-Z]|  "


def row_hashes(sheet: Sheet) -> pl.Series:
    """A hash of what each row says: the same for any order of columns, capitals and blanks.

    The second of two equal rows of a file has another, so that both are kept.

    Parameters
    ----------
    sheet : Sheet
        The file.

    Returns
    -------
    row_hash : Series of str
        SHA-256, in hexadecimal.
    """
    contents = _contents(sheet)
    hashes = [_hash(1, text) for text in contents]
    twins = pl.Series(hashes).is_duplicated().arg_true()
    seen: Counter[str] = Counter()
    for place, text in zip(twins, contents.gather(twins), strict=True):
        seen[text] += 1
        hashes[place] = _hash(seen[text], text)
    return pl.Series("row_hash", hashes, dtype=pl.String)


def _hash(occurrence: int, content: str) -> str:
    return hashlib.sha256(f"{occurrence} {content}".encode()).hexdigest()


def raw_rows(sheet: Sheet) -> pl.Series:
    """Each row as JSON: header to cell, as read.

    Parameters
    ----------
    sheet : Sheet
        The file.
    """
    cells = [
        pl.when(pl.col("width") > i).then(
            pl.concat_str(
                pl.lit(f"{json.dumps(name)}: "), _column(sheet, i, lambda text: text), pl.lit("")
            )
        )
        for i, name in enumerate(sheet.header)
    ]
    joined = pl.concat_str(cells, separator=", ", ignore_nulls=True)
    return sheet.frame.select(raw=pl.concat_str(pl.lit("{"), joined, pl.lit("}")))["raw"]


def _contents(sheet: Sheet) -> pl.Series:
    """Write out what each row says."""
    names = [plain(name) for name in sheet.header]
    if len(set(names)) < len(names):  # then the cells decide the order, row by row
        return pl.Series("content", [_content(names, row) for row in _cells(sheet)])
    pairs = [
        pl.when(pl.col(str(i)) != "").then(
            pl.concat_str(
                pl.lit(f"[{json.dumps(names[i])}, "), _column(sheet, i, _folded), pl.lit("]")
            )
        )
        for i in sorted(range(len(names)), key=lambda i: names[i])
    ]
    joined = pl.concat_str(pairs, separator=", ", ignore_nulls=True)
    content = pl.concat_str(pl.lit("["), joined, pl.lit("]"))
    return sheet.frame.select(content=content)["content"]


def _column(sheet: Sheet, index: int, change: Callable[[str], str]) -> pl.Expr:
    """Cells of a column, changed and written as JSON; a text that needs care on its own."""
    cells = sheet.column(index)
    fold = change("A") == "a"
    safe = cells.str.contains(_SAFE)
    odd = {text: json.dumps(change(text)) for text in cells.filter(~safe).unique()}
    easy = pl.col(str(index))
    if fold and cells.str.contains(_TO_FOLD).any():
        easy = easy.str.to_lowercase().str.replace_all(r" +", " ").str.strip_chars(" ")
    quoted = pl.concat_str(pl.lit('"'), easy, pl.lit('"'))
    if not odd:
        return quoted
    return pl.when(safe).then(quoted).otherwise(pl.col(str(index)).replace(odd))


def _cells(sheet: Sheet) -> list[tuple[str, ...]]:
    return sheet.frame.select(str(i) for i in range(len(sheet.header))).rows()


def _content(names: list[str], cells: tuple[str, ...]) -> str:
    pairs = ((n, _folded(cell)) for n, cell in zip(names, cells, strict=True) if cell)
    return json.dumps(sorted(pairs))


def _folded(text: str) -> str:
    """Text without regard to capitals and blanks."""
    return " ".join(text.lower().split())
