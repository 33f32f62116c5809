"""What was learnt: learn from the log beside the page; feel against real; how more balls help."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from carrybook.app.services.learn import (
    LearnReport,
    curve_of,
    feel_of_book,
    learn_book,
    learnt_state,
)
from carrybook.app.texts.learn import effect_middles, gap_words
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look
from carrybook.app.web.jobs import Job, Tell
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.rooms.work import Work, job_about, stop_work, work_shown
from carrybook.app.web.views.curve import CurvePicture, curve_picture
from carrybook.app.web.views.gaps import GapsPicture, Middle, gaps_picture
from carrybook.artefacts.words import one_line, units_named
from carrybook.base.errors import NoSolutionError
from carrybook.player.learn.feel import Feel, FeelGap

if TYPE_CHECKING:
    from carrybook.store.learnt import StoredLearnt

__all__ = ["ROUTES", "Learning", "learning_shown"]

_LEARN, _FEEL, _CURVE = "learn", "feel", "curve"
_WEEKS = 16  # shown, the newest


@dataclass(frozen=True, slots=True)
class Learning:
    """How things stand: what was learnt last, and what goes on."""

    state: str
    fresh: bool
    work: Work | None
    said: str


@dataclass(frozen=True, slots=True)
class _Row:
    """One gap in words."""

    name: str
    balls: int
    called: str
    meant: str


@dataclass(frozen=True, slots=True)
class _Part:
    """One part of the page: its pictures, or the work on them, or why there are none."""

    work: Work | None
    sentence: str
    pictures: tuple[GapsPicture | None, ...] = ()
    rows: tuple[_Row, ...] = ()
    curve: CurvePicture | None = None


@dataclass(frozen=True, slots=True)
class _Learnt:
    """The page of what was learnt."""

    learning: Learning
    feel: _Part
    curve: _Part
    drift: GapsPicture | None
    effects: GapsPicture | None


def learning_shown(asked: Asked) -> Learning:
    """How learning stands, for the Book."""
    job = asked.desk.jobs.newest(_LEARN)
    stored = _stored(asked)
    said = "" if job is None or not job.done else job.problem or _done(job)
    fresh = stored is not None and stored.fresh
    return Learning(_state(stored), fresh, work_shown(job), said)


def _done(job: Job) -> str:
    report = job.result
    return (
        f"learnt from {sum(report.learnt.balls)} balls" if isinstance(report, LearnReport) else ""
    )


def _stored(asked: Asked) -> "StoredLearnt | None":
    try:
        key = ("learnt", asked.desk.stamp())
        return asked.desk.remembered(key, lambda: learnt_state(asked.desk.book))
    except NoSolutionError:
        return None


def _state(stored: "StoredLearnt | None") -> str:
    if stored is None:
        return "Nothing is learnt yet: numbers rest on the log as it stands."
    way = "full sampling" if stored.learnt.method == "full" else "the quick way"
    at = stored.at.astimezone()
    when = f"Learnt {at:%Y-%m-%d} at {at:%H:%M} ({way})"
    if stored.fresh:
        return f"{when}; up to date."
    return (
        f"{when}, but the log or the bag has changed since: numbers rest on the log as it stands."
    )


def _part(asked: Asked) -> Answer:
    return Shown("learning-part.html", learning_shown(asked))


def _start(asked: Asked) -> Answer:
    """Begin to learn; the whole way takes minutes."""
    full, book = asked.said("how") == "full", asked.desk.book

    def work(tell: Tell) -> LearnReport:
        tell("learning from the log", 0.0)
        return learn_book(book, full=full, seed=1, at=datetime.now(UTC), progress=tell)

    asked.desk.jobs.start(work, _LEARN)
    return _part(asked) if asked.part else Go("/book")


def _stop(asked: Asked) -> Answer:
    stop_work(asked, _LEARN)
    return _part(asked) if asked.part else Go("/book")


def _learnt(asked: Asked) -> Answer:
    stored = _stored(asked)
    drift = effects = None
    if stored is not None:
        drift = gaps_picture([_drifts(stored)], "carry at the same feel, a year [%]")
        effects = gaps_picture([effect_middles(stored.learnt)], "on carry [%]")
    view = _Learnt(learning_shown(asked), _feel(asked), _curve(asked), drift, effects)
    return Shown("learnt.html", view)


def _drifts(stored: "StoredLearnt") -> dict[str, Middle]:
    """How each shot's carry drifts in a year, as its balls tell. [1]"""
    import numpy as np

    draws = np.expm1(np.quantile(stored.learnt.draws["drift"], (0.05, 0.5, 0.95), axis=0))
    return {
        one_line(label): (float(low), float(mid), float(high))
        for label, (low, mid, high) in zip(stored.learnt.shots, draws.T, strict=True)
    }


def _log(asked: Asked) -> str:
    """Fingerprint of the log as it stands."""
    return asked.desk.rests_on(asked.desk.stamp())


def _begin_feel(asked: Asked) -> Answer:
    book = asked.desk.book

    def work(tell: Tell) -> Feel:
        tell("comparing feel with real", 0.0)
        return feel_of_book(book)

    asked.desk.jobs.start(work, _FEEL, _log(asked))
    return _feel_part(asked) if asked.part else Go("/book/learnt")


def _begin_curve(asked: Asked) -> Answer:
    """Begin to learn from few balls, more, and all."""
    book = asked.desk.book
    asked.desk.jobs.start(lambda tell: curve_of(book, seed=1, progress=tell), _CURVE, _log(asked))
    return _curve_part(asked) if asked.part else Go("/book/learnt")


def _stop_feel(asked: Asked) -> Answer:
    stop_work(asked, _FEEL)
    return _feel_part(asked) if asked.part else Go("/book/learnt")


def _stop_curve(asked: Asked) -> Answer:
    stop_work(asked, _CURVE)
    return _curve_part(asked) if asked.part else Go("/book/learnt")


def _feel_part(asked: Asked) -> Answer:
    return Shown("learnt-feel.html", _feel(asked))


def _curve_part(asked: Asked) -> Answer:
    return Shown("learnt-curve.html", _curve(asked))


def _feel(asked: Asked) -> _Part:
    job = job_about(asked, _FEEL, _log(asked))
    found = None if job is None else job.result
    if not isinstance(found, Feel):
        return _Part(work_shown(job), "" if job is None else job.problem)
    units = units_named(asked.units)
    bands = {
        f"{g.from_m / units.far_m:.0f} to {g.to_m / units.far_m:.0f} {units.far}": _middle(g)
        for g in found.called_bands
    }
    weeks = {f"{k.monday:%Y-%m-%d}": (k.low, k.middle, k.high) for k in found.weeks[-_WEEKS:]}
    pictures = (
        gaps_picture([_by_shot(found.called), _by_shot(found.intended)], "gap [%]"),
        gaps_picture([bands], "called less measured [%]"),
        gaps_picture([weeks], "called less measured [%]") if len(weeks) > 1 else None,
    )
    return _Part(None, "", pictures, _rows(found))


def _middle(gap: FeelGap) -> Middle:
    return gap.low, gap.middle, gap.high


def _by_shot(gaps: tuple[FeelGap, ...]) -> dict[str, Middle]:
    return {one_line(g.label): _middle(g) for g in gaps}


def _rows(feel: Feel) -> tuple[_Row, ...]:
    meant = {g.label: gap_words(g) for g in feel.intended}
    return tuple(
        _Row(one_line(g.label), g.balls, gap_words(g), meant.get(g.label, "")) for g in feel.called
    )


def _curve(asked: Asked) -> _Part:
    job = job_about(asked, _CURVE, _log(asked))
    found = None if job is None else job.result
    if not isinstance(found, tuple):
        return _Part(work_shown(job), "" if job is None else job.problem)
    return _Part(None, "", curve=curve_picture(found, units_named(asked.units)))


ROUTES = (
    look("/book/learning", planning(_part)),
    change("/book/learn", planning(_start)),
    change("/book/learn/stop", _stop),
    look("/book/learnt", planning(_learnt)),
    look("/book/feel", planning(_feel_part)),
    change("/book/feel", planning(_begin_feel)),
    change("/book/feel/stop", _stop_feel),
    look("/book/curve", planning(_curve_part)),
    change("/book/curve", planning(_begin_curve)),
    change("/book/curve/stop", _stop_curve),
)
