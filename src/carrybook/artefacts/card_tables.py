"""The tables of a card: carries, partials, strips, plans by zone, lay-ups."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from carrybook.artefacts import words as w
from carrybook.artefacts.card_items import (
    BODY,
    LEADING,
    SMALL,
    TEXT_WIDTH,
    Block,
    Item,
    Line,
    Text,
    fitted,
    wrapped,
)
from carrybook.artefacts.fonts import drawable
from carrybook.base.constants import FOOT
from carrybook.decision.prepared import LayUp, ZonePlan
from carrybook.player.numbers import TodayNumber
from carrybook.player.strips import Adjustment, Fact, FactKind, ShotPartials, ShotStrip

__all__ = ["carries", "lay_ups", "notes", "partials", "strips", "zone_plans"]

_ROW = 1.45 * BODY
_NUMBER = 10.5  # points: the number that is looked for first
_CARRY_EDGES = (104.0, 142.0, 172.0, 202.0, TEXT_WIDTH)
_CARRY_HEADS = ("today", "one ball", "feel", "ref.", "partials, felt")
_LABEL = 52.0  # width of the shots' names in front of a matrix
_ZONE_EDGES = (82.0, 140.0, 165.0)  # number ends, shot ends its field, feel ends
_MOST_COLUMNS = 10
_GROUPS = (
    ("Wind at 10 m", (FactKind.INTO, FactKind.HELPING, FactKind.ACROSS)),
    (
        "Warmth, and height it lands at",
        (FactKind.COLDER, FactKind.WARMER, FactKind.HIGHER, FactKind.LOWER),
    ),
    (
        "Wet and rough, more run",
        (FactKind.DEW, FactKind.WET, FactKind.LIGHT_ROUGH, FactKind.DEEP_ROUGH),
    ),
)


def notes(*lines: str, size: float = SMALL) -> Block:
    """Small lines that stay together."""
    rows: list[Text] = []
    for words in lines:
        start = (len(rows) + 0.85) * LEADING * size
        rows += wrapped(Text(0.0, start, drawable(words), size), TEXT_WIDTH)
    return Block(LEADING * size * len(rows), tuple(rows))


def carries(numbers: Sequence[TodayNumber], u: w.Units) -> Iterator[Block]:
    """Today's carries: today first and largest, then how far single balls stray."""
    cells = [Text(0.0, SMALL, "shot", SMALL)]
    cells += [
        Text(edge, SMALL, head, SMALL, right=True)
        for head, edge in zip(_CARRY_HEADS, _CARRY_EDGES, strict=True)
    ]
    head = Block(SMALL * 1.5, (*cells, _rule(SMALL * 1.4)), gap=0.0)
    for n in numbers:
        yield Block(1.25 * _NUMBER, tuple(_carry_cells(n, u)), head=head, gap=0.0)
    said = ["One ball: two in three stray no further. Ref.: 20 C, 1013 hPa, calm."]
    if any(n.summary.balls == 0 for n in numbers):
        said.append("* your word, no balls yet")
    yield notes(*said)


def partials(shots: Sequence[ShotPartials], u: w.Units) -> Iterator[Block]:
    """What to feel for round carries, with how far single balls stray below."""
    carries_m = _wanted(shots)
    if not carries_m:
        return
    edges = _edges(len(carries_m))
    head = Block(
        _ROW * 2.0,
        (
            Text(0.0, BODY, f"What to feel for a carry today of ({u.far})", bold=True),
            *(
                Text(edge, BODY + _ROW, w.whole(m, u), bold=True, right=True)
                for m, edge in zip(carries_m, edges, strict=True)
            ),
            _rule(2.0 * _ROW - 1.0),
        ),
        gap=0.0,
    )
    for shot in shots:
        items: list[Item] = [_label(shot.summary.shot.label)]
        for k, m in enumerate(carries_m):
            found = next((p for p in shot.partials if p and p.carry_m == m), None)
            if found:
                items.append(Text(edges[k], BODY, w.whole(found.feel_m, u), right=True))
                stray = f"±{max(1, round(found.spread_m / u.far_m))}"
                items.append(Text(edges[k], BODY + 8.6, stray, SMALL, right=True))
        yield Block(_ROW + 8.0, tuple(items), head=head, gap=0.0)
    yield Block(2.0)


def strips(shots: Sequence[ShotStrip], u: w.Units) -> Iterator[Block]:
    """What wind, warmth, height and lie add to the carry of each stock swing, with ranges."""
    if not shots:
        return
    for title, kinds in _GROUPS:
        facts = [a.fact for a in shots[0].adjustments if a.fact.kind in kinds]
        if facts:
            yield from _strip(title, facts, shots, u)
    yield notes(
        "From this day's stock swing, one fact at a time; below each, what lift, drag and the"
        " lie leave open. Across: drift off the start line. Warmth is that of the air only: a"
        " cold body and a cold ball take more."
    )


def zone_plans(plans: Sequence[ZonePlan], u: w.Units) -> Iterator[Block]:
    """One row for each zone of a green: number, shot, feel, landing spot, the miss to avoid."""
    heads: dict[str, Block] = {}
    for plan in plans:
        head = heads.setdefault(plan.hole, _zone_head(plan.hole, u))
        yield Block(_ROW, tuple(_zone_cells(plan, u)), head=head, gap=0.0)
    if plans:
        yield notes("~ another shot does as well. Landing spot against the hole.")


def lay_ups(tables: Sequence[LayUp], u: w.Units) -> Iterator[Block]:
    """Expected strokes against the distance left, and where it does not matter."""
    for table in tables:
        for start in range(0, len(table.left_m), _MOST_COLUMNS):
            yield _lay_up(table, slice(start, start + _MOST_COLUMNS), u)


def _lay_up(table: LayUp, part: slice, u: w.Units) -> Block:
    """Title, three rows and what they come to, in one piece."""
    left = [w.whole(m, u) for m in table.left_m[part]]
    edges = _edges(len(left))
    rows = (
        ("left", left),
        ("strokes", [f"{s:.2f}" for s in table.strokes[part]]),
        ("±", [f"{s:.2f}" for s in table.strokes_se[part]]),
    )
    title = f"Hole {drawable(table.hole, 8)}: laying up to ({u.far})"
    items: list[Item] = [Text(0.0, BODY, title, bold=True)]
    for row, (name, cells) in enumerate(rows, start=1):
        y, size = BODY + row * _ROW, SMALL if row > 1 else BODY
        items.append(Text(0.0, y, name, SMALL))
        for edge, cell in zip(edges, cells, strict=True):
            items.append(Text(edge, y, cell, size, bold=row == 1, right=True))
    low, high = w.whole(table.flat_low_m, u), f"{w.whole(table.flat_high_m, u)} {u.far}"
    alone = table.flat_low_m == table.flat_high_m
    flat = f"Best from {high}" if alone else f"No difference worth having between {low} and {high}"
    said = notes(f"{flat}. {table.note}".strip())
    start = 4.0 * _ROW
    items += (replace(i, y=i.y + start) for i in said.items if isinstance(i, Text))
    return Block(start + said.height, tuple(items))


def _rule(y: float) -> Line:
    return Line(0.0, y, TEXT_WIDTH, y, 0.4)


def _label(words: str, width: float = _LABEL) -> Text:
    return Text(0.0, BODY, fitted(drawable(words), width - 2.0, BODY, bold=True), bold=True)


def _edges(columns: int) -> list[float]:
    """Right edges of so many equal columns after the label."""
    step = (TEXT_WIDTH - _LABEL) / columns
    return [_LABEL + (k + 1) * step for k in range(columns)]


def _carry_cells(n: TodayNumber, u: w.Units) -> Iterator[Item]:
    shot = n.summary.shot
    reference, feel = w.whole(n.reference_m, u), w.whole(shot.stock_carry_m, u)
    label = drawable(shot.label) + ("" if n.summary.balls else " *")
    yield Text(0.0, _NUMBER, fitted(label, 76.0, BODY, bold=True), BODY, bold=True)
    cells = (
        w.whole(n.today_m, u),
        f"± {max(1, round(n.spread_m / u.far_m))}",
        feel if feel != reference else "",
        reference,
        f"{w.whole(shot.shortest_m, u)} to {w.whole(shot.longest_m, u)}",
    )
    for k, (cell, edge) in enumerate(zip(cells, _CARRY_EDGES, strict=True)):
        size = BODY if k else _NUMBER
        yield Text(edge, _NUMBER, cell, size, bold=k == 0, right=True)


def _wanted(shots: Sequence[ShotPartials]) -> list[float]:
    return sorted({p.carry_m for shot in shots for p in shot.partials if p})


def _strip(
    title: str, facts: Sequence[Fact], shots: Sequence[ShotStrip], u: w.Units
) -> Iterator[Block]:
    edges = _edges(len(facts))
    top: list[Item] = [Text(0.0, BODY, f"{title}: adds to the carry ({u.far})", bold=True)]
    for fact, edge in zip(facts, edges, strict=True):
        for row, part in enumerate(_fact_words(fact, u)):
            top.append(Text(edge, BODY + _ROW + row * 9.0, part, SMALL, right=True))
    head = Block(2.0 * _ROW + 9.5, (*top, _rule(2.0 * _ROW + 7.5)), gap=0.0)
    for shot in shots:
        items: list[Item] = [_label(shot.summary.shot.label)]
        for fact, edge in zip(facts, edges, strict=True):
            middle, range_ = _adjusted(next(a for a in shot.adjustments if a.fact == fact), u)
            items.append(Text(edge, BODY, middle, BODY, bold=True, right=True))
            items.append(Text(edge, BODY + 8.6, range_, SMALL, right=True))
        yield Block(_ROW + 8.2, tuple(items), head=head, gap=0.0)
    yield Block(3.0)


def _fact_words(fact: Fact, u: w.Units) -> tuple[str, str]:
    """Two short lines above a column."""
    kind = fact.kind
    if kind in (FactKind.INTO, FactKind.HELPING):
        return kind.value, w.speed(fact.amount, u)
    if kind is FactKind.ACROSS:
        return "across", w.speed(fact.amount, u)
    if kind in (FactKind.WARMER, FactKind.COLDER):
        return f"{fact.amount:.0f} C ({fact.amount * 1.8:.0f} F)", kind.value
    if kind in (FactKind.HIGHER, FactKind.LOWER):
        height = f"{fact.amount / FOOT:.0f} ft" if u is w.YARDS else f"{fact.amount:.0f} m"
        return height, kind.value
    first, _, rest = kind.value.partition(" ")
    return first, rest


def _adjusted(a: Adjustment, u: w.Units) -> tuple[str, str]:
    """Middle and range, in whole yards or metres; a drift without its side."""
    across = a.fact.kind is FactKind.ACROSS
    ends = (
        (-a.drift_right_m, -a.drift_high_m, -a.drift_low_m)
        if across
        else (a.carry_m, a.carry_low_m, a.carry_high_m)
    )
    say = _plain if across else _signed
    middle, low, high = (say(m / u.far_m) for m in ends)
    return middle, f"{low}..{high}" if low != high else ""


def _plain(value: float) -> str:
    return f"{abs(round(value))}"


def _signed(value: float) -> str:
    whole = round(value)
    return f"{whole:+d}".replace("-", "−") if whole else "0"


def _zone_head(hole: str, u: w.Units) -> Block:
    title = Text(0.0, BODY, f"Hole {drawable(hole, 8)}: by hole location ({u.far})", bold=True)
    number, _, feel = _ZONE_EDGES
    row = (
        Text(0.0, SMALL + _ROW, "hole cut", SMALL),
        Text(number, SMALL + _ROW, "number", SMALL, right=True),
        Text(number + 8.0, SMALL + _ROW, "play", SMALL),
        Text(feel, SMALL + _ROW, "feel", SMALL, right=True),
        Text(feel + 8.0, SMALL + _ROW, "land; keep out of", SMALL),
    )
    return Block(2.0 * _ROW, (title, *row, _rule(2.0 * _ROW - 1.5)), gap=0.0)


def _zone_cells(plan: ZonePlan, u: w.Units) -> Iterator[Item]:
    number, shot, feel = _ZONE_EDGES
    side = w.sideways(plan.landing_right_m, u).replace(f" {u.far}", "")
    where = w.short_or_past(plan.landing_to_hole_m, u, brief=True)
    land = where if side == w.ON_LINE else f"{where}, {side}"
    miss = f"; {plan.miss}" if plan.miss else ""
    close = "~" if plan.close_call else ""
    yield Text(0.0, BODY, plan.zone.value, SMALL)
    yield Text(number, BODY, w.whole(plan.number_m, u), right=True)
    name = fitted(drawable(plan.shot), shot - number - 10.0, bold=True)
    yield Text(number + 8.0, BODY, name + close, bold=True)
    yield Text(feel, BODY, w.whole(plan.feel_m, u), right=True)
    room = TEXT_WIDTH - feel - 8.0
    yield Text(feel + 8.0, BODY, fitted(drawable(land + miss), room, SMALL), SMALL)
