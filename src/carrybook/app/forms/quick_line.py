"""One ball in one line, as it is typed at the range: "54 low 70 called 72 got 68 3R wet".

Order does not matter but for the shot, which comes first. What is not understood is said, with what
was; nothing is guessed.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from carrybook.base import units as u
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.effort import effort_carry
from carrybook.world.lie import Lie, Moisture

__all__ = ["EXAMPLE", "Bare", "QuickLine", "quick_line"]

EXAMPLE = "54 low 70 called 72 got 68 3R wet"

Bare = Literal["intended_m", "called_m", "carry_m"]  # what a number alone says

# Words before a number; ordinary words, ours.
_BEFORE: Mapping[str, str] = {
    **dict.fromkeys(("meant", "to", "target", "for", "intended"), "intended_m"),
    **dict.fromkeys(("called", "call", "felt", "feel", "feels"), "called_m"),
    **dict.fromkeys(("got", "carried", "carry", "measured", "went", "was"), "carry_m"),
    "total": "total_m",
}
_NAMES = {
    "intended_m": "meant",
    "called_m": "called",
    "carry_m": "got",
    "total_m": "total",
    "side_m": "side",
    "ball_speed_mps": "ball speed",
    "spin_rad_s": "spin",
    "launch_rad": "launch",
}
_BY_UNIT = {
    **dict.fromkeys(u.SPEED.spellings, ("ball_speed_mps", u.SPEED)),
    **dict.fromkeys(u.SPIN.spellings, ("spin_rad_s", u.SPIN)),
    **dict.fromkeys(u.ANGLE.spellings, ("launch_rad", u.ANGLE)),
}
_SIDES = {"r": 1.0, "right": 1.0, "l": -1.0, "left": -1.0}
_FAULTS = frozenset({"fat", "thin", "toe", "heel", "shank", "chunk", "blade", "mishit", "flyer"})
_LIES = {lie.value: lie for lie in Lie} | {"bunker": Lie.SAND, "mat": Lie.TEE}
_MOISTURES = {moisture.value: moisture for moisture in Moisture}
_FAR = {"yards": ("yd", YARD), "metres": ("m", 1.0)}
_NUMBER = re.compile(r"([-+−]?\d+(?:[.,]\d+)?)([^\d\s]*)")
_SAFE_NUMBER = 4  # digits a distance may have; more is a slip of the thumb


@dataclass(frozen=True, slots=True)
class QuickLine:
    """What a line says.

    Parameters
    ----------
    shot : Shot
        The shot.
    numbers : mapping of str to float
        Attribute of a ball to its value. [SI]
    lie, moisture : Lie, Moisture, optional
        Where the line says so.
    effort, note : str
        Swing meant in words; remarks.
    """

    shot: Shot
    numbers: Mapping[str, float]
    lie: Lie | None = None
    moisture: Moisture | None = None
    effort: str = ""
    note: str = ""


@dataclass(slots=True)
class _Said:
    """What was understood of a line so far."""

    shot: Shot
    far: str  # unit of a number without one
    far_m: float
    numbers: dict[str, float] = field(default_factory=dict)
    lie: Lie | None = None
    moisture: Moisture | None = None
    effort: str = ""
    notes: list[str] = field(default_factory=list)

    def put(self, name: str, value: float, text: str) -> None:
        if name in self.numbers:
            raise self.unclear(text, f"{_NAMES[name]} is said twice")
        number: dict[str, Any] = {name: value}
        Ball(shot=self.shot.label, **number)  # believable, or a line that says why not
        self.numbers[name] = value

    def unclear(self, text: str, why: str = "is not understood") -> BadInputError:
        return BadInputError(
            f"{text!r}: {why}; understood so far: {self}; write it like: {EXAMPLE}"
        )

    def __str__(self) -> str:
        far = (
            f"{_NAMES[name]} {value / self.far_m:.0f} {self.far}"
            for name, value in self.numbers.items()
            if name in {"intended_m", "called_m", "carry_m", "total_m"}
        )
        rest = (_NAMES[n] for n in self.numbers if n not in _BEFORE.values())
        words = (self.effort, self.lie or "", self.moisture or "", *self.notes)
        return ", ".join([self.shot.label, *far, *rest, *(word for word in words if word)])


def quick_line(
    text: str,
    shots: Sequence[Shot],
    *,
    units: str,
    shot: Shot | None = None,
    bare: Bare = "intended_m",
) -> QuickLine:
    """Read one line.

    Parameters
    ----------
    text : str
        What was typed; after a # stands a note.
    shots : sequence of Shot
        Shots of the book.
    units : str
        "yards" or "metres": of numbers without a unit.
    shot : Shot, optional
        The shot where the line names none.
    bare : str, default "intended_m"
        What the first number says that no word explains.

    Raises
    ------
    BadInputError
        Something is not understood, said twice, or not believable.
    """
    typed, _, note = text.partition("#")
    words = typed.replace(",", " ").split() if ", " in typed else typed.split()
    named, used = _shot_of(words, shots)
    if named is None and shot is None:
        start = " ".join(words[:2]) or "nothing"
        known = ", ".join(each.label for each in shots)
        raise BadInputError(
            f"{start!r} is no shot of the book, and a line begins with one: {known};"
            f" write it like: {EXAMPLE}"
        )
    said = _Said(named or shot, *_FAR[units])  # type: ignore[arg-type] # one of them is there
    rest = words[used:]
    while rest:
        rest = rest[_take(rest, said, bare) :]
    if said.effort and "intended_m" not in said.numbers:
        effort = effort_carry(said.shot, said.effort)
        if effort is not None:
            said.numbers["intended_m"] = effort.carry_m
    notes = [*said.notes, *([note.strip()] if note.strip() else [])]
    return QuickLine(
        said.shot, said.numbers, said.lie, said.moisture, said.effort, "; ".join(notes)
    )


def _shot_of(words: Sequence[str], shots: Sequence[Shot]) -> tuple[Shot | None, int]:
    """The shot that a line begins with, the longest name first, and how many words it takes."""
    by_name = {" ".join(shot.label.lower().split()): shot for shot in shots}
    for count in range(min(len(words), 6), 0, -1):
        name = " ".join(words[:count]).lower()
        if name in by_name:
            return by_name[name], count
    return None, 0


def _take(rest: Sequence[str], said: _Said, bare: Bare) -> int:
    """Understand the start of what is left; say how many words that was."""
    for count in (3, 2, 1):
        phrase = " ".join(rest[:count]).lower()
        if len(rest) >= count and _take_phrase(phrase, said):
            return count
    word = rest[0].lower().rstrip(":=")
    if word in _BEFORE:
        if len(rest) < 2 or _NUMBER.fullmatch(rest[1]) is None:
            raise said.unclear(rest[0], "needs a number after it")
        return 1 + _take_number(rest[1:], said, _BEFORE[word], worded=True)
    if word in _SIDES and len(rest) > 1 and _NUMBER.fullmatch(rest[1]):
        return _take_number([rest[1], word], said, bare, worded=False)
    if word == "rough":
        raise said.unclear(rest[0], "is it light rough or deep rough?")
    if _NUMBER.fullmatch(rest[0]):
        return _take_number(rest, said, bare, worded=False)
    raise said.unclear(rest[0])


def _take_phrase(phrase: str, said: _Said) -> bool:
    """Understand a lie, a moisture, a fault or a swing in words."""
    if phrase in _LIES:
        said.lie = _LIES[phrase]
    elif phrase in _MOISTURES:
        said.moisture = _MOISTURES[phrase]
    elif phrase in _FAULTS:
        said.notes.append(phrase)
    elif not phrase.isdigit() and effort_carry(said.shot, phrase) is not None:
        if said.effort:
            raise said.unclear(phrase, "a swing is said twice")
        said.effort = phrase
    else:
        return False
    return True


def _take_number(rest: Sequence[str], said: _Said, name: str, *, worded: bool) -> int:
    """Understand a number, with its unit and side, whether or not a blank comes between."""
    match = _NUMBER.fullmatch(rest[0])
    if match is None or len(match[1]) > _SAFE_NUMBER + 3:
        raise said.unclear(rest[0])
    number, unit, used = match[1], match[2].lower(), 1
    if not unit and len(rest) > 1 and rest[1].lower() in {*u.LENGTH.spellings, *_BY_UNIT}:
        unit, used = rest[1].lower(), 2
    side = _SIDES.get(unit)
    if side is not None:
        unit = ""
    elif unit in {"", *u.LENGTH.spellings} and not worded and _side_follows(rest[used:]):
        side, used = _SIDES[rest[used].lower()], used + 1
    if side is not None and worded:
        raise said.unclear(rest[0], f"{_NAMES[name]} has no side; write the side as 3R")
    if unit in _BY_UNIT and side is None and not worded:
        attribute, kind = _BY_UNIT[unit]
        said.put(attribute, u.parse(number + unit, kind, _NAMES[attribute]), rest[0])
        return used
    if unit and unit not in u.LENGTH.spellings:
        raise said.unclear(" ".join(rest[:used]), f"{unit!r} is not a unit of a distance")
    what, kind = ("side", u.SIDE) if side is not None else (_NAMES[name], u.LENGTH)
    length = u.parse(number, kind, what, unit=unit or said.far)
    if side is not None:
        said.put("side_m", side * length, rest[0])
    elif not worded and name in said.numbers:
        raise said.unclear(rest[0], "a second number; say which with called 72 or got 68")
    else:
        said.put(name, length, rest[0])
    return used


def _side_follows(rest: Sequence[str]) -> bool:
    """Whether a side comes next that belongs to the number before: "4 left", not "68 left 4"."""
    its_own = len(rest) < 2 or _NUMBER.fullmatch(rest[1]) is None
    return bool(rest) and rest[0].lower() in _SIDES and its_own
