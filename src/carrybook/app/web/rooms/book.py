"""Book: the shots, their spread, history and feel; balls from files."""

import re
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from carrybook.app.forms.shots import ShotForm
from carrybook.app.services.balls import import_balls, logged_balls, odd_of_import, undo_import
from carrybook.app.services.shots import add_shot, owned_shots, remove_shot
from carrybook.app.texts.balls import import_text, undone_text
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look, with_query
from carrybook.app.web.questions import Field, RefusedError, beside, checked, fields
from carrybook.app.web.rooms.common import SHOT, Form, answers_to, shot_fields
from carrybook.app.web.rooms.learning import Learning, learning_shown
from carrybook.app.web.rooms.lock import is_playing
from carrybook.app.web.views.balls import BallRow, ball_rows
from carrybook.app.web.views.scatter import ScatterPicture, feel_picture, spread_picture
from carrybook.app.web.views.shots import ShotRow, shot_answers, shot_rows
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import Shot

__all__ = ["ROUTES"]

_MOST_SHOWN = 60  # balls in a list
_ENDINGS = frozenset({".csv", ".tsv", ".txt", ".xlsx", ".jsonl", ".parquet"})
_BACK_TO = frozenset(
    {"/today", "/shot", "/range", "/book", "/leave", "/practise", "/before", "/after"}
)


@dataclass(frozen=True, slots=True)
class _Book:
    """The page: every shot, the form of a new one, what an import said."""

    rows: tuple[ShotRow, ...]
    new: Form
    said: tuple[str, ...]
    problem: str
    empty: bool
    learning: Learning | None


@dataclass(frozen=True, slots=True)
class _OneShot:
    """The page of one shot."""

    row: ShotRow
    fields: dict[str, Field]
    balls: tuple[BallRow, ...]
    count: int
    spread: ScatterPicture | None
    feel: ScatterPicture | None
    problem: str


def _book(asked: Asked) -> Answer:
    return _page(asked)


def _page(
    asked: Asked, problem: RefusedError | None = None, said: str = "", import_problem: str = ""
) -> Shown:
    try:
        rows = shot_rows(asked.desk.summaries(), units_named(asked.units))
    except NoSolutionError:
        rows = ()
    form = shot_fields(asked, problem)
    learning = learning_shown(asked) if rows and not is_playing(asked) else None
    view = _Book(rows, form, tuple(said.splitlines()), import_problem, not rows, learning)
    return Shown("book.html", view, 400 if problem or import_problem else 200)


def _add(asked: Asked) -> Answer:
    """Put a shot into the book; what is refused stays in the form."""
    answers = answers_to(SHOT, asked)
    shelf = asked.desk.shelf
    shelf.keep_draft("newshot", answers)
    try:
        add_shot(asked.desk.book, _shot_in(answers))
    except BadInputError as error:
        return _page(asked, beside(error, SHOT))
    except NoSolutionError as error:
        return _page(asked, RefusedError(str(error), "carry"))
    shelf.keep_draft("newshot", {})
    back = asked.said("back")
    return Go(back if back in _BACK_TO else "/book")


def _shot_in(answers: dict[str, str]) -> Shot:
    trusted = answers.get("trusted", "trusted") != "not yet"
    return checked(ShotForm, {**answers, "trusted": trusted}, SHOT).value()


def _one(asked: Asked) -> Answer:
    label = asked.said("name")
    summary = next((s for s in asked.desk.summaries() if s.shot.label == label), None)
    if summary is None:
        names = ", ".join(s.label for s in owned_shots(asked.desk.book))
        raise BadInputError(f"shot {label[:60]!r} is not in the book; its shots: {names}")
    units = units_named(asked.units)
    balls = logged_balls(asked.desk.book, shot=label)
    view = _OneShot(
        row=shot_rows((summary,), units)[0],
        fields=fields(SHOT, shot_answers(summary.shot, units), asked.units),
        balls=ball_rows(balls[:_MOST_SHOWN], units),
        count=len(balls),
        spread=spread_picture(balls, units),
        feel=feel_picture(balls, units),
        problem="",
    )
    return Shown("oneshot.html", view)


def _remove(asked: Asked) -> Answer:
    remove_shot(asked.desk.book, asked.said("name"))
    return _page(asked, said=f"{asked.said('name')[:80]} is out of the book")


def _import(asked: Asked) -> Answer:
    """Read a file of balls that was sent; it is written beside nothing and opened by our name."""
    file = asked.files.get("file")
    if file is None or not file.content:
        return _page(asked, import_problem="no file was chosen; choose one and send it again")
    ending = re.sub(r".*(?=\.)", "", file.name, flags=re.DOTALL).lower()
    try:
        with TemporaryDirectory() as folder:
            path = Path(folder) / f"balls{ending if ending in _ENDINGS else '.csv'}"
            path.write_bytes(file.content)
            report = import_balls(asked.desk.book, path, columns={}, units=_units_said(asked))
        odd = odd_of_import(asked.desk.book, report)
    except (BadInputError, NoSolutionError) as error:
        return _page(asked, import_problem=str(error))
    return _page(asked, said=import_text(report, odd))


def _units_said(asked: Asked) -> dict[str, str]:
    """Units of columns that carry none in their header."""
    unit = asked.said("lengths")
    return {f: unit for f in ("carry", "side", "intended")} if unit in ("yd", "m") else {}


def _undo(asked: Asked) -> Answer:
    try:
        return _page(asked, said=undone_text(undo_import(asked.desk.book)))
    except (BadInputError, NoSolutionError) as error:
        return _page(asked, import_problem=str(error))


def shot_page(name: str) -> str:
    """Where one shot stands."""
    return with_query("/book/shot", name=name)


ROUTES = (
    look("/book", _book),
    look("/book/shot", _one),
    change("/book/shots", _add),
    change("/book/remove", _remove),
    change("/book/import", _import),
    change("/book/undo", _undo),
)
