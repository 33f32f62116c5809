"""Where a hole lies on the earth: its own axes, the local metric plane, longitude and latitude."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import atan2, cos, pi, sin

import numpy as np
from pyproj import Proj
from shapely.geometry.base import BaseGeometry

from carrybook.base.numerics import Floats

__all__ = ["Place"]

_LAST_PIECE = 30.0  # m, ours: the approach is the direction of at least this much of the line


@dataclass(frozen=True)
class Place:
    """The axes of a hole on an equidistant plane around the end of its line.

    Parameters
    ----------
    lon, lat : float
        Middle of the plane, WGS 84. [deg]
    east, north : float
        Origin of the axes on the plane. [m]
    heading : float
        Direction of x, counter-clockwise from east. [rad]
    """

    lon: float
    lat: float
    east: float = 0.0
    north: float = 0.0
    heading: float = 0.0

    @cached_property
    def plane(self) -> Proj:
        """The plane: exact at its middle, and within 1 mm over the length of a hole."""
        return Proj(proj="aeqd", lon_0=self.lon, lat_0=self.lat, ellps="WGS84")

    @property
    def bearing_rad(self) -> float:
        """Direction of x, clockwise from north. [rad]"""
        return float((pi / 2.0 - self.heading) % (2.0 * pi))

    def on_plane(self, lonlat: Floats) -> Floats:
        """Turn pairs of longitude and latitude into (east, north)."""
        return np.column_stack(self.plane(*lonlat.T))

    def to_axes(self, lonlat: Floats) -> Floats:
        """Turn pairs of longitude and latitude [deg] into (x, y) [m]."""
        return self.turned(self.on_plane(lonlat))

    def turned(self, plane: Floats) -> Floats:
        """Turn (east, north) of the plane into (x, y)."""
        return np.asarray((plane - (self.east, self.north)) @ self._turn())

    def to_lonlat(self, xy: Floats) -> Floats:
        """Turn (x, y) pairs [m] into longitude and latitude [deg]."""
        plane = xy @ self._turn().T + (self.east, self.north)
        return np.column_stack(self.plane(plane[:, 0], plane[:, 1], inverse=True))

    def along(self, line: BaseGeometry) -> "Place":
        """Put the origin at the end of a line on the plane, x along its last 30 m."""
        before = line.interpolate(max(0.0, line.length - _LAST_PIECE))
        end = line.interpolate(line.length)
        heading = atan2(end.y - before.y, end.x - before.x)
        return replace(self, east=end.x, north=end.y, heading=heading)

    def forward(self, x: float) -> "Place":
        """Move the origin along x."""
        c, s = cos(self.heading), sin(self.heading)
        return replace(self, east=self.east + x * c, north=self.north + x * s)

    def _turn(self) -> Floats:
        c, s = cos(self.heading), sin(self.heading)
        return np.array([[c, -s], [s, c]])
