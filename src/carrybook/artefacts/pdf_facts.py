"""What is really on the pages of a PDF: sizes, words, straight lines, tagged paths, pictures."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any

import numpy as np
from pypdf import PdfReader
from pypdf.errors import PyPdfError

from carrybook.artefacts.pdf_values import PageFacts
from carrybook.artefacts.pdf_walk import Walk
from carrybook.base.errors import BadInputError

__all__ = ["count_pages", "read_pages"]

_MOST_PAGES = 60


def count_pages(content: bytes) -> int:
    """How many pages one of our own cards has."""
    return len(PdfReader(BytesIO(content)).pages)


def read_pages(content: bytes, name: str) -> tuple[list[PageFacts], str]:
    """Read what is on the pages of a PDF.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        What the file is called in a message.

    Returns
    -------
    pages, subject : list of PageFacts, str
        The pages, and the subject that the file states of itself.

    Raises
    ------
    BadInputError
        It is no PDF that can be read, is locked, or has too many pages.
    """
    try:
        with _silent():
            return _read(PdfReader(BytesIO(content)), name)
    except BadInputError:
        raise
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError, IndexError) as error:
        raise BadInputError(f"card = '{name}' is not a PDF that can be read: {error}") from None


def _read(reader: PdfReader, name: str) -> tuple[list[PageFacts], str]:
    if reader.is_encrypted:
        raise BadInputError(f"card = '{name}' is locked with a password; check an open copy")
    if not 0 < len(reader.pages) <= _MOST_PAGES:
        raise BadInputError(
            f"card = '{name}' has {len(reader.pages)} pages; 1 to {_MOST_PAGES} are looked at"
        )
    pages = [_page(page, reader) for page in reader.pages]
    told = reader.metadata
    return pages, str(told.subject or "") if told is not None else ""


@contextmanager
def _silent() -> Iterator[None]:
    """Keep the library's remarks on broken files off the terminal: the error says enough."""
    logger = logging.getLogger("pypdf")
    before = logger.level
    logger.setLevel(logging.CRITICAL)  # its children follow
    try:
        yield
    finally:
        logger.setLevel(before)


def _page(page: Any, reader: PdfReader) -> PageFacts:  # noqa: ANN401 - pypdf's own page
    unit = float(page.get("/UserUnit", 1.0))
    box = page.cropbox
    facts = PageFacts(float(box.width) * unit, float(box.height) * unit)
    facts.words = " ".join(page.extract_text().split())
    walk = Walk(facts, reader)
    contents = page.get_contents()
    if contents is not None:
        walk.run(contents, page.get("/Resources", {}), np.diag((unit, unit, 1.0)), 0)
    for note in page.get("/Annots", ()) or ():
        if "/AP" in note.get_object():  # drawn over the page by whoever edited it
            facts.pictures.append(_size_of(note.get_object(), unit))
    return facts


def _size_of(note: Any, unit: float) -> tuple[float, float]:  # noqa: ANN401 - pypdf's own object
    x0, y0, x1, y1 = (float(v) * unit for v in note["/Rect"])
    return abs(x1 - x0), abs(y1 - y0)
