"""The weather report of an airport (METAR; wmo-fm-15) as a frozen value in SI.

An airport is not the course: its air can be a few degrees off, its wind blows over another
roughness. Directions are true, wind is the mean at 10 m, pressure is reduced to sea level.
"""

import re
import warnings
from dataclasses import dataclass
from math import pi, radians
from typing import TYPE_CHECKING

from carrybook.base.constants import CELSIUS_ZERO
from carrybook.base.errors import BadInputError, require_range
from carrybook.world.air import Air, air_from_dew_point, station_pressure
from carrybook.world.wind import Wind, wind_on_line

if TYPE_CHECKING:
    from metar.Metar import Metar

__all__ = ["WeatherReport", "read_metar"]

_EXAMPLE = "ZZZZ 121030Z 24012KT 9999 SCT020 12/08 Q1015"
_SHOWN = 100  # characters of it in a message
_LONGEST = 1000  # characters, ours: a report has one or two lines
# What is forecast (trend) or said in plain words (remarks) begins with one of these.
_AFTER_THE_REPORT = ("TEMPO", "BECMG", "NOSIG", "FCST", "RMK", "RMKS")
_REMARKS = ("RMK", "RMKS")
_TIME = re.compile(r"(?:0[1-9]|[12]\d|3[01])(?:[01]\d|2[0-3])[0-5]\dZ")
_TENTHS = re.compile(r"T[01]\d{3}[01]\d{3}")
_WIND_WITHOUT_UNIT = re.compile(r"(?:\d{3}|VRB)P?\d{2,3}(?:GP?\d{2,3})?")
# Groups of the code that the package does not know: state of the sea, recent weather not measured.
_NOT_FOR_US = re.compile(r"W(?:M?\d\d|//)/(?:S[\d/]|H[\d/]{1,3})|RE/+")
_ROUNDING_K = 1.0  # two temperatures rounded to 1 K each may change places by this


@dataclass(frozen=True, slots=True)
class WeatherReport:
    """What an airport reported.

    Parameters
    ----------
    station : str
        Its four letters.
    at_text : str
        Day of the month and time, UTC, as written: "121030Z". A report knows no month.
    temperature_k, dew_point_k : float, optional
        Of the air, -80 to 60 C; dew point over water, -100 to 60 C. None: not reported. [K]
    qnh_pa : float, optional
        Altimeter setting: pressure reduced to sea level, 850e2 to 1090e2. None: not reported. [Pa]
    wind_speed_mps, gust_mps : float, optional
        Mean at 10 m, and gusts, 0 to 120. None: not reported; no gusts. [m/s]
    wind_from_true_rad : float, optional
        Where it comes from, clockwise from true north, 0 to 2 pi. None: calm, variable, or not
        reported. [rad]
    raw : str
        The report as given, blanks made single.

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    station: str
    at_text: str
    temperature_k: float | None
    dew_point_k: float | None
    qnh_pa: float | None
    wind_speed_mps: float | None
    gust_mps: float | None
    wind_from_true_rad: float | None
    raw: str

    def __post_init__(self) -> None:
        checks = (
            ("air temperature", self.temperature_k, CELSIUS_ZERO, 1.0, -80.0, 60.0, "C"),
            ("dew point", self.dew_point_k, CELSIUS_ZERO, 1.0, -100.0, 60.0, "C"),
            ("sea-level pressure", self.qnh_pa, 0.0, 100.0, 850.0, 1090.0, "hPa"),
            ("wind", self.wind_speed_mps, 0.0, 1.0, 0.0, 120.0, "m/s"),
            ("gust", self.gust_mps, 0.0, 1.0, 0.0, 120.0, "m/s"),
            ("wind direction", self.wind_from_true_rad, 0.0, 1.0, 0.0, 2.0 * pi, "rad"),
        )
        for what, value, zero, unit, low, high, shown in checks:
            if value is not None:
                require_range(f"{what} of the report", (value - zero) / unit, low, high, shown)

    @property
    def calm(self) -> bool:
        """Whether no wind was measured."""
        return self.wind_speed_mps == 0.0

    @property
    def variable(self) -> bool:
        """Whether there was wind, from no direction that could be stated."""
        return bool(self.wind_speed_mps) and self.wind_from_true_rad is None

    def air(self, elevation_m: float) -> Air:
        """Air at the elevation of the course.

        Parameters
        ----------
        elevation_m : float
            Of the course above sea level. [m]

        Raises
        ------
        BadInputError
            Temperature, dew point or pressure is not in the report, or a quantity is outside its
            range.

        Notes
        -----
        Temperature and dew point are taken as reported, also where the course lies higher or
        lower than the airport.
        """
        t, dew, qnh = self.temperature_k, self.dew_point_k, self.qnh_pa
        if t is None or dew is None or qnh is None:
            known = {"temperature": t, "dew point": dew, "pressure": qnh}
            missing = " and no ".join(name for name, value in known.items() if value is None)
            raise BadInputError(
                f"the weather report of {self.station} has no {missing}; give the air in parts:"
                " temperature, dew point or humidity, pressure"
            )
        return air_from_dew_point(t, dew, station_pressure(qnh, elevation_m))

    def wind(self, line_bearing_rad: float, roughness_m: float) -> Wind:
        """Wind as seen along a line of play, gusts included.

        Parameters
        ----------
        line_bearing_rad : float
            Direction of the line, clockwise from true north, as `Hole.bearing_rad`. [rad]
        roughness_m : float
            Roughness length z0 of the surroundings of the course. [m]

        Raises
        ------
        BadInputError
            No wind in the report, or no direction of it (variable), or a quantity outside its
            range.
        """
        if self.wind_speed_mps is None:
            raise BadInputError(f"the weather report of {self.station} has no wind")
        return wind_on_line(
            self.wind_speed_mps,
            self.wind_from_true_rad,
            line_bearing_rad,
            roughness_m,
            gust_mps=self.gust_mps,
        )


def read_metar(text: str) -> WeatherReport:
    """Read the weather report of an airport.

    Parameters
    ----------
    text : str
        One report: METAR or SPECI, with or without that word. Trend and remarks are left out, but
        for the tenths of temperature and dew point.

    Raises
    ------
    BadInputError
        Not such a report, a group of it that is not understood, or a quantity that cannot be.

    Notes
    -----
    The groups are read by the package metar. Without tenths a temperature is known to 0.5 K, which
    is 0.2 % of density. A dew point above the temperature by up to 1 K, from rounding, counts as
    that temperature.
    """
    raw = " ".join(text.split())
    words = raw.upper().rstrip("= ").split()
    if not words or len(raw) > _LONGEST:
        raise _not_a_report(raw, f"it has {len(raw)} characters")
    end = next((i for i, word in enumerate(words) if word in _AFTER_THE_REPORT), len(words))
    body = [word for word in words[:end] if not _NOT_FOR_US.fullmatch(word)]
    at_text = next((word for word in body if _TIME.fullmatch(word)), None)
    if at_text is None:
        raise _not_a_report(raw, "it has no day and time like 121030Z")
    for word in body[body.index(at_text) + 1 :]:
        if _WIND_WITHOUT_UNIT.fullmatch(word):
            raise _not_a_report(raw, f"{word!r} is not a wind with its unit, KT or MPS")
    tenths = _tenths(words[end:])
    report = _decoded(" ".join((*body, "RMK", *tenths)), raw)
    if report.station_id is None or report.time is None or "NIL" in body:
        raise _not_a_report(raw, "it has no station, or no data")
    return _report(report, at_text, raw)


def _tenths(after: list[str]) -> list[str]:
    """The group of tenths in the remarks, if there is one."""
    start = next((i for i, word in enumerate(after) if word in _REMARKS), len(after))
    return [word for word in after[start:] if _TENTHS.fullmatch(word)][:1]


def _decoded(code: str, raw: str) -> "Metar":
    """Let the package read the groups. It is given a month of 31 days, so that no clock counts."""
    from metar.Metar import Metar, ParserError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return Metar(code, month=1, year=2000)
    except ParserError as error:
        found = re.search(r"Unparsed groups in body '(.*?)'", str(error))
        raise _not_a_report(
            raw, f"{found[1]!r} is not understood" if found else "a group has no such value"
        ) from None


def _report(report: "Metar", at_text: str, raw: str) -> WeatherReport:
    """Take what the package read over into SI."""
    t, dew, qnh = report.temp, report.dewpt, report.press
    speed, gust, direction = report.wind_speed, report.wind_gust, report.wind_dir
    temperature_k = None if t is None else t.value("C") + CELSIUS_ZERO
    dew_point_k = None if dew is None else dew.value("C") + CELSIUS_ZERO
    if temperature_k is not None and dew_point_k is not None:
        if dew_point_k - temperature_k > _ROUNDING_K:
            raise _not_a_report(raw, "its dew point is above its temperature")
        dew_point_k = min(dew_point_k, temperature_k)
    mean = None if speed is None else speed.value("MPS")
    return WeatherReport(
        station=str(report.station_id),
        at_text=at_text,
        temperature_k=temperature_k,
        dew_point_k=dew_point_k,
        qnh_pa=None if qnh is None else qnh.value("HPA") * 100.0,
        wind_speed_mps=mean,
        gust_mps=None if gust is None else gust.value("MPS"),
        wind_from_true_rad=None if direction is None or not mean else radians(direction.value()),
        raw=raw,
    )


def _not_a_report(raw: str, why: str) -> BadInputError:
    shown = raw if len(raw) <= _SHOWN else raw[:_SHOWN] + "..."
    return BadInputError(
        f"weather report = {shown!r} cannot be read: {why}; write it like {_EXAMPLE!r}"
    )
