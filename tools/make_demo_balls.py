"""Writes the player of the demo: the shots owned, and a log of balls from two invented sessions.

Run `.venv/bin/python tools/make_demo_balls.py` to write both files anew; one seed, so they come out
the same until the flight model changes. `SHOTS` and the constants below it are the truth behind the
log: what a calibration should find again. Every number is ours; none belongs to a real player.

The log is as untidy as real ones. The first session wrote yards and degrees Fahrenheit, the second
metres and degrees Celsius, into the cells; launch data are there for some balls only; cells are
missing; four rows are nonsense.
"""

import csv
import io
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from math import degrees, radians, sqrt
from pathlib import Path

import numpy as np

from carrybook.base.constants import CELSIUS_ZERO, MILE_PER_HOUR, RPM, YARD
from carrybook.physics.flight import Landing, Launch, fly
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import off_this_lie
from carrybook.world.air import REFERENCE_DAY, Air

FOLDER = Path(__file__).parents[1] / "src" / "carrybook" / "app" / "demo_data"
SEED = 20


@dataclass(frozen=True)
class DemoShot:
    """A shot as the player tells it, and as it is."""

    club: str
    loft_deg: int
    flight: str
    says_yd: int  # stock carry in the player's own words
    shortest_yd: int
    is_yd: float  # stock carry on the reference day: the truth
    launch_deg: float  # the truth, as is the spin
    spin_rpm: float  # at stock carry; spin over ball speed stays the same in partial swings
    trusted: bool
    cue: str

    @property
    def label(self) -> str:
        """Name of the shot in the log."""
        return self.club if self.flight == "stock" else f"{self.club} {self.flight}"


SHOTS = (
    DemoShot("60", 60, "stock", 78, 50, 77.0, 33.0, 9400, True,
             "ball in the middle, let the chest keep turning"),
    DemoShot("60", 60, "low", 62, 40, 63.0, 27.0, 8300, True,
             "ball one back, hands stay in front, short finish"),
    DemoShot("56", 56, "stock", 92, 60, 91.5, 31.0, 9200, True,
             "same tempo as the 60, hold the finish"),
    DemoShot("56", 56, "low", 75, 48, 75.0, 25.5, 8200, True,
             "ball back, chest on top of it, finish at the hip"),
    DemoShot("52", 52, "stock", 105, 68, 103.0, 29.0, 8800, True,
             "smooth, three quarters feels like enough"),
    DemoShot("48", 48, "stock", 118, 77, 118.5, 26.5, 8100, True,
             "full turn, quiet hands"),
    DemoShot("9", 43, "low", 112, 73, 113.5, 18.5, 5900, False,
             "grip down an inch, ball back, punch and stop"),
)  # fmt: skip

# The rest of the truth.
SPEED_SPREAD = 0.022  # standard deviation of ball speed relative to its centre
LAUNCH_SPREAD = radians(1.0)
SPIN_SPREAD = 0.05
SIDE_SPREAD = radians(2.0)
SIDE_CENTRE = radians(0.3)  # right
TAIL = 5.0  # degrees of freedom of Student's t for speed and side: now and then a wide one
PARTIALS_LONG = 0.10  # a felt carry of share s of stock goes (1 + 0.10 (1 - s)) too far
COLD_BODY = 0.97  # carry of the cold session, beyond what the air takes
FAT, THIN = 0.02, 0.02  # share of balls
WET_SPIN = 0.55  # share of the dry spin that is left off a wet lie; launch rises with it
WET_SPEED = 0.99
CALL_SEEN, CALL_BIAS, CALL_SPREAD = 0.6, 1.02, 1.5 * YARD  # share of the error felt; too long; m


@dataclass(frozen=True)
class Session:
    """A session: when, in what air, and how its device writes."""

    start: datetime
    balls: int
    air: Air
    temperature: str
    metres: bool
    body: float
    wet: float
    setting: str


SESSIONS = (
    Session(datetime.fromisoformat("2026-08-14T14:05:00+01:00"), 230,
            Air((75.0 - 32.0) / 1.8 + CELSIUS_ZERO, 101_800.0, 0.45), "75F", False, 1.0, 0.05,
            "range"),
    Session(datetime.fromisoformat("2026-10-21T08:10:00+01:00"), 190,
            Air(7.0 + CELSIUS_ZERO, 100_900.0, 0.92), "7C", True, COLD_BODY, 0.20,
            "practice green"),
)  # fmt: skip

COLUMNS = (
    "time", "shot", "intended (yd)", "called (yd)", "carry (yd)", "side (yd)", "ball speed (mph)",
    "launch (deg)", "spin (rpm)", "temperature", "humidity (%)", "pressure (hPa)", "lie",
    "moisture", "setting", "note",
)  # fmt: skip
Row = dict[str, str]

# Row of the log, column, what stands there: slips of the pen that an import must set aside.
SLIPS = (
    (37, "carry (yd)", "about 70"),
    (118, "carry (yd)", "1910"),
    (203, "shot", "64"),
    (341, "launch (deg)", "high"),
)


def shots_text() -> str:
    """Write the shots that the player owns."""
    header = ("club", "loft_deg", "flight", "shape", "carry_yd", "shortest_yd", "longest_yd",
              "cue", "trusted")  # fmt: skip
    rows = (
        (s.club, s.loft_deg, s.flight, "straight", s.says_yd, s.shortest_yd, s.says_yd + 3, s.cue,
         "yes" if s.trusted else "no")
        for s in SHOTS
    )  # fmt: skip
    text = io.StringIO()
    csv.writer(text).writerows([header, *rows])
    return text.getvalue()


def balls_text() -> str:
    """Write the log of both sessions."""
    rng = np.random.default_rng(SEED)
    rows = [row for session in SESSIONS for row in session_rows(session, rng)]
    for number, column, slip in SLIPS:
        rows[number][column] = slip
    text = io.StringIO()
    log = csv.DictWriter(text, COLUMNS, delimiter=";")
    log.writeheader()
    log.writerows(rows)
    return text.getvalue()


def session_rows(session: Session, rng: np.random.Generator) -> list[Row]:
    """Log a session ball by ball, the shots in random order."""
    order = rng.permutation(np.arange(session.balls) % len(SHOTS))
    minutes = np.cumsum(rng.uniform(0.4, 1.1, session.balls))
    return [
        ball_row(SHOTS[shot], session, session.start + timedelta(minutes=float(after)), rng)
        for shot, after in zip(order, minutes, strict=True)
    ]


def ball_row(shot: DemoShot, session: Session, at: datetime, rng: np.random.Generator) -> Row:
    """Strike one ball and write down what the player and the device would."""
    share = 1.0 if rng.random() < 0.55 else rng.uniform(shot.shortest_yd / shot.says_yd, 0.95)
    intended = round(shot.says_yd * share) * YARD
    wet = rng.random() < session.wet
    launch, fault = struck(shot, intended, session, wet, rng)
    landing = fly(launch, session.air)
    return written(shot, session, at, intended, launch, landing, wet, fault, rng)


@cache
def spin_ratio(shot: DemoShot) -> float:
    """Spin over ball speed [rad/m] at the speed that carries the stock shot with its spin."""
    ratio = 0.0
    for _ in range(20):  # each turn shrinks the error about tenfold
        speed = speed_for_carry(shot.is_yd * YARD, radians(shot.launch_deg), ratio, REFERENCE_DAY)
        ratio = shot.spin_rpm * RPM / speed
    return ratio


def struck(
    shot: DemoShot, intended: float, session: Session, wet: bool, rng: np.random.Generator
) -> tuple[Launch, str]:
    """How the ball leaves the face, and the fault if there was one."""
    spin_per_speed = spin_ratio(shot)
    share = intended / (shot.says_yd * YARD)
    carry = shot.is_yd * YARD * share * (1.0 + PARTIALS_LONG * (1.0 - share)) * session.body
    angle = radians(shot.launch_deg)
    centre = speed_for_carry(carry, angle, spin_per_speed, REFERENCE_DAY)
    wide = rng.standard_t(TAIL, 2) / sqrt(TAIL / (TAIL - 2.0))
    speed = centre * (1.0 + SPEED_SPREAD * wide[0])
    right = SIDE_CENTRE + SIDE_SPREAD * wide[1]
    angle += LAUNCH_SPREAD * rng.normal()
    spin_per_speed *= 1.0 + SPIN_SPREAD * rng.normal()
    if wet:
        angle, spin_per_speed = off_this_lie(angle, spin_per_speed, WET_SPIN)
        speed *= WET_SPEED
    luck, fault = rng.random(), ""
    if luck < FAT:
        speed, spin_per_speed, fault = speed * rng.uniform(0.68, 0.85), 0.7 * spin_per_speed, "fat"
    elif luck < FAT + THIN:
        speed, angle, fault = speed * rng.uniform(1.05, 1.20), 0.5 * angle, "thin"
        spin_per_speed *= 0.5
    return Launch(speed, angle, spin_per_speed * speed, start_right_rad=right), fault


def written(
    shot: DemoShot,
    session: Session,
    at: datetime,
    intended: float,
    launch: Launch,
    landing: Landing,
    wet: bool,
    fault: str,
    rng: np.random.Generator,
) -> Row:
    """One row of the log."""
    felt = CALL_SEEN * landing.carry_m + (1.0 - CALL_SEEN) * intended
    called = CALL_BIAS * felt + CALL_SPREAD * rng.normal()

    def device(metres: float) -> str:
        return f"{metres:.1f} m" if session.metres else f"{metres / YARD:.1f}"

    def unless(chance: float, text: str) -> str:
        return "" if rng.random() < chance else text

    row = {
        "time": at.isoformat(timespec="seconds"),
        "shot": shot.label,
        "intended (yd)": f"{intended / YARD:.0f}",
        "called (yd)": unless(0.15, f"{called / YARD:.0f}"),
        "carry (yd)": unless(0.02, device(landing.carry_m)),
        "side (yd)": unless(0.05, device(landing.side_m)),
        "temperature": session.temperature,
        "humidity (%)": unless(0.03, f"{100.0 * session.air.humidity:.0f}"),
        "pressure (hPa)": unless(0.03, f"{session.air.pressure_pa / 100.0:.0f}"),
        "lie": "fairway",
        "moisture": "wet" if wet else "dry",
        "setting": session.setting,
        "note": unless(0.3, fault),
    }
    if rng.random() < 0.6:
        row["ball speed (mph)"] = f"{launch.speed_mps / MILE_PER_HOUR:.1f}"
        row["launch (deg)"] = f"{degrees(launch.launch_rad):.1f}"
        row["spin (rpm)"] = f"{round(launch.spin_rad_s / RPM, -1):.0f}"
    return row


def main() -> None:
    """Write the files."""
    (FOLDER / "shots.csv").write_bytes(shots_text().encode())
    (FOLDER / "balls.csv").write_bytes(balls_text().encode())


if __name__ == "__main__":
    main()
