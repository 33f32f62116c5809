"""One scoring shot in one line, its facts parted by commas; nothing is guessed.

4 88yd light rough dew, wind 12mph into, hole back left, firm, 9C, with 54 low meant 84 aim 2R
called 83, landed 3 short 2R, finish 12ft green, putts 2, true wind 18mph into, # into the sun
"""

import re

from carrybook.base.errors import BadInputError
from carrybook.player.round_shots import Rest
from carrybook.world.firmness import FIRMNESS
from carrybook.world.lie import Lie, Moisture

__all__ = ["LINE_EXAMPLE", "shot_line"]

LINE_EXAMPLE = (
    "4 88yd fairway, wind 12mph into, hole back left, with 54 meant 84, landed 3 short 2R,"
    " finish 12ft green, putts 2"
)
_N = r"[-+−]?\d+(?:[.,]\d+)?"
_UNIT = r"(?:yd|yds|yards?|m|metres?|ft|feet|paces?)"
_LENGTH = rf"{_N}\s*{_UNIT}?"
_ALONG = rf"{_LENGTH}\s*(?:short|past|long)"
_ASIDE = rf"{_LENGTH}\s*(?:left|right|l|r)\b"
_LIE = "|".join(sorted(Lie, key=len, reverse=True))
_WET = "|".join(Moisture)
_WIND = r"(?P<wind>calm|\d+(?:[.,]\d+)?\s*[a-z/]+)(?:\s+(?P<wind_from>.+))?"
_REST = "|".join(Rest)
_FIRM = "|".join((*FIRMNESS, r"\d+g"))

# What a fact may look like; the names of the groups are those of the form. The first that fits.
_FACTS = tuple(
    re.compile(text, re.IGNORECASE)
    for text in (
        rf"(?:hole\s+)?(?P<hole>\d{{1,2}})\s+(?P<number>{_LENGTH})(?:\s+(?P<lie>{_LIE}))?"
        rf"(?:\s+(?P<moisture>{_WET}))?",
        rf"true number (?P<true_number>{_LENGTH})",
        rf"true wind {_WIND}".replace("<wind", "<true_wind"),
        rf"true lie (?P<true_lie>{_LIE})(?:\s+(?P<true_moisture>{_WET}))?",
        rf"true (?:firmness )?(?P<true_firmness>{_FIRM})",
        rf"wind {_WIND}",
        r"(?P<wind>calm)",
        rf"hole (?P<hole_location>.+?)(?:\s+of\s+(?P<green_depth>{_LENGTH}))?",
        rf"(?:green )?depth (?P<green_depth>{_LENGTH})",
        rf"(?:firmness )?(?P<firmness>{_FIRM})",
        r"(?:green )?speed (?P<green_speed>\d+(?:[.,]\d+)?\s*(?:ft|m))",
        r"(?P<temperature>-?\d+(?:[.,]\d+)?\s*[cf])",
        rf"with (?P<shot>.+?)(?:\s+meant\s+(?P<intended>{_LENGTH}))?"
        rf"(?:\s+aim\s+(?P<aim>{_ASIDE}|0))?(?:\s+called\s+(?P<called>{_LENGTH}))?",
        rf"landed (?P<landing_past>{_ALONG}|0)(?:\s+(?P<landing_right>{_ASIDE}|0))?",
        rf"finish(?:ed)?(?:\s+(?P<finish>{_LENGTH}))?\s+(?P<finish_on>{_REST})"
        rf"(?:\s+(?P<finish_past>{_ALONG}|0)\s+(?P<finish_right>{_ASIDE}|0))?",
        r"(?P<finish_on>holed)",
        r"putts? (?P<putts>\d+)",
        r"(?P<putts>\d+) putts?",
        r"then (?P<others>\d+)",
        r"penalt(?:y|ies) (?P<penalties>\d+)",
    )
)


def shot_line(text: str) -> dict[str, str]:
    """Read one line into the answers of :class:`carrybook.app.forms.round_shot.RoundShotForm`.

    Parameters
    ----------
    text : str
        What was typed; after a # stands a note.

    Raises
    ------
    BadInputError
        A fact that is not understood, or said twice.
    """
    typed, _, note = text.partition("#")
    answers: dict[str, str] = {}
    for fact in _facts(typed):
        for name, value in _read(fact).items():
            if name in answers:
                raise BadInputError(f"{fact!r}: {name.replace('_', ' ')} is said twice")
            answers[name] = value
    for name in ("wind", "true_wind"):
        if answers.get(name, "").lower() == "calm":
            answers[name] = "0mps"
    if note.strip():
        answers["note"] = note.strip()
    missing = [words for name, words in _NEEDED.items() if name not in answers]
    if missing:
        raise BadInputError(f"{missing[0]}; write the shot like: {LINE_EXAMPLE}")
    return answers


_NEEDED = {
    "hole": "which hole, and which number, is missing",
    "shot": "which shot was played is missing",
    "finish_on": "where it finished is missing",
}


def _facts(typed: str) -> list[str]:
    """Facts between commas; a pin sheet's own comma parts nothing."""
    joined = re.sub(r"(\bon)\s*,\s*", r"\1 ", " ".join(typed.split()))
    return [part.strip() for part in re.split(r"[,;]", joined) if part.strip()]


def _read(fact: str) -> dict[str, str]:
    for pattern in _FACTS:
        if found := pattern.fullmatch(fact):
            return {name: said.strip() for name, said in found.groupdict().items() if said}
    raise BadInputError(f"{fact!r} is not understood; write the shot like: {LINE_EXAMPLE}")
