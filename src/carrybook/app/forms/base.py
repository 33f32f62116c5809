"""What all forms share: quantities typed with their unit, choices by name."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError

from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.base.words import named
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "Form",
    "LieForm",
    "LieWord",
    "MoistureWord",
    "choice_of",
    "formats_of",
    "pairs",
    "quantity",
]


def quantity(kind: u.Kind, what: str, unit: str | None = None) -> BeforeValidator:
    """Read a quantity that was typed as text; `unit` is that of a bare number, if it may be one."""
    return BeforeValidator(lambda text: u.parse(text, kind, what, unit=unit))


def choice_of(kind: type[StrEnum], what: str) -> BeforeValidator:
    """Read a choice from a fixed list."""
    return BeforeValidator(lambda words: named(kind, words, what))


LieWord = Annotated[Lie, choice_of(Lie, "lie")]
MoistureWord = Annotated[Moisture, choice_of(Moisture, "moisture")]


class Form(BaseModel):
    """A few typed answers that belong together."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    @classmethod
    def of(cls, **typed: object) -> Self:
        """Check what was typed; None means that it was not, so the form's own default stands.

        Raises
        ------
        BadInputError
            Something cannot be used; the message names the first such thing.
        """
        try:
            return cls.model_validate({k: v for k, v in typed.items() if v is not None})
        except ValidationError as error:
            problem = error.errors()[0]
            cause = problem.get("ctx", {}).get("error")
            if isinstance(cause, BadInputError):
                raise cause from None
            raise  # a form that is filled in wrongly by our own code


class LieForm(Form):
    """What the ball sits on, and how wet it is."""

    lie: LieWord = Lie.FAIRWAY
    moisture: MoistureWord = Moisture.DRY


def pairs(typed: list[str], what: str, example: str) -> dict[str, str]:
    """Read repeated answers of the form FIELD=TEXT.

    Raises
    ------
    BadInputError
        One without its sign of equality, or a field that is named twice.
    """
    found: dict[str, str] = {}
    for text in typed:
        field, sign, value = (part.strip() for part in text.partition("="))
        if not (field and sign):
            raise BadInputError(f"{what} = {text!r} is not understood; write it like {example}")
        if field in found:
            raise BadInputError(f"{what} names {field!r} twice; once is enough")
        found[field] = value
    return found


def formats_of(typed: str | None) -> tuple[str, ...]:
    """Read the format of an export; none means all.

    Raises
    ------
    BadInputError
        Another word.
    """
    known = ("parquet", "csv", "jsonl")
    if typed is None:
        return known
    word = typed.strip().lower()
    if word not in known:
        raise BadInputError(f"format = {typed!r} is not one of: {', '.join(known)}")
    return (word,)
