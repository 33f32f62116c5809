"""Facts that would change a choice: found where they were put, none where nothing matters."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.decision.advice import Fact
from carrybook.decision.candidates import Spot, build, world_of
from carrybook.decision.choose import choose
from carrybook.decision.facts import facts_that_matter, pinned
from carrybook.decision.select import fewest_strokes
from carrybook.outcomes.draws import draw
from carrybook.outcomes.strokes import Finish
from carrybook.player.summary import ShotSummary

Bag = tuple[ShotSummary, ...]


def landed_deep(finish: Finish) -> np.ndarray:
    """Cost that likes balls near the hole, whatever else."""
    return finish.distance


def test_pinning_a_fact_leaves_the_rest_to_the_same_chance() -> None:
    draws = draw(np.random.default_rng(1), 50)
    known = pinned(draws, Fact.LIE, 1.5)
    assert set(known.lie_spin) == set(known.lie_speed) == {1.5}
    assert (known.firmness == draws.firmness).all()
    assert (known.carry == draws.carry).all()


def test_a_green_that_is_firmer_flips_from_the_running_to_the_high_shot(
    bag: Bag, situation: object
) -> None:
    s = situation(78.0, (22.0, 0.0), firmness_g=80.0, firmness_sd_g=15.0)  # type: ignore[operator]
    world = world_of(s)
    (high,) = build(world, s, bag[0], [Spot(0.0, 0.0)])
    (short,) = build(world, s, bag[2], [Spot(-4.0, 0.0)])  # the low one runs, too far where firm
    draws = draw(np.random.default_rng(3), 2000)
    flips, worths = facts_that_matter(world, short, [short, high], draws, 2.8, landed_deep)
    assert {w.fact for w in worths} == {Fact.FIRMNESS, Fact.GREEN_SPEED}  # calm, clean, dry
    assert [w.strokes for w in worths] == sorted((w.strokes for w in worths), reverse=True)
    assert all(f.instead == high.summary.shot.label for f in flips)
    (firm,) = [f for f in flips if f.fact is Fact.FIRMNESS]
    assert 0.5 < firm.deviation < 2.0
    assert firm.value == pytest.approx(80.0 + 15.0 * firm.deviation)


def test_one_shot_alone_cannot_be_flipped(bag: Bag, situation: object) -> None:
    s = situation(80.0)  # type: ignore[operator]
    world = world_of(s)
    spots = build(world, s, bag[0], [Spot(0.0, 0.0), Spot(-3.0, 0.0)])
    draws = draw(np.random.default_rng(5), 200)
    flips, _ = facts_that_matter(world, spots[0], spots, draws, 2.8, fewest_strokes)
    assert flips == ()


def test_knowing_never_costs(bag: Bag, situation: object) -> None:
    s = situation(85.0, (20.0, 4.0), water_left_of=9.0)  # type: ignore[operator]
    advice = choose(s, bag)
    assert all(w.strokes >= 0.0 and w.error >= 0.0 for w in advice.worths)
    assert choose(s, bag, facts=False).worths == ()


def test_what_is_certain_is_not_asked(bag: Bag, situation: object) -> None:
    s = situation(85.0)  # type: ignore[operator]
    advice = choose(replace(s, firmness_sd_g=0.0), bag)
    assert {w.fact for w in advice.worths} == {Fact.GREEN_SPEED}
