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
from dataclasses import dataclass

from carrybook.base.errors import BadInputError
from carrybook.world import described_facts as take
from carrybook.world.described_facts import Found
from carrybook.world.description import Described
from carrybook.world.description_words import (
    SIDE_WORDS,
    pattern,
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


_Take = Callable[[Described, Found], Described]


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


def _match(fact: str, where: str) -> tuple[_Rule, Found]:
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
        take.size, "30 deep, 24 wide", once=True,
    ),
    _rule(
        "outline", "outline", "outline (?P<points>.+)", take.outline,
        "outline 0 0, 6 -11, 20 -13, 31 -2, 26 10, 8 9", once=True,
    ),
    _rule(
        "front", r"front(?: edge)?(?: number)?[ :]*[0-9]",
        "front(?: edge)?(?: number)? <number>", take.front, "front 142", once=True,
    ),
    _rule(
        "tilt", rf"tilt|falls|slopes|level|flat|{SIDE_WORDS} to ",
        """(?:tilt )?(?:level|flat)
        (?:tilt )?(?:falls|slopes)? <pct%> (?:to|towards) <to/>
        (?:tilt )?(?:falls|slopes)? (?:to|towards) <to/> <pct%>
        (?:tilt )?(?:falls|slopes)?(?: from)? <from/> to <to/> <pct%>
        (?:tilt )?(?:falls|slopes)? <pct%>(?: from)? <from/> to <to/>""",
        take.tilt, "tilt back to front 2 %",
    ),
    _rule(
        "shelf", "tier|shelf|step",
        f"""{_TIER} <at>(?: on)? {_FACE}(?: full width)?
        {_TIER} <at>(?: on)? {_FACE}(?: on)? (?P<part>left|right) (?P<much>half|third)
        {_TIER} <at> from (?P<side>left|right) {_FACE}""",
        take.tier, "shelf at 18, rises 2 ft over 3, on the right half",
    ),
    _rule(
        "false front", "false", "false[-_]front <deep>(?: deep)?(?: falls)? (?:<pct%>|<drop^>)",
        take.false_front, "false front 4 deep, 8 %", once=True,
    ),
    _rule(
        "run-off", "run",
        "run[-_]?off <side/>(?: falls| drops)? (?:<drop^>|<pct%>) (?:over|for) <over>"
        "(?: (?P<grass>fairway|rough))?",
        take.run_off, "run-off right, falls 2 ft over 5, fairway",
    ),
    _rule(
        "mound", "mound|hollow",
        "(?P<kind>mound|hollow)(?: at)? (?P<place>.+?) <high^> (?:high|deep) <across> across",
        take.mound, "mound 12 on, 4 from the right, 1 ft high, 6 across",
    ),
    _rule(
        "bunker or water", r"bunker|water|out|ob\b|cart|path",
        f"""{_KIND} <side/>(?: <on> on)? {_OFF} <along> by <away>
        {_KIND} <side/> {_OFF} (?P<band>all_(?:along|across))(?: <away> (?:wide|deep))?""",
        take.trouble, "bunker short right, 4 off, 8 by 6",
    ),
    _rule(
        "fairway", "fairway", "fairway (?:short|(?:in )?front) <wide> wide", take.fairway,
        "fairway in front, 30 wide", once=True,
    ),
    _rule(
        "around", "around", "around (?P<grass>rough|fairway)", take.around, "around rough",
        once=True,
    ),
    _rule("fringe", "fringe", "fringe <wide>(?: wide)?", take.fringe, "fringe 2", once=True),
    _rule(
        "hole", "hole", "hole(?: at)? (?P<text>.+)", take.hole,
        "hole 11 on, 4 from the right", once=True,
    ),
    _rule(
        "plays", "plays", f"plays(?: to)? (?:{_POINT}|(?P<deg>[0-9]{{1,3}}) ?(?:deg|degrees))",
        take.plays, "plays north-east", once=True,
    ),
    _rule(
        "number", "number", "number (?P<text>[0-9a-z]{1,6})", take.number, "number 7", once=True
    ),
    _rule("par", "par", "par (?P<par>[3-6])", take.par, "par 4", once=True),
    _rule("name", "name", "name (?P<text>.+)", take.name, "name Home course", once=True),
)  # fmt: skip
