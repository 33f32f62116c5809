"""A green in words."""

from collections.abc import Iterator
from math import degrees
from textwrap import wrap
from typing import TYPE_CHECKING

from carrybook.artefacts import words as w
from carrybook.base.constants import FOOT
from carrybook.world.hole import UNNUMBERED

if TYPE_CHECKING:
    from carrybook.world.ground_report import GroundReport, Judged

__all__ = ["ground_text"]

_WIDTH, _LABEL = 80, 10
_SIDES = ("back", "back-right", "right", "front-right", "front", "front-left", "left", "back-left")


def ground_text(r: "GroundReport", *, units: str) -> str:
    """Say what a green is like, and where a hole may be cut."""
    u = w.units_named(units)
    number = "" if r.hole.ref == UNNUMBERED else f", hole {r.hole.ref}"
    lines = [w.one_line(f"{r.hole.venue}{number}")]
    for label, text in (*_green(r, u), *_holes(r), *_place(r.judged)):
        first, *more = wrap(text, _WIDTH - _LABEL)
        lines += [f"  {label:<{_LABEL}}{first}", *(f"{'':<{_LABEL + 2}}{line}" for line in more)]
    notes = [*r.hole.notes, *([f"Map: {r.hole.attribution}"] if r.hole.attribution else [])]
    for note in notes:
        lines += ["", *wrap(w.one_line(note), _WIDTH)]
    return "\n".join(lines)


def _green(r: "GroundReport", u: w.Units) -> Iterator[tuple[str, str]]:
    deep, wide = w.paces(r.deep_m), w.paces(r.wide_m)
    yield "green", f"{deep} paces deep, {wide} wide, {r.area_m2:.0f} m2"
    if r.hole.front_number_m is not None:
        yield "front", f"{w.distance(r.hole.front_number_m, u)} to the front edge"
    if not r.hole.heights_known:
        yield "slopes", "not known: taken as level"
        return
    back = w.slope_words(r.rise_m, u)
    yield (
        "slopes",
        (
            f"half the green below {_pct(r.slope_50)}, nine tenths below {_pct(r.slope_90)};"
            f" the back edge against the front: {back}"
        ),
    )
    if r.slope_se is not None and r.height_se_m is not None:
        height = f"{max(r.height_se_m / u.rise_m, 0.1):.1f} {u.rise}"
        yield "known to", f"slopes +- {_pct(r.slope_se)}, heights +- {height} (one standard error)"
    else:
        yield "known to", "nobody said how good the heights are"


def _holes(r: "GroundReport") -> Iterator[tuple[str, str]]:
    p, feet = r.places, r.places.stimp_m / FOOT
    yield (
        "speed",
        (
            f"{feet:.1f} ft ({p.stimp_m:.2f} m): holes on up to {_pct(p.marginal)}, with even"
            f" ground around up to {_pct(p.critical)}"
        ),
    )
    share = p.shares()
    (allowed, *_), against = share, sorted(list(share)[1:], key=lambda each: -share[each])
    yield (
        "holes",
        (
            f"{w.per_cent(share[allowed])} of the green may hold one: front third"
            f" {w.per_cent(r.thirds.front)}, middle {w.per_cent(r.thirds.middle)}, back"
            f" {w.per_cent(r.thirds.back)}"
        ),
    )
    told = [f"{each} {w.per_cent(share[each])}" for each in against if share[each] > 0.0]
    if told:
        yield "not where", "; ".join(told)


def _place(j: "Judged | None") -> Iterator[tuple[str, str]]:
    if j is None:
        return
    words = f"{w.location_words(j.location)} (paces)"
    error = "" if j.slope_se is None else f" +- {_pct(j.slope_se)}"
    side = _SIDES[round(degrees(j.falls_rad) / 45.0) % 8]
    falls = f", falling to the {side}" if j.slope > 0.002 else ""
    yield (
        "hole",
        (
            f"{words}: {j.reason}; slope {_pct(j.slope)}{error}{falls};"
            f" {w.paces(j.edge_m)} paces from the nearest edge"
        ),
    )


def _pct(slope: float) -> str:
    return f"{100.0 * slope:.1f} %"
