"""Results as JSON and back: our own frozen values, and nothing that could do anything when read."""

import base64
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from importlib import import_module
from typing import Any

import numpy as np

__all__ = ["from_json", "to_json"]

_OURS = re.compile(r"(carrybook(?:\.[a-z_0-9]+)+):([A-Za-z_]\w*)")
_NUMBER = re.compile(r"[<>|][biuf]\d")
_UNREADABLE = (ValueError, TypeError, LookupError, AttributeError, ImportError, RecursionError)


def to_json(value: object) -> bytes:
    """Write a value.

    Parameters
    ----------
    value : object
        Dataclasses and enumerations of ours, tuples, lists, mappings, arrays, bytes, dates, texts,
        numbers, none.

    Raises
    ------
    TypeError
        Something else in it.
    """
    return json.dumps(_plain(value), ensure_ascii=False).encode()


def from_json(text: bytes) -> object:
    """Read a value back.

    Raises
    ------
    ValueError
        It is damaged, or from a version of the program whose values were others.
    """
    try:
        return _value(json.loads(text))
    except _UNREADABLE as error:
        raise ValueError(f"a kept result cannot be read: {error}") from error


def _plain(value: object) -> object:
    """What JSON can hold; everything that it cannot is a pair of its kind and its parts."""
    if isinstance(value, Enum):
        return {"enum": [_name(type(value)), value.value]}
    if value is None or isinstance(value, (bool, int, float, str)):
        return value
    if is_dataclass(value):
        parts = {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
        return {"ours": [_name(type(value)), parts]}
    for kind, into in _INTO.items():
        if isinstance(value, kind):
            return into(value)
    raise TypeError(f"{type(value).__name__} cannot be kept")


# Ways into JSON and back, by kind.
_INTO: Mapping[type, Callable[[Any], object]] = {
    tuple: lambda v: {"tuple": [_plain(each) for each in v]},
    list: lambda v: [_plain(each) for each in v],
    dict: lambda v: {"map": [[_plain(k), _plain(each)] for k, each in v.items()]},
    np.ndarray: lambda v: {"array": [v.dtype.str, v.shape, _text(np.ascontiguousarray(v))]},
    bytes: lambda v: {"bytes": _text(v)},
    datetime: lambda v: {"time": v.isoformat()},
    date: lambda v: {"day": v.isoformat()},
}
_OUT_OF: Mapping[str, Callable[[Any], object]] = {
    "enum": lambda v: _named(v[0], Enum)(_value(v[1])),
    "ours": lambda v: _named(v[0], None)(**{k: _value(each) for k, each in v[1].items()}),
    "tuple": lambda v: tuple(_value(each) for each in v),
    "map": lambda v: {_value(k): _value(each) for k, each in v},
    "array": lambda v: np.frombuffer(base64.b64decode(v[2]), _number(v[0])).reshape(v[1]),
    "bytes": lambda v: base64.b64decode(v),
    "time": datetime.fromisoformat,
    "day": date.fromisoformat,
}


def _value(plain: Any) -> Any:  # noqa: ANN401 - JSON has no types
    if isinstance(plain, list):
        return [_value(each) for each in plain]
    if isinstance(plain, dict):
        ((kind, parts),) = plain.items()
        return _OUT_OF[kind](parts)
    return plain


def _text(content: Any) -> str:  # noqa: ANN401 - bytes, or an array
    return base64.b64encode(content).decode()


def _number(name: str) -> np.dtype[Any]:
    if _NUMBER.fullmatch(name) is None:
        raise ValueError(f"no array of {name}")
    return np.dtype(name)


def _name(kind: type) -> str:
    return f"{kind.__module__}:{kind.__qualname__}"


def _named(name: str, kind: type | None) -> Any:  # noqa: ANN401 - the class of a value
    """A dataclass or an enumeration of ours; nothing else goes by a name."""
    found = _OURS.fullmatch(name)
    made = None if found is None else getattr(import_module(found[1]), found[2])
    if not isinstance(made, type) or not (issubclass(made, kind) if kind else is_dataclass(made)):
        raise ValueError(f"{name!r} is no value of ours")
    return made
