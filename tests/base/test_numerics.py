"""The folder of compiled kernels: made with the first kernel, and never more than a few of them."""

import importlib
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from carrybook.base import compiler, numerics

FLY = "fly --ball-speed 30mps --launch 30deg --spin 9000rpm"


def old_folders(cache: Path, count: int) -> list[Path]:
    """Folders of kernels, each a second younger than the one before, all of them old."""
    folders = [cache / f"kernels-{n:012x}" for n in range(count)]
    for n, folder in enumerate(folders):
        (folder / "physics").mkdir(parents=True)
        (folder / "physics" / "a.nbc").write_bytes(b"compiled")
        os.utime(folder, (n, n))
    return folders


def can_keep(folder: Path) -> bool:
    return bool(numerics._can_keep.__wrapped__(folder))


def test_a_new_folder_leaves_the_two_newest_beside_it(tmp_path: Path) -> None:
    *_, older, newest = old_folders(tmp_path, 5)
    (tmp_path / "other").mkdir()
    new = tmp_path / "kernels-new"
    assert can_keep(new)
    assert set(tmp_path.iterdir()) == {older, newest, new, tmp_path / "other"}
    assert (newest / "physics" / "a.nbc").exists()


def test_a_folder_that_is_there_removes_nothing(tmp_path: Path) -> None:
    folders = old_folders(tmp_path, 5)
    assert can_keep(folders[0])
    assert set(tmp_path.iterdir()) == set(folders)


def test_what_cannot_be_removed_or_made_stops_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for n in range(4):
        (tmp_path / f"kernels-{n}").touch()  # a file cannot be removed as a folder
    assert can_keep(tmp_path / "kernels-new")
    assert not can_keep(tmp_path / "kernels-0" / "in a file")
    monkeypatch.setattr(os, "access", lambda *_: False)
    assert not can_keep(tmp_path / "kernels-new")


def test_where_nothing_can_be_kept_commands_work_and_leave_nothing_behind(tmp_path: Path) -> None:
    (tmp_path / "cache").touch()  # in the way of the folder, also for one who may do everything
    (tmp_path / "tmp").mkdir()
    places = {"XDG_CACHE_HOME": str(tmp_path / "cache"), "TMPDIR": str(tmp_path / "tmp")}
    for words in ("doctor", FLY):
        done = subprocess.run(  # noqa: S603 - our own program
            [sys.executable, "-m", "carrybook", "--book", str(tmp_path / "b"), *words.split()],
            env=os.environ | places,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.stderr == ""
        assert ("carry" if words == FLY else "missing  folder of compiled kernels") in done.stdout
    assert sorted(p.name for p in tmp_path.iterdir()) == ["cache", "tmp"]
    assert list((tmp_path / "tmp").iterdir()) == []


def test_modules_are_hidden_for_a_while_unless_they_are_loaded(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delitem(sys.modules, "colorsys", raising=False)
    with compiler._without("colorsys", "pytest"):
        assert sys.modules["pytest"] is pytest
        with pytest.raises(ImportError, match="colorsys"):
            importlib.import_module("colorsys")
    assert "colorsys" not in sys.modules
    assert importlib.import_module("colorsys")


def test_modules_are_hidden_from_this_thread_only_and_not_for_good(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delitem(sys.modules, "colorsys", raising=False)
    with ThreadPoolExecutor(1) as other, compiler._without("colorsys"):
        with pytest.raises(ImportError, match="colorsys"):
            importlib.import_module("colorsys")
        assert other.submit(importlib.import_module, "colorsys").result().__name__ == "colorsys"
    finders = list(sys.meta_path)
    with pytest.raises(ZeroDivisionError), compiler._without("colorsys"):
        raise ZeroDivisionError
    assert sys.meta_path == finders


def test_what_is_hidden_from_numba_stays_unloaded() -> None:
    program = (
        "import sys, carrybook.base.compiler;"
        " print([m for m in ('scipy.linalg', 'cffi', 'yaml') if m in sys.modules])"
    )
    said = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True)  # noqa: S603
    assert said.stdout.decode().strip() == "[]"
