"""Questions of a form: how they are asked, what was typed, and what is wrong beside which one.

A bare number takes the unit that stands beside its field; a unit may always be typed.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from pydantic import ValidationError

from carrybook.app.forms.base import Form
from carrybook.base.errors import BadInputError

__all__ = ["Field", "Question", "RefusedError", "beside", "checked", "fields", "typed_in"]

F = TypeVar("F", bound=Form)
_BARE = re.compile(r"[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)")
_LONGEST = 400  # characters of one answer; METARs are shorter
_SHOWN = {"deg": "°", "C": "°C", "mps": "m/s"}


@dataclass(frozen=True, slots=True)
class Question:
    """One question of a form.

    Parameters
    ----------
    name, label : str
        Of the field, and what a person reads.
    unit : tuple of (str, str)
        Unit of a bare number, in yards and in metres; empty where it is no quantity.
    example : str
        Shown in the empty field.
    hint : str
        One line below it.
    choices : tuple of str
        Where only these are possible.
    value : str
        Where nothing was typed yet.
    about : tuple of str
        How messages that concern this question begin.
    """

    name: str
    label: str
    unit: tuple[str, str] = ("", "")
    example: str = ""
    hint: str = ""
    choices: tuple[str, ...] = ()
    value: str = ""
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Field:
    """A question with its answer, ready for the template; `usual` is what stands there first."""

    name: str
    label: str
    unit: str
    example: str
    hint: str
    choices: tuple[str, ...]
    value: str
    problem: str
    usual: str = ""

    @property
    def told(self) -> bool:
        """Whether something else was answered than what stands there first."""
        return self.value not in ("", self.usual)

    @property
    def unit_shown(self) -> str:
        """The unit as it stands beside the field."""
        return _SHOWN.get(self.unit, self.unit)


class RefusedError(BadInputError):
    """What was typed cannot be used; `field` is the question it concerns, empty for the form."""

    def __init__(self, message: str, field: str = "") -> None:
        super().__init__(message)
        self.field = field


def typed_in(questions: Sequence[Question], typed: Mapping[str, str], units: str) -> dict[str, str]:
    """Answers that were given, stripped, bare numbers with their unit; empty ones left out."""
    answers = {}
    for q in questions:
        text = " ".join(typed.get(q.name, "")[:_LONGEST].split())
        unit = q.unit[units == "metres"]
        if text and unit and _BARE.fullmatch(text):
            text += unit
        if text:
            answers[q.name] = text
    return answers


def fields(
    questions: Sequence[Question],
    typed: Mapping[str, str],
    units: str,
    problem: RefusedError | None = None,
) -> dict[str, Field]:
    """Questions with what was typed, or their first value where the form is new."""
    return {q.name: _field(q, typed, units, problem) for q in questions}


def _field(
    q: Question, typed: Mapping[str, str], units: str, problem: RefusedError | None
) -> Field:
    unit = q.unit[units == "metres"]
    value = typed.get(q.name, q.value if q.choices or not typed else "")
    return Field(
        name=q.name,
        label=q.label,
        unit=unit,
        example=q.example,
        hint=q.hint,
        choices=q.choices,
        value=_without_unit(value, unit),
        problem=str(problem) if problem is not None and problem.field == q.name else "",
        usual=str(q.value),
    )


def _without_unit(text: str, unit: str) -> str:
    """Leave the unit out where it stands beside the field anyway."""
    number = text.removesuffix(unit) if unit else text
    return number if _BARE.fullmatch(number) else text


def checked(form: type[F], answers: Mapping[str, object], questions: Sequence[Question]) -> F:
    """Check answers with a form.

    Raises
    ------
    RefusedError
        The first thing that is wrong, in one line, with its question.
    """
    try:
        return form.model_validate(dict(answers))
    except ValidationError as error:
        problem = error.errors()[0]
    name = str(problem["loc"][0]) if problem["loc"] else ""
    label = next((q.label for q in questions if q.name == name), name)
    cause = problem.get("ctx", {}).get("error")
    if isinstance(cause, BadInputError):
        if name in {q.name for q in questions}:
            raise RefusedError(str(cause), name) from None
        raise beside(cause, questions) from None
    if problem["type"] == "missing":
        example = next((q.example for q in questions if q.name == name), "")
        like = f"; write it like {example}" if example else ""
        raise RefusedError(f"{label.lower()} is missing{like}", name)
    raise RefusedError(f"{label.lower()} cannot be read", name)


def beside(error: BadInputError, questions: Sequence[Question]) -> RefusedError:
    """Put a message of a service beside the question that it begins with."""
    if isinstance(error, RefusedError):
        return error
    said = str(error)
    starts = [(start, q.name) for q in questions for start in (q.label.lower(), *q.about)]
    found = [(len(start), name) for start, name in starts if said.startswith(f"{start} ")]
    return RefusedError(said, max(found)[1] if found else "")
