"""Leave and After: what they will hold, and what can be done today."""

from carrybook.app.web.asked import Answer, Asked, Shown, look

__all__ = ["ROUTES"]


def _leave(_: Asked) -> Answer:
    return Shown("leave.html", None)


def _after(_: Asked) -> Answer:
    return Shown("after.html", None)


ROUTES = (look("/leave", _leave), look("/after", _after))
