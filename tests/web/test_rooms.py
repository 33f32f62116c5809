"""Rooms: what a person does in them, and that they say what the command line says."""

import json
import re
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from carrybook.app.cli import app
from carrybook.app.services.balls import logged_balls
from carrybook.app.services.shots import owned_shots
from carrybook.app.web.rooms import situation
from carrybook.base.constants import YARD
from carrybook.decision.choose import SETTLED

Visitor = Any  # the class in conftest.py

DEMO = Path(situation.__file__).parents[2] / "demo_data"
HX = {"hx-request": "true"}
SHOT = {"club": "54", "loft": "54", "carry": "82", "partials": "50yd..82yd"}
PLACE = {"map": "practice", "heights": "practice", "hole": "4", "number": "88"}
WHERE = {**PLACE, "hole_location": "17 on, centre", "temp": "9", "wind": "8", "wind_from": "0"}


def said(*words: str) -> dict[str, Any]:
    """What the command line answers as JSON."""
    result = CliRunner().invoke(app, [*words, "--json"], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer


def cells(text: str, kind: str) -> list[str]:
    return re.findall(rf'class="{kind}"[^>]*>([^<]*)<', text)


def test_today_says_the_numbers_of_the_command_line(visitor: Visitor, book: Path) -> None:
    answer = visitor.post("/today", {"temp": "7", "humidity": "93", "pressure": "1004"})
    assert answer.headers["location"] == "/today"
    page = visitor.get("/today").text
    told = said("numbers", "--air", "7C 93% 1004hPa", "--book", str(book))["numbers"]
    assert cells(page, "n big") == [f"{n['today_m'] / YARD:.0f}" for n in told]
    assert [label for label in re.findall(r'name=[^"]*">([^<]+)</a>', page)] == [
        n["shot"] for n in told
    ]


def test_today_in_metres(visitor: Visitor, book: Path) -> None:
    assert visitor.post("/units", {"units": "metres", "back": "/today"}).status_code == 303
    told = said("numbers", "--book", str(book))["numbers"]
    assert cells(visitor.get("/today").text, "n big") == [f"{n['today_m']:.0f}" for n in told]


def test_a_wind_adds_into_and_with_it(visitor: Visitor) -> None:
    page = visitor.post("/today", {"wind": "15"}, headers=HX).text
    assert "into 15mph" in page
    row = re.findall(r'<td class="n">(\d+)</td>', page)
    assert set(row[::3]) == {"0"}  # on the reference day the air moves nothing
    pairs = [(int(a), int(b)) for a, b in zip(row[1::3], row[2::3], strict=True)]
    todays = [int(t) for t in cells(page, "n big")]
    assert len(pairs) == len(todays) == 7
    assert all(
        into < min(helping, calm) for (into, helping), calm in zip(pairs, todays, strict=True)
    )


def test_what_cannot_be_used_is_said_beside_its_field_and_kept(visitor: Visitor) -> None:
    answer = visitor.post("/today", {"temp": "99C", "humidity": "80"})
    assert answer.status_code == 400
    result = CliRunner().invoke(app, ["numbers", "--air", "99C 80%"])
    line = result.stderr.removeprefix("error: ").strip() if result.stderr else ""
    assert "air temperature = 99" in answer.text
    assert line == "" or line in answer.text.replace("&#39;", "'").replace("&#34;", '"')
    assert re.search(r'id="problem-temp">[^<]*air temperature', answer.text)
    assert 'value="80"' in answer.text
    assert 'value="99"' in visitor.get("/today").text  # a refresh loses nothing


def test_a_part_brings_its_messages_along(visitor: Visitor) -> None:
    answer = visitor.post("/today", {"temp": "hot"}, headers=HX)
    assert answer.status_code == 400
    assert re.search(r'id="problem-temp" hx-swap-oob="true">[^<]*hot', answer.text)
    assert "<html" not in answer.text


def test_first_visit_to_first_answer(newcomer: Visitor) -> None:
    for room in ("/today", "/shot", "/range", "/book"):
        assert "Begin with one shot you own" in newcomer.get(room).text, room
    answer = newcomer.post("/book/shots", {**SHOT, "back": "/today"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/today")
    assert cells(newcomer.get("/today").text, "n big") == ["82"]
    newcomer.post("/shot", {**PLACE, "number": "78"})
    page = newcomer.get("/shot").text
    assert 'class="what">54<' in page
    assert "your word, no balls yet" in page


def test_a_shot_that_is_refused_stays_in_the_form(newcomer: Visitor) -> None:
    answer = newcomer.post("/book/shots", {**SHOT, "carry": "far", "cue": "slow & low"})
    assert answer.status_code == 400
    assert re.search(r'id="problem-new-carry">[^<]*far', answer.text)
    assert "slow &amp; low" in answer.text
    assert "slow &amp; low" in newcomer.get("/today").text


def test_an_impossible_flight_is_a_plain_sentence(newcomer: Visitor) -> None:
    answer = newcomer.post("/book/shots", {**SHOT, "carry": "270yd", "partials": ""})
    assert answer.status_code == 400
    assert "no flight carries 54 its 270 yd" in answer.text


def test_a_script_in_a_cue_is_text_everywhere(visitor: Visitor, book: Path) -> None:
    cue = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>"
    visitor.post("/book/shots", {**SHOT, "club": "<b>5</b>", "cue": cue})
    assert cue in [shot.cue for shot in owned_shots(book)]
    for path in ("/today", "/book", "/range", "/shot", "/book/shot?name=%3Cb%3E5%3C%2Fb%3E"):
        text = visitor.client.get(path).text
        assert "<script>alert" not in text
        assert "<img src=x" not in text
        assert "<b>5</b>" not in text
    assert "&lt;script&gt;alert(1)" in visitor.get("/book").text


def test_the_full_answer_is_that_of_the_command_line(visitor: Visitor, book: Path) -> None:
    day = ["--wind", "8mph", "--wind-from", "0deg", "--air", "9C"]
    words = ["choose", "--hole", "4", "--number", "88yd", *day]
    words += ["--hole-location", "17 on, centre", "--book", str(book)]
    files = ["--map", str(DEMO / "venue.geojson"), "--heights", str(DEMO / "heights.csv")]
    told = said(*words, *files)
    job = visitor.post("/shot/full", WHERE).json()["job"]
    state = finished(visitor, job)
    best = told["options"][0]
    head = f"PLAY {best['shot']}, feel {best['feel_m'] / YARD:.0f} yd"
    assert state["result"]["said"].startswith(head)
    assert f"<b>{best['strokes']:.2f} ±" in state["result"]["head"]
    assert f"<b>{100.0 * best['chances']['green']:.0f} %</b>" in state["result"]["head"]
    assert f"{told['candidates']} ways to play it, 10,000 balls each" in state["result"]["answer"]


def test_what_is_rarely_asked_is_folded_until_it_is_answered(visitor: Visitor) -> None:
    visitor.post("/shot", WHERE)
    assert '<details data-fold="shot-more">' in visitor.get("/shot").text
    page = visitor.post("/shot", {**WHERE, "gust": "far"}).text
    assert '<details data-fold="shot-more" open>' in page  # what is wrong is seen
    visitor.post("/shot", {**WHERE, "green_speed": "11"})
    assert '<details data-fold="shot-more" open>' in visitor.get("/shot").text


def test_all_of_it_is_played_where_the_page_has_no_script(visitor: Visitor) -> None:
    visitor.get("/shot")
    assert visitor.post("/shot", WHERE).headers["location"] == "/shot"
    assert "10,000 balls each" in visitor.get("/shot").text  # and is not played again, rougher


def finished(visitor: Visitor, job: str) -> dict[str, Any]:
    for _ in range(2000):
        state: dict[str, Any] = visitor.get(f"/shot/job/{job}").json()
        if state["done"]:
            return state
        time.sleep(0.03)
    raise AssertionError("it never ended")


def test_a_rough_answer_then_a_settled_one(visitor: Visitor) -> None:
    rough = visitor.post("/shot/answer", {**WHERE, "haste": "rough", "turn": "1"}).json()
    assert "192 balls each" in rough["answer"]
    settled = visitor.post("/shot/answer", {**WHERE, "haste": "settled", "turn": "2"}).json()
    assert f"{SETTLED.final_draws:,} balls each" in settled["answer"]
    assert settled["pattern"].count("<path") >= 5
    assert 'value="17 on, centre"' in visitor.get("/shot").text  # what settles is kept


def test_dragging_the_hole_leaves_the_ball_and_turns_number_and_wind(visitor: Visitor) -> None:
    before = visitor.post("/shot/answer", {**WHERE, "haste": "rough", "turn": "1"}).json()
    (x, y), (bx, by) = before["hole"], before["ball"]
    spots = {"cup_x": x + 4.0, "cup_y": y - 5.0, "ball_x": bx, "ball_y": by}
    typed = {**WHERE, **{k: str(v) for k, v in spots.items()}, "haste": "rough", "turn": "2"}
    after = visitor.post("/shot/answer", typed).json()
    assert after["ball"] == pytest.approx([bx, by], abs=0.1)
    assert after["hole"] == pytest.approx([x + 4.0, y - 5.0], abs=0.1)
    assert after["fields"]["number"] == f"{((by - y + 5.0) ** 2 + 16.0) ** 0.5 / YARD:.1f}yd"
    off = float(after["fields"]["off_line"].removesuffix("deg"))
    assert off == pytest.approx(-2.7, abs=0.3)  # the ball now lies left of the new line
    turned = float(after["fields"]["wind_from"].removesuffix("deg"))
    assert turned == pytest.approx(360.0 + off, abs=0.11)  # the wind itself did not turn


def test_a_hole_beside_the_green_is_refused_beside_its_field(visitor: Visitor) -> None:
    spots = {"cup_x": "90", "cup_y": "0", "ball_x": "0", "ball_y": "80"}
    answer = visitor.post("/shot/answer", {**WHERE, **spots, "haste": "rough"}).json()
    assert answer["problem"].startswith("hole location is off the green")
    told = visitor.post("/shot", {**WHERE, "hole_location": "99 on, centre"})
    assert told.status_code == 400
    assert re.search(r'id="problem-hole_location">[^<]*the green is', told.text)
    assert 'value="99 on, centre"' in visitor.get("/shot").text


def test_an_older_question_is_let_go(visitor: Visitor) -> None:
    fresh = visitor.app.state.desk.fresh
    old, new = fresh.take("me", 1), fresh.take("me", 2)
    assert (old(), new()) == (False, True)
    late = fresh.take("me", 1)  # threads may overtake each other
    assert (late(), new()) == (False, True)
    assert (fresh.take("you", 1)(), fresh.take("me", 0)()) == (True, True)


def test_work_is_stopped_on_request(visitor: Visitor) -> None:
    job = visitor.post("/shot/full", {**WHERE, "number": "77"}).json()["job"]
    assert visitor.post("/shot/stop", {"key": job}).json() == {"stopped": True}
    assert finished(visitor, job)["problem"] in ("stopped", "")
    assert visitor.get("/shot/job/unknown").status_code == 404


def test_what_reaches_nowhere_is_a_plain_sentence(visitor: Visitor) -> None:
    answer = visitor.post("/shot", {**WHERE, "number": "190"})
    assert answer.status_code == 303
    page = visitor.get("/shot")
    assert page.status_code == 200
    assert "none of your shots lands a ball near a hole 190 yd away" in page.text


def test_a_pocket_card_is_a_pdf(visitor: Visitor) -> None:
    answer = visitor.get("/shot/card.pdf")
    assert (answer.headers["content-type"], answer.content[:5]) == ("application/pdf", b"%PDF-")


BALL = {"shot": "56", "intended": "80", "called": "78", "carry": "76.5", "side": "-2"}


def test_a_ball_is_logged_with_the_day_and_taken_back(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    visitor.post("/today", {"temp": "9", "moisture": "dew"})
    assert visitor.post("/range", {**BALL, "key": "a" * 32}).headers["location"] == "/range"
    ball = logged_balls(book, last=1)[0]
    assert (ball.shot, ball.setting, ball.moisture.value) == ("56", "range", "dew")
    lengths = (ball.intended_m, ball.called_m, ball.carry_m, ball.side_m)
    assert lengths == pytest.approx([v * YARD for v in (80.0, 78.0, 76.5, -2.0)])
    assert ball.air is not None
    assert ball.air.temperature_k == pytest.approx(282.15)
    page = visitor.get("/range").text
    assert "56: meant 80yd, called 78yd, was 76.5yd" in page
    assert 'value="80"' in page  # the next ball is meant for the same
    visitor.post("/range/undo")
    assert len(logged_balls(book)) == before
    assert 'value="76.5"' in visitor.get("/range").text  # to be mended


def test_a_ball_sent_twice_is_one_ball(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    for _ in range(2):
        visitor.post("/range", {**BALL, "key": "same"})
    assert len(logged_balls(book)) == before + 1
    assert "in the book already" in visitor.get("/range").text


def test_a_ball_that_waited_is_taken_once_and_back(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    ball = {"shot": "56", "intended": "80yd", "carry": "78yd", "key": "k1", "waited": "7200"}
    for taken in (True, False):
        assert visitor.post("/range/waiting", ball).json() == {"taken": taken}
    (added,) = logged_balls(book, last=1)
    assert added.at is not None
    assert timedelta(hours=1.9) < datetime.now().astimezone() - added.at < timedelta(hours=2.1)
    refused = visitor.post("/range/waiting", {**ball, "carry": "far", "key": "k2"})
    assert refused.status_code == 400
    assert "far" in refused.json()["refused"]
    for taken in (True, False):
        back = visitor.post("/range/waiting", {"what": "undo", "key": "k1"}).json()
        assert back == {"taken": taken}
    assert len(logged_balls(book)) == before


def test_a_ball_that_is_refused_stays_in_the_form(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    answer = visitor.post("/range", {**BALL, "carry": "9999"}, headers=HX)
    assert answer.status_code == 400
    assert re.search(r'id="problem-carry">[^<]*carry = 9999', answer.text)
    assert 'value="9999"' in visitor.get("/range").text
    assert visitor.post("/range", {**BALL, "shot": "driver"}).status_code == 400
    assert len(logged_balls(book)) == before


def test_an_import_is_not_undone_at_the_range(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    answer = visitor.post("/range/undo")
    assert answer.status_code == 400
    assert "no logged ball to undo" in answer.text
    assert len(logged_balls(book)) == before


def test_the_book_shows_every_shot_and_one_of_them(visitor: Visitor, book: Path) -> None:
    page = visitor.get("/book").text
    labels = [shot.label for shot in owned_shots(book)]
    assert sorted(re.findall(r'shot-name">([^<]+?)(?: <|<)', page)) == sorted(labels)
    one = visitor.get("/book/shot", name="56").text
    assert "60 balls, the newest first" in one
    assert one.count('class="ball-dots"') == 2
    assert visitor.get("/book/shot", name="driver").status_code == 400


def test_a_shot_is_taken_out_unless_it_has_balls(visitor: Visitor, book: Path) -> None:
    visitor.post("/book/shots", SHOT)
    assert "54 is out of the book" in visitor.post("/book/remove", {"name": "54"}).text
    assert "54" not in [shot.label for shot in owned_shots(book)]
    answer = visitor.post("/book/remove", {"name": "56"})
    assert answer.status_code == 400
    assert "balls" in answer.text


def test_balls_come_from_a_file_and_go_again(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    rows = b"shot,carry\n56,81\n56,nonsense\n60,70\n"
    sent = {"file": ("../../monday.csv", rows)}
    page = visitor.post("/book/import", {"lengths": "yd"}, files=sent).text
    assert "nonsense" in page
    assert len(logged_balls(book)) == before + 2
    assert not (book.parent.parent / "monday.csv").exists()
    assert "2 balls removed" in visitor.post("/book/undo").text
    assert len(logged_balls(book)) == before
    assert visitor.post("/book/import").status_code == 400
    assert visitor.post("/book/import", files={"file": ("x.xlsx", b"no")}).status_code == 400


def test_ground_takes_a_map_and_heights_and_shows_the_green(visitor: Visitor) -> None:
    course = (DEMO / "venue.geojson").read_bytes().replace(b"Saltfen Reach", b"Other Reach")
    sent = visitor.post("/ground/maps", {"kind": "map"}, files={"file": ("o.geojson", course)})
    assert sent.status_code == 303
    page = visitor.client.get(sent.headers["location"]).text
    assert "Other Reach, hole 4" in page
    assert "no heights for this hole" in page
    heights = (DEMO / "heights.csv").read_bytes()
    sent = visitor.post("/ground/maps", {"kind": "heights"}, files={"file": ("h.csv", heights)})
    assert "heights in ft" in visitor.client.get(sent.headers["location"]).text
    assert "Other Reach" in visitor.get("/shot").text
    for kept in visitor.app.state.desk.shelf.kept():
        visitor.post("/ground/remove", {"key": kept.key})
    assert "Saltfen Reach" in visitor.get("/shot").text


def test_a_green_is_described_and_seen_at_once(visitor: Visitor) -> None:
    words = "30 deep, 24 wide\r\ntilt back to front 2 %\r\nbunker short right, 4 off, 8 by 6"
    answer = visitor.post("/ground/describe", {"green": words})
    assert answer.status_code == 303, answer.text
    page = visitor.client.get(answer.headers["location"]).text
    assert "90 ft deep, 72 ft wide" in page
    assert 'class="area bunker"' in page
    assert "bunker short right" in page  # the words stand there to be changed
    shot = visitor.get("/shot").text
    assert 'class="what">' in shot


def test_a_description_that_is_not_understood_is_kept_and_told_how(visitor: Visitor) -> None:
    answer = visitor.post("/ground/describe", {"green": "very large and fast"})
    assert answer.status_code == 400
    assert re.search(r'id="problem-green">[^<]+<', answer.text)
    assert "very large and fast" in visitor.get("/ground").text
    assert visitor.app.state.desk.shelf.kept() == ()
    assert visitor.post("/ground/describe", {"green": " "}).status_code == 400


@pytest.mark.parametrize(
    ("kind", "content"),
    [
        ("map", b"{"),
        ("map", b"not a map"),
        ("map", b'{"type":"FeatureCollection","features":[]}'),
        ("heights", b"a,b\n1,2\n"),
        ("map", b"\xff\xfe\x00"),
    ],
)
def test_what_is_no_map_is_refused_and_not_kept(
    visitor: Visitor, kind: str, content: bytes
) -> None:
    answer = visitor.post("/ground/maps", {"kind": kind}, files={"file": ("mine.json", content)})
    assert answer.status_code == 400
    assert re.search(r'class="problem" id="problem-ground">[^<]+<', answer.text)
    assert visitor.app.state.desk.shelf.kept() == ()


def test_a_plan_is_kept_opened_and_dropped(visitor: Visitor) -> None:
    visitor.post("/shot/answer", {**WHERE, "haste": "settled"})
    assert visitor.post("/shot/keep").headers["location"] == "/before"
    assert re.search(r"hole 4: 17 on, [^<]* 88 yd", visitor.get("/before").text)
    visitor.post("/shot/answer", {**WHERE, "number": "70", "haste": "settled"})
    visitor.post("/before/open", {"key": "1"})
    assert 'value="88"' in visitor.get("/shot").text
    visitor.post("/before/drop", {"key": "1"})
    assert "Nothing kept yet" in visitor.get("/before").text
    assert visitor.post("/before/open", {"key": "1"}).status_code == 400


def test_planning_is_shut_during_a_round_and_recording_is_not(visitor: Visitor, book: Path) -> None:
    visitor.post("/before/round", {"playing": "yes"})
    for room in ("/today", "/shot", "/shot/card.pdf"):
        assert "Shut during the round" in visitor.get(room).text
    assert "Shut during the round" in visitor.post("/shot/answer", WHERE).text
    before = len(logged_balls(book))
    visitor.post("/range", {**BALL, "key": "in play"})
    assert len(logged_balls(book)) == before + 1
    visitor.post("/before/round", {"playing": "no"})
    assert visitor.get("/shot").text.count('id="plan"') == 1


@pytest.mark.parametrize("back", ["//evil.example/x", "https://evil.example", "\\\\evil", "x", ""])
def test_switches_lead_back_only_into_the_page(visitor: Visitor, back: str) -> None:
    for path, name in (("/units", "units"), ("/theme", "theme")):
        answer = visitor.post(path, {name: "dark", "back": back})
        assert answer.headers["location"] == "/today"


def test_the_switch_of_colours_is_kept(visitor: Visitor) -> None:
    visitor.post("/theme", {"theme": "dark", "back": "/book"})
    assert 'data-theme="dark"' in visitor.get("/book").text
    visitor.post("/theme", {"theme": '"><script>'})
    assert 'data-theme="auto"' in visitor.get("/book").text


def test_it_installs_and_works_without_a_network(
    visitor: Visitor, visit: Callable[..., Visitor]
) -> None:
    manifest = visitor.get("/manifest.webmanifest").json()
    assert manifest["display"] == "standalone"
    for icon in manifest["icons"]:
        assert visitor.get(icon["src"]).headers["content-type"] == "image/png"
    worker = visitor.get("/sw.js").text
    for path in re.findall(r'"(/static/[^"]+)"', worker):
        assert visitor.get(path).status_code == 200, path
    for file in (DEMO.parent / "web/static").glob("*"):
        text = file.read_text("utf-8") if file.suffix in (".js", ".css") else ""
        own = file.name != "htmx.min.js"
        assert not own or not re.search(r"https?://|//[a-z]+\.[a-z]", text), file
