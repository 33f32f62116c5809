"""A kernel takes every number as an argument, and a change in any kernel's file compiles anew."""

import inspect
import types
from pathlib import Path

import numpy as np
import pytest

from carrybook.base import numerics
from carrybook.physics import bounce, cup, flight, roll, shot, solve, terrain

MODULES = (bounce, cup, flight, roll, shot, solve, terrain)
KERNELS = {
    f"{module.__name__}.{name}": thing
    for module in MODULES
    for name, thing in vars(module).items()
    if hasattr(thing, "py_func") and thing.py_func.__module__ == module.__name__
}


def test_kernels_were_found() -> None:
    assert len(KERNELS) >= 14


@pytest.mark.parametrize("name", KERNELS)
def test_a_kernel_reads_no_outside_number(name: str) -> None:
    seen = inspect.getclosurevars(KERNELS[name].py_func).globals
    alien = {
        n
        for n, value in seen.items()
        if not (isinstance(value, types.ModuleType) and value is np)
        and not hasattr(value, "py_func")
        and not isinstance(value, types.BuiltinFunctionType)  # np.cos is read as a name `cos`
    }
    assert alien == set()


def test_the_cache_folder_is_named_after_the_sources(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "carrybook"
    for room in ("base", "physics"):
        (package / room).mkdir(parents=True)
    (package / "physics" / "a.py").write_text("x = 1\n")
    monkeypatch.setattr(numerics, "__file__", str(package / "base" / "numerics.py"))
    before = numerics.cache_folder.__wrapped__()
    assert before == numerics.cache_folder.__wrapped__()
    (package / "physics" / "a.py").write_text("x = 2\n")
    assert numerics.cache_folder.__wrapped__() != before


def test_work_in_parts_covers_every_row_once() -> None:
    seen = np.zeros(1000, dtype=int)

    def work(first: int, last: int) -> None:
        seen[first:last] += 1

    numerics.in_parts(work, 1000, least=10)
    assert seen.tolist() == [1] * 1000
