"""Files are refused before any work, and written whole or not at all."""

from pathlib import Path

import pytest

from carrybook.app.files import CARDS, FIGURES, require_place, write_file
from carrybook.base.errors import BadInputError


def test_a_good_place_is_taken(tmp_path: Path) -> None:
    require_place(tmp_path / "a.PNG", FIGURES, "figure")
    require_place(tmp_path / "a.pdf", CARDS, "card")
    require_place(None, CARDS, "card")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("a.jpg", r"figure = '.*a.jpg' must end in one of: .png, .svg"),
        ("a", r"must end in one of: .png, .svg"),
        ("no/a.png", r"figure = '.*': there is no folder .*no; make it first"),
        ("folder.png", r"figure = '.*folder.png' is a folder; name a file in it"),
    ],
)
def test_a_bad_place_is_named(tmp_path: Path, name: str, message: str) -> None:
    (tmp_path / "folder.png").mkdir()
    with pytest.raises(BadInputError, match=message):
        require_place(tmp_path / name, FIGURES, "figure")


def test_a_folder_that_may_not_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("os.access", lambda *_: False)  # root may write anywhere
    with pytest.raises(BadInputError, match=r"the folder .* may not be written"):
        require_place(tmp_path / "a.png", FIGURES, "figure")


def test_a_file_takes_the_place_of_an_older_one(tmp_path: Path) -> None:
    path = tmp_path / "a.svg"
    write_file(path, b"old")
    write_file(path, b"new")
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_that_fails_leaves_the_older_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.svg"
    path.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(BadInputError, match=r"a.svg' cannot be written: No space left on device"):
        write_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]
