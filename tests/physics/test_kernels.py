"""A kernel takes every number as an argument, and a change in any kernel's file compiles anew."""

import inspect
import platform
import types
from pathlib import Path

import numpy as np
import pytest
from numba import njit

from carrybook.base import numerics
from carrybook.base.numerics import plain
from carrybook.physics import (
    bounce,
    cup,
    flight_blocks,
    flight_steps,
    hop,
    putt,
    roll,
    shot,
    terrain,
)

MODULES = (bounce, cup, flight_blocks, flight_steps, hop, putt, roll, shot, terrain)
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


@pytest.mark.skipif(platform.machine() != "x86_64", reason="looks for x86 instructions")
def test_the_block_step_is_compiled_to_packed_instructions() -> None:
    fresh = njit(nogil=True, error_model="numpy", fastmath={"contract"})(
        flight_blocks.block_step.py_func  # type: ignore[attr-defined]
    )
    fresh(np.zeros(16 * 54), 0.019, 2900.0, 9.8)
    (assembly,) = fresh.inspect_asm().values()
    words = [line.split()[0] for line in assembly.splitlines() if line.startswith("\tv")]
    packed, single = (sum(w.endswith(end) for w in words) for end in ("pd", "sd"))
    assert packed > 4 * single
    assert sum(w == "vdivpd" for w in words) >= 2
    assert "vdivsd" not in words


def test_exponential_and_logarithm_are_as_exact_as_they_say() -> None:
    exp, log = (plain(f) for f in (flight_blocks.exp_, flight_blocks.log_))
    x = np.linspace(-50.0, 50.0, 4001)
    assert [exp(v) for v in x] == pytest.approx(np.exp(x), rel=8e-9)
    z = np.geomspace(1e-6, 500.0, 4001)
    assert [log(v) for v in z] == pytest.approx(np.log(z), abs=4e-8)
