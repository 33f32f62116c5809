"""Balls that are said while nobody answers: they wait, are sent once and in order, and go back."""

from pathlib import Path

from playwright.sync_api import Browser, Page, Route, expect
from tests.web.test_browser import PHONE, browser, looking, pytestmark, served

from carrybook.app.services.balls import logged_balls
from carrybook.app.services.log import now
from carrybook.app.services.practise_run import session_on
from carrybook.app.services.round_shots import played_rounds
from carrybook.app.services.rounds import start_round
from carrybook.base.constants import YARD

__all__ = ["browser", "pytestmark"]


def ready(page: Page) -> None:
    """Visit once, so that the rooms are there without the server."""
    page.goto("/practise")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")


def call(page: Page, yards: str) -> None:
    page.get_by_label("Your call", exact=True).fill(yards)
    page.get_by_role("button", name="I have struck it").click()


def see(page: Page, yards: str) -> None:
    expect(page.locator("#measured")).to_be_hidden()  # the call comes first
    page.get_by_label("It carried", exact=True).fill(yards)
    page.get_by_role("button", name="Log the ball").click()


def test_a_session_goes_on_without_the_server(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    with served(book) as port:
        pass
    with looking(browser, port, PHONE) as page:
        with served(book, port):
            ready(page)
            page.get_by_role("button", name="Plan a session").click()
            expect(page.locator("#target")).to_contain_text("Ball 1")
        targets = [t.planned.target_m / YARD for t in session_on(book).practice.targets]
        for k, carry in enumerate(("61", "62", "63")):
            expect(page.locator("#target")).to_contain_text(f"Ball {k + 1}")
            expect(page.locator(".play .what")).to_have_text(f"{targets[k]:.0f} yd")
            call(page, f"{70 + k}")
            expect(page.locator("#ball .close")).to_contain_text(f"Called {70 + k}yd")
            see(page, carry)
        expect(page.locator("#waiting")).to_contain_text("3 balls wait here")
        page.reload()
        page.get_by_role("button", name="Undo").click()
        expect(page.locator("#waiting")).to_contain_text("2 balls wait here")
        expect(page.locator("#target")).to_contain_text("Ball 3")
        page.reload()
        expect(page.locator("#waiting")).to_contain_text("2 balls wait here")
        expect(page.locator("#target")).to_contain_text("Ball 3")
        expect(page.get_by_role("status").first).to_contain_text("2 of ")
        expect(page.locator("#end")).to_have_count(0)
        assert len(logged_balls(book)) == before
        with served(book, port):
            page.evaluate("queue.send()")
            expect(page.locator("#waiting")).to_be_hidden()
            expect(page.get_by_role("status").first).to_contain_text("2 of ")
            page.reload()
            expect(page.get_by_role("status").first).to_contain_text("2 of ")
    balls = logged_balls(book, last=2)
    assert len(logged_balls(book)) == before + 2
    said = sorted((b.called_m, b.carry_m) for b in balls)
    assert [(round(c / YARD), round(w / YARD)) for c, w in said] == [(70, 61), (71, 62)]
    assert all(b.called_first for b in balls)


def lose_answers(page: Page, path: str) -> None:
    """Let the server take what is sent there, and the network lose what it says."""

    def lose(route: Route) -> None:
        route.fetch()
        route.abort()

    page.route(f"**{path}", lose)


def test_an_answer_that_is_lost_makes_no_second_ball(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    with served(book) as port, looking(browser, port, PHONE, worker="block") as page:
        page.goto("/practise")
        page.get_by_role("button", name="Plan a session").click()
        expect(page.locator("#target")).to_contain_text("Ball 1")
        page.wait_for_load_state()  # the scripts are there, too
        lose_answers(page, "/practise/call")
        page.route("**/practise/waiting", lambda route: route.abort())
        call(page, "70")
        expect(page.locator("#waiting")).to_contain_text("1 ball waits here")
        assert len(logged_balls(book)) == before + 1
        see(page, "72")  # nothing overtakes what waits
        assert session_on(book).practice.done == 0
        with page.expect_navigation():  # looked at anew once all is sent
            page.unroute("**/practise/waiting")
        expect(page.locator("#waiting")).to_be_hidden()
        assert session_on(book).practice.done == 1
        page.unroute("**/practise/call")
        call(page, "80")
        lose_answers(page, "/practise/result")
        page.route("**/practise/waiting", lambda route: route.abort())
        see(page, "82")
        expect(page.locator("#waiting")).to_contain_text("1 ball waits here")
        assert session_on(book).practice.done == 2
        page.get_by_role("button", name="Undo").click()  # it is in the book, and must go there
        expect(page.locator("#waiting")).to_contain_text("taken back")
        expect(page.locator("#target")).to_contain_text("Ball 2")
        with page.expect_navigation():
            page.unroute("**/practise/waiting")
        expect(page.locator("#waiting")).to_be_hidden()
        expect(page.get_by_role("status").first).to_contain_text("1 of ")
    (ball,) = logged_balls(book, last=1)
    assert len(logged_balls(book)) == before + 1
    assert round((ball.carry_m or 0.0) / YARD) == 72


def test_a_ball_of_the_range_is_taken_back_while_it_waits(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/range")
        page.context.set_offline(True)
        for carry in ("79", "19", "far"):
            page.get_by_label("Your call", exact=True).fill("81")
            page.get_by_role("button", name="I have called it").click()
            page.get_by_label("It carried", exact=True).fill(carry)
            page.get_by_role("button", name="Log the ball").click()
            if carry == "19":
                expect(page.locator("#waiting")).to_contain_text("2 balls wait here")
                page.get_by_role("button", name="Undo the last ball").click()
                expect(page.get_by_label("It carried", exact=True)).to_have_value("19")
                page.get_by_label("It carried", exact=True).fill("91")
                page.get_by_role("button", name="Log the ball").click()
        expect(page.locator("#waiting")).to_contain_text("3 balls wait here")
        assert len(logged_balls(book)) == before
        page.context.set_offline(False)
        refused = page.locator("#waiting .problem")
        expect(refused).to_contain_text("was far")  # nothing that was said is lost
        expect(page.locator("tbody tr").first).to_contain_text("91")
        page.reload()
        expect(refused).to_contain_text("was far")
        page.get_by_role("button", name="Forget it").click()
        expect(page.locator("#waiting")).to_be_hidden()
    carries = sorted(round((b.carry_m or 0.0) / YARD) for b in logged_balls(book, last=2))
    assert (len(logged_balls(book)), carries) == (before + 2, [79, 91])


def test_a_ball_that_waited_for_an_earlier_version_is_sent(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    ball = {"shot": "56", "intended": "80yd", "carry": "76yd", "called": "78yd", "key": "old"}
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/today")
        page.evaluate("ball => localStorage.setItem('balls-waiting', JSON.stringify([ball]))", ball)
        page.goto("/range")
        expect(page.locator("tbody tr").first).to_contain_text("76")  # looked at anew
        page.wait_for_load_state()
        assert page.evaluate("localStorage.getItem('balls-waiting')") is None
        assert page.evaluate("localStorage.getItem('waiting')") == "[]"
    assert len(logged_balls(book)) == before + 1
    assert round((logged_balls(book, last=1)[0].carry_m or 0.0) / YARD) == 76


def record(page: Page, number: str) -> None:
    page.get_by_label("Number", exact=True).first.fill(number)
    page.get_by_label("From the hole", exact=True).fill("12")
    page.get_by_role("button", name="Record the shot").click()


def test_shots_of_a_round_wait_for_the_server(browser: Browser, book: Path) -> None:
    start_round(book, now())
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/after")
        page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        page.reload()  # so that it is kept
        hole = page.get_by_label("Hole", exact=True)
        hole.fill("4")
        page.context.set_offline(True)
        record(page, "88")
        expect(page.locator("#waiting")).to_contain_text("1 shot waits here")
        expect(hole).to_have_value("5")  # the next one
        expect(page.get_by_label("From the hole", exact=True)).to_have_value("")
        record(page, "")
        expect(page.locator("#problem-number")).to_contain_text("number is missing")
        record(page, "19")
        expect(page.locator("#waiting")).to_contain_text("2 shots wait here")
        page.reload()
        expect(hole).to_have_value("6")
        page.get_by_role("button", name="Undo the last shot").click()
        expect(page.locator("#waiting")).to_contain_text("1 shot waits here")
        expect(hole).to_have_value("5")
        record(page, "91")
        record(page, "999")
        expect(page.locator("#waiting")).to_contain_text("3 shots wait here")
        assert played_rounds(book)[0].shots == ()
        page.context.set_offline(False)
        refused = page.locator("#waiting .problem")
        expect(refused).to_contain_text("number 999yd")  # nothing that was said is lost
        page.get_by_role("button", name="Forget it").click()
        expect(page.locator("#waiting")).to_be_hidden()
        expect(page.locator(".sum")).to_contain_text("recorded: hole 5, 91 yd")
    (played,) = played_rounds(book)
    assert [(s.hole, round((s.known.number_m or 0.0) / YARD)) for s in played.shots] == [
        (4, 88),
        (5, 91),
    ]


def test_a_shot_whose_answer_is_lost_is_recorded_once(browser: Browser, book: Path) -> None:
    start_round(book, now())
    with served(book) as port, looking(browser, port, PHONE, worker="block") as page:
        page.goto("/after")
        page.get_by_label("Hole", exact=True).fill("7")
        lose_answers(page, "/after")
        page.route("**/after/waiting", lambda route: route.abort())
        record(page, "88")
        expect(page.locator("#waiting")).to_contain_text("1 shot waits here")
        assert len(played_rounds(book)[0].shots) == 1
        page.unroute("**/after")
        page.unroute("**/after/waiting")
        expect(page.locator("#waiting")).to_be_hidden()
        assert len(played_rounds(book)[0].shots) == 1
