"""A page of one's own for every test, asked in the process; and one served to a real browser."""

import csv
import re
import shutil
import warnings
from collections.abc import Callable, Mapping
from importlib.resources import files
from pathlib import Path

import httpx
import pytest

from carrybook.app.forms.shots import ShotForm
from carrybook.app.services.balls import import_balls
from carrybook.app.services.shots import add_shot
from carrybook.app.web.app import build_app
from carrybook.app.web.door import Door

with warnings.catch_warnings():  # it wants a successor of httpx, which does the same here
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

HERE = "127.0.0.1:8417"
TOKEN = re.compile(r'name="token" value="([0-9a-f]{64})"')
DEMO = Path(str(files("carrybook.app"))) / "demo_data"


class Visitor:
    """A browser without pictures: keeps cookies, brings tokens back, says where it comes from."""

    def __init__(self, book: Path, *, door: Door | None = None) -> None:
        self.app = build_app(book, hosts=[HERE], door=door)
        self.client = TestClient(
            self.app,
            base_url=f"http://{HERE}",
            follow_redirects=False,
            raise_server_exceptions=False,
        )

    def get(self, path: str, **query: str) -> httpx.Response:
        """Look at a page."""
        return self.client.get(path, params=query)

    def token(self) -> str:
        """What its forms must bring back."""
        found = TOKEN.search(self.client.get("/more").text or "")
        found = found or TOKEN.search(self.client.get("/enter").text)
        assert found is not None
        return found[1]

    def post(
        self,
        path: str,
        typed: Mapping[str, str] | None = None,
        *,
        headers: Mapping[str, str] | None = None,
        files: Mapping[str, tuple[str, bytes]] | None = None,
    ) -> httpx.Response:
        """Send a form of ours."""
        said = {"origin": f"http://{HERE}", **(headers or {})}
        data = {"token": self.token(), **(typed or {})}
        return self.client.post(path, data=data, headers=said, files=files)


@pytest.fixture(scope="session")
def demo_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented player's book, made once."""
    book = tmp_path_factory.mktemp("demo") / "book.sqlite"
    with (DEMO / "shots.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            form = ShotForm.of(
                club=row["club"],
                loft=f"{row['loft_deg']}deg",
                carry=f"{row['carry_yd']}yd",
                flight=row["flight"],
                partials=f"{row['shortest_yd']}yd..{row['longest_yd']}yd",
                cue=row["cue"],
                trusted=row["trusted"] == "yes",
            )
            add_shot(book, form.value())
    import_balls(book, DEMO / "balls.csv", columns={}, units={})
    return book


@pytest.fixture
def book(demo_book: Path, tmp_path: Path) -> Path:
    """A copy of it, to be written to."""
    folder = tmp_path / "home"
    folder.mkdir()
    return Path(shutil.copy(demo_book, folder / "book.sqlite"))


@pytest.fixture
def visit() -> Callable[..., Visitor]:
    """Make a visitor of a book."""
    return Visitor


@pytest.fixture
def visitor(book: Path) -> Visitor:
    """Somebody with a full book."""
    return Visitor(book)


@pytest.fixture
def newcomer(tmp_path: Path) -> Visitor:
    """Somebody without a book."""
    return Visitor(tmp_path / "new" / "book.sqlite")


@pytest.fixture(autouse=True)
def _no_real_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CARRYBOOK_BOOK", str(tmp_path / "nobodys.sqlite"))
