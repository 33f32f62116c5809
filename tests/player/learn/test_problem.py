"""Designs are laid out as said; several problems stand side by side without touching."""

import numpy as np
import pytest

from carrybook.player.learn.problem import Answer, Group, Problem, columns, part_of, stack


def small(values: list[float], name: str = "centre") -> Problem:
    n = len(values)
    first, one = np.zeros(n, dtype=np.int64), np.ones(n)
    line, groups = columns(n, [(Group(name, 1, 0.1), first, one)])
    scale, scale_groups = columns(n, [(Group("scatter", 1, 0.3, -3.0), first, one)])
    return Problem(
        np.array(values), line, groups, scale, scale_groups, np.full(n, 0.5), np.zeros(n)
    )


def test_each_row_touches_its_own_column_of_a_group() -> None:
    which, what = np.array([1, -1, 0]), np.array([2.0, 3.0, 4.0])
    wide = np.array([[1.0, 0.0], [0.5, 0.5], [0.0, 7.0]])
    parts = [(Group("a", 2, 1.0), which, what), (Group("b", 2, 1.0), which, wide)]
    design, groups = columns(3, parts)
    assert [g.name for g in groups] == ["a", "b"]
    assert design.toarray().tolist() == [[0, 2, 1, 0], [0, 0, 0.5, 0.5], [4, 0, 0, 7]]


def test_groups_know_their_places() -> None:
    problem = small([0.1, 0.2])
    assert problem.places() == {"centre": slice(0, 1)}
    assert problem.places(scale=True) == {"scatter": slice(0, 1)}
    assert problem.kinds == 1
    assert small([]).kinds == 1


def test_stacked_problems_do_not_touch_and_come_apart_again() -> None:
    both = stack({"a": small([0.1, 0.2]), "b": small([5.0])})
    assert both.values.tolist() == [0.1, 0.2, 5.0]
    assert both.kind.tolist() == [0.0, 0.0, 1.0]
    assert both.design.toarray().tolist() == [[1, 0], [1, 0], [0, 1]]
    draws = {g.name: np.full((3, 1), k) for k, g in enumerate(both.groups)}
    answer = Answer(draws, {}, {}, np.array([[0.1, 0.9]]))
    assert part_of(answer, "b", 1).line["centre"].tolist() == [[1], [1], [1]]
    assert part_of(answer, "b", 1).odd.tolist() == [[0.9]]


@pytest.mark.parametrize("rows", [0, 3])
def test_a_group_may_be_empty(rows: int) -> None:
    none = np.full(rows, -1)
    design, groups = columns(rows, [(Group("day", 0, 1.0, pooled=True), none, np.ones(rows))])
    assert design.shape == (rows, 0)
    assert groups[0].size == 0
