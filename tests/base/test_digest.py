"""Fingerprints: equal values give equal ones, whatever is told apart gives another."""

import subprocess
import sys
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.digest import digest_of, digest_of_sources


class Word(StrEnum):
    """Two words."""

    ONE = "one"
    TWO = "two"


@dataclass(frozen=True)
class Thing:
    """Something of everything."""

    number: float
    word: Word
    values: np.ndarray
    parts: tuple[object, ...] = ()


THING = Thing(1.5, Word.ONE, np.arange(6.0).reshape(2, 3), (1, "a", None))


def test_equal_values_are_alike() -> None:
    same = Thing(1.5, Word.ONE, np.arange(6.0).reshape(2, 3).copy(), (1, "a", None))
    assert digest_of(THING) == digest_of(same)
    assert digest_of({"a": 1, "b": 2}) == digest_of({"b": 2, "a": 1})


@pytest.mark.parametrize(
    "other",
    [
        replace(THING, number=1.5000000000000002),
        replace(THING, word=Word.TWO),
        replace(THING, values=THING.values.reshape(3, 2)),
        replace(THING, values=THING.values.astype(np.float32)),
        replace(THING, values=THING.values + 1e-12),
        replace(THING, parts=(1, "a")),
        replace(THING, parts=("1", "a", None)),
        replace(THING, parts=(True, "a", None)),
    ],
)
def test_whatever_differs_is_told_apart(other: Thing) -> None:
    assert digest_of(other) != digest_of(THING)


def test_borders_between_values_count() -> None:
    assert digest_of(("ab", "c")) != digest_of(("a", "bc"))
    assert digest_of(((1, 2), 3)) != digest_of((1, (2, 3)))
    assert digest_of("one") != digest_of(Word.ONE)


def test_an_array_in_any_layout_is_the_same() -> None:
    values = np.arange(12.0).reshape(3, 4)
    assert digest_of(np.asfortranarray(values)) == digest_of(values)


def test_another_process_says_the_same() -> None:
    program = "from carrybook.base.digest import digest_of; print(digest_of(('a', 1.5, {'k': 2})))"
    said = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True)  # noqa: S603
    assert said.stdout.decode().strip() == digest_of(("a", 1.5, {"k": 2}))


def test_a_thing_without_a_text_of_its_own_is_refused() -> None:
    with pytest.raises(TypeError, match="has no fingerprint"):
        digest_of(object())


def test_sources_are_told_apart_by_what_they_say_in_the_rooms_named(tmp_path: Path) -> None:
    for name in ("a/one.py", "b/two.py", "a/inner/three.py"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("x = 1\n")
    before = digest_of_sources(tmp_path, ("a",))
    for name, same in (("b/two.py", True), ("a/inner/three.py", True), ("a/one.py", False)):
        (tmp_path / name).write_text("x = 2\n")
        assert (digest_of_sources(tmp_path, ("a",)) == before) is same


@given(
    st.lists(st.floats(allow_nan=False), max_size=4),
    st.lists(st.floats(allow_nan=False), max_size=4),
)
def test_lists_are_alike_where_their_texts_are(a: list[float], b: list[float]) -> None:
    assert (digest_of(a) == digest_of(b)) == (repr(a) == repr(b))
