"""Leave: what it will hold, and what can be done today."""

from carrybook.app.web.asked import Answer, Asked, Shown, look

__all__ = ["ROUTES"]


def _leave(_: Asked) -> Answer:
    return Shown("leave.html", None)


ROUTES = (look("/leave", _leave),)
