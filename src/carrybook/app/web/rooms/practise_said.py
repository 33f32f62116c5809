"""What is said of a ball of a session, as the lines that the command line takes too."""

from collections.abc import Mapping

from carrybook.app.web.asked import Asked
from carrybook.app.web.questions import Question, RefusedError
from carrybook.app.web.rooms.common import LENGTH, answers_to

__all__ = ["CALL", "RESULT", "call_line", "result_line"]

CALL = (Question("called", "Your call", LENGTH, "78", about=("called carry",)),)
RESULT = (
    Question("carry", "It carried", LENGTH, "76", about=("carry",)),
    Question("side", "Side", LENGTH, "0", about=("side",)),
)


def call_line(asked: Asked) -> str:
    """A call, as a line."""
    called = answers_to(CALL, asked).get("called", "")
    return f"called {called}" if called else "-"


def result_line(asked: Asked) -> str:
    """What it was, as a line. Raises RefusedError."""
    answers = answers_to(RESULT, asked)
    if "carry" not in answers:
        raise RefusedError("it carried is missing; write it like 76", "carry")
    return f"got {answers['carry']} {_side(answers)}"


def _side(answers: Mapping[str, str]) -> str:
    """A side as a line has it: right, or left where it is negative."""
    side = answers.get("side", "")
    if not side or side[-1] in "RLrl":
        return side
    left = side[0] in "-−"
    return f"{side.lstrip('+-−')} {'L' if left else 'R'}"
