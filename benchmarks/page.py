"""The page while something is dragged: from the question to the answer, drawn and in words."""

import csv
import re
import tempfile
import warnings
from collections.abc import Iterator
from pathlib import Path

import carrybook.app
from benchmarks.timing import best_of
from carrybook.app.forms.shots import ShotForm
from carrybook.app.services.balls import import_balls
from carrybook.app.services.shots import add_shot
from carrybook.app.web.app import build_app

with warnings.catch_warnings():  # it wants a successor of httpx, which does the same here
    warnings.simplefilter("ignore")
    from starlette.testclient import TestClient

DATA = Path(carrybook.app.__file__).parent / "demo_data"
HERE = "127.0.0.1:8417"
ASKED = {
    "map": "practice",
    "heights": "practice",
    "hole": "4",
    "wind": "8mph",
    "wind_from": "30deg",
}
SKETCH = (
    "outline 2 -3, 1 6, 10 11, 20 10, 28 4, 27 -6, 14 -10\n"
    "height 3 0 0in\nheight 14 6 6in\nheight 14 -6 4in\nheight 24 0 20in\nheight 22 5 2ft"
)
MUST_S = {"rough": 0.3, "settled": 1.0}


def lines() -> Iterator[str]:
    """Measure and say."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book.sqlite"
        _fill(book)
        client = TestClient(build_app(book, hosts=[HERE]), base_url=f"http://{HERE}")
        found = re.search(r'name="token" value="(\w+)"', client.get("/more").text)
        headers = {"origin": f"http://{HERE}", "x-token": found[1] if found else ""}
        number = iter(range(60_000, 90_000, 7))  # another one each time: nothing is remembered

        def ask(haste: str) -> None:
            asked = {**ASKED, "haste": haste, "number": f"{next(number) / 1000.0:.3f}m"}
            answer = client.post("/shot/answer", data=asked, headers=headers).json()
            assert "pattern" in answer, answer

        for haste, must in MUST_S.items():
            took = best_of(lambda h=haste: ask(h))  # type: ignore[misc]
            yield f"page, {haste} answer over 6 shots: {took:.2f} s, {took / must:.2f} of its limit"
        drawn = iter(range(-1500, -900, 20))  # cm: where the hole is dragged to, never twice

        def drag() -> None:
            at = {"cup_x": "0", "cup_y": f"{next(drawn) / 100.0}", "ball_x": "0", "ball_y": "82.3"}
            asked = {**ASKED, **at, "haste": "rough", "number": "90yd"}
            answer = client.post("/shot/answer", data=asked, headers=headers).json()
            assert "pattern" in answer, answer

        took = best_of(drag)
        must = MUST_S["rough"]
        yield f"page, rough answer, hole dragged: {took:.2f} s, {took / must:.2f} of its limit"
        cut = iter(range(900, 1500, 7))

        def roll(haste: str) -> None:
            asked = {**ASKED, "haste": haste, "cut": f"{next(cut) / 100.0:.2f} on, centre"}
            answer = client.post("/ground/putts", data=asked, headers=headers).json()
            assert "map" in answer, answer

        for haste, must in MUST_S.items():
            took = best_of(lambda h=haste: roll(h))  # type: ignore[misc]
            yield f"page, {haste} putting map: {took:.2f} s, {took / must:.2f} of its limit"
        took = best_of(
            lambda: client.post("/ground/sketch", data={"green": SKETCH}, headers=headers)
        )
        yield f"page, a sketched green seen: {took:.2f} s"
        yield f"page, today's numbers, seen again: {best_of(lambda: client.get('/today')):.2f} s"


def _fill(book: Path) -> None:
    """Put the demo's shots and balls into a book."""
    with (DATA / "shots.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            partials = f"{row['shortest_yd']}yd..{row['longest_yd']}yd"
            form = ShotForm.of(
                club=row["club"],
                loft=f"{row['loft_deg']}deg",
                carry=f"{row['carry_yd']}yd",
                flight=row["flight"],
                partials=partials,
                trusted=row["trusted"] == "yes",
            )
            add_shot(book, form.value())
    import_balls(book, DATA / "balls.csv", columns={}, units={})
