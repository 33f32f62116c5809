"""Leave, Ground, Before and learning in a real browser: by thumb, by mouse, by keyboard."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.web import test_browser as browsing
from tests.web.test_browser import AXE, LAPTOP, PHONE, looking, served

pytestmark = browsing.pytestmark


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's browser, without a window."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=str(browsing.CHROMIUM), args=browsing.FLAGS
        )
        yield browser
        browser.close()


def settled(page: Page) -> None:
    page.locator("#putts[aria-busy=false][data-haste=settled]").wait_for()


def unfold(page: Page, name: str) -> None:
    """Fold a part out, where it is not."""
    part = page.locator("details.fold", has=page.get_by_role("heading", name=name))
    if part.get_attribute("open") is None:
        part.locator("summary").first.click()


def complaints(page: Page) -> list[str]:
    """What serious fault axe finds, and whether the page is wider than its window."""
    page.evaluate(AXE)
    result = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    found = [
        f"{v['id']}: {v['nodes'][0]['html'][:90]}"
        for v in result["violations"]
        if v["impact"] in ("serious", "critical")
    ]
    size = page.viewport_size
    assert size is not None
    wide = page.evaluate("document.documentElement.scrollWidth") > size["width"]
    return found + ["wider than the window"] * wide


@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_what_to_leave_is_worked_out_and_read(
    browser: Browser, book: Path, size: dict[str, int]
) -> None:
    with served(book) as port, looking(browser, port, size) as page:
        page.goto("/leave")
        page.get_by_label("Closest").fill("60")
        page.get_by_label("Furthest").fill("100")
        page.get_by_label("In steps of").fill("20")
        page.reload()  # nothing typed is lost
        expect(page.get_by_label("Furthest")).to_have_value("100")
        page.get_by_role("button", name="Work it out").click()
        expect(page.locator(".found tbody tr")).to_have_count(3, timeout=60_000)
        expect(page.locator(".found [role=status]")).to_contain_text("yd")
        assert complaints(page) == []
        page.reload()
        expect(page.locator(".found tbody tr")).to_have_count(3)


def test_long_work_is_stopped_by_keyboard(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/leave")
        page.get_by_label("In steps of").fill("2")
        page.keyboard.press("Enter")
        page.locator("#stop-work").focus()
        page.wait_for_timeout(1_000)  # the part is swapped meanwhile; the hand stays where it is
        expect(page.locator("#stop-work")).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.locator(".found .notice")).to_have_text("Stopped.", timeout=60_000)


def test_the_hole_is_dragged_and_the_putts_follow(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/ground")
        settled(page)
        was = page.locator("#putts-words .where").inner_text()
        cut = page.get_by_label("Hole cut")
        before = cut.input_value()
        browsing.drag(page, "#putts-cup", (20, -20), low=0.7)
        page.wait_for_timeout(100)
        settled(page)
        expect(cut).not_to_have_value(before)
        assert page.locator("#putts-words .where").inner_text() != was
        kept = cut.input_value()
        page.reload()
        settled(page)
        expect(cut).to_have_value(kept)


def test_putts_by_keyboard_alone(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/ground")
        unfold(page, "Putts on it")
        settled(page)
        before = page.get_by_label("Ball lies").input_value()
        for _ in range(60):
            page.keyboard.press("Tab")
            if page.locator("#putts-ball:focus").count():
                break
        for key in ("ArrowLeft", "ArrowLeft", "ArrowDown"):
            page.keyboard.press(key)
        expect(page.get_by_label("Ball lies")).not_to_have_value(before)
        expect(page.locator("#putts-spoken")).to_contain_text("putts")
        assert complaints(page) == []


@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_a_green_is_tapped_out_and_seen(browser: Browser, book: Path, size: dict[str, int]) -> None:
    with served(book) as port, looking(browser, port, size) as page:
        page.goto("/ground")
        unfold(page, "Putts on it")
        unfold(page, "Sketch or describe")
        settled(page)
        for right, on in ((-6, 1), (8, 2), (9, 24), (-9, 26)):
            tap(page, right, on)
        expect(page.locator("#board-said")).to_contain_text("ft deep")
        page.locator(".chip", has_text="a height").click()
        for right, on, high in ((0, 3, "0"), (-5, 12, "6"), (5, 12, "4"), (0, 23, "20")):
            page.get_by_label("of", exact=True).fill(high)
            tap(page, right, on)
        expect(page.locator("#board-said")).to_contain_text("heights in ft")
        expect(page.get_by_label("As a yardage book has it")).to_have_value(
            "outline 1 -6, 2 8, 24 9, 26 -9\nheight 3 on, 0 right: 0in\nheight 12 on, 5 left: 6in\n"
            "height 12 on, 5 right: 4in\nheight 23 on, 0 right: 20in"
        )
        assert complaints(page) == []
        page.get_by_role("button", name="Keep it").click()
        settled(page)
        expect(page.locator(".first-seen .hint")).to_contain_text("75 ft deep, 54 ft wide")


def tap(page: Page, right: float, on: float) -> None:
    """Tap the board at so many paces."""
    page.locator("#board").scroll_into_view_if_needed()
    at = page.evaluate(
        "([x, y]) => { const b = document.getElementById('board');"
        " const p = new DOMPoint(x, y).matrixTransform(b.getScreenCTM()); return [p.x, p.y]; }",
        [right * 0.9144, -on * 0.9144],
    )
    page.mouse.click(*at)


def test_a_green_is_sketched_by_keyboard(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/ground")
        page.locator("#cursor").focus()
        page.keyboard.press("Enter")
        for keys in (("ArrowRight", 9), ("ArrowUp", 12), ("ArrowLeft", 10)):
            for _ in range(keys[1]):
                page.keyboard.press(keys[0])
            page.keyboard.press("Enter")
        words = page.get_by_label("As a yardage book has it")
        expect(words).to_have_value("outline 0 0, 0 9, 12 9, 12 -1")
        expect(page.locator("#board-said")).to_contain_text("36 ft deep")
        page.keyboard.press("Backspace")
        expect(words).to_have_value("outline 0 0, 0 9, 12 9")
        page.reload()
        expect(words).to_have_value("outline 0 0, 0 9, 12 9")


def test_the_putts_a_shot_leaves_are_mapped_where_somebody_looks(
    browser: Browser, book: Path
) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/shot")
        expect(page.locator("#putts-here svg")).to_have_count(0)
        page.locator("#putting-part summary").first.click()
        expect(page.locator("#putts-here")).to_contain_text("Usually left")
        expect(page.locator(".facts")).to_contain_text("What would change it")
        page.locator("#answer[data-haste=full]").wait_for(timeout=60_000)
        expect(page.locator(".facts .hint")).to_have_count(0)
        assert complaints(page) == []


def test_a_round_is_planned_and_its_card_taken(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/before")
        page.get_by_label("Holes").fill("4")
        page.get_by_label("From").fill("80")
        page.get_by_role("button", name="Plan Saltfen Reach").click()
        expect(page.locator("#zones-part tbody tr")).to_have_count(9, timeout=90_000)
        page.get_by_label("Profile").select_option("restricted")
        page.get_by_role("button", name="Print the card").click()
        link = page.get_by_role("link", name="Take the restricted card")
        with page.expect_download() as download:
            link.click(timeout=60_000)
        assert download.value.suggested_filename == "card-restricted.pdf"
        assert complaints(page) == []


def test_new_rooms_stay_without_the_server(browser: Browser, book: Path) -> None:
    with served(book) as port:
        pass
    with looking(browser, port, PHONE) as page:
        with served(book, port):
            page.goto("/today")
            page.evaluate("navigator.serviceWorker.ready.then(() => true)")
            for room in ("/leave", "/before", "/ground"):
                page.goto(room)
            unfold(page, "Putts on it")
            settled(page)
        page.goto("/leave")
        expect(page.get_by_label("Closest")).to_be_visible()
        page.get_by_label("Closest").fill("45")
        page.get_by_role("button", name="Work it out").click()
        expect(page.locator("#away")).to_be_visible()
        page.reload()
        expect(page.get_by_label("Closest")).to_have_value("45")  # typed, not sent, not lost
        page.goto("/before")
        expect(page.get_by_role("heading", name="Pocket card")).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_was_learnt_is_open_to_all(browser: Browser, book: Path, scheme: str) -> None:
    with served(book) as port, looking(browser, port, PHONE, scheme=scheme) as page:
        page.goto("/book/learnt")
        page.get_by_role("button", name="Compare feel with real").click()
        expect(page.locator("#feel-part tbody tr").first).to_be_visible(timeout=90_000)
        assert complaints(page) == []


def test_the_numbers_follow_what_was_typed_but_not_sent(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, PHONE) as page:
        page.goto("/today")
        page.evaluate(
            "localStorage.setItem('draft:today', JSON.stringify({at: Date.now(),"
            " kept: {temp: '3C', wind: '7mph'}}))"
        )
        page.reload()
        expect(page.get_by_label("Temperature")).to_have_value("3")
        expect(page.locator("#today-part .sum")).to_contain_text("3 C (37 F)")
        expect(page.locator("table.numbers thead")).to_contain_text("into 7mph")
