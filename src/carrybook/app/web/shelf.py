"""What the page keeps beside the book: its secret, what was typed, results, files that were sent.

No name that a person or a request gives ever becomes a path: files go by the hash of their content.
"""

import hashlib
import json
import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from threading import Lock

from carrybook.app.files import make_folder, write_file
from carrybook.app.web.plain import from_json, to_json
from carrybook.base.errors import BadInputError

__all__ = ["SHIPPED", "Kept", "Shelf"]

SHIPPED = "practice"  # the invented course that comes with the program
_KEY = re.compile(r"[0-9a-f]{64}")
# Endings that a kept file may have; the first stands where the name has none of them.
_ENDINGS = {
    "map": (".geojson", ".json", ".osm", ".xml", ".pbf", ".txt"),
    "heights": (".csv", ".tif", ".tiff"),
}
_DRAFT = re.compile(r"[a-z]{1,20}")
_MOST_KEPT = 200  # ours: files on a shelf
_LONGEST_DRAFT = 40_000  # characters


@dataclass(frozen=True, slots=True)
class Kept:
    """A file on the shelf: its key, its kind ("map", "heights") and what the person calls it."""

    key: str
    kind: str
    name: str

    @property
    def ending(self) -> str:
        """Ending of the file that it lies in, one of ours: by it readers know what it holds."""
        found = next((e for e in _ENDINGS[self.kind] if self.name.lower().endswith(e)), None)
        return found or _ENDINGS[self.kind][0]


class Shelf:
    """A folder of the page's own, beside the book.

    Parameters
    ----------
    folder : Path
        Made when something is first put there.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock = Lock()

    def secret(self) -> bytes:
        """The key that signs tokens; the same after the server stopped, so that no form is lost."""
        path = self._folder / "secret"
        with self._lock:
            try:
                kept = path.read_bytes()
                if len(kept) == 32:
                    return kept
            except OSError:
                pass
            self._make()
            made = secrets.token_bytes(32)
            write_file(path, made)
            path.chmod(0o600)
            return made

    def draft(self, name: str) -> dict[str, str]:
        """What was last typed into a form; nothing where there is none, or it cannot be read."""
        path = self._draft_path(name)
        try:
            kept = json.loads(path.read_text("utf-8"))
        except (OSError, ValueError):
            return {}
        return {str(k): str(v) for k, v in kept.items()} if isinstance(kept, dict) else {}

    def keep_draft(self, name: str, typed: Mapping[str, str]) -> None:
        """Keep what was typed.

        Raises
        ------
        BadInputError
            More than a form can hold, or a disk that cannot be written.
        """
        text = json.dumps(dict(typed), ensure_ascii=False)
        if len(text) > _LONGEST_DRAFT:
            raise BadInputError(f"form = {len(text)} characters; at most {_LONGEST_DRAFT}")
        with self._lock:
            self._make()
            write_file(self._draft_path(name), text.encode("utf-8", "replace"))

    def keep_result(self, kind: str, about: str, result: object) -> None:
        """Keep what came of long work, in place of what was kept of that kind before.

        Raises
        ------
        BadInputError
            A disk that cannot be written.
        """
        content = to_json((about, result))
        with self._lock:
            self._make()
            write_file(self._result_path(kind), content)

    def result(self, kind: str) -> tuple[str, object] | None:
        """What was kept of a kind of work, and what it is about; none where it cannot be read."""
        try:
            kept = from_json(self._result_path(kind).read_bytes())
        except (OSError, ValueError):
            return None
        match kept:
            case (str(about), result):
                return about, result
        return None

    def keep_file(self, kind: str, name: str, content: bytes) -> Kept:
        """Keep a file that was sent, under the hash of its content.

        Raises
        ------
        BadInputError
            Nothing in it, too many files, or a disk that cannot be written.
        """
        if not content:
            raise BadInputError(f"{kind} = {_shown(name)!r} is empty")
        kept = Kept(hashlib.sha256(content).hexdigest(), kind, _shown(name) or kind)
        with self._lock:
            index = [k for k in self.kept() if k.key != kept.key]
            if len(index) >= _MOST_KEPT:
                raise BadInputError(f"there are {_MOST_KEPT} files here; remove one first")
            self._make()
            write_file(self._folder / f"{kept.key}{kept.ending}", content)
            self._write_index([*index, kept])
        return kept

    def drop(self, key: str) -> None:
        """Forget a file; nothing happens where there is none."""
        with self._lock:
            gone = [k for k in self.kept() if k.key == key and _KEY.fullmatch(key)]
            self._write_index([k for k in self.kept() if k.key != key])
            for kept in gone:
                (self._folder / f"{kept.key}{kept.ending}").unlink(missing_ok=True)

    def kept(self, kind: str | None = None) -> tuple[Kept, ...]:
        """Files that were sent, the oldest first."""
        try:
            rows = json.loads((self._folder / "index.json").read_text("utf-8"))
            found = tuple(Kept(str(r["key"]), str(r["kind"]), str(r["name"])) for r in rows)
        except (OSError, ValueError, TypeError, KeyError):
            return ()
        return tuple(k for k in found if k.kind in _ENDINGS and kind in (None, k.kind))

    def path_of(self, key: str, kind: str) -> Path:
        """Where a file lies, by its key alone.

        Raises
        ------
        BadInputError
            No such file of that kind.
        """
        if key == SHIPPED and kind in _SHIPPED_FILES:
            return Path(str(files("carrybook.app") / "demo_data" / _SHIPPED_FILES[kind]))
        kept = next((k for k in self.kept(kind) if k.key == key), None)
        if kept is not None and _KEY.fullmatch(key):
            path = self._folder / f"{key}{kept.ending}"
            if path.is_file():
                return path
        raise BadInputError(f"{kind} is not one of those kept here; choose one from the list")

    def _make(self) -> None:
        """Make the folder, for nobody but its owner."""
        make_folder(self._folder)
        self._folder.chmod(0o700)

    def _draft_path(self, name: str) -> Path:
        if not _DRAFT.fullmatch(name):
            raise BadInputError("there is no such form")
        return self._folder / f"draft-{name}.json"

    def _result_path(self, kind: str) -> Path:
        if not _DRAFT.fullmatch(kind):
            raise BadInputError("there is no such work")
        return self._folder / f"result-{kind}.json"

    def _write_index(self, kept: list[Kept]) -> None:
        rows = [{"key": k.key, "kind": k.kind, "name": k.name} for k in kept]
        if rows or self._folder.exists():
            write_file(self._folder / "index.json", json.dumps(rows).encode())


_SHIPPED_FILES = {"map": "venue.geojson", "heights": "heights.csv"}


def _shown(name: str) -> str:
    """The last part of a file's name, printable and short; it is shown, never opened."""
    last = re.split(r"[\\/]", name)[-1]
    return "".join(c for c in last if c.isprintable())[:80].strip()
