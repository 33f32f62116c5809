"""Whatever is typed into whichever form: an answer or a reason, never a failure of ours."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from carrybook.app.web.rooms import (
    before,
    book,
    front,
    ground,
    learning,
    leave,
    practise,
    range_,
    round_plan,
    shot,
    today,
)
from carrybook.app.web.rooms.common import AIR, LIE, SHOT, WIND
from carrybook.app.web.rooms.situation import QUESTIONS
from carrybook.base.errors import NoSolutionError

Visitor = Any  # the class in conftest.py

OTHERS = {"intended", "called", "side", "note", "key", "name", "back", "units", "theme", "playing"}
OTHERS |= {
    "green",
    "kind",
    "lengths",
    "cup_x",
    "cup_y",
    "ball_x",
    "ball_y",
    "haste",
    "turn",
    "passphrase",
    "nearest",
    "furthest",
    "step",
    "favourite",
    "scatter",
    "side_scatter",
    "cut",
    "lies",
    "stimp",
    "player",
    "holes",
    "numbers",
    "lay_ups",
    "profile",
    "layout",
    "title",
    "how",
    "putts",
    "what",
    "place",
    "session",
    "waited",
}
NAMES = sorted({q.name for q in (*AIR, *LIE, *WIND, *SHOT, *QUESTIONS)} | OTHERS)
ROOMS = (front, today, shot, leave, range_, practise, book, learning, ground, before, round_plan)
CHANGES = sorted({r.path for room in ROOMS for r in room.ROUTES if "POST" in (r.methods or ())})
LOOKS = sorted({r.path for room in ROOMS for r in room.ROUTES if "GET" in (r.methods or ())})
SOME = ["9", "-1", "80yd", "1e308", "nan", "inf", "9C", "85%", "practice", "4", "56", "yes", "%s"]
SOME += ["outline 0 0, 9 9, 9 -9", "height 3 0 1ft", "restricted", "full"]
SOME += ["undo", "call", "result", "1"]
SOME += ["17 on, centre", "50yd..82yd", "<script>", "\x00", "../..", "9" * 300, "−3", "1,5", "²"]
WORDS = st.one_of(st.sampled_from(SOME), st.text(max_size=40))
FORMS = st.dictionaries(st.sampled_from(NAMES), WORDS, max_size=9)
FEW = settings(max_examples=8, suppress_health_check=[HealthCheck.function_scoped_fixture])


def typed(words: dict[str, str]) -> dict[str, str]:
    """What a browser could send: no half of a pair of surrogates."""
    return {k: v.encode("utf-8", "replace").decode() for k, v in words.items()}


@pytest.mark.parametrize("path", CHANGES)
def test_no_form_breaks_the_page(newcomer: Visitor, path: str) -> None:
    _try_all(newcomer, path)


def _not_now(*_: object, **__: object) -> None:
    raise NoSolutionError("not now")


@pytest.mark.parametrize("path", [p for p in CHANGES if not p.startswith("/shot")])
def test_no_form_breaks_a_full_book(
    visitor: Visitor, path: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    long_work = ((leave, "leave_table"), (round_plan, "plan_venue"), (learning, "learn_book"))
    for room, name in (*long_work, (learning, "feel_of_book"), (learning, "curve_of")):
        monkeypatch.setattr(room, name, _not_now)  # it goes on beside the page
    _try_all(visitor, path)


def _try_all(somebody: Visitor, path: str) -> None:
    @FEW
    @given(words=FORMS)
    def attempt(words: dict[str, str]) -> None:
        answer = somebody.post(path, typed(words))
        assert answer.status_code < 500, answer.text
        assert "Traceback" not in answer.text

    attempt()


@pytest.mark.parametrize("path", LOOKS)
def test_no_query_breaks_the_page(newcomer: Visitor, path: str) -> None:
    @FEW
    @given(words=FORMS)
    def attempt(words: dict[str, str]) -> None:
        answer = newcomer.get(path.replace("{key}", "x"), **typed(words))
        assert answer.status_code < 500, answer.text

    attempt()


@FEW
@given(content=st.binary(max_size=400), name=st.text(max_size=30))
def test_no_file_breaks_the_page(
    tmp_path: Path, visitor: Visitor, content: bytes, name: str
) -> None:
    name = name.encode("utf-8", "replace").decode() or "x"
    for path, kind in (("/ground/maps", "map"), ("/ground/maps", "heights"), ("/book/import", "")):
        answer = visitor.post(path, {"kind": kind}, files={"file": (name, content)})
        assert answer.status_code < 500, answer.text
    assert sorted(p.name for p in tmp_path.iterdir()) == ["home"]
