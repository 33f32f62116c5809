"""What is typed into a form is there again after the server stopped, sent or not."""

import socket
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.web.test_browser import LAPTOP, browser, looking, pytestmark, served

from carrybook.app.forms.practise import PractiseForm
from carrybook.app.services.log import now
from carrybook.app.services.practise import planned_session
from carrybook.app.services.rounds import end_round, start_round

__all__ = ["browser", "pytestmark"]

# Room, form, field, what is typed; whether it waits on the phone once it is sent.
FORMS = [
    ("/today", "today", "temp", "3", False),
    ("/shot", "shot", "number", "77", False),
    ("/leave", "leave", "nearest", "45", False),
    ("/range", "range", "note", "into the breeze", True),
    ("/practise", "practise", "focus", "70-90yd", False),
    ("/practise", "call", "called", "71", True),
    ("/book", "newshot", "club", "58", False),
    ("/book/shot?name=56", "change 56", "cue", "slow hands", False),
    ("/ground", "putts", "lies", "9 on, 6 from the left", False),
    ("/ground", "green", "green", "30 deep, 24 wide", False),
    ("/before", "zones", "numbers", "70, 90", False),
    ("/before", "card", "title", "Saturday", False),
    ("/after", "after", "number", "88", False),
]
# Open everything that a field is folded away in.
UNFOLD = """(field) => {
  for (let e = field; e; e = e.parentElement) { e.hidden = false; if ("open" in e) e.open = true; }
}"""


@pytest.mark.parametrize(("room", "draft", "name", "text", "waits"), FORMS)
def test_what_is_typed_outlives_the_server(
    browser: Browser, book: Path, room: str, draft: str, name: str, text: str, waits: bool
) -> None:
    start_round(book, now())
    end_round(book, now())
    if draft == "call":
        planned_session(book, PractiseForm.of(), now(), seed=1)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    with looking(browser, port, LAPTOP) as page:
        form = page.locator(f"form[data-draft='{draft}']")
        field = form.locator(f"[name='{name}']")
        with served(book, port):
            page.goto(room)
            field.evaluate(UNFOLD)
            field.fill(text)
        if not waits:
            form.evaluate("(form) => form.requestSubmit()")  # nobody is there to take it
            page.wait_for_timeout(200)
        with served(book, port):
            page.goto("/more")
            page.goto(room)
            expect(field).to_have_value(text)


def test_a_form_that_has_arrived_is_let_go_of(browser: Browser, book: Path) -> None:
    start_round(book, now())
    end_round(book, now())
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/after")
        fill_in(page)
        page.get_by_role("button", name="Record the shot").click()
        expect(page.locator(".sum")).to_contain_text("recorded")
        expect(page.get_by_label("Hole", exact=True)).to_have_value("5")
        assert page.evaluate("localStorage.getItem('draft:after')") is None
        fill_in(page)
        page.get_by_label("Number", exact=True).first.fill("far")
        page.get_by_role("button", name="Record the shot").click()
        expect(page.locator("#problem-number")).to_be_visible()
        page.goto("/after")
        expect(page.get_by_label("Number", exact=True).first).to_have_value("far")


def fill_in(page: Page) -> None:
    """Fill in what a recorded shot needs."""
    for label, text in (
        ("Hole", "4"),
        ("Number", "88"),
        ("Meant to carry", "84"),
        ("From the hole", "12"),
    ):
        page.get_by_label(label, exact=True).first.fill(text)


def test_drafts_of_a_new_shot_and_of_a_change_do_not_meet(browser: Browser, book: Path) -> None:
    with served(book) as port, looking(browser, port, LAPTOP) as page:
        page.goto("/book")
        page.get_by_text("Add a shot").click()
        page.locator("#new-field-carry").fill("33")
        page.goto("/book/shot?name=56")
        expect(page.locator("#change-field-carry")).not_to_have_value("33")
        page.goto("/book")
        expect(page.locator("#new-field-carry")).to_have_value("33")
