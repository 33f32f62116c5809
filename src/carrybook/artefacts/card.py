"""The pocket card: today's numbers and the plans made before the round, as a PDF at exact size.

Two profiles. Ordinary play may carry an image of a green within the scale of Clarification 4.3a/1.
The restricted profile shows no green and no slope, so that it stays within Model Local Rule G-11,
which leaves carries and swing thoughts alone (rules-of-golf-2023).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from carrybook.artefacts import words as w
from carrybook.artefacts.card_frames import Page
from carrybook.artefacts.card_green import green_at, green_picture
from carrybook.artefacts.card_items import (
    BODY,
    HEIGHT,
    LEADING,
    SMALL,
    TEXT_WIDTH,
    Block,
    Item,
    Text,
    wrapped,
)
from carrybook.artefacts.card_sheet import print_blocks
from carrybook.artefacts.card_tables import carries, lay_ups, notes, partials, strips, zone_plans
from carrybook.artefacts.cautions import LIGHTNING, caution_lines
from carrybook.artefacts.fonts import drawable
from carrybook.artefacts.paper import Layout, Profile
from carrybook.decision.advice import Advice
from carrybook.decision.prepared import LayUp, ZonePlan
from carrybook.player.numbers import TodayNumber
from carrybook.player.strips import ShotPartials, ShotStrip
from carrybook.world.air import Air
from carrybook.world.exposure import Exposure, exposure_of
from carrybook.world.hole import Hole, HoleLocation

__all__ = ["CardContent", "Carries", "GreenToday", "pocket_card"]

_CAUTIONS = (
    "Prepared before the round - check local rules (G-5, G-11).",
    LIGHTNING,
    "Estimates from your own balls: the player decides. Shout fore.",
)
_PENCIL = 15.0  # points under a plan, for a note


_STATUS = {
    Profile.ORDINARY: "Ordinary play (4.3a), greens within 1:480. Not where G-11 holds.",
    Profile.RESTRICTED: "Restricted (G-11): numbers and words, no map of any kind.",
}


@dataclass(frozen=True, slots=True)
class Carries:
    """Carries of another part of the day.

    Parameters
    ----------
    when : str
        Which part: "afternoon, 14:00".
    air : Air
        The air they were computed for.
    numbers : tuple of TodayNumber
        One for each shot, in the order to print.
    """

    when: str
    air: Air
    numbers: tuple[TodayNumber, ...]


@dataclass(frozen=True, slots=True)
class GreenToday:
    """A green and where its hole is cut today; only an ordinary card draws it.

    Parameters
    ----------
    hole, location : Hole, HoleLocation
        The green, and the hole in it.
    words : tuple of str
        What stands beside it, the first line bold.
    """

    hole: Hole
    location: HoleLocation
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CardContent:
    """What a card carries; what is empty is not printed.

    Parameters
    ----------
    title : str
        Player, venue or day; stands on top of every page.
    air : Air
        The air the numbers were computed for.
    numbers : tuple of TodayNumber
        One for each shot, in the order to print.
    partials : tuple of ShotPartials
        What to feel for round carries.
    strips : tuple of ShotStrip
        What wind, warmth, height and lie add.
    advices : tuple of Advice
        Plans for single shots; the best option of each is printed.
    zones : tuple of ZonePlan
        Plans by zone of the green, those of one hole together.
    lay_ups : tuple of LayUp
        What distance to leave.
    when : str
        Which part of the day the numbers are for.
    later : tuple of Carries
        Carries of other parts of the day.
    said : tuple of str
        Lines of the day that either profile may carry: nothing of slopes or of reading greens.
    own_words : tuple of str
        The player's notes and the hole locations; only an ordinary card prints them, for the
        restricted profile allows notes on greens by hand alone.
    greens : tuple of GreenToday
        Greens of the day; an ordinary card that is not folded draws them.
    exposure : Exposure, optional
        Heat and cold of the hours played; none: that of the air, without wind.
    """

    title: str
    air: Air
    numbers: tuple[TodayNumber, ...]
    partials: tuple[ShotPartials, ...] = ()
    strips: tuple[ShotStrip, ...] = ()
    advices: tuple[Advice, ...] = ()
    zones: tuple[ZonePlan, ...] = ()
    lay_ups: tuple[LayUp, ...] = ()
    when: str = ""
    later: tuple[Carries, ...] = ()
    said: tuple[str, ...] = ()
    own_words: tuple[str, ...] = ()
    greens: tuple[GreenToday, ...] = ()
    exposure: Exposure | None = None


def pocket_card(
    content: CardContent,
    *,
    profile: Profile = Profile.RESTRICTED,
    layout: Layout = Layout.SINGLE,
    units: str = "yards",
) -> bytes:
    """Print a card of at most 4.25 by 7 in a page, or such cards on larger paper.

    Parameters
    ----------
    content : CardContent
        What it carries.
    profile : Profile
        Ordinary, or restricted: then no green is drawn.
    layout : Layout
        Single pages; a page of the same size folded across, two sides, four panels; or two cards on
        A4 or Letter with cut marks.
    units : str
        "yards" or "metres".

    Returns
    -------
    pdf : bytes
        As many pages as it takes at a size that can be read; the same input, the same bytes.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    cautions = (_CAUTIONS[0], _STATUS[profile], *_CAUTIONS[1:])
    page = Page(drawable(content.title), cautions, profile.value, layout)
    return print_blocks(list(_blocks(content, profile, layout, u)), page)


def _blocks(content: CardContent, profile: Profile, layout: Layout, u: w.Units) -> Iterator[Block]:
    yield from _carries(Carries(content.when, content.air, content.numbers), u)
    for other in content.later:
        yield from _carries(other, u)
    exposure = content.exposure or exposure_of([(content.air, 0.0)])
    for line in (*content.said, *caution_lines(exposure)):
        yield notes(line)
    for line in content.own_words if profile is Profile.ORDINARY else ():
        yield notes(line)
    yield from partials(content.partials, u)
    yield from strips(content.strips, u)
    pictured = profile is Profile.ORDINARY and layout is not Layout.FOLD
    for advice in content.advices:
        yield _pictured_plan(advice, u) if pictured else _plan(advice, u)
    yield from zone_plans(content.zones, u)
    yield from lay_ups(content.lay_ups, u)
    for green in content.greens if pictured else ():
        yield _green(green, u)


def _carries(c: Carries, u: w.Units) -> Iterator[Block]:
    when = f", {drawable(c.when)}" if c.when else ""
    yield notes(f"Carries in {u.far}{when}: {w.air_words(c.air)}, level and calm")
    yield from carries(c.numbers, u)


def _plan(advice: Advice, u: w.Units) -> Block:
    """A plan in words, with room for a pencil."""
    rows = _rows(advice, u, TEXT_WIDTH)
    return Block(_below(rows) + _PENCIL, rows)


def _pictured_plan(advice: Advice, u: w.Units) -> Block:
    """The green on the left, the plan in words beside it."""
    (width, height), picture = green_picture(advice, u)
    left = width + 8.0
    rows = _rows(advice, u, TEXT_WIDTH - left)
    beside = tuple(Text(left, row.y, row.words, row.size, row.bold) for row in rows)
    items: tuple[Item, ...] = (*picture, *beside)
    return Block(min(max(height, _below(rows) + _PENCIL), HEIGHT), items, gap=8.0)


def _green(green: GreenToday, u: w.Units) -> Block:
    """The green on the left, what is known of it beside it, and room for a pencil."""
    (width, height), picture = green_at(green.hole, green.location, u)
    left, y = width + 8.0, 0.0
    beside: list[Text] = []
    for k, words in enumerate(green.words):
        size = SMALL if k else BODY
        line = Text(left, y + LEADING * size, drawable(words), size, bold=k == 0)
        beside += wrapped(line, TEXT_WIDTH - left)
        y = beside[-1].y
    items: tuple[Item, ...] = (*picture, *beside)
    return Block(min(max(height, y + _PENCIL), HEIGHT), items, gap=8.0)


def _below(rows: tuple[Text, ...]) -> float:
    return rows[-1].y + 0.4 * rows[-1].size


def _rows(advice: Advice, u: w.Units, width: float) -> tuple[Text, ...]:
    rows: list[Text] = []
    y = 0.0
    for words, size, bold in _lines(advice, u):
        rows += wrapped(Text(0.0, y + LEADING * size, words, size, bold), width)
        y = rows[-1].y
    return tuple(rows)


def _lines(advice: Advice, u: w.Units) -> Iterator[tuple[str, float, bool]]:
    """What is said of a plan, each with its size and weight."""
    s, o = advice.situation, advice.options[0]
    at, shot = s.location, o.summary.shot
    ref = drawable(s.hole.ref, 8)
    where = f"{w.short_or_past(o.landing_to_hole_m, u)}, {w.sideways(o.landing_right_m, u)}"
    yield f"Hole {ref}: {w.distance(s.number_m, u)}, {w.location_words(at)}", BODY, True
    yield f"made for {s.lie}, {s.moisture}; wind {w.wind_words(s.wind, u)}", SMALL, False
    yield f"{drawable(shot.label)}: land {where}", BODY, True
    yield f"plays {w.distance(o.playing_m, u)}, feel {w.distance(o.feel_m, u)}", BODY, False
    yield f"start {w.start_words(o.aim_right_m, u)}", BODY, False
    rival = next((r for r in advice.options[1:] if r.close_call), None)
    if rival is not None:
        label = drawable(rival.summary.shot.label)
        yield f"or {label}, feel {w.distance(rival.feel_m, u)}: as good", SMALL, False
    if o.miss is not None:
        yield f"the miss to avoid: {o.miss}, {w.per_cent(o.troubles[o.miss])}", SMALL, False
    if shot.cue:
        yield f'"{drawable(shot.cue)}"', SMALL, False
