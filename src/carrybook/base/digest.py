"""Fingerprints: of plain values, the same in any process and any year; and of our own sources."""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from pathlib import Path

import numpy as np

__all__ = ["digest_of", "digest_of_sources"]


def digest_of(value: object) -> str:
    """Fingerprint of a value.

    Parameters
    ----------
    value : object
        Dataclasses, tuples, lists, mappings, arrays, enumerations, texts, numbers, dates, none.

    Returns
    -------
    digest : str
        64 hexadecimal digits (SHA-256).

    Raises
    ------
    TypeError
        Something whose text would not say what it is.
    """
    digest = hashlib.sha256()
    _add(digest, value)
    return digest.hexdigest()


def digest_of_sources(package: Path, rooms: Iterable[str]) -> str:
    """Fingerprint of a program: of every source in some of its rooms.

    Parameters
    ----------
    package : Path
        Folder of the package.
    rooms : iterable of str
        Folders in it; folders within these do not count.

    Returns
    -------
    digest : str
        64 hexadecimal digits (SHA-256).
    """
    digest = hashlib.sha256()
    for room in rooms:
        for source in sorted((package / room).glob("*.py")):
            digest.update(source.read_bytes())
    return digest.hexdigest()


def _add(digest: "hashlib._Hash", value: object) -> None:
    digest.update(f"<{type(value).__name__}>".encode())
    if isinstance(value, np.ndarray):
        digest.update(f"{value.dtype.str}{value.shape}".encode())
        digest.update(np.ascontiguousarray(value).tobytes())
    elif is_dataclass(value):
        for field in fields(value):
            digest.update(field.name.encode())
            _add(digest, getattr(value, field.name))
    elif isinstance(value, Mapping):
        _add(digest, sorted(value.items(), key=lambda item: str(item[0])))
    elif isinstance(value, (tuple, list)):
        for each in value:
            _add(digest, each)
    else:
        digest.update(_text(value).encode())
    digest.update(b";")


def _text(value: object) -> str:
    if isinstance(value, Enum):
        return f"{value.name}={value.value}"
    text = repr(value)
    if " at 0x" in text:
        raise TypeError(f"{text} has no fingerprint")
    return text
