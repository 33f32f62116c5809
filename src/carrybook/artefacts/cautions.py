"""Cautions in words: lightning, heat, cold. For people in health; no medical advice."""

from collections.abc import Iterator

from carrybook.artefacts import words as w
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
        felt, more = w.temperature(exposure.heat_index_k), _degrees(SUN_ADDS_K)
        yield (
            f"Heat: feels {felt} in the shade{words}; full sun adds up to {more}: {sun}."
            " Drink, shade, pauses."
        )
    if exposure.cold is not None:
        yield (
            f"Cold: feels {w.temperature(exposure.coldest_k)}, {exposure.cold}. Warm up longer,"
            " keep body and hands warm; a ball must not be heated (Rule 4.2a)."
        )


def _degrees(kelvin: float) -> str:
    return f"{round(kelvin)} C ({round(kelvin * 1.8)} F)"
