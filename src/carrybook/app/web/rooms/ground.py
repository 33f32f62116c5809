"""Ground: maps and heights that were sent, and every green on them, seen at once."""

from dataclasses import dataclass

from carrybook.app.services.place import holes_on
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look, with_query
from carrybook.app.web.rooms import situation
from carrybook.app.web.shelf import SHIPPED, Kept
from carrybook.app.web.views.plan import GroundPicture, ground_picture
from carrybook.artefacts.words import short_distance, units_named
from carrybook.base.errors import BadInputError

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


def _ground(asked: Asked) -> Answer:
    typed = asked.typed if "map" in asked.typed else situation.answers_of(asked)
    return _page(asked, {k: typed.get(k, "") for k in ("map", "heights", "hole")})


def _page(
    asked: Asked, answers: dict[str, str], *, described: str = "", problem: str = ""
) -> Shown:
    shelf, units = asked.desk.shelf, units_named(asked.units)
    holes: tuple[str, ...] = ()
    picture, title, size, credit = None, "", "", ""
    try:
        holes = situation.holes(asked, answers)
        hole = situation.hole_in(asked, answers)
        answers = {**answers, "hole": hole.ref}
        key = ("ground", answers["map"], answers["heights"], hole.ref, units.far)
        picture = asked.desk.remembered(key, lambda: ground_picture(hole, units))
        deep, wide = hole.green.max(axis=0) - hole.green.min(axis=0)
        title, credit = f"{hole.venue}, hole {hole.ref}", hole.attribution
        far = (short_distance(float(m), units) for m in (deep, wide))
        size = "{} deep, {} wide".format(*far)
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
    )
    return Shown("ground.html", view, 400 if problem or described else 200)


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
    """Keep a green that was described in words, once it was understood."""
    words = asked.typed.get("green", "")[:_LONGEST_WORDS]
    asked.desk.shelf.keep_draft("green", {"green": words})
    now = {k: v for k, v in situation.answers_of(asked).items() if k in ("map", "heights", "hole")}
    if not words.strip():
        return _page(asked, now, described="green is not described yet; the example shows how")
    name = f"{' '.join(words.split())[:40]}.txt"
    kept = asked.desk.shelf.keep_file("map", name, words.encode("utf-8", "replace"))
    try:
        chosen = _read_as(asked, kept, now)
    except BadInputError as error:
        asked.desk.shelf.drop(kept.key)
        return _page(asked, now, described=str(error).replace(f"{kept.key}{kept.ending}", "green"))
    situation.keep(asked, {**situation.answers_of(asked), **chosen, "hole_location": ""})
    return Go(with_query("/ground", **chosen))


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
    """Take the green that is looked at to the Shot room."""
    chosen = {k: asked.said(k)[:80] for k in ("map", "heights", "hole")}
    situation.keep(asked, {**situation.answers_of(asked), **chosen, "hole_location": ""})
    return Go("/shot")


ROUTES = (
    look("/ground", _ground),
    change("/ground/maps", _send),
    change("/ground/describe", _describe),
    change("/ground/remove", _remove),
    change("/ground/use", _use),
)
