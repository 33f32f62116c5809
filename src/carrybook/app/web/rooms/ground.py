"""Ground: maps and heights that were sent, and every green on them, seen at once."""

from dataclasses import dataclass

from carrybook.app.services.ground import open_sketch, sketched_files
from carrybook.app.services.place import holes_on
from carrybook.app.web.asked import Answer, Asked, Data, Go, Shown, change, look, with_query
from carrybook.app.web.pages import rendered
from carrybook.app.web.questions import Field, RefusedError
from carrybook.app.web.rooms import situation
from carrybook.app.web.rooms.common import answers_to
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.rooms.putts import (
    PUTTS,
    Putts,
    putts_asked,
    putts_fields,
    putts_kept,
    putts_on,
)
from carrybook.app.web.shelf import SHIPPED, Kept
from carrybook.app.web.views.plan import GroundPicture, ground_picture
from carrybook.artefacts.words import Units, short_distance, units_named
from carrybook.base.errors import BadInputError
from carrybook.world.hole import Hole

__all__ = ["ROUTES"]

_LONGEST_WORDS = 20_000  # characters of a description


@dataclass(frozen=True, slots=True)
class _Ground:
    """The page: what is kept, what is looked at, its green, and words that describe one."""

    maps: tuple[Kept, ...]
    heights: tuple[Kept, ...]
    map: str
    height: str
    holes: tuple[str, ...]
    hole: str
    title: str
    size: str
    credit: str
    picture: GroundPicture | None
    problem: str
    words: str
    described: str
    asking: dict[str, Field]
    putts: Putts | None


def _ground(asked: Asked) -> Answer:
    typed = asked.typed if "map" in asked.typed else situation.answers_of(asked)
    return _page(asked, {k: typed.get(k, "") for k in ("map", "heights", "hole")})


def _page(
    asked: Asked, answers: dict[str, str], *, described: str = "", problem: str = ""
) -> Shown:
    shelf, units = asked.desk.shelf, units_named(asked.units)
    holes: tuple[str, ...] = ()
    picture, title, size, credit, typed = None, "", "", "", dict[str, str]()
    putts, refused = None, None
    try:
        holes = situation.holes(asked, answers)
        hole = situation.hole_in(asked, answers)
        answers = {**answers, "hole": hole.ref}
        key = ("ground", answers["map"], answers["heights"], hole.ref, units.far)
        picture = asked.desk.remembered(key, lambda: ground_picture(hole, units))
        title, credit = f"{hole.venue}, hole {hole.ref}", hole.attribution
        size = _size(hole, units)
        typed = putts_kept(asked, answers)
        if asked.said("putts"):
            putts, refused = _putts(asked, answers, hole, typed)
            typed = typed if putts is None else putts.answers
    except BadInputError as error:
        problem = problem or str(error)
    view = _Ground(
        maps=shelf.kept("map"),
        heights=shelf.kept("heights"),
        map=answers.get("map", SHIPPED),
        height=answers.get("heights", ""),
        holes=holes,
        hole=answers.get("hole", ""),
        title=title,
        size=size,
        credit=credit,
        picture=picture,
        problem=problem,
        words=asked.desk.shelf.draft("green").get("green", ""),
        described=described,
        asking={} if picture is None else putts_fields(asked, typed, refused),
        putts=putts,
    )
    return Shown("ground.html", view, 400 if problem or described else 200)


def _size(hole: Hole, units: Units) -> str:
    deep, wide = hole.green.max(axis=0) - hole.green.min(axis=0)
    far = (short_distance(float(m), units) for m in (deep, wide))
    return "{} deep, {} wide".format(*far)


def _putts(
    asked: Asked, answers: dict[str, str], hole: Hole, typed: dict[str, str]
) -> tuple[Putts | None, RefusedError | None]:
    """The putting map, for a browser without scripts; or what is wrong with the question."""
    try:
        return putts_on(asked, hole, typed, _which(answers)), None
    except RefusedError as error:
        return None, error


def _which(answers: dict[str, str]) -> tuple[str, ...]:
    return tuple(answers.get(k, "") for k in ("map", "heights", "hole"))


def _putting(asked: Asked) -> Answer:
    """Keep what is asked of the putts, and show them."""
    where = {k: asked.said(k)[:80] for k in ("map", "heights", "hole")}
    asked.desk.shelf.keep_draft("putts", {**answers_to(PUTTS, asked), **where})
    return Go(with_query("/ground", **where, putts="yes"))


def _rolled(asked: Asked) -> Answer:
    """Answer a script of ours while hole or ball is dragged, and when it has come to rest."""
    where = {k: asked.said(k)[:80] for k in ("map", "heights", "hole")}
    rough = asked.said("haste") == "rough"
    try:
        hole = situation.hole_in(asked, where)
        answers = putts_asked(asked, hole)
        putts = putts_on(asked, hole, answers, _which(where), rough=rough)
    except BadInputError as error:
        return Data({"problem": str(error), "field": getattr(error, "field", "")})
    if not rough:
        asked.desk.shelf.keep_draft("putts", {**putts.answers, **where})
    picture = putts.view.picture
    return Data(
        {
            "map": rendered("putts-map.html", picture, asked),
            "words": rendered("putts-words.html", putts, asked),
            "hole": picture.hole,
            "ball": picture.ball,
            "fields": {k: putts.answers.get(k, "") for k in ("cut", "lies")},
        }
    )


def _send(asked: Asked) -> Answer:
    """Keep a map or heights by the hash of its content, once it was read as such."""
    kind = "heights" if asked.said("kind") == "heights" else "map"
    now = {k: v for k, v in situation.answers_of(asked).items() if k in ("map", "heights", "hole")}
    file = asked.files.get("file")
    if file is None:
        return _page(asked, now, problem="no file was chosen; choose one and send it again")
    kept = asked.desk.shelf.keep_file(kind, file.name, file.content)
    try:
        chosen = _read_as(asked, kept, now)
    except BadInputError as error:
        asked.desk.shelf.drop(kept.key)
        said = str(error).replace(f"{kept.key}{kept.ending}", kept.name)
        return _page(asked, now, problem=said)
    situation.keep(asked, {**situation.answers_of(asked), **chosen, "hole_location": ""})
    return Go(with_query("/ground", **chosen))


def _describe(asked: Asked) -> Answer:
    """Keep a green that was sketched and described, once it was understood."""
    text = asked.typed.get("green", "")[:_LONGEST_WORDS]
    asked.desk.shelf.keep_draft("green", {"green": text})
    now = {k: v for k, v in situation.answers_of(asked).items() if k in ("map", "heights", "hole")}
    if not text.strip():
        return _page(asked, now, described="green is not described yet; the example shows how")
    try:
        hole, _ = open_sketch(text)
        words, heights, _ = sketched_files(text)
    except BadInputError as error:
        return _page(asked, now, described=str(error))
    name = f"{hole.venue}, {_size(hole, units_named(asked.units))}"
    shelf = asked.desk.shelf
    chosen = {"map": shelf.keep_file("map", f"{name}.txt", words.encode("utf-8", "replace")).key}
    chosen |= {"heights": "", "hole": ""}
    if heights is not None:
        chosen["heights"] = shelf.keep_file("heights", f"of {name}.csv", heights).key
    situation.keep(asked, {**situation.answers_of(asked), **chosen, "hole_location": ""})
    return Go(with_query("/ground", **chosen))


def _sketched(asked: Asked) -> Answer:
    """Answer a script of ours while a green is sketched: how it looks, or what is missing."""
    text = asked.typed.get("green", "")[:_LONGEST_WORDS]
    asked.desk.shelf.keep_draft("green", {"green": text})
    try:
        hole, front_m = open_sketch(text)
    except BadInputError as error:
        return Data({"problem": str(error)})
    units = units_named(asked.units)
    picture = ground_picture(hole, units)
    return Data(
        {
            "map": rendered("sketched.html", picture, asked),
            "front": front_m,
            "size": f"{_size(hole, units)}; {picture.note}",
        }
    )


def _read_as(asked: Asked, kept: Kept, now: dict[str, str]) -> dict[str, str]:
    """Read what was sent, or say what is wrong with it."""
    if kept.kind == "map" and kept.ending == ".txt":
        chosen = {"map": kept.key, "heights": "", "hole": ""}
        situation.hole_in(asked, chosen)
        return chosen
    if kept.kind == "map":
        refs = holes_on(asked.desk.shelf.path_of(kept.key, "map"))
        if not refs:
            raise BadInputError(f"{kept.name}: no hole with a number is on that map")
        return {"map": kept.key, "heights": "", "hole": refs[0]}
    chosen = {"map": now.get("map", SHIPPED), "heights": kept.key, "hole": now.get("hole", "")}
    situation.hole_in(asked, chosen)
    return chosen


def _remove(asked: Asked) -> Answer:
    asked.desk.shelf.drop(asked.said("key"))
    left = situation.answers_of(asked)
    if asked.said("key") in (left.get("map"), left.get("heights")):
        situation.keep(asked, {**left, "map": SHIPPED, "heights": SHIPPED, "hole": ""})
    return Go("/ground")


def _use(asked: Asked) -> Answer:
    """Take the green that is looked at to the Shot room, with the hole cut as it is here."""
    chosen = {k: asked.said(k)[:80] for k in ("map", "heights", "hole")}
    cut = putts_kept(asked, chosen).get("cut", "")
    situation.keep(asked, {**situation.answers_of(asked), **chosen, "hole_location": cut})
    return Go("/shot")


ROUTES = (
    look("/ground", _ground),
    change("/ground/maps", _send),
    change("/ground/describe", _describe),
    change("/ground/sketch", _sketched),
    change("/ground/remove", _remove),
    change("/ground/use", _use),
    change("/ground/putting", planning(_putting)),
    change("/ground/putts", planning(_rolled)),
)
