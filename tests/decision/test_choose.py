"""The choice: deterministic, symmetric, away from trouble, with reasons that add up."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError, OutOfRangeError
from carrybook.decision.advice import Advice, Situation, Trouble
from carrybook.decision.candidates import Spot, build, landing_point, spots_over, world_of
from carrybook.decision.choose import ROUGH, SETTLED, Rounds, choose
from carrybook.decision.select import play
from carrybook.outcomes.draws import draw
from carrybook.physics.aerodynamics import MID
from carrybook.physics.flight import body_row, fly_batch, level_net, wind_row
from carrybook.player.bag import Flight, Shape
from carrybook.player.ball_fit import BallFit
from carrybook.player.shape import Curve
from carrybook.player.summary import DayShift, ShotSummary
from carrybook.world.air import Air
from carrybook.world.firmness import TurfKind
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

Bag = tuple[ShotSummary, ...]


@pytest.fixture(scope="module")
def plain(bag: Bag, situation: object) -> Advice:
    return choose(situation(), bag)  # type: ignore[operator]


def test_the_answer_is_whole(plain: Advice, bag: Bag) -> None:
    assert 2 <= len(plain.options) <= 4
    labels = [o.summary.shot.label for o in plain.options]
    assert len(set(labels)) == len(labels)  # different in kind
    first, *others = plain.options
    assert (first.behind, first.close_call) == (0.0, False)
    assert [o.behind for o in others] == sorted(o.behind for o in others)
    for option in (*plain.options, plain.at_flag):
        assert 2.3 < option.strokes < 3.8
        assert 0.0 < option.strokes_se < 0.02
        assert 0.0 < option.near_m < option.far_m
        assert option.run_low_m <= option.run_m <= option.run_high_m
        assert 0.0 <= option.holed <= option.green <= 1.0
        assert sum(option.troubles.values()) <= 1.0
        assert option.finishes.shape == (400, 2)
        assert option.flight.shape[1] == 3
    assert plain.candidates > 100
    assert any("putts" in doubt for doubt in plain.doubts)


def test_the_reasons_add_up_from_the_number_to_the_feel(plain: Advice) -> None:
    for option in plain.options:
        total = plain.situation.number_m + sum(cause.metres for cause in option.why)
        assert total == pytest.approx(option.feel_m, abs=0.02)
        assert option.why[0].metres == pytest.approx(option.landing_m - plain.situation.number_m)


def test_ball_and_body_and_occasion_have_their_own_yards(bag: Bag, situation: object) -> None:
    shift = DayShift(ball=-0.004, body=-0.02, lie=0.01, competition=0.03)
    cold = [replace(b, bias=b.bias + shift.total, shift=shift, bias_slope=-0.1) for b in bag]
    few = Rounds(3, 8, 32, 256)
    best = choose(situation(), cold, facts=False, effort=few).options[0]  # type: ignore[operator]
    added = {cause.name: cause.metres for cause in best.why}
    assert list(added)[-5:] == ["ball", "body", "your lie", "competition", "feel"]
    assert added["body"] == pytest.approx(0.02 * best.playing_m, rel=0.02)
    assert added["ball"] > 0.0 > added["competition"]
    assert added["your lie"] < 0.0
    total = sum(added.values()) + situation().number_m  # type: ignore[operator]
    assert total == pytest.approx(best.feel_m, abs=0.02)


def test_on_the_reference_day_nothing_is_laid_to_the_body(plain: Advice) -> None:
    names = {cause.name for cause in plain.options[0].why}
    assert names.isdisjoint({"ball", "body", "your lie", "competition"})


def test_a_green_known_to_grip_checks_the_ball(bag: Bag, situation: object) -> None:
    soft = {"firmness_g": 75.0, "firmness_sd_g": 3.0}
    few = Rounds(3, 8, 32, 2048)
    grips, free = (
        choose(situation(85.0, kind=kind, **soft), bag[1:2], facts=False, effort=few)  # type: ignore[operator]
        for kind in (TurfKind.GRIPPING, TurfKind.FREE)
    )
    assert grips.at_flag is not None
    assert free.at_flag is not None
    assert grips.at_flag.run_m != pytest.approx(free.at_flag.run_m, abs=0.1)
    assert grips.situation.kind is TurfKind.GRIPPING


def test_a_smaller_map_of_putts_hardly_moves_a_rough_answer(bag: Bag, situation: object) -> None:
    asked = situation(85.0)  # type: ignore[operator]
    ground = asked.hole.ground
    tilted = replace(
        ground, heights=ground.heights + 0.03 * ground.step * np.arange(ground.heights.shape[1])
    )
    asked = replace(asked, hole=replace(asked.hole, ground=tilted))
    rough = choose(asked, bag, facts=False, effort=ROUGH)
    whole = replace(ROUGH, putts_within_m=25.0)
    told = choose(asked, bag, facts=False, effort=whole)
    assert rough.options[0].summary.shot.label == told.options[0].summary.shot.label
    assert rough.options[0].strokes == pytest.approx(told.options[0].strokes, abs=0.01)


def test_the_flight_ends_at_the_landing_spot(plain: Advice) -> None:
    for option in plain.options:
        assert option.flight[-1, :2] == pytest.approx(
            [option.landing_x, option.landing_y], abs=0.02
        )
        assert option.flight[:, 2].max() == pytest.approx(option.apex_m, abs=0.05)


def test_the_same_seed_gives_the_same_answer(plain: Advice, bag: Bag) -> None:
    again = choose(plain.situation, bag)
    assert [o.strokes for o in again.options] == [o.strokes for o in plain.options]
    assert [o.landing_m for o in again.options] == [o.landing_m for o in plain.options]
    other = choose(plain.situation, bag, seed=2)
    assert other.options[0].strokes != plain.options[0].strokes
    assert other.options[0].strokes == pytest.approx(plain.options[0].strokes, abs=0.03)


def test_cold_wind_and_lie_each_show_in_the_reasons(bag: Bag, situation: object) -> None:
    day = dict(
        air=Air(278.15, 101_000.0, 0.9),
        wind=Wind(5.0, 0.0),
        lie=Lie.LIGHT_ROUGH,
        moisture=Moisture.WET,
    )
    advice = choose(situation(80.0, **day), bag)  # type: ignore[operator]
    why = {cause.name: cause.metres for cause in advice.options[0].why}
    assert abs(why["air"]) < 1.5  # over 80 yd, cold air alone is worth little
    assert why["wind"] > 1.5
    assert abs(why["slope"]) < 0.01
    assert why["lie"] != 0.0
    thin = Air(298.15, 80_000.0, 0.3)
    high = choose(situation(110.0, air=thin), bag)  # type: ignore[operator]
    assert {c.name: c.metres for c in high.options[0].why}["air"] < -0.5


def test_a_mirrored_hole_mirrors_the_answer(bag: Bag, situation: object) -> None:
    left = choose(situation(85.0, (15.0, 8.0), water_left_of=12.5), bag)  # type: ignore[operator]
    right = choose(situation(85.0, (15.0, -8.0), water_right_of=12.5), bag)  # type: ignore[operator]
    a, b = left.options[0], right.options[0]
    assert a.strokes == pytest.approx(b.strokes, abs=4.0 * np.hypot(a.strokes_se, b.strokes_se))
    assert a.landing_right_m == pytest.approx(-b.landing_right_m, abs=2.1 * YARD)
    assert a.landing_right_m > 1.0  # away from the water


def test_wider_scatter_aims_further_from_the_water(bag: Bag, situation: object) -> None:
    # In the spirit of Tibshirani, Price & Taylor 2011, JRSS A 174: the best aim moves with scatter.
    def aim(side: float) -> float:
        wide = tuple(replace(s, side_rad=np.radians(side)) for s in bag)
        near_water = situation(85.0, (15.0, 6.0), water_left_of=12.0)  # type: ignore[operator]
        return choose(near_water, wide).options[0].landing_right_m

    tight, wide = aim(0.7), aim(4.0)
    assert wide > tight + 2.0


def test_trouble_has_the_chance_that_the_finishes_show(bag: Bag, situation: object) -> None:
    advice = choose(situation(85.0, (4.0, 0.0), bunker_short=True), bag)  # type: ignore[operator]
    option = advice.options[0]
    assert 0.0 < option.troubles[Trouble.BUNKER] < 0.4
    assert Trouble.WATER not in option.troubles


def test_on_a_firm_green_it_lands_shorter_of_a_back_hole(bag: Bag, situation: object) -> None:
    # Common practice, no source: firm green and back hole, land short and let it release.
    def short(firmness: float) -> float:
        low = [s for s in bag if s.shot.label == "54 low"]
        back = situation(82.0, (24.0, 0.0), firmness_g=firmness)  # type: ignore[operator]
        return choose(back, low).options[0].landing_to_hole_m

    assert short(130.0) > short(70.0) + 1.0


def test_at_the_flag_is_landed_at_the_hole(plain: Advice) -> None:
    assert plain.at_flag.landing_m == pytest.approx(plain.situation.number_m)
    assert plain.at_flag.landing_right_m == 0.0
    assert plain.at_flag.behind > -0.02  # habit never beats the choice by more than noise


def test_a_shot_not_trusted_is_left_out_and_said_so(bag: Bag, situation: object) -> None:
    shy = [replace(s, shot=replace(s.shot, trusted=s.shot.label != "54")) for s in bag]
    advice = choose(situation(), shy)  # type: ignore[operator]
    assert "54" not in [o.summary.shot.label for o in advice.options]
    assert any(line.startswith("54: you do not trust it") for line in advice.left_out)


def test_when_nothing_reaches_it_says_what_would(bag: Bag, situation: object) -> None:
    with pytest.raises(
        NoSolutionError, match=r"hole 170 yd away .* your trusted shots cover 48 to 120 yd"
    ):
        choose(situation(140.0, (15.0, 0.0)).__class__(  # type: ignore[operator, attr-defined]
            **{**_fields(situation(140.0)), "ball_x": 15.0 - 170.0 * YARD}), bag)  # type: ignore[operator]  # fmt: skip
    with pytest.raises(NoSolutionError, match="the book holds no shots yet"):
        choose(situation(), [])  # type: ignore[operator]


def _fields(s: Situation) -> dict[str, object]:
    return {name: getattr(s, name) for name in s.__slots__}


def test_sand_is_refused(bag: Bag, situation: object) -> None:
    with pytest.raises(BadInputError, match="sand"):
        choose(situation(lie=Lie.SAND), bag)  # type: ignore[operator]


@pytest.mark.parametrize(
    ("given", "message"),
    [
        (dict(firmness_g=300.0), "firmness = 300 g is outside 40 to 160 g"),
        (dict(stimp_m=0.5), "green speed = 1.64042 ft is outside 4 to 18 ft"),
        (dict(firmness_sd_g=float("nan")), "uncertainty of the firmness = nan g"),
    ],
)
def test_a_situation_of_no_course_is_refused(
    situation: object, given: dict[str, float], message: str
) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        situation(**given)  # type: ignore[operator]


def test_progress_is_told_from_nothing_to_all(bag: Bag, situation: object) -> None:
    told: list[float] = []
    choose(situation(), bag, progress=lambda _what, share: told.append(share))  # type: ignore[operator]
    assert told == sorted(told)
    assert (told[0], told[-1]) == (0.0, 1.0)


def shaped(summary: ShotSummary, tilt: float, error: float = 0.0) -> ShotSummary:
    shape = Shape.DRAW if tilt < 0.0 else Shape.CUT
    return replace(summary, shot=replace(summary.shot, shape=shape), curve=Curve(tilt, error, 40))


@pytest.mark.parametrize("tilt", [-0.12, 0.12])
@pytest.mark.parametrize("wind", [Wind(0.0, 0.0), Wind(5.0, 1.2)])
def test_a_curving_ball_still_lands_on_its_spot(
    bag: Bag, situation: object, tilt: float, wind: Wind
) -> None:
    asked = situation(85.0, wind=wind)  # type: ignore[operator]
    world = world_of(asked)
    spots = spots_over([-4.0, 0.0, 3.0], [-6.0, 0.0, 6.0])
    straight = build(world, asked, bag[1], spots)
    bent = build(world, asked, shaped(bag[1], tilt), spots)
    assert len(bent) == len(straight) > 3
    for a, b in zip(straight, bent, strict=True):
        assert a.spot == b.spot
        assert (b.solved[1] < a.solved[1]) == (tilt > 0.0)  # a cut starts further left
        assert abs(b.solved[1] - a.solved[1]) == pytest.approx(0.24 * abs(tilt), rel=0.6)
        launched = [b.solved[0], 0.0, 0.0, tilt, b.solved[1]]
        launched[1], ratio = bag[1].launch_rad, bag[1].spin_per_speed
        launched[2] = ratio * b.solved[0]
        (landed,) = fly_batch(
            np.array([launched]), body_row(asked.air), MID.row()[None, :],
            np.zeros(1, dtype=np.int64),
            wind_row(wind, world.line_right_rad, world.wind_level_m)[None, :], level_net(),
            world.start,
        )  # fmt: skip
        assert landed[:2] == pytest.approx(landing_point(world, b.spot), abs=0.01)


def test_advice_tells_start_line_and_curve_and_how_unsure_it_is(
    bag: Bag, situation: object
) -> None:
    draws = [shaped(s, -0.1, 0.03) for s in bag]
    advice = choose(situation(85.0), draws)  # type: ignore[operator]
    for option in advice.options:
        assert option.curve_right_m < -0.5
        assert option.curve_se_m == pytest.approx(0.3 * abs(option.curve_right_m), rel=0.1)
        landed = np.tan(option.start_right_rad) * option.landing_m + option.curve_right_m
        assert landed == pytest.approx(option.landing_right_m, abs=0.3)
        assert option.flight[-1, :2] == pytest.approx(
            [option.landing_x, option.landing_y], abs=0.02
        )
    assert not any("curve" in doubt for doubt in advice.doubts)  # forty balls show it
    plain = choose(situation(85.0), bag)  # type: ignore[operator]
    assert all(abs(o.curve_right_m) < 0.02 and o.curve_se_m == 0.0 for o in plain.options)


def test_a_guard_rail_stands_in_the_doubts(bag: Bag, situation: object) -> None:
    dead = [replace(s, spin_per_speed=7.0, launch_rad=0.7) for s in bag]
    advice = choose(situation(60.0), dead)  # type: ignore[operator]
    assert any("lift can vanish or reverse" in w for w in advice.options[0].warnings)
    assert set(advice.options[0].warnings) <= set(advice.doubts)
    calm = choose(situation(60.0), bag)  # type: ignore[operator]
    assert not any("vanish" in doubt for doubt in calm.doubts)


def test_a_ball_with_more_drag_plays_longer_into_the_wind(bag: Bag, situation: object) -> None:
    asked = situation(75.0, wind=Wind(4.0, 0.0))  # type: ignore[operator]
    spot, playing = [Spot(0.0, 0.0)], []
    for factor in (0.85, 1.0, 1.2):
        ball = BallFit("one", 90, (factor,) * 3, (0.02,) * 3, (0.1, 0.8, 0.1))
        (candidate,) = build(world_of(asked), asked, replace(bag[1], ball=ball), spot)
        playing.append(candidate.swing.playing_m)
    assert playing == sorted(playing)
    assert playing[2] > playing[0] + 0.3


def test_a_chance_to_get_down_in_so_many(bag: Bag, situation: object) -> None:
    s = situation(80.0, (15.0, 0.0))
    chances = []
    for strokes in (2, 3, 4):
        best = choose(s, bag, at_most=strokes, facts=False).options[0]
        assert best.chance is not None
        chances.append(best.chance)
    assert chances == sorted(chances)
    assert 0.02 < chances[0] < 0.5
    assert chances[2] > 0.9
    assert choose(s, bag, facts=False).options[0].chance is None


def test_so_many_strokes_must_be_a_number_of_strokes(bag: Bag, situation: object) -> None:
    with pytest.raises(OutOfRangeError, match="at most = 0 strokes is outside 1 to 6 strokes"):
        choose(situation(80.0), bag, at_most=0)


def test_deep_rough_takes_out_what_it_makes_foolish(bag: Bag, situation: object) -> None:
    advice = choose(situation(80.0, lie=Lie.DEEP_ROUGH), bag, facts=False)
    assert any("54 low: a low flight does not get out" in line for line in advice.left_out)
    assert all(o.summary.shot.flight is not Flight.LOW for o in advice.options)


def test_with_no_scatter_the_choice_is_that_of_brute_force(bag: Bag, situation: object) -> None:
    s = situation(80.0, (15.0, 3.0), water_left_of=9.0, firmness_sd_g=0.0)
    exact = [replace(b, spread=1e-9, side_rad=1e-9, bias_se=0.0) for b in bag]
    advice = choose(s, exact, facts=False)
    world = world_of(s)
    everything = [c for b in exact for c in build(world, s, b, spots_over())]
    strokes = play(world, everything, draw(np.random.default_rng(4), 400), 2.8).finish.strokes
    assert advice.options[0].strokes < strokes.mean(axis=1).min() + 0.02


@pytest.mark.parametrize("effort", [ROUGH, SETTLED])
def test_less_effort_gives_the_same_kind_of_answer_with_larger_errors(
    bag: Bag, situation: object, plain: Advice, effort: Rounds
) -> None:
    rough = choose(situation(), bag, effort=effort)  # type: ignore[operator]
    assert rough.draws == effort.final_draws < plain.draws
    assert rough.options[0].strokes_se > plain.options[0].strokes_se
    spread = 4.0 * (rough.options[0].strokes_se + plain.options[0].strokes_se)
    assert rough.options[0].strokes == pytest.approx(plain.options[0].strokes, abs=spread)
    labels = {option.summary.shot.label for option in plain.options}
    assert rough.options[0].summary.shot.label in labels


def test_it_can_be_stopped_between_two_rounds(bag: Bag, situation: object) -> None:
    class StopError(Exception):
        pass

    told = []

    def stop(words: str, _share: float) -> None:
        told.append(words)
        if told.count("playing every candidate") == 2:
            raise StopError

    with pytest.raises(StopError):
        choose(situation(), bag, progress=stop)  # type: ignore[operator]
    assert "done" not in told


@pytest.mark.parametrize("turn", [0.0, 359.99, -359.99])
def test_a_wind_from_either_side_of_dead_ahead_is_the_same_wind(
    bag: Bag, situation: object, turn: float
) -> None:
    wind = Wind(6.0, np.radians(turn))
    best = choose(situation(wind=wind), bag, effort=ROUGH).options[0]  # type: ignore[operator]
    assert best.why[2].metres > 0.0
