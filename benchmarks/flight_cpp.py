"""The same flights by a C++ loop, compiled here and now: `flight.cpp` with every flag for speed."""

import ctypes
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.physics import flight

__all__ = ["compiled"]

FLAGS = ("-O3", "-march=native", "-ffast-math", "-shared", "-fPIC")
SOURCE = Path(__file__).with_name("flight.cpp")


def compiled() -> Callable[[Floats, Floats, Floats, Floats], Floats] | None:
    """Give `fly(launches, body, aero, winds) -> landings` in C++, or nothing without a compiler."""
    compiler = shutil.which("g++")
    if compiler is None:
        return None
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder) / "flight.so"
        subprocess.run([compiler, *FLAGS, str(SOURCE), "-o", str(library)], check=True)  # noqa: S603
        call = ctypes.CDLL(str(library)).fly

    def fly(launches: Floats, body: Floats, aero: Floats, winds: Floats) -> Floats:
        rise = np.abs(launches[:, 0] * np.sin(launches[:, 1]))
        order = np.argsort((64.0 * rise).astype(np.uint16), kind="stable")
        out = np.empty((len(launches), len(flight.LANDING_ROW)))
        given = (np.ascontiguousarray(a) for a in (order, launches, body, aero, winds))
        kept = [*given, flight.STEPS, out]
        rows = [ctypes.c_void_p(a.ctypes.data) for a in kept]
        graded, most = len(flight.STEPS), round(flight.LONGEST / flight.STEPS[-1])

        def work(first: int, last: int) -> None:
            ends = (ctypes.c_int64(first), ctypes.c_int64(last))
            call(*ends, *rows[:6], ctypes.c_int64(graded), ctypes.c_int64(most), rows[6])

        flight.in_parts(work, len(launches))
        return out

    return fly
