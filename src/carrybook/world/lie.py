"""Where the ball sits and how wet it is, in the trade's words."""

from enum import StrEnum

__all__ = ["Lie", "Moisture"]


class Lie(StrEnum):
    """What the ball sits on."""

    TEE = "tee"
    FAIRWAY = "fairway"
    LIGHT_ROUGH = "light rough"
    DEEP_ROUGH = "deep rough"
    SAND = "sand"


class Moisture(StrEnum):
    """How wet face and ball are at impact."""

    DRY = "dry"
    DEW = "dew"
    WET = "wet"
