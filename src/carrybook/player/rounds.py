"""A round as the book knows it: when it began, and when it was over."""

from dataclasses import dataclass

__all__ = ["Round"]


@dataclass(frozen=True, slots=True)
class Round:
    """One round.

    Parameters
    ----------
    begun : str
        When it began: ISO 8601 with its offset.
    ended : str, optional
        When it was over; none while it is on.
    note : str
        In the player's own words.
    setting : str
        "competition" where it counted, "course" where it did not; empty where nobody said.
    """

    begun: str
    ended: str | None = None
    note: str = ""
    setting: str = ""

    @property
    def is_on(self) -> bool:
        """Whether it is not over yet."""
        return self.ended is None
