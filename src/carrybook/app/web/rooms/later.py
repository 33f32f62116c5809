"""After: what it will hold, and what can be done today."""

from carrybook.app.web.asked import Answer, Asked, Shown, look

__all__ = ["ROUTES"]


def _after(_: Asked) -> Answer:
    return Shown("after.html", None)


ROUTES = (look("/after", _after),)
