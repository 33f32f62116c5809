"""The page in a real browser, driven as a person would: by thumb, by mouse, by keyboard."""

import os
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from carrybook.app.services.balls import logged_balls
from carrybook.app.web.app import build_app

CHROMIUM = Path(os.environ.get("CARRYBOOK_CHROMIUM", "/usr/bin/chromium"))
pytestmark = [
    pytest.mark.skipif(
        not CHROMIUM.exists() and not os.environ.get("CI"),
        reason=f"no browser at {CHROMIUM}; on Debian: apt-get install chromium",
    ),
    # Its own event loop leaves sockets to the collector; that is not ours to mend.
    pytest.mark.filterwarnings("ignore::ResourceWarning"),
    pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning"),
]
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
AXE = (Path(__file__).with_name("vendor") / "axe.min.js").read_text("utf-8")
expect.set_options(timeout=20_000)  # a busy machine is slow, not wrong
ROOMS = ("today", "shot", "range", "book", "ground", "before", "leave", "after", "practise", "more")
PHONE, LAPTOP = {"width": 360, "height": 740}, {"width": 1280, "height": 800}


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's browser, without a window."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield browser
        browser.close()


@contextmanager
def served(book: Path, port: int = 0) -> Iterator[int]:
    """Serve a book on this machine while the block runs."""
    with socket.socket() as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(("127.0.0.1", port))
        port = listening.getsockname()[1]
        app = build_app(book, hosts=[f"127.0.0.1:{port}"])
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="off"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.02)
        yield port
        server.should_exit = True
        server.force_exit = True
        thread.join(10.0)


@contextmanager
def looking(
    browser: Browser,
    port: int,
    size: dict[str, int],
    *,
    scheme: str = "light",
    worker: Literal["allow", "block"] = "allow",
) -> Iterator[Page]:
    """Open a window; whatever its console complains about fails the test.

    Answers can be lost on purpose only where the page has no service worker of its own.
    """
    context: BrowserContext = browser.new_context(
        viewport={"width": size["width"], "height": size["height"]},
        base_url=f"http://127.0.0.1:{port}",
        color_scheme="dark" if scheme == "dark" else "light",
        has_touch=size is PHONE,
        service_workers=worker,
    )
    page = context.new_page()
    page.set_default_timeout(20_000)
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    yield page
    context.close()
    assert complaints == []
    assert [url for url in asked if not url.startswith(f"http://127.0.0.1:{port}/")] == []


def test_first_visit_to_first_answer_on_a_phone(browser: Browser, tmp_path: Path) -> None:
    with (
        served(tmp_path / "new" / "book.sqlite") as port,
        looking(browser, port, PHONE) as page,
    ):
        page.goto("/")
        expect(page.get_by_role("heading", name="Begin with one shot you own")).to_be_visible()
        page.get_by_label("Club", exact=True).fill("54")
        page.get_by_label("Loft").fill("54")
        page.get_by_label("Stock carry").fill("82")
        page.reload()  # nothing typed is lost
        expect(page.get_by_label("Stock carry")).to_have_value("82")
        page.get_by_label("Partials").fill("50yd..82yd")
        page.get_by_role("button", name="Put it into the book").click()
        expect(page.locator("td.big")).to_have_text("82")
        page.get_by_role("link", name="Shot", exact=True).click()
        page.get_by_label("Number", exact=True).fill("78")
        page.get_by_role("button", name="Choose", exact=True).click()
        expect(page.locator(".play .what")).to_have_text("54")
        expect(page.locator("#answer")).to_contain_text("your word, no balls yet")


def test_twenty_balls_and_a_wrong_one_undone(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/range")
        page.locator(".chip", has_text="56").first.click()
        for k in range(20):
            expect(page.locator("#measured")).to_be_hidden()  # the call comes first
            page.get_by_label("Your call", exact=True).fill(str(85 + k % 3))
            page.get_by_role("button", name="I have called it").click()
            page.get_by_label("It carried", exact=True).fill("19" if k == 12 else str(84 + k % 5))
            page.get_by_label("Side", exact=True).fill("-2")
            page.get_by_role("button", name="Log the ball").click()
            expect(page.get_by_role("status").first).to_contain_text(f"called {85 + k % 3}yd")
            if k == 12:
                expect(page.locator("tbody tr").first).to_contain_text("19")
                page.get_by_role("button", name="Undo the last ball").click()
                expect(page.get_by_label("It carried", exact=True)).to_have_value("19.0")
                page.get_by_label("It carried", exact=True).fill("91")
                page.get_by_role("button", name="Log the ball").click()
                expect(page.get_by_role("status").first).to_contain_text("was 91yd")
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    balls = logged_balls(book, last=20)
    assert len(logged_balls(book)) == before + 20
    carries = sorted(round((b.carry_m or 0.0) / 0.9144) for b in balls)
    assert 19 not in carries
    assert carries.count(91) == 1


def test_a_step_of_a_call_keeps_the_unit_that_was_typed(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/practise")
        page.get_by_role("button", name="Plan a session").click()
        call = page.get_by_label("Your call", exact=True)
        call.fill("70m")
        page.get_by_role("button", name="+1 Your call").click()
        expect(call).to_have_value("71m")
        call.fill("")
        page.get_by_role("button", name="−1 Your call").click()
        expect(call).to_have_value(str(int(call.get_attribute("placeholder") or "0") - 1))


def drag(page: Page, handle: str, by: tuple[float, float], *, low: float = 0.5) -> None:
    """Take a handle, move it in steps, let it go."""
    page.locator(handle).scroll_into_view_if_needed()
    box = page.locator(handle).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] * low
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 7):
        page.mouse.move(x + by[0] * step / 6, y + by[1] * step / 6)
        page.wait_for_timeout(40)
    page.mouse.up()


def test_hole_wind_and_ball_are_dragged_and_the_answer_follows(
    browser: Browser, book: Path
) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/shot")
        where = page.get_by_label("Hole cut", exact=True)
        number = page.get_by_label("Number", exact=True)
        was = (where.input_value(), number.input_value(), page.locator("#pattern").inner_html())
        drag(page, "#cup", (30, -60), low=0.6)
        page.locator("#answer[aria-busy=false]").wait_for()
        expect(where).not_to_have_value(was[0])
        expect(number).not_to_have_value(was[1])
        assert page.locator("#pattern").inner_html() != was[2]
        assert float(number.input_value()) > float(was[1])
        drag(page, "#vane", (6, -12))
        expect(page.get_by_label("Wind", exact=True)).not_to_have_value("")
        expect(page.locator("#wind-words")).to_contain_text("mph from")
        page.locator("#answer[aria-busy=false]").wait_for()
        far = number.input_value()
        drag(page, "#ball", (25, 0))
        expect(number).not_to_have_value(far)
        page.locator("#answer[aria-busy=false]").wait_for()
        kept = (where.input_value(), number.input_value())
        page.reload()  # a refresh loses nothing
        expect(where).to_have_value(kept[0])
        expect(number).to_have_value(kept[1])


def test_long_work_is_shown_and_stopped(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/shot")
        page.get_by_role("button", name="Stop").click()
        expect(page.locator("#work")).to_be_hidden()
        page.wait_for_timeout(400)
        assert page.locator("#answer").get_attribute("data-haste") == "settled"


def test_by_keyboard_alone(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/today")
        page.keyboard.press("Tab")
        expect(page.locator(":focus")).to_have_text("Skip to the page")
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        expect(page.get_by_label("Temperature")).to_be_focused()
        page.keyboard.type("2")
        page.keyboard.press("Enter")
        expect(page.locator("#today-part .sum")).to_contain_text("2 C (36 F)")
        page.goto("/shot")
        before = page.get_by_label("Hole cut", exact=True).input_value()
        for _ in range(40):
            page.keyboard.press("Tab")
            if page.locator("#cup:focus").count():
                break
        for key in ("ArrowUp", "ArrowUp", "ArrowRight"):
            page.keyboard.press(key)
        expect(page.get_by_label("Hole cut", exact=True)).not_to_have_value(before)
        expect(page.locator("#spoken")).to_contain_text("PLAY")


def test_without_the_server_rooms_stay_and_balls_wait(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    with served(book) as port:
        pass
    with looking(browser, port, PHONE) as page:
        with served(book, port):
            page.goto("/today")
            page.evaluate("navigator.serviceWorker.ready.then(() => true)")
            page.goto("/book")
            page.goto("/range")
            page.reload()
        page.goto("/book")
        expect(page.locator(".shots li")).to_have_count(7)
        page.goto("/leave")
        expect(page.get_by_role("heading", name="Away from the server")).to_be_visible()
        page.goto("/range")
        page.get_by_label("Your call", exact=True).fill("81")
        page.get_by_role("button", name="I have called it").click()
        page.get_by_label("It carried", exact=True).fill("79")
        page.get_by_role("button", name="Log the ball").click()
        expect(page.locator("#waiting")).to_contain_text("1 ball waits here")
        page.reload()
        expect(page.locator("#waiting")).to_contain_text("1 ball waits here")
        assert len(logged_balls(book)) == before
        with served(book, port):
            page.reload()
            expect(page.locator("tbody tr").first).to_contain_text("79")
            expect(page.locator("#waiting")).to_be_hidden()
    assert len(logged_balls(book)) == before + 1


def test_a_call_is_asked_for_and_may_be_left_out(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/range")
        page.get_by_role("button", name="I have called it").click()
        expect(page.locator("#measured")).to_be_hidden()
        page.get_by_role("button", name="No call for this one").click()
        expect(page.locator("#measured")).to_be_visible()


def test_a_ball_waits_while_the_server_is_stopped_and_started(browser: Browser, book: Path) -> None:
    before = len(logged_balls(book))
    with served(book) as port:
        pass
    with looking(browser, port, PHONE) as page:
        with served(book, port):
            page.goto("/range")
            page.get_by_label("Your call", exact=True).fill("81")
            page.get_by_role("button", name="I have called it").click()
            page.get_by_label("It carried", exact=True).fill("77")
        page.get_by_role("button", name="Log the ball").click()
        expect(page.locator("#waiting")).to_contain_text("1 ball waits here")
        expect(page.locator("#away")).to_be_visible()
        with served(book, port):
            expect(page.locator("tbody tr").first).to_contain_text("77")
            expect(page.locator("#waiting")).to_be_hidden()
    assert len(logged_balls(book)) == before + 1


def test_what_is_typed_outlives_going_back_and_other_units(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/range")
        page.get_by_label("Your call", exact=True).fill("83")
        page.get_by_role("button", name="I have called it").click()
        page.get_by_label("It carried", exact=True).fill("8")
        page.goto("/book")
        page.go_back()
        expect(page.get_by_label("Your call", exact=True)).to_have_value("83")
        page.get_by_role("button", name="In yards; change to metres").click()
        expect(page.get_by_label("Your call", exact=True)).to_have_value("83yd")  # still yards


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_rooms_fit_and_are_open_to_all(
    browser: Browser, book: Path, size: dict[str, int], scheme: str
) -> None:
    found: list[str] = []
    with served(book) as port, looking(browser, port, size, scheme=scheme) as page:
        for room in (*ROOMS, "book/shot?name=56"):
            page.goto(f"/{room}")
            if page.evaluate("document.documentElement.scrollWidth") > size["width"]:
                found.append(f"{room} is wider than the window")
            page.evaluate(AXE)
            result = page.evaluate(
                "axe.run(document, {resultTypes: ['violations'],"
                " rules: {'color-contrast-enhanced': {enabled: true}}})"  # 7 to 1: in sunlight
            )
            for v in result["violations"]:
                if v["impact"] in ("serious", "critical"):
                    where = v["nodes"][0]["html"][:90]
                    found.append(f"{room}: {v['id']} ({len(v['nodes'])}): {where}")
    assert found == []


def test_what_a_thumb_must_hit_is_large(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        for room in ("today", "range", "shot"):
            page.goto(f"/{room}")
            hits = page.locator(
                "main button:visible, .rooms a:visible, .chip span, summary:visible"
            )
            for k in range(hits.count()):
                box = hits.nth(k).bounding_box()
                assert box is not None
                assert min(box["width"], box["height"]) >= 44.0, hits.nth(k).inner_text()
