"""Cautions in words: lightning, heat, cold. For people in health; no medical advice."""

from collections.abc import Iterator

from carrybook.base.constants import CELSIUS_ZERO
from carrybook.world.exposure import SUN_ADDS_K, Exposure, HeatTier

__all__ = ["LIGHTNING", "NOT_MEDICAL", "caution_lines"]

# walsh-2013: leave at the first thunder, 30 minutes after the last.
LIGHTNING = "Lightning: leave at the first thunder, wait 30 minutes after the last."
NOT_MEDICAL = "No medical advice: stop when unwell."


def caution_lines(exposure: Exposure) -> Iterator[str]:
    """Say the tier of heat or cold, where there is one worth a line.

    Notes
    -----
    Heat in the shade from caution on; and where only full sun may make it hot, from extreme caution
    on, or every mild day would carry a warning (ours).
    """
    shade, sun = exposure.heat, exposure.heat_in_sun
    if shade is not None or sun not in (None, HeatTier.CAUTION):
        words = "" if shade is None else f", {shade}"
        more = _degrees(SUN_ADDS_K)
        yield (
            f"Heat: feels {_both(exposure.heat_index_k)} in the shade{words}; full sun adds up to"
            f" {more}: {sun}. Drink, shade, pauses."
        )
    if exposure.cold is not None:
        yield (
            f"Cold: feels {_both(exposure.coldest_k)}, {exposure.cold}. Warm up longer, keep body"
            " and hands warm; a ball must not be heated (Rule 4.2a)."
        )


def _both(kelvin: float) -> str:
    celsius = kelvin - CELSIUS_ZERO
    return f"{round(celsius)} C ({round(celsius * 1.8 + 32.0)} F)"


def _degrees(kelvin: float) -> str:
    return f"{round(kelvin)} C ({round(kelvin * 1.8)} F)"
