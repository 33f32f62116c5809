"""Reads a green as a yardage book describes it: plain lines, one fact a line.

    30 deep, 24 wide
    tilt back to front 2 %
    shelf at 18, rises 2 ft over 3, on the right half
    bunker short right, 4 off, 8 by 6
    hole 11 on, 4 from the right

A bare distance is in paces (one yard each); a rise and a slope carry their unit. Depth counts from
the front edge, sides as the player sees them. On one line, a semicolon parts two facts; `#` starts
a remark. Lines may come in any order, and small words ("the", "paces") may be left out.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import radians

from carrybook.base.errors import BadInputError
from carrybook.base.units import SIDE, parse
from carrybook.world.description import Described, FalseFront, Mound, RunOff, Tier, Trouble
from carrybook.world.description_words import (
    SIDE_WORDS,
    STEEPEST_PCT,
    length_of,
    pattern,
    rise_of,
    slope_of,
    towards,
)

__all__ = ["read_description"]

_MOST_FACTS = 100  # ours: longer is no description of a green
_LONGEST_FACT = 160  # letters, ours; an outline may be longer
_LONGEST_OUTLINE = 2000


def read_description(text: str, source: str = "green") -> Described:
    """Read a description.

    Parameters
    ----------
    text : str
        Facts, parted by new lines or semicolons.
    source : str
        What the text is called in a message.

    Returns
    -------
    described : Described
        All that it says.

    Raises
    ------
    BadInputError
        A line that is not understood, said twice, or out of range, or no size at all; the message
        names the line and shows how to write it.
    """
    facts = _facts(text)
    if len(facts) > _MOST_FACTS:
        raise BadInputError(
            f"{source} has {len(facts)} facts; a description has at most {_MOST_FACTS}"
        )
    described, once = Described(), set[str]()
    for number, fact in facts:
        where = f"{source}, line {number}" if "\n" in text.strip() else source
        rule, found = _match(fact, where)
        if rule.once and rule.name in once:
            raise BadInputError(f"{where}: {rule.name} is said twice; once is enough")
        once.add(rule.name)
        try:
            described = rule.take(described, found)
        except BadInputError as error:
            raise BadInputError(f"{where}: {error}") from None
    if not (described.deep_m or described.outline):
        raise BadInputError(f"{source} does not say how large it is; add '30 deep, 24 wide'")
    return described


_NEEDLESS = re.compile(r"\b(?:the|an?|about|and|of)\b ?", re.IGNORECASE)


def _facts(text: str) -> list[tuple[int, str]]:
    """Facts with the number of their line, without remarks and needless spaces."""
    lines = enumerate((line.partition("#")[0] for line in text.splitlines()), start=1)
    parts = ((n, " ".join(part.split()).rstrip("., ")) for n, x in lines for part in x.split(";"))
    return [(n, part) for n, part in parts if part]


_Found = dict[str, str]
_Take = Callable[[Described, _Found], Described]


@dataclass(frozen=True, slots=True)
class _Rule:
    """One kind of fact: how it starts, the shapes it may have, and what it does."""

    name: str
    start: re.Pattern[str]
    shapes: tuple[re.Pattern[str], ...]
    take: _Take
    example: str
    once: bool


def _rule(
    name: str, start: str, shapes: str, take: _Take, example: str, *, once: bool = False
) -> _Rule:
    each = tuple(pattern(shape.strip()) for shape in shapes.strip().splitlines())
    return _Rule(name, re.compile(start, re.IGNORECASE), each, take, example, once)


def _match(fact: str, where: str) -> tuple[_Rule, _Found]:
    shown = fact if len(fact) <= 60 else fact[:57] + "..."
    rule = next((rule for rule in _RULES if rule.start.match(fact)), None)
    if rule is None:
        known = ", ".join(rule.name for rule in _RULES)
        raise BadInputError(f"{where}: {shown!r} is not understood; a line tells of: {known}")
    short = len(fact) <= (_LONGEST_OUTLINE if rule.name == "outline" else _LONGEST_FACT)
    plain = fact if rule.name == "name" else _NEEDLESS.sub("", fact).strip()
    found = next((m for m in (s.fullmatch(plain) for s in rule.shapes) if m), None)
    if found is None or not short:
        raise BadInputError(f"{where}: {shown!r} is not understood; write it like '{rule.example}'")
    return rule, {name: text.strip(" ,:") for name, text in found.groupdict().items() if text}


def _take_size(d: Described, f: _Found) -> Described:
    deep, wide = (length_of(f[name], 3.0, 200.0) for name in ("deep", "wide"))
    return replace(d, deep_m=deep, wide_m=wide)


def _take_outline(d: Described, f: _Found) -> Described:
    words = f["points"].replace(",", " ").split()
    if len(words) % 2 or len(words) < 6:
        raise BadInputError("an outline needs pairs, three or more: paces on, paces right of you")
    numbers = [parse(word, SIDE, "outline", unit="paces") for word in words]
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return replace(d, outline=tuple((on, -right) for on, right in pairs))


def _take_tilt(d: Described, f: _Found) -> Described:
    if "pct" not in f:
        return d
    x, y = towards(f["to"])
    back_x, back_y = towards(f.get("from", f["to"]))
    if "from" in f and x * back_x + y * back_y > -0.99:
        raise BadInputError(f"{f['from']} to {f['to']} does not run across the green")
    fall = slope_of(f["pct"])
    return replace(d, slope=(d.slope[0] - fall * x, d.slope[1] - fall * y))


def _take_tier(d: Described, f: _Found) -> Described:
    sign = -1.0 if re.match("drop|fall|down", f["way"].lower()) else 1.0
    rise, over = rise_of(f["rise"]), length_of(f["over"], 0.5, 30.0)
    if rise > over:
        raise BadInputError(f"a face that rises {f['rise']} over {f['over']} is too steep to putt")
    share = {"half": 0.5, "third": 1.0 / 3.0}.get(f.get("much", "").lower(), 1.0)
    side, part = (f.get(name, "").lower() for name in ("side", "part"))
    tier = Tier(length_of(f["at"]), sign * rise, over, side, part, share)
    return replace(d, tiers=(*d.tiers, tier))


def _take_false_front(d: Described, f: _Found) -> Described:
    deep = length_of(f["deep"], 0.5, 30.0)
    fall = slope_of(f["pct"]) if "pct" in f else rise_of(f["drop"]) / deep
    if fall > STEEPEST_PCT / 100.0:
        raise BadInputError(f"a false front of {100.0 * fall:.0f} % is above {STEEPEST_PCT:g} %")
    return replace(d, false_front=FalseFront(deep, fall))


def _take_run_off(d: Described, f: _Found) -> Described:
    over = length_of(f["over"], 0.5, 30.0)
    drop = rise_of(f["drop"]) if "drop" in f else slope_of(f["pct"]) * over
    if drop > over:
        raise BadInputError(f"a run-off that falls {f['drop']} over {f['over']} is a wall")
    run_off = RunOff(towards(f["side"]), drop, over, f.get("grass", "fairway").lower())
    return replace(d, run_offs=(*d.run_offs, run_off))


def _take_mound(d: Described, f: _Found) -> Described:
    high, across = rise_of(f["high"]), length_of(f["across"], 1.0, 40.0)
    if high > 0.25 * across:
        raise BadInputError(f"{f['high']} over {f['across']} across is too steep to putt")
    sign = -1.0 if f["kind"].lower() == "hollow" else 1.0
    return replace(d, mounds=(*d.mounds, Mound(f["place"], sign * high, across)))


def _take_trouble(d: Described, f: _Found) -> Described:
    kind, side = f["kind"].lower(), towards(f["side"])
    if "band" in f and side[0] < 0.0 and "away" not in f:
        raise BadInputError("say how far it reaches back to you, like 'all across, 20 wide'")
    trouble = Trouble(
        {"out bounds": "out of bounds", "ob": "out of bounds", "cart path": "path"}.get(kind, kind),
        side,
        length_of(f.get("off")),
        length_of(f.get("along"), 0.5),
        length_of(f.get("away"), 0.5),
        length_of(f["on"]) if "on" in f else None,
        "band" in f,
    )
    return replace(d, troubles=(*d.troubles, trouble))


def _take_fairway(d: Described, f: _Found) -> Described:
    return replace(d, fairway_m=length_of(f["wide"], 3.0, 100.0))


def _take_fringe(d: Described, f: _Found) -> Described:
    return replace(d, fringe_m=length_of(f["wide"], 0.5, 5.0))


def _take_front(d: Described, f: _Found) -> Described:
    return replace(d, front_number_m=length_of(f["number"], 5.0, 185.0))


def _take_plays(d: Described, f: _Found) -> Described:
    point = re.sub("[- ]", "", f.get("point", "")).lower()
    bearing = _COMPASS[point] if point else float(f["deg"])
    if bearing > 360.0:
        raise BadInputError(f"bearing = {bearing:g} deg is outside 0 to 360 deg")
    return replace(d, bearing_rad=radians(bearing % 360.0))


def _take_par(d: Described, f: _Found) -> Described:
    return replace(d, par=int(f["par"]))


def _take_around(d: Described, f: _Found) -> Described:
    return replace(d, around=f["grass"].lower())


def _take_hole(d: Described, f: _Found) -> Described:
    return replace(d, location_words=f["text"])


def _take_number(d: Described, f: _Found) -> Described:
    return replace(d, ref=f["text"])


def _take_name(d: Described, f: _Found) -> Described:
    return replace(d, venue=f["text"])


_POINTS = ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"]
_COMPASS = {point: 45.0 * n for n, point in enumerate(_POINTS)}
_POINT = "(?P<point>(?:north|south)[-_]?(?:east|west)|north|south|east|west)"
_KIND = "(?P<kind>bunker|water|out_bounds|ob|cart_path|path)"
_OFF = "(?:<off> off(?: green| edge)?|at edge)"
_TIER = "(?:tier|shelf|step)(?: at)?"
_FACE = "(?P<way>rises|drops|falls|up|down) <rise^> (?:over|in) <over>"

# The first rule whose start fits a fact is the one that reads it.
_RULES = (
    _rule(
        "size", r"(?:green|size)?[ :]*[0-9]",
        """(?:green|size)? <deep> (?:deep|long) <wide> wide
        (?:green|size)? <wide> wide <deep> (?:deep|long)""",
        _take_size, "30 deep, 24 wide", once=True,
    ),
    _rule(
        "outline", "outline", "outline (?P<points>.+)", _take_outline,
        "outline 0 0, 6 -11, 20 -13, 31 -2, 26 10, 8 9", once=True,
    ),
    _rule(
        "front", r"front(?: edge)?(?: number)?[ :]*[0-9]",
        "front(?: edge)?(?: number)? <number>", _take_front, "front 142", once=True,
    ),
    _rule(
        "tilt", rf"tilt|falls|slopes|level|flat|{SIDE_WORDS} to ",
        """(?:tilt )?(?:level|flat)
        (?:tilt )?(?:falls|slopes)? <pct%> (?:to|towards) <to/>
        (?:tilt )?(?:falls|slopes)? (?:to|towards) <to/> <pct%>
        (?:tilt )?(?:falls|slopes)?(?: from)? <from/> to <to/> <pct%>
        (?:tilt )?(?:falls|slopes)? <pct%>(?: from)? <from/> to <to/>""",
        _take_tilt, "tilt back to front 2 %",
    ),
    _rule(
        "shelf", "tier|shelf|step",
        f"""{_TIER} <at>(?: on)? {_FACE}(?: full width)?
        {_TIER} <at>(?: on)? {_FACE}(?: on)? (?P<part>left|right) (?P<much>half|third)
        {_TIER} <at> from (?P<side>left|right) {_FACE}""",
        _take_tier, "shelf at 18, rises 2 ft over 3, on the right half",
    ),
    _rule(
        "false front", "false", "false[-_]front <deep>(?: deep)?(?: falls)? (?:<pct%>|<drop^>)",
        _take_false_front, "false front 4 deep, 8 %", once=True,
    ),
    _rule(
        "run-off", "run",
        "run[-_]?off <side/>(?: falls| drops)? (?:<drop^>|<pct%>) (?:over|for) <over>"
        "(?: (?P<grass>fairway|rough))?",
        _take_run_off, "run-off right, falls 2 ft over 5, fairway",
    ),
    _rule(
        "mound", "mound|hollow",
        "(?P<kind>mound|hollow)(?: at)? (?P<place>.+?) <high^> (?:high|deep) <across> across",
        _take_mound, "mound 12 on, 4 from the right, 1 ft high, 6 across",
    ),
    _rule(
        "bunker or water", r"bunker|water|out|ob\b|cart|path",
        f"""{_KIND} <side/>(?: <on> on)? {_OFF} <along> by <away>
        {_KIND} <side/> {_OFF} (?P<band>all_(?:along|across))(?: <away> (?:wide|deep))?""",
        _take_trouble, "bunker short right, 4 off, 8 by 6",
    ),
    _rule(
        "fairway", "fairway", "fairway (?:short|(?:in )?front) <wide> wide", _take_fairway,
        "fairway in front, 30 wide", once=True,
    ),
    _rule(
        "around", "around", "around (?P<grass>rough|fairway)", _take_around, "around rough",
        once=True,
    ),
    _rule("fringe", "fringe", "fringe <wide>(?: wide)?", _take_fringe, "fringe 2", once=True),
    _rule(
        "hole", "hole", "hole(?: at)? (?P<text>.+)", _take_hole,
        "hole 11 on, 4 from the right", once=True,
    ),
    _rule(
        "plays", "plays", f"plays(?: to)? (?:{_POINT}|(?P<deg>[0-9]{{1,3}}) ?(?:deg|degrees))",
        _take_plays, "plays north-east", once=True,
    ),
    _rule(
        "number", "number", "number (?P<text>[0-9a-z]{1,6})", _take_number, "number 7", once=True
    ),
    _rule("par", "par", "par (?P<par>[3-6])", _take_par, "par 4", once=True),
    _rule("name", "name", "name (?P<text>.+)", _take_name, "name Home course", once=True),
)  # fmt: skip
