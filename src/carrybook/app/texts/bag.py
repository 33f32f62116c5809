"""Which wedges to carry, in words."""

from collections.abc import Iterator, Sequence
from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w
from carrybook.decision.bag_fit.options import over_greens
from carrybook.decision.bag_fit.tryout import Verdict
from carrybook.decision.select import WORTH_SAYING

if TYPE_CHECKING:
    from carrybook.app.services.bag import Changes, Tried
    from carrybook.decision.bag_fit.bags import Saving
    from carrybook.decision.bag_fit.gaps import BagGaps, ClubWorth
    from carrybook.decision.bag_fit.greens import Greens
    from carrybook.decision.bag_fit.options import BagFit, BagOption
    from carrybook.decision.bag_fit.wedges import Wedge
    from carrybook.decision.demand import Demand
    from carrybook.player.learn.feel import FeelGap

__all__ = ["fit_text", "gaps_text", "saving_words", "tried_text", "whatif_text"]

_RULES = "For before the round: Rule 4.3a does not let a device say this during one."
_MOST_PLACES = 30  # rows of a table; more are left to --json


def saving_words(saving: "Saving") -> str:
    """Say what is saved, with twice its standard deviation: "+0.03 (-0.01 to +0.07)"."""
    low, high = saving.interval
    digits = 3 if saving.unsure < 0.005 else 2
    middle, low, high = (round(v, digits) + 0.0 for v in (saving.strokes, low, high))
    return f"{middle:+.{digits}f} ({low:+.{digits}f} to {high:+.{digits}f})"


def fit_text(fit: "BagFit", units: str) -> str:
    """Say which bag, against the one that is carried, and what it plays."""
    return "\n".join(_fit_lines(fit, w.units_named(units)))


def gaps_text(gaps: "BagGaps", units: str) -> str:
    """Say where the bag has gaps and overlaps, and what each club is worth."""
    return "\n".join(_gaps_lines(gaps, w.units_named(units)))


def whatif_text(found: "Changes", units: str) -> str:
    """Say what changes would save by firmness of the green."""
    return "\n".join(_whatif_lines(found, w.units_named(units)))


def tried_text(tried: "Tried", units: str) -> str:
    """Say what a shot on trial is, and whether it earns a place."""
    return "\n".join(_tried_lines(tried, w.units_named(units)))


def _faced_lines(demand: "Demand", greens: "Greens", u: w.Units) -> Iterator[str]:
    yield f"faced: {demand.source}"
    firmness = w.firmness_words(greens.firmness_g)
    yield (
        f"{w.air_words(greens.air)}; {w.wind_words(greens.wind, u)}; greens {firmness}"
        f" ({greens.firmness_g:.0f} +- {greens.firmness_sd_g:.0f} g)"
    )


def _fit_lines(fit: "BagFit", u: w.Units) -> Iterator[str]:
    yield from _faced_lines(fit.demand, fit.greens, u)
    yield ""
    yield _verdict(fit)
    yield ""
    head = ("", "wedges", "new", "strokes", "saves each shot (95 %)", "")
    rows = [] if fit.carried is None else [("you carry", *_bag_row(fit.carried, said=""))]
    rows += [
        ("best" if k == fit.best else "", *_bag_row(option, said=_said(option)))
        for k, option in enumerate(fit.options)
        if option.saving is not None
    ]
    yield table([head, *rows])
    yield f"{fit.bags} bags compared; as good as the best within {WORTH_SAYING:g}: {_alike(fit)}"
    yield ""
    yield from _played(fit, u)
    yield from (f"doubt: {doubt}" for doubt in fit.doubts)
    yield _RULES


def _verdict(fit: "BagFit") -> str:
    advised, best = fit.advised, fit.options[fit.best]
    if fit.carried is None or (advised is not fit.carried and advised.saving is not None):
        extra = (
            "" if advised.saving is None else f", saves {saving_words(advised.saving)} each shot"
        )
        return f"CARRY {_names(advised.wedges)}{extra}"
    if best.saving is None:
        return f"KEEP {_names(fit.carried.wedges)}: no bag costs fewer strokes"
    return (
        f"KEEP {_names(fit.carried.wedges)}: no real difference; the best found,"
        f" {_names(best.wedges)}, saves {saving_words(best.saving)} each shot"
    )


def _names(wedges: "Sequence[Wedge]") -> str:
    return " ".join(w.starred(each.label) for each in wedges)


def _bag_row(option: "BagOption", *, said: str) -> tuple[str, ...]:
    saves = "" if option.saving is None else saving_words(option.saving)
    new = str(option.new) if option.new else ""
    return _names(option.wedges), new, f"{option.strokes:.2f}", saves, said


def _said(option: "BagOption") -> str:
    if option.saving is None or option.saving.is_real:
        return ""
    return "no real difference"


def _alike(fit: "BagFit") -> str:
    slots = (
        f"{degrees(low):.0f}" if high - low < 1e-6 else f"{degrees(low):.0f} to {degrees(high):.0f}"
        for low, high in fit.alike
    )
    return f"{', '.join(slots)} deg (* is a loft you do not own)"


def _played(fit: "BagFit", u: w.Units) -> Iterator[str]:
    """What the bag that is carried, and another, play from each distance."""
    other = fit.other
    mine = fit.carried or other
    rows: list[tuple[str, ...]] = [
        (
            w.whole(place.distance_m, u),
            f"{place.lie}, {place.moisture}",
            f"{w.one_line(a.shot)} {w.whole(a.feel_m, u)}",
            f"{a.strokes:.2f}",
            f"{w.starred(b.shot)} {w.whole(b.feel_m, u)}",
            f"{b.strokes:.2f}",
        )
        for (place, a), (_, b) in zip(
            over_greens(fit.demand, mine.taken), over_greens(fit.demand, other.taken), strict=True
        )
    ]
    head: tuple[str, ...] = (
        f"from {u.far}", "lie", f"yours, feel {u.far}", "strokes", f"{_names(other.wedges)}, feel",
        "strokes",
    )  # fmt: skip
    yield from _places([head, *rows], named=(1,))


def _places(rows: "Sequence[tuple[str, ...]]", named: tuple[int, ...]) -> Iterator[str]:
    """A table of places, its head first: no column of names that are all alike; a long one cut."""
    alike = {k for k in named if len({row[k] for row in rows[1:]}) == 1}
    shown = [tuple(cell for k, cell in enumerate(row) if k not in alike) for row in rows]
    yield table(shown[: 1 + _MOST_PLACES])
    if len(rows) > 1 + _MOST_PLACES:
        yield f"and {len(rows) - 1 - _MOST_PLACES} places more: --json has them all"


def _gaps_lines(gaps: "BagGaps", u: w.Units) -> Iterator[str]:
    yield from _faced_lines(gaps.demand, gaps.greens, u)
    yield ""
    head = (
        "club", "loft", f"full {u.far}", "to the next", "played from", "saves each shot (95 %)", "",
    )  # fmt: skip
    yield table([head, *(_club_row(c, u) for c in gaps.clubs)])
    yield ""
    rows: list[tuple[str, ...]] = [
        (
            w.whole(p.place.distance_m, u),
            f"{p.place.lie}, {p.place.moisture}",
            w.one_line(gaps.greens.where_of(p.place)),
            f"{w.one_line(p.taken.shot)} {w.whole(p.taken.feel_m, u)}",
            f"{p.taken.strokes:.2f}",
            "" if p.next_behind < WORTH_SAYING else f"{p.next_behind:+.2f}",
            w.one_line(p.next_club),
            saving_words(p.behind) if p.behind.is_real else "",
            w.starred(p.made_for) if p.behind.is_real else "",
        )
        for p in gaps.places
    ]
    places = (
        f"from {u.far}", "lie", "hole", f"play, feel {u.far}", "strokes", "next club", "which",
        "a gap of", "less with",
    )  # fmt: skip
    yield from _places([places, *rows], named=(1, 2))
    yield (
        f"next club: strokes more with the club next in line, empty below {WORTH_SAYING:g} (an"
        " overlap); a gap: what another loft (*) would save there, where that is real"
    )
    yield from (f"doubt: {doubt}" for doubt in gaps.doubts)
    yield _RULES


def _club_row(c: "ClubWorth", u: w.Units) -> tuple[str, ...]:
    full = f"{w.whole(c.full_m, u)} +- {w.tenths_below_ten(c.full_se_m / u.far_m)}"
    gap = ""
    if c.gap_m is not None and c.gap_se_m is not None:
        gap = f"{w.whole(c.gap_m, u)} +- {w.tenths_below_ten(c.gap_se_m / u.far_m)}"
    said = "" if c.saves.is_real else "the others do its work"
    loft = f"{degrees(c.wedge.loft_rad):.3g} deg"
    name = w.one_line(c.wedge.label)
    return name, loft, full, gap, w.per_cent(c.share), saving_words(c.saves), said


def _whatif_lines(found: "Changes", u: w.Units) -> Iterator[str]:
    yield f"faced: {found.demand.source}"
    yield f"{w.air_words(found.greens.air)}; {w.wind_words(found.greens.wind, u)}"
    yield ""
    firmness = [f"{w.firmness_words(g)} ({g:.0f} g)" for g in found.worths[0].firmness_g]
    rows = [
        (w.one_line(worth.change.name), *(_changed(s) for s in worth.saves))
        for worth in found.worths
    ]
    yield "strokes saved each shot (95 %), by firmness of the green; ! where that is real"
    yield table([("change", *firmness), *rows])
    if not any(s.is_real for worth in found.worths for s in worth.saves):
        yield "no real difference in any of them"
    yield from (f"doubt: {doubt}" for doubt in found.doubts)
    yield _RULES


def _changed(saving: "Saving") -> str:
    return f"{saving_words(saving)}{' !' if saving.is_real else ''}"


def _tried_lines(tried: "Tried", u: w.Units) -> Iterator[str]:
    answer, shot = tried.answer, tried.answer.tried
    yield f"{w.one_line(shot.shot.label)}: {_finding(tried)}"
    yield ""
    yield from _faced_lines(answer.demand, answer.greens, u)
    if shot.shot.cue:
        yield f'meant      "{w.one_line(shot.shot.cue)}"'
    yield f"balls      {counted(shot.balls, 'ball')} on {counted(shot.days, 'day')}"
    error = w.tenths_below_ten(shot.stock_se_m / u.far_m)
    yield (
        f"carry      {w.distance(shot.stock_m, u)} +- {error}"
        f" on the reference day, where you said {w.distance(shot.shot.stock_carry_m, u)}"
    )
    spread = w.tenths_below_ten(shot.spread * shot.stock_m / u.far_m)
    yield (
        f"scatter    two in three within {spread} {u.far} in depth and"
        f" {degrees(shot.side_rad):.1f} deg in side"
    )
    from_loft = "" if shot.launch_measured else ", guessed from the loft"
    yield f"flight     launches at {degrees(shot.launch_rad):.0f} deg{from_loft}"
    yield from _feel_lines(tried)
    yield (
        f"strokes    {answer.without:.2f} without it, {answer.with_it:.2f} with it: saves"
        f" {saving_words(answer.saves)} each shot (95 %)"
    )
    instead = (
        f", instead of {', '.join(map(w.one_line, answer.instead_of))}" if answer.instead_of else ""
    )
    yield f"played     from {w.per_cent(answer.share)} of these{instead}"
    yield from (f"doubt: {doubt}" for doubt in tried.doubts)
    yield _RULES


def _finding(tried: "Tried") -> str:
    answer = tried.answer
    if answer.verdict is Verdict.EARNS and not answer.tried.shot.trusted:
        label = w.one_line(answer.tried.shot.label)
        return f'{answer.verdict}; when you trust it: carrybook shots edit "{label}" --trusted'
    if answer.verdict is not Verdict.FEELING:
        return answer.verdict.value
    if answer.more_balls is None:
        return f"{answer.verdict}; more balls alone would not settle it"
    return f"{answer.verdict}; about {answer.more_balls} more balls would settle it"


def _feel_lines(tried: "Tried") -> Iterator[str]:
    said = (("called less measured", tried.called), ("meant less called", tried.intended))
    known = [f"{what} {_gap_words(gap)}" for what, gap in said if gap is not None]
    if known:
        yield f"feel       {'; '.join(known)}"


def _gap_words(gap: "FeelGap") -> str:
    return f"{100.0 * gap.middle:+.0f} % ({100.0 * gap.low:+.0f} to {100.0 * gap.high:+.0f})"
