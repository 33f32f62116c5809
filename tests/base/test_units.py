"""Units at the edge: exact factors of NIST SP 811, and refusals that show how to write it."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base import constants as c
from carrybook.base import units
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.base.units import in_unit, many_to_si, parse

# NIST SP 811 (2008), appendix B: factors exact by definition, or to the digits printed.
READ = [
    ("12C", units.TEMPERATURE, 285.15),
    ("54F", units.TEMPERATURE, (54 - 32) / 1.8 + 273.15),
    ("285 K", units.TEMPERATURE, 285.0),
    ("77yd", units.LENGTH, 77 * 0.9144),
    ("70m", units.LENGTH, 70.0),
    ("11 paces", units.LENGTH, 11 * 0.9144),
    ("-3yd", units.SIDE, -3 * 0.9144),
    ("30mps", units.WIND_SPEED, 30.0),
    ("-6ft", units.HEIGHT, -6 * 0.3048),
    ("10ft", units.GREEN_SPEED, 3.048),
    ("5mph", units.SPEED, 5 * 0.44704),
    ("5mps", units.SPEED, 5.0),
    ("18 km/h", units.SPEED, 5.0),
    ("10kt", units.SPEED, 10 * 1852 / 3600),
    ("1004hPa", units.PRESSURE, 100_400.0),
    ("29.65inHg", units.PRESSURE, 29.65 * 3386.389),
    ("30deg", units.ANGLE, math.pi / 6),
    ("9000rpm", units.SPIN, 9000 * 2 * math.pi / 60),
    ("85%", units.FRACTION, 0.85),
    ("105g", units.CLEGG, 105.0),
    ("7,5 m", units.LENGTH, 7.5),
    ("−4ft", units.HEIGHT, -1.2192),
]


@pytest.mark.parametrize(("text", "kind", "value"), READ)
def test_what_people_type_is_read(text: str, kind: units.Kind, value: float) -> None:
    assert parse(text, kind, "it") == pytest.approx(value, rel=2e-6)


KINDS = [k for k in vars(units).values() if isinstance(k, units.Kind)]
REGISTRY = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@pytest.mark.parametrize("kind", KINDS, ids=lambda k: k.name)
def test_every_unit_is_that_of_an_independent_table(kind: units.Kind) -> None:
    for spelling, name in kind.spellings.items():
        mercury = name.endswith("_Hg")  # NIST SP 811 prints seven digits of it
        for number in (-7.25, 0.0, 12.3):
            theirs = REGISTRY.Quantity(number, name).to(kind.si).magnitude
            (ours,) = many_to_si(np.array([number]), kind, spelling)
            assert ours == pytest.approx(theirs, rel=2e-7 if mercury else 1e-14, abs=1e-14)
            assert in_unit(ours, kind, spelling) == pytest.approx(number, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("77", units.LENGTH, "number = 77 has no unit; write it like 77yd"),
        ("77", units.TEMPERATURE, "number = 77 has no unit; write it like 12C"),
        (
            "seventy",
            units.LENGTH,
            "number = 'seventy' is not a number with a unit; write it like 77yd",
        ),
        ("nanyd", units.LENGTH, "is not a number with a unit"),
        ("", units.LENGTH, "is not a number with a unit"),
        ("12C", units.LENGTH, "'C' is not a unit of length; write it like 77yd"),
        ("12parsec", units.LENGTH, "'parsec' is not a unit of length"),
    ],
)
def test_what_cannot_be_read_is_refused_with_an_example(
    text: str, kind: units.Kind, message: str
) -> None:
    with pytest.raises(BadInputError) as refusal:
        parse(text, kind, "number")
    assert message in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_what_is_not_believable_names_the_range_in_the_unit_typed() -> None:
    with pytest.raises(OutOfRangeError, match=r"temp = 900 F is outside -13 to 122 F"):
        parse("900F", units.TEMPERATURE, "temp")
    with pytest.raises(OutOfRangeError, match=r"pressure = 29\.92 hPa is outside 600 to 1100 hPa"):
        parse("29.92hPa", units.PRESSURE, "pressure")
    with pytest.raises(OutOfRangeError, match=r"ball speed = 300 mph is outside 0 to 223\.7 mph"):
        parse("300mph", units.SPEED, "ball speed")
    with pytest.raises(OutOfRangeError, match=r"wind = 70 mph is outside 0 to 67\.11 mph"):
        parse("70mph", units.WIND_SPEED, "wind")
    with pytest.raises(OutOfRangeError, match=r"carry = -3 yd is outside 0 to 1094 yd"):
        parse("-3yd", units.LENGTH, "carry")
    with pytest.raises(OutOfRangeError, match=r"side = 201 m is outside -200 to 200 m"):
        parse("201m", units.SIDE, "side")


@given(st.floats(0.0, 900.0), st.sampled_from(["m", "yd", "ft"]))
def test_there_and_back(value: float, unit: str) -> None:
    si = parse(f"{value:.9f}{unit}", units.LENGTH, "it")
    assert in_unit(si, units.LENGTH, unit) == pytest.approx(value, abs=1e-8)


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused_in_one_line(text: str) -> None:
    try:
        message = str(parse(text, units.LENGTH, "it"))
    except BadInputError as refusal:
        message = str(refusal)
    assert len(message.splitlines()) == 1


def test_constants_are_the_defined_ones() -> None:
    assert (c.FOOT, c.YARD, c.MILE_PER_HOUR) == (0.3048, 0.9144, 0.44704)
    assert pytest.approx(0.514444, abs=5e-7) == c.KNOT
    assert pytest.approx(1.43000e-3, rel=1e-5) == c.BALL_AREA  # of the least legal diameter
