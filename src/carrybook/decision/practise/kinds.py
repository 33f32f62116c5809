"""What a session is for, and what its parts are; light, for whoever only needs the words."""

from enum import StrEnum

__all__ = ["Aim", "Kind"]


class Aim(StrEnum):
    """What a session is for."""

    BUILD = "build"
    TEST = "test"
    MIXED = "mixed"


class Kind(StrEnum):
    """What a part of a session is."""

    WARM_UP = "warm-up"
    BLOCK = "block"
    RANDOM = "random"
    TEST = "test"
    REST = "rest"
