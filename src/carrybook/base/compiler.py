"""Numba, loaded without what no kernel of ours needs. Only `numerics` imports it, and late.

A module of its own, so that of several threads one loads it and the others wait.
"""

import importlib
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.abc import MetaPathFinder
from threading import get_ident

__all__ = ["config", "njit"]


class _Hides(MetaPathFinder):
    """Says of some modules that they are not there, to the thread that made it only."""

    def __init__(self, modules: tuple[str, ...]) -> None:
        self._modules = modules
        self._thread = get_ident()

    def find_spec(self, name: str, *_: object) -> None:
        """Refuse those modules; leave all others, and other threads, to the usual finders."""
        if name in self._modules and get_ident() == self._thread:
            raise ModuleNotFoundError(f"{name} is hidden: no kernel needs it", name=name)


@contextmanager
def _without(*modules: str) -> Iterator[None]:
    """Let modules that are not loaded yet seem not to be there, to this thread."""
    hides = _Hides(modules)
    sys.meta_path = [hides, *sys.meta_path]  # a new list: another thread may be reading the old one
    try:
        yield
    finally:
        sys.meta_path = [finder for finder in sys.meta_path if finder is not hides]


# Numba loads all of scipy.linalg, a fifth of a second, only to know whether kernels may multiply
# matrices, cffi for functions in C, and yaml for settings in a file. None of ours needs them.
with _without("scipy.linalg", "cffi", "yaml"):
    _numba = importlib.import_module("numba")
    importlib.import_module("numba.np.arraymath")
    importlib.import_module("numba.core.typing.cffi_utils")
config, njit = _numba.config, _numba.njit
