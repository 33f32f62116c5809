"""Every room by the keyboard alone: no mouse, no help; and no room wider than a phone."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright
from tests.web import test_browser as browsing
from tests.web.hands import Hands
from tests.web.test_browser import LAPTOP, PHONE, ROOMS, looking, served

pytestmark = browsing.pytestmark
LONG = 90_000  # ms for what is worked out


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's browser, without a window."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=str(browsing.CHROMIUM), args=browsing.FLAGS
        )
        yield browser
        browser.close()


@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_every_stop_is_seen_and_none_is_a_trap(
    browser: Browser, book: Path, size: dict[str, int]
) -> None:
    with served(book) as port, looking(browser, port, size) as page:
        for room in (*ROOMS, "book/learnt", "book/shot?name=56", "practise/history"):
            page.goto(f"/{room}")
            stops = Hands(page).round_trip()
            assert stops[0]["name"] == "Skip to the page"
            names = [s["name"] for s in stops]
            assert len(names) > 7, room


def test_what_to_leave(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/leave")
        hands = Hands(page)
        hands.press("Tab", "Enter")  # skips to the page
        hands.type("Closest", "60")
        hands.type("Furthest", "far")
        hands.type("In steps of", "20")
        hands.enter("Work it out")
        hands.lands("Furthest")  # what is wrong
        hands.hears("to = 'far'")
        hands.press("Control+a")
        page.keyboard.type("100")
        hands.enter("Work it out")
        hands.lands("What to leave")
        expect(page.locator(".found tbody tr")).to_have_count(3, timeout=LONG)
        hands.lands("What to leave")
        hands.hears("yd")
        expect(page.locator(".found svg .curve")).to_be_visible()
        hands.go("Every distance")
        hands.enter("Not well known")
        expect(page.locator(".found details ul")).to_be_visible()


def test_the_hand_stays_while_work_goes_on(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/leave")
        hands = Hands(page)
        hands.type("In steps of", "2")
        hands.enter("Work it out")
        hands.lands("What to leave")
        hands.type("Closest", "4")
        page.wait_for_timeout(1_600)  # it is asked how far it is meanwhile
        page.keyboard.type("4")
        assert hands.here()["value"] == "44"
        hands.go("Stop")
        hands.press("Enter")
        expect(page.locator(".found .notice")).to_have_text("Stopped.", timeout=LONG)
        hands.lands("What to leave")
        hands.hears("Stopped.")


def test_the_day_the_plan_and_the_card(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/today")
        hands = Hands(page)
        hands.type("Temperature", "8")
        hands.press("Enter")
        hands.hears("8 C (46 F)")
        hands.here()
        hands.back("More")
        hands.press("Enter")
        page.wait_for_url("**/more")
        hands.enter("Before the round")
        page.wait_for_url("**/before")
        hands.type("Holes", "4")
        hands.type("From", "80")
        hands.go("What to leave")
        hands.press("ArrowDown")
        hands.enter("Plan Saltfen Reach")
        hands.lands("Every ninth of the greens")
        rows = page.locator("#zones-part tbody tr")
        expect(rows).to_have_count(9, timeout=LONG)
        hands.lands("Every ninth of the greens")
        hands.hears("Saltfen Reach: 8 C (46 F)")
        hands.enter("Hole 4")
        expect(rows.first).to_be_hidden()
        hands.press("Space")
        expect(rows.first).to_be_visible()
        hands.go("Profile")
        hands.press("ArrowDown")
        hands.enter("Print the card")
        hands.lands("Pocket card")
        expect(page.get_by_role("link", name="Take the restricted card")).to_be_visible(
            timeout=LONG
        )
        hands.hears("Take the restricted card")
        hands.go("Take the restricted card")
        with page.expect_download() as download:
            hands.press("Enter")
        assert download.value.suggested_filename == "card-restricted.pdf"


def test_a_shot_its_history_and_what_is_taken_back(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/book")
        hands = Hands(page)
        hands.enter("56")
        page.wait_for_url("**/book/shot?name=56")
        expect(page.get_by_role("heading", name="60 balls, the newest first")).to_be_visible()
        hands.go("Balls")
        hands.enter("Take it out of the book")
        expect(page.get_by_text("so it stays")).to_be_visible()
        hands.back("Book")
        hands.press("Enter")
        page.wait_for_url("**/book")
        hands.enter("Add a shot")
        for name, text in (("Club", "64"), ("Loft", "64"), ("Stock carry", "50"), ("Cue", "soft")):
            hands.type(name, text)
        hands.enter("Put it into the book")
        hands.lands("Book")
        hands.enter("64")
        page.wait_for_url("**/book/shot?name=64")
        hands.enter("Take it out of the book")
        hands.enter("Take 64 out")
        hands.lands("64 is out of the book")
        hands.hears("64 is out of the book")
        hands.enter("Balls from a file")
        hands.enter("Take the last file back")
        hands.lands("took back")
        hands.hears("took back")


def test_a_green_described_sketched_and_putted(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/ground")
        hands = Hands(page)
        hands.enter("Sketch or describe a green")
        hands.go("a corner")
        hands.press("ArrowRight")
        assert hands.here()["name"] == "a height"
        hands.press("ArrowLeft")
        hands.go("Where the next point goes")
        hands.press("Enter")
        for key, steps in (("ArrowRight", 9), ("ArrowUp", 12), ("ArrowLeft", 10)):
            hands.press(*[key] * steps)
            hands.here()
            expect(page.locator("#board-said")).to_contain_text(" on, ")
            hands.press("Enter")
        expect(page.locator("#board-said")).to_contain_text("36 ft deep")
        hands.go("Take the last point back")
        hands.press("Space")
        words = page.get_by_label("As a yardage book has it")
        expect(words).to_have_value("outline 0 0, 0 9, 12 9")
        hands.type("As a yardage book has it", "30 deep, 24 wide")
        hands.press("Enter")
        page.keyboard.type("tilt back to front 2 %")
        hands.enter("Keep it")
        hands.lands("Ground")
        expect(page.locator(".first-seen .hint")).to_contain_text("90 ft deep, 72 ft wide")
        hands.go("Putts on it")
        hands.press("Space")
        page.locator("#putts[aria-busy=false][data-haste=settled]").wait_for(timeout=LONG)
        before = page.get_by_label("Ball lies").input_value()
        hands.go("The ball")
        hands.press("ArrowLeft", "ArrowLeft", "ArrowDown")
        expect(page.get_by_label("Ball lies")).not_to_have_value(before)
        expect(page.locator("#putts-spoken")).to_contain_text("putts")
        assert hands.here()["name"].startswith("The ball")


def test_a_shot_recorded_and_reviewed(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/after")
        hands = Hands(page)
        hands.enter("Record a round")
        hands.lands("The round of")
        for name, text in (("Hole", "4"), ("Number", "88")):
            hands.type(name, text)
        hands.go("fairway")
        hands.press("ArrowRight")
        assert hands.here()["name"] == "light rough"
        hands.type("Meant to carry", "84")
        hands.type("From the hole", "12")
        hands.go("2")
        hands.press("ArrowLeft")
        hands.enter("Record the shot")
        hands.lands("recorded: hole 4, 88 yd light rough")
        hands.hears("recorded: hole 4, 88 yd light rough")
        hands.enter("Undo the last shot")
        hands.lands("took back: hole 4")
        hands.type("Number", "70")
        hands.type("From the hole", "9")
        hands.press("Enter")
        hands.lands("recorded: hole 4, 70 yd")
        hands.back("Review the rounds")
        hands.press("Enter")
        page.wait_for_url("**/after/review")
        hands.go("Against")
        hands.press("ArrowDown", "Tab", "Tab", "Enter")
        page.wait_for_url("**against=book**")
        expect(page.get_by_role("heading", name="What cost most")).to_be_visible()
        hands.lands("Review")


def test_a_ball_practised_and_undone(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/practise")
        hands = Hands(page)
        hands.type("Balls", "24")
        hands.enter("Plan a session")
        hands.lands("Ball 1")
        hands.type("Your call", "61")
        hands.press("Enter")
        hands.lands("It carried")  # once it may be looked at
        page.keyboard.type("60")
        hands.enter("Log the ball")
        hands.lands("Ball 2")
        hands.hears("1 of ")
        hands.enter("Undo")
        expect(page.locator("#practise-part .sum")).to_contain_text("0 of ")
        hands.lands("Undo")  # as in Range


def test_the_hand_stays_in_an_answer_that_sharpens(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/shot")
        hands = Hands(page)
        hands.enter("Instead")
        hands.go("Why that number")
        page.locator("#answer[data-haste=full]").wait_for(timeout=LONG)
        assert hands.here()["name"] == "Why that number"
        expect(page.get_by_role("region", name="Other shots")).to_be_visible()
        assert page.locator(".blocks td").first.get_attribute("data-label") == "feel"


def test_a_newcomer_begins_in_every_room(browser: Browser, tmp_path: Path) -> None:
    with (
        served(tmp_path / "new" / "book.sqlite") as port,
        looking(browser, port, PHONE) as page,
    ):
        for room in ("today", "leave", "range", "practise", "book", "before", "after"):
            page.goto(f"/{room}")
            begin = page.get_by_role("heading", name="Begin with one shot you own")
            expect(begin).to_be_in_viewport()
        page.goto("/before")
        hands = Hands(page)
        for name, text in (("Club", "54"), ("Loft", "54"), ("Stock carry", "82")):
            hands.type(name, text)
        hands.enter("Put it into the book")
        page.wait_for_url("**/before")
        expect(page.get_by_role("heading", name="Pocket card")).to_be_visible()


def test_balls_are_logged(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/range")
        hands = Hands(page)
        hands.type("Your call", "81")
        for carried in ("79", "83"):
            hands.press("Enter")
            hands.lands("It carried")
            page.keyboard.type(carried)
            hands.press("Enter")
            hands.hears(f"was {carried}yd")
            hands.lands("Your call")  # ready for the next one
            page.keyboard.type("82")
        hands.enter("Undo the last ball")
        hands.lands("Undo the last ball")


def rows_told(page: Page) -> list[str]:
    """What a screen reader is told of tables: roles in the browser's own tree."""
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    return [n["role"]["value"] for n in nodes if not n["ignored"]]


def test_a_wide_table_is_blocks_on_a_phone_and_stays_a_table(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/before")
        page.get_by_label("Holes").fill("4")
        page.get_by_label("From").fill("80, 100")
        page.get_by_role("button", name="Plan Saltfen Reach").click()
        table = page.locator("#zones-part table")
        expect(table.locator("tbody tr")).to_have_count(18, timeout=LONG)
        scroll = page.locator("#zones-part .scroll")
        assert scroll.evaluate("e => e.scrollWidth <= e.clientWidth")
        assert page.locator("#zones-part td").nth(3).get_attribute("data-label") == "land"
        roles = rows_told(page)
        assert roles.count("table") == 1
        assert (roles.count("row"), roles.count("columnheader")) == (19, 10)
        assert roles.count("rowheader") == 18
        page.set_viewport_size(LAPTOP)  # type: ignore[arg-type]
        assert table.evaluate("e => getComputedStyle(e.rows[1]).display") == "table-row"


def test_what_is_practised_is_said_with_its_club(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/practise")
        page.get_by_label("Focus").fill("55-65yd")
        page.get_by_role("button", name="Plan a session").click()
        expect(page.locator(".play .feel")).to_contain_text("with the 60")
        expect(page.locator(".play .feel")).to_contain_text(", feel ")


def test_the_first_screen_of_the_ground_shows_what_can_be_done(
    browser: Browser, book: Path
) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/ground")
        foot = page.locator(".rooms").bounding_box()
        assert foot is not None
        for name in ("Putts on it", "Another hole or map", "Sketch or describe", "Send your own"):
            box = page.locator(".fold summary", has_text=name).bounding_box()
            assert box is not None
            assert box["height"] >= 44.0
            assert box["y"] + box["height"] <= foot["y"], name
        page.locator("summary", has_text="Send your own").click()
        page.reload()  # what was folded out stays so
        expect(page.get_by_label("File", exact=True)).to_be_visible()
        expect(page.get_by_label("Ball lies")).to_be_hidden()


DEEPER = ("book/learnt", "book/shot?name=56 low", "practise/history", "after/review")
ALONE = (
    ".rooms a, main button, main select, main summary, main .button, .chip span, main th a, a.alone"
)
SMALL = """(which) => [...document.querySelectorAll(which)]
  .map((e) => [e.innerText, e.getBoundingClientRect()])
  .filter(([, r]) => r.width > 1 && Math.min(r.width, r.height) < 44)
  .map(([text, r]) => `${text} ${r.width} ${r.height}`)"""


def test_no_room_is_wider_than_a_phone_nor_too_small_for_a_thumb(
    browser: Browser, book: Path, tmp_path: Path
) -> None:
    for home, rooms in ((book, (*ROOMS, *DEEPER)), (tmp_path / "new" / "b.sqlite", ROOMS)):
        with served(home) as port, looking(browser, port, PHONE) as page:
            for room in rooms:
                page.goto(f"/{room}")
                wide = page.evaluate("document.scrollingElement.scrollWidth > innerWidth")
                assert not wide, room
                assert page.evaluate(SMALL, ALONE) == [], room
