"""Results as JSON and back: the same values; and nothing but values of ours can come out."""

from datetime import UTC, date, datetime
from math import inf, isnan, nan

import numpy as np
import pytest

from carrybook.app.web.plain import from_json, to_json
from carrybook.base.digest import digest_of
from carrybook.decision.advice import Trouble
from carrybook.player.level import Scatter
from carrybook.world.air import Air
from carrybook.world.hole import HoleLocation
from carrybook.world.lie import Lie

WHOLE = (
    None,
    True,
    3,
    0.1,
    -inf,
    "é <b>",
    Lie.FAIRWAY,
    (1, [2.5, ()], {}),
    {Trouble.WATER: 0.25, "a": (Lie.SAND,)},
    Scatter(0.05, 0.02),
    Air(288.15, 101_325.0, 0.5),
    HoleLocation(12.0, -3.0, 15.0, 9.0, 8.0, 20.0),
    b"%PDF\x00\xff",
    date(2026, 5, 31),
    datetime(2026, 5, 31, 9, 30, tzinfo=UTC),
    np.array([[1.0, nan], [inf, -0.0]]),
    np.array([True, False]),
    np.arange(6, dtype=np.int32).reshape(2, 3).T,
)


@pytest.mark.parametrize("value", WHOLE, ids=lambda v: type(v).__name__)
def test_what_is_written_is_read(value: object) -> None:
    back = from_json(to_json((value,)))
    assert digest_of(back) == digest_of((value,))


def test_a_nan_stays_one() -> None:
    back = from_json(to_json(nan))
    assert isinstance(back, float)
    assert isnan(back)


@pytest.mark.parametrize("value", [{1}, object(), len, np.float64, range(3)])
def test_what_has_no_plain_form_is_refused(value: object) -> None:
    with pytest.raises(TypeError, match="cannot be kept"):
        to_json((value,))


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"{",
        b'{"ours": ["os:system", {"command": "true"}]}',
        b'{"ours": ["carrybook.app.web.shelf:Shelf", {"folder": "/"}]}',
        b'{"ours": ["carrybook.app.web.shelf:import_module", {}]}',
        b'{"ours": ["carrybook.world.lie:Lie", {}]}',
        b'{"enum": ["carrybook.world.air:Air", 1]}',
        b'{"enum": ["carrybook.world.lie:Lie", "moon"]}',
        b'{"ours": ["carrybook.world.air:Air", {"old_name": 1}]}',
        b'{"ours": ["carrybook.world.nowhere:Air", {}]}',
        b'{"ours": ["carrybook..world:Air", {}]}',
        b'{"array": ["O", [1], "AAAAAAAAAAA="]}',
        b'{"array": ["<f8", [2], "AAAAAAAAAAA="]}',
        b'{"array": [",8", [1], "AAAAAAAAAAA="]}',
        b'{"array": ["<f8", [1]]}',
        b'{"enum": []}',
        b'{"ours": ["carrybook.world.air:Air"]}',
        b'{"two": 1, "keys": 2}',
        b'{"thing": 1}',
        b"[" * 100_000,
    ],
)
def test_anything_else_is_not_read(text: bytes) -> None:
    with pytest.raises(ValueError, match="a kept result cannot be read"):
        from_json(text)
