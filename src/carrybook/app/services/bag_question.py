"""What a bag of clubs is held against: shots, greens, and every club of the player off each lie."""

from dataclasses import replace
from functools import cache, partial
from math import ceil, floor
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.forms.bag import BagForm
from carrybook.app.services.learn import summaries_by_day
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.day import Day
from carrybook.world.lie import Lie, Moisture

if TYPE_CHECKING:
    from carrybook.decision.bag_fit.greens import Greens
    from carrybook.decision.bag_fit.wedges import Wedge
    from carrybook.decision.demand import Demand
    from carrybook.outcomes.value_map import ValueMap
    from carrybook.player.summary import ShotSummary

__all__ = ["BagQuestion"]

_STEP = 5.0 * YARD


class BagQuestion:
    """What one question about the bag rests on: the demand, the greens, the clubs off each lie."""

    def __init__(self, book: Path | None, asked: BagForm, day: Day) -> None:
        self._book = book
        self._asked = asked
        self._day = day
        self._summaries_on = cache(
            partial(
                summaries_by_day, book, ball_model=asked.ball_model, left_handed=asked.left_handed
            )
        )
        self.summaries = cache(self._summaries)
        self._course = cache(self._make_course)

    def _summaries(self, lie: Lie, moisture: Moisture) -> "tuple[ShotSummary, ...]":
        return self._summaries_on()(replace(self._day, lie=lie, moisture=moisture))

    def owned(self, lie: Lie, moisture: Moisture) -> "tuple[Wedge, ...]":
        """Every club with a trusted shot."""
        from carrybook.decision.bag_fit.wedges import own_wedges

        return own_wedges(self.summaries(lie, moisture))

    def wedges(self) -> "list[Wedge]":
        """Those of them that are wedges, off a clean dry lie."""
        return [w for w in self.owned(Lie.FAIRWAY, Moisture.DRY) if w.replaceable]

    def candidates(self, lie: Lie, moisture: Moisture) -> "tuple[Wedge, ...]":
        """Wedges to choose from, and the clubs that stay."""
        from carrybook.decision.bag_fit.wedges import candidates, is_wedge, own_wedges

        summaries = self.summaries(lie, moisture)
        stay = own_wedges(s for s in summaries if not is_wedge(s))
        return (*stay, *candidates(summaries, *self._asked.lofts))

    def greens(self) -> "Greens":
        """The day and its greens."""
        from carrybook.decision.bag_fit.greens import Greens

        firmness, sd = self._asked.firmness
        return Greens(
            self._day.air, firmness, sd, self._asked.green_speed, wind=self._day.wind,
            course=tuple(self._course().values()), where=tuple(self._course()),
        )  # fmt: skip

    def demand(self, between: tuple[float, float] | None = None) -> "Demand":
        """What is faced: a file, else recorded rounds, else every distance of a range alike.

        Rounds speak where nobody names a range or a lie, once they hold thirty shots that a wedge
        reaches. On a course, that into every green of it, with the hole in front, middle and back.
        """
        from carrybook.decision.bag_fit.demand import demand_over, on_greens

        asked = self._asked
        if asked.demand is not None:
            faced = _from_file(asked.demand)
        else:
            step = 2.0 * _STEP if asked.map else _STEP
            recorded = None if between or self._is_said() else self._recorded()
            faced = recorded or demand_over(
                *(between or self._said_range()), step, lie=asked.lie, moisture=asked.moisture
            )
        course = self._course()
        return on_greens(faced, len(course), f"into {self._holes()}") if course else faced

    def _is_said(self) -> bool:
        asked = self._asked
        usual = (None, None, Lie.FAIRWAY, Moisture.DRY)
        return (asked.nearest, asked.furthest, asked.lie, asked.moisture) != usual

    def _recorded(self) -> "Demand | None":
        """What recorded rounds asked of the wedges; none where they hold too little of it."""
        from carrybook.app.services.round_shots import played_rounds
        from carrybook.decision.bag_fit.demand import demand_of_shots
        from carrybook.decision.demand import ENOUGH, recorded_shots

        low, high = self._usual_range()
        recorded = recorded_shots(played_rounds(self._book))
        shots = [shot for shot in recorded if low <= shot.distance_m <= high]
        return demand_of_shots(shots) if len(shots) >= ENOUGH else None

    def _holes(self) -> str:
        asked = self._asked
        refs = ", ".join(asked.hole) or "all"
        return f"holes {refs} of {asked.map.name}" if asked.map else ""

    def _make_course(self) -> "dict[str, ValueMap]":
        """The greens of the holes asked about, the hole in front, middle and back: "4 front"."""
        from carrybook.app.forms.ground import GroundForm
        from carrybook.app.services.ground import open_ground
        from carrybook.decision.zones import zone_locations
        from carrybook.outcomes.value_map import hole_values
        from carrybook.world.hole_map import list_holes

        asked = self._asked
        if asked.map is None:
            if asked.hole or asked.heights:
                raise BadInputError("--hole and --heights belong to a --map of the course")
            return {}
        maps = {}
        for ref in asked.hole or list_holes(asked.map):
            hole = open_ground(GroundForm.of(map=asked.map, hole=ref, heights=asked.heights))
            zones = zone_locations(hole, asked.green_speed)
            for third in ("front", "middle", "back"):
                in_third = [at for zone, at in zones.items() if zone.value.startswith(third)]
                if in_third:
                    at = min(
                        in_third, key=lambda place: abs(place.from_left_m - place.from_right_m)
                    )
                    name = f"{hole.ref} {third}"
                    maps[name] = hole_values(hole, at, stimp_m=asked.green_speed)
        if not maps:
            raise NoSolutionError(f"no hole may be cut on any green of {self._holes()}")
        return maps

    def _said_range(self) -> tuple[float, float]:
        low, high = self._usual_range()
        return self._asked.nearest or low, self._asked.furthest or high

    def _usual_range(self) -> tuple[float, float]:
        """From the shortest partial of a wedge to the longest carry, in whole steps inside. [m]"""
        from carrybook.decision.bag_fit.fit import reaching

        wedges = self.wedges()
        if not wedges:
            self.candidates(Lie.FAIRWAY, Moisture.DRY)  # which says what is missing
        low, high = reaching(wedges)
        return ceil(low / _STEP) * _STEP, max(ceil(low / _STEP), floor(high / _STEP)) * _STEP


def _from_file(path: Path) -> "Demand":
    from carrybook.decision.bag_fit.demand import bag_demand
    from carrybook.decision.demand import count_alike
    from carrybook.world.faced import read_faced

    return bag_demand(count_alike(read_faced(path)), f"what {path.name} says you face")
