"""Hands that have a keyboard and no mouse: they see where they are, and cannot be led astray."""

from typing import Any

from playwright.sync_api import Page, expect

__all__ = ["Hands"]

# Where the hand is: what it is called, whether that is seen, and whether something lies over it.
_HERE = """() => {
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return null;
  const shown = e.matches('.chip input') ? e.nextElementSibling : e;
  const style = getComputedStyle(shown);
  let seen = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
  if (e.matches('.handle')) {
    seen = parseFloat(getComputedStyle(e.querySelector('.grip, .cross')).strokeWidth) >= 0.5;
  }
  const r = shown.getBoundingClientRect();
  const middle = (low, high, most) => (Math.max(low, 0) + Math.min(high, most)) / 2;
  const [x, y] = [middle(r.left, r.right, innerWidth), middle(r.top, r.bottom, innerHeight)];
  const top = document.elementFromPoint(x, y);
  const label = e.labels && e.labels.length ? e.labels[0].innerText : '';
  const name = e.getAttribute('aria-label') || label || e.innerText || e.name || e.id;
  const known = window.keysSeen = window.keysSeen || new Map();
  if (!known.has(e)) known.set(e, known.size);
  return {
    name: name.trim().split('\\n')[0], which: known.get(e), seen: seen || e.id === 'main',
    open: Boolean(top) && (shown.contains(top) || top.contains(shown)),
    value: e.value === undefined ? '' : String(e.value), html: e.outerHTML.slice(0, 90),
  };
}"""
_MOST = 200  # stops of the key on one page


class Hands:
    """A person at a keyboard.

    Parameters
    ----------
    page : Page
        What is before them.
    """

    def __init__(self, page: Page) -> None:
        self.page = page

    def here(self) -> dict[str, Any]:
        """Where the hand is; it must be somewhere, be seen, and lie open."""
        at: dict[str, Any] | None = self.page.evaluate(_HERE)
        assert at is not None, "the hand is nowhere"
        assert at["seen"], f"it is not seen where the hand is: {at['html']}"
        assert at["open"], f"something lies over it: {at['html']}"
        return at

    def go(self, name: str, *, key: str = "Tab") -> dict[str, Any]:
        """Walk to what begins with that name."""
        passed: list[str] = []
        for _ in range(_MOST):
            self.page.keyboard.press(key)
            if self.page.evaluate(_HERE) is None:
                continue  # past the end: the browser's own
            at = self.here()
            if at["name"].startswith(name):
                return at
            passed.append(at["name"][:25])
        raise AssertionError(f"{name!r} is not on the way: {passed[-40:]}")

    def back(self, name: str) -> dict[str, Any]:
        """Walk back to what begins with that name."""
        return self.go(name, key="Shift+Tab")

    def press(self, *keys: str) -> None:
        """Press keys, one after the other."""
        for key in keys:
            self.page.keyboard.press(key)

    def type(self, name: str, text: str) -> None:
        """Walk to a field, and put that in place of what is there."""
        self.go(name)
        self.press("Control+a")
        self.page.keyboard.type(text)

    def enter(self, name: str) -> None:
        """Walk to something and press Enter on it."""
        self.go(name)
        self.press("Enter")

    def lands(self, name: str) -> None:
        """The hand comes to rest on what begins with that name."""
        self.page.wait_for_function(
            "(name) => { const e = document.activeElement, label = e.labels && e.labels[0];"
            " const called = e.getAttribute('aria-label') || (label || e).innerText;"
            " return e !== document.body && called.trim().startsWith(name); }",
            arg=name,
        )
        self.here()

    def hears(self, words: str) -> None:
        """That is spoken."""
        expect(self.page.locator("#told")).to_contain_text(words)

    def round_trip(self) -> list[dict[str, Any]]:
        """Every stop on the way round the page, until it begins again."""
        stops: list[dict[str, Any]] = []
        for _ in range(_MOST):
            self.press("Tab")
            if self.page.evaluate(_HERE) is None:
                if stops:
                    return stops
                continue
            at = self.here()
            if stops and at["which"] == stops[0]["which"]:
                return stops
            assert not stops or at["which"] != stops[-1]["which"], f"no way out of {at['html']}"
            stops.append(at)
        raise AssertionError("there is no end to it")
