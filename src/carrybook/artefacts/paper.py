"""The ways a card may lie on paper, and the rules it may be made for."""

from enum import StrEnum

__all__ = ["Layout", "Profile"]


class Layout(StrEnum):
    """How pages lie on paper."""

    SINGLE = "single"
    FOLD = "fold"
    A4 = "a4"
    LETTER = "letter"


class Profile(StrEnum):
    """Which rules a card is made for."""

    ORDINARY = "ordinary"
    RESTRICTED = "restricted"
