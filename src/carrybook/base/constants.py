"""Physical constants and the numbers of the game. Each has its unit and source beside it.

Sources are keys of docs/sources.md.
"""

from math import pi

__all__ = [
    "BALL_AREA",
    "BALL_DIAMETER",
    "BALL_MASS",
    "BALL_RADIUS",
    "CELSIUS_ZERO",
    "FOOT",
    "GRAVITY",
    "HOLE_RADIUS",
    "INCH_OF_MERCURY",
    "KNOT",
    "MILE_PER_HOUR",
    "RPM",
    "YARD",
]

# Exact by definition (NIST SP 811, 2008).
FOOT = 0.3048  # m
YARD = 0.9144  # m; a pace is taken as one yard, common practice, no source
KNOT = 1852.0 / 3600.0  # m/s
MILE_PER_HOUR = 0.44704  # m/s
RPM = 2.0 * pi / 60.0  # rad/s
CELSIUS_ZERO = 273.15  # K
GRAVITY = 9.80665  # m/s2, standard acceleration of free fall
INCH_OF_MERCURY = 3386.389  # Pa, conventional inch of mercury at 0 degC, rounded as in SP 811

# Rules of Golf / Equipment Rules (rules-of-golf-2023, equipment-rules): limits that makers sit at.
BALL_MASS = 0.04593  # kg, greatest mass 1.620 oz
BALL_DIAMETER = 0.04267  # m, least diameter 1.680 in
HOLE_RADIUS = 0.0540  # m, hole diameter 4.25 in = 108 mm

BALL_RADIUS = BALL_DIAMETER / 2.0
BALL_AREA = pi * BALL_RADIUS**2
