"""The green on an ordinary card: to scale, the player's way up, what is drawn and what is not."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.artefacts import words as w
from carrybook.artefacts.card_green import LARGEST_SCALE, green_picture
from carrybook.artefacts.card_items import Item, Line, Shape, Text
from carrybook.artefacts.card_sheet import GREEN_BAR, GREEN_MARK
from carrybook.decision.advice import Advice

POINT_M = 0.0254 / 72.0


def outline(items: tuple[Item, ...]) -> Shape:
    (found,) = (i for i in items if isinstance(i, Shape) and i.tag == GREEN_MARK)
    return found


def bar(items: tuple[Item, ...]) -> Line:
    (found,) = (i for i in items if isinstance(i, Line) and i.tag == GREEN_BAR)
    return found


def grown(advice: Advice, times: float) -> Advice:
    """Make the same plan on a green so many times as large, without trouble or heights."""
    s = advice.situation
    hole = replace(s.hole, green=s.hole.green * times, areas=(), heights_known=False)
    return replace(advice, situation=replace(s, hole=hole))


@pytest.mark.parametrize("times", [0.3, 0.7, 1.0, 2.0, 4.0])
def test_no_green_is_drawn_larger_than_three_eighths_of_an_inch_for_five_yards(
    advice: Advice, times: float
) -> None:
    plan = grown(advice, times)
    size, items = green_picture(plan, w.YARDS)
    points = np.array(outline(items).points)
    width, height = np.ptp(points, axis=0) * POINT_M
    deep, wide = np.ptp(plan.situation.hole.green, axis=0)
    assert height / deep == pytest.approx(width / wide)  # one scale both ways
    assert height / deep <= LARGEST_SCALE
    assert pytest.approx(LARGEST_SCALE) == 0.375 * 0.0254 / (5.0 * 0.9144)
    assert size[0] <= 154.1
    assert points.min() >= 0.0
    assert np.all(points.max(axis=0) <= size)


def test_a_small_green_is_drawn_at_one_to_five_hundred(advice: Advice) -> None:
    _, items = green_picture(grown(advice, 0.6), w.YARDS)
    height = np.ptp([y for _, y in outline(items).points]) * POINT_M
    assert 16.8 / height == pytest.approx(500.0, rel=1e-6)
    assert bar(items).x1 * POINT_M == pytest.approx(4.572 / 500.0)


@pytest.mark.parametrize(("units", "metres"), [(w.YARDS, 4.572), (w.METRES, 5.0)])
def test_the_bar_has_the_scale_of_the_picture(
    advice: Advice, units: w.Units, metres: float
) -> None:
    _, items = green_picture(advice, units)
    line, shape = bar(items), outline(items)
    assert line.metres == pytest.approx((metres,))
    scale = np.ptp([y for _, y in shape.points]) / shape.metres[0]
    assert line.x1 - line.x0 == pytest.approx(metres * scale)
    assert shape.metres == pytest.approx((28.0, 22.0))
    (said,) = (i.words for i in items if isinstance(i, Text) and "scale" in i.words)
    assert said == f"5 {units.far}, scale 1:{1.0 / (scale * POINT_M):.0f}"


def test_the_player_looks_up_the_page(advice: Advice) -> None:
    _, items = green_picture(grown(advice, 1.0), w.YARDS)
    points = np.array(outline(items).points)
    middle = points.mean(axis=0)
    flag, diamond = (
        np.array(i.points).mean(axis=0) for i in items if isinstance(i, Shape) and i.filled
    )
    assert flag[1] < middle[1]  # the hole is at the back: further up
    assert flag[0] > middle[0]  # and on the right
    assert diamond[1] > flag[1]  # the ball lands short of it


def test_trouble_is_named_once_and_only_where_it_is_seen(advice: Advice) -> None:
    words = [i.words for i in green_picture(advice, w.YARDS)[1] if isinstance(i, Text)]
    assert words.count("B") == 1
    assert "B bunker" in words
    s = advice.situation
    far = tuple((kind, area + np.array([300.0, 0.0])) for kind, area in s.hole.areas)
    away = replace(advice, situation=replace(s, hole=replace(s.hole, areas=far)))
    assert "B bunker" not in [
        i.words for i in green_picture(away, w.YARDS)[1] if isinstance(i, Text)
    ]


def test_heights_are_drawn_only_where_they_are_known(advice: Advice) -> None:
    shapes = [i for i in green_picture(advice, w.YARDS)[1] if isinstance(i, Shape)]
    contours = [i for i in shapes if i.width == 0.35]
    assert 3 <= len(contours) <= 12
    assert all(i.within == outline(tuple(shapes)).points for i in contours)
    _, flat = green_picture(grown(advice, 1.0), w.YARDS)
    assert not [i for i in flat if isinstance(i, Shape) and i.width == 0.35]
    assert not [i for i in flat if isinstance(i, Text) and "lines every" in i.words]


def test_arrows_point_down_the_slope(advice: Advice) -> None:
    s = advice.situation
    ground = s.hole.ground
    x = ground.x0 + ground.step * np.arange(ground.heights.shape[0])[:, None]
    tilted = replace(ground, heights=0.03 * x + np.zeros_like(ground.heights))
    hole = replace(s.hole, ground=tilted, areas=())
    plan = replace(advice, situation=replace(s, hole=hole))
    arrows = [
        i
        for i in green_picture(plan, w.YARDS)[1]
        if isinstance(i, Line) and not i.tag and i.width == 0.6 and i.y1 - i.y0 > 3.0
    ]
    assert len(arrows) > 8
    for arrow in arrows:  # it falls to the front, which is down the page
        assert arrow.x1 == pytest.approx(arrow.x0, abs=1e-6)
