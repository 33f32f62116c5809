"""Pictures, sheet and words of practice: they show what they were given."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from io import BytesIO
from math import radians

import numpy as np
import pytest
from pypdf import PdfReader

from carrybook.artefacts.practice import history_figure, leaks_figure
from carrybook.artefacts.practice_sheet import practice_sheet
from carrybook.artefacts.practice_words import load_words, session_event, step_words
from carrybook.artefacts.words import METRES, YARDS
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.decision.practise.demand import usual_demand
from carrybook.decision.practise.history import History, Retest
from carrybook.decision.practise.kinds import Kind
from carrybook.decision.practise.leak import leaks
from carrybook.decision.practise.levels import baseline_named
from carrybook.decision.practise.load import Load
from carrybook.decision.practise.parts import Plan
from carrybook.decision.practise.session import plan_session
from carrybook.decision.practise.standing import change_between, result_of
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import ShotSummary, summarise

QUIET = Load(10, (40, 50, 60, 50), 60)


def shot(club: str, loft: float, carry: float, cue: str = "") -> Shot:
    return Shot(
        Club(club, radians(loft)), Flight.STOCK, Shape.STRAIGHT, carry, 0.55 * carry, carry, cue=cue
    )


@pytest.fixture(scope="module")
def plan() -> Plan:
    bag = [
        shot("60", 60.0, 65.0, "chest turns"),
        shot("54", 54.0, 82.0, "hold"),
        shot("48", 48.0, 105.0),
    ]
    summaries: Sequence[ShotSummary] = [replace(s, balls=30) for s in summarise(bag, [])]
    return plan_session(
        leaks(summaries, usual_demand(), baseline_named("own", summaries)), balls=60, minutes=45.0
    )


def looked_back(*scores: float) -> History:
    results = [result_of([s] * 27, side=True) for s in scores]
    tests = tuple(
        Retest(
            f"2026-{k + 1:02d}-01T17:00:00+00:00",
            result,
            change_between(results[0], result) if k else None,
            change_between(results[k - 1], result) if k else None,
        )
        for k, result in enumerate(results)
    )
    return History((), tests)


def test_leaks_are_drawn_in_their_order(plan: Plan) -> None:
    left, right = leaks_figure(plan).axes
    (line,) = (c for c in left.lines if c.get_marker() == "o")
    losses = [r.loss for r in plan.leaks.rows[:14]]
    np.testing.assert_allclose(line.get_xdata(), losses)
    rows = plan.leaks.rows[:14]
    widths = np.array([bar.get_width() for bar in right.patches]).reshape(2, -1)
    np.testing.assert_allclose(widths[0], [r.leaked for r in rows])
    np.testing.assert_allclose(widths.sum(axis=0), [r.worth for r in rows])
    assert left.get_yticklabels()[0].get_text().endswith(plan.leaks.rows[0].play.shot)
    with pytest.raises(BadInputError, match="units = 'miles'"):
        leaks_figure(plan, units="miles")


def test_tests_are_drawn_with_the_band_of_luck() -> None:
    (axes,) = history_figure(looked_back(6.0, 5.5, 5.0)).axes
    (line,) = (c for c in axes.lines if c.get_marker() == "o")
    np.testing.assert_allclose(line.get_ydata(), [6.0, 5.5, 5.0])
    (band,) = axes.patches
    low = band.get_xy()[1] if hasattr(band, "get_xy") else None
    smallest = looked_back(6.0, 5.0).tests[1].since_first
    assert smallest is not None
    assert np.ravel(low).min() == pytest.approx(6.0 * (1.0 - smallest.smallest))
    assert len(history_figure(looked_back(6.0)).axes[0].patches) == 0
    with pytest.raises(NoSolutionError, match="no standing test was struck in full yet"):
        history_figure(History((), ()))


def test_the_sheet_has_every_target_and_room_to_write(plan: Plan) -> None:
    sheet = practice_sheet(plan, QUIET)
    assert sheet == practice_sheet(plan, QUIET)
    reader = PdfReader(BytesIO(sheet))
    text = "\n".join(page.extract_text() for page in reader.pages)
    for needed in ("called", "carried", "side", "Warm-up, 10 min", "Nobody forward of the line"):
        assert needed in text
    assert "see a clinician" in text
    assert "chest turns" in text
    for number in range(1, len(plan.struck) + 1):
        assert f"\n{number}\n" in f"\n{text}\n"
    page = reader.pages[0].mediabox
    assert (round(page.width), round(page.height)) == (595, 842)  # A4, iso-216
    assert "page 2" in text


def test_the_sheet_in_metres(plan: Plan) -> None:
    text = PdfReader(BytesIO(practice_sheet(plan, QUIET, units="metres"))).pages[0].extract_text()
    assert "Lengths in m." in text


def test_an_odd_label_cannot_break_the_sheet(plan: Plan) -> None:
    ball = plan.struck[0]
    play = replace(ball.play, shot="54 \U0001f3cc low " * 3, cue="\x07ring " * 30)
    step = replace(plan.steps[1], balls=(replace(ball, play=play),) * 40)
    sheet = practice_sheet(replace(plan, steps=(plan.steps[0], step)), QUIET)
    assert len(PdfReader(BytesIO(sheet)).pages) >= 2


def test_load_is_a_note_and_no_limit() -> None:
    (quiet,) = load_words(QUIET)
    assert "10 balls in the last seven days and 60 now make 70" in quiet
    loud = " ".join(load_words(Load(200, (40, 50, 60, 50), 60)))
    assert "5.2 times your usual week" in loud
    assert "association, not a limit" in loud
    assert "none is logged of the four weeks before" in next(load_words(Load(0, (0, 0, 0, 0), 60)))


def test_steps_in_words(plan: Plan) -> None:
    by_kind = {step.kind: step for step in plan.steps}
    assert step_words(by_kind[Kind.WARM_UP], YARDS).startswith("5 min of easy moving")
    assert " easy with the " in step_words(by_kind[Kind.WARM_UP], YARDS)
    block = by_kind[Kind.BLOCK].balls
    assert step_words(by_kind[Kind.BLOCK], YARDS).startswith(f"{len(block)} x ")
    assert " m with the " in step_words(by_kind[Kind.BLOCK], METRES)
    assert "light rough" in step_words(by_kind[Kind.RANDOM], YARDS)


def test_an_event_holds_the_session_and_its_cautions(plan: Plan) -> None:
    start = datetime(2026, 6, 1, 17)
    event = session_event(plan, QUIET, units="yards", start=start)
    assert event.start == start
    assert plan.takes_min <= event.minutes <= plan.takes_min + 1.0
    assert f"{plan.count} balls" in event.summary
    assert "warm-up" in event.description
    assert "cue 60: chest turns" in event.description
    assert "Nobody forward of the line" in event.description
