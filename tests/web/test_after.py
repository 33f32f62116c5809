"""After: shots recorded by thumb, taken back, and reviewed once the round is over."""

import html
import re
from datetime import datetime, timedelta
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from carrybook.app.services.round_shots import played_rounds, pour_in
from carrybook.base.constants import FOOT, YARD

SEASON = Path(str(files("carrybook.app"))) / "demo_data" / "season.csv"
SHOT = {
    "hole": "4", "number": "88", "lie": "light rough", "wind": "12", "wind_from": "into",
    "hole_location": "back left", "shot": "56", "intended": "84", "aim": "-2", "landing_past": "-3",
    "landing_right": "2", "finish_on": "green", "finish": "12", "putts": "2", "key": "one",
}  # fmt: skip


@pytest.fixture
def playing(visitor: Any) -> Any:  # noqa: ANN401 - the visitor of conftest
    """Somebody who has teed off."""
    assert visitor.post("/before/round", {"playing": "yes"}).status_code == 303
    return visitor


def text(answer: Any) -> str:  # noqa: ANN401
    return html.unescape(answer.text)


def test_a_newcomer_begins_with_a_shot(newcomer: Any) -> None:  # noqa: ANN401
    assert "Begin with one shot you own" in newcomer.get("/after").text


def test_without_a_round_one_can_be_put_in(visitor: Any, book: Path) -> None:  # noqa: ANN401
    page = text(visitor.get("/after"))
    assert "No round is in the book yet" in page
    assert "Record the shot" not in page
    visitor.post("/after/round", {"setting": "competition"})
    (only,) = played_rounds(book)
    assert (only.round.setting, only.round.is_on, only.shots) == ("competition", False, ())
    assert "Record the shot" in text(visitor.get("/after"))


def test_a_shot_goes_into_the_book_in_a_round(playing: Any, book: Path) -> None:  # noqa: ANN401
    assert playing.post("/after", SHOT).status_code == 303
    ((shot,),) = (each.shots for each in played_rounds(book))
    assert (shot.hole, shot.shot, shot.putts) == (4, "56", 2)
    assert shot.number_m == pytest.approx(88 * YARD)
    assert shot.landing_m == pytest.approx((-3 * YARD, 2 * YARD))
    assert shot.aim_right_m == pytest.approx(-2 * YARD)
    assert shot.finish_m == pytest.approx(12 * FOOT)
    page = text(playing.get("/after"))
    assert (
        "recorded: hole 4, 88 yd light rough, with the 56, meant 84 yd, 12 ft green, 3 strokes"
        in page
    )
    assert 'name="hole" value="5"' in page  # the next one
    assert 'name="wind" value="12"' in page  # stays
    assert 'name="intended" value=""' in page  # does not


def test_what_is_sent_twice_is_one_shot(playing: Any, book: Path) -> None:  # noqa: ANN401
    for _ in range(2):
        playing.post("/after", SHOT)
    assert len(played_rounds(book)[0].shots) == 1


def test_a_shot_that_waited_is_taken_once_and_back(playing: Any, book: Path) -> None:  # noqa: ANN401
    (before,) = played_rounds(book)
    shot = {**SHOT, "round": str(before.number), "waited": "3600"}
    for _ in range(2):
        assert playing.post("/after/waiting", shot).json() == {"taken": True}
    ((kept,),) = (each.shots for each in played_rounds(book))
    assert kept.at is not None
    assert timedelta(hours=0.9) < datetime.now().astimezone() - kept.at < timedelta(hours=1.1)
    page = text(playing.get("/after"))
    assert "recorded: hole 4, 88 yd light rough" in page
    assert 'name="hole" value="5"' in page
    for round_, why in (("far", "what waited cannot be read"), ("99", "there is no round yet")):
        refused = playing.post("/after/waiting", {**shot, "key": "two", "round": round_})
        assert (refused.status_code, why in refused.json()["refused"]) == (400, True)
    for there in (True, False):
        undone = playing.post("/after/waiting", {"what": "undo", "key": "one"}).json()
        assert undone == {"taken": there}
    assert played_rounds(book)[0].shots == ()


def test_what_is_rarely_asked_is_folded_until_it_is_answered(playing: Any) -> None:  # noqa: ANN401
    assert '<details data-fold="after-day">' in playing.get("/after").text
    playing.post("/after", SHOT)
    page = playing.get("/after").text
    assert '<details data-fold="after-day" open>' in page  # the wind stays
    assert '<details data-fold="after-more">' in page
    page = playing.post("/after", {**SHOT, "key": "two", "others": "many"}).text
    assert '<details data-fold="after-more" open>' in page


def test_in_metres_a_bare_number_is_metres(playing: Any, book: Path) -> None:  # noqa: ANN401
    playing.post("/units", {"units": "metres", "back": "/after"})
    playing.post("/after", {**SHOT, "landing_past": "3 short", "finish": "4"})
    (shot,) = played_rounds(book)[0].shots
    assert (shot.number_m, shot.landing_past_m, shot.finish_m) == (88.0, -3.0, 4.0)


def test_what_is_refused_stays_with_its_reason(playing: Any, book: Path) -> None:  # noqa: ANN401
    answer = playing.post("/after", {**SHOT, "putts": "0"})
    assert answer.status_code == 400
    assert "the ball was not holed, so putts, or strokes after it, are missing" in text(answer)
    assert 'value="84"' in answer.text
    answer = playing.post("/after", {**SHOT, "number": "far"})
    assert "number = 'far'" in text(answer)
    assert 'aria-invalid="true"' in answer.text
    assert played_rounds(book)[0].shots == ()


def test_undo_takes_the_last_one_back(playing: Any, book: Path) -> None:  # noqa: ANN401
    playing.post("/after", SHOT)
    playing.post("/after/undo")
    assert played_rounds(book)[0].shots == ()
    assert "took back: hole 4" in text(playing.get("/after"))
    assert playing.post("/after/undo").status_code == 400


def test_the_review_is_shut_during_a_round(playing: Any) -> None:  # noqa: ANN401
    playing.post("/after", SHOT)
    assert "/after/review" not in playing.get("/after").text
    page = text(playing.get("/after/review"))
    assert "Strokes gained" not in page
    assert "Rule 4.3a" in page


def test_a_round_played_without_the_book_waits_for_the_end(playing: Any) -> None:  # noqa: ANN401
    answer = playing.post("/after/round", {"setting": "course"})
    assert answer.status_code == 400
    assert "a round is on" in text(answer)


def test_a_season_is_reviewed(visitor: Any, book: Path) -> None:  # noqa: ANN401
    pour_in(book, SEASON, "yards")
    assert "/after/review" in visitor.get("/after").text
    page = text(visitor.get("/after/review"))
    assert "24 rounds, 264 scoring shots, against a tour player's average" in page
    for words in ("What cost most", "What repeats", "carrybook practise plan --focus", "choice"):
        assert words in page
    assert page.count("<rect") >= 8
    few = text(visitor.get("/after/review", last="1", against="book"))
    assert "1 rounds" not in few
    assert "against your own book" in few
    assert "Too few rounds to tell any pattern from luck" in few


def test_what_cost_most_is_a_session_one_press_away(visitor: Any, book: Path) -> None:  # noqa: ANN401
    pour_in(book, SEASON, "yards")
    page = visitor.get("/after/review").text
    form = page.partition('action="/practise/plan"')[2].partition("</form>")[0]
    asked = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    assert {*asked} == {"token", "focus", "balls", "minutes", "aim"}
    answer = visitor.post("/practise/plan", asked)
    assert answer.status_code == 303
    assert "60" in text(visitor.get("/practise"))


def test_nothing_recorded_is_said(visitor: Any) -> None:  # noqa: ANN401
    answer = visitor.get("/after/review")
    assert answer.status_code == 422
    assert "no scoring shot of these rounds was recorded" in text(answer)
