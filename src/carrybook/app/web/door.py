"""The passphrase of a page that is shared on a local network."""

import time
from collections.abc import Callable
from threading import Lock

from argon2 import PasswordHasher
from argon2.exceptions import VerificationError

from carrybook.base.errors import BadInputError

__all__ = ["SHORTEST", "Door", "TooOftenError"]

SHORTEST = 10  # characters, ours
_LONGEST = 200
_FREE_TRIES = 5  # wrong ones in a row before waiting starts; all ours
_FIRST_WAIT_S = 10.0
_LONGEST_WAIT_S = 900.0


class TooOftenError(Exception):
    """Too many wrong passphrases; `wait_s` says when to come back."""

    def __init__(self, wait_s: float) -> None:
        super().__init__(f"too many wrong passphrases; try again in {wait_s:.0f} s")
        self.wait_s = wait_s


class Door:
    """Asks for the passphrase. Wrong answers are counted for all askers together.

    Parameters
    ----------
    passphrase : str
        At least ten characters; only its argon2 hash is kept, and only in memory.
    clock : callable
        Seconds that only go up.

    Raises
    ------
    BadInputError
        A passphrase that is too short or too long.
    """

    def __init__(self, passphrase: str, clock: Callable[[], float] = time.monotonic) -> None:
        if not SHORTEST <= len(passphrase) <= _LONGEST:
            raise BadInputError(
                f"passphrase has {len(passphrase)} characters; it needs {SHORTEST} to {_LONGEST}"
            )
        self._hasher = PasswordHasher()
        self._kept = self._hasher.hash(passphrase)
        self._clock = clock
        self._wrong = 0
        self._shut_until = 0.0
        self._lock = Lock()

    def opens_to(self, said: str) -> bool:
        """Whether that is the passphrase.

        Raises
        ------
        TooOftenError
            It was said wrongly too often; the answer is not even looked at.
        """
        with self._lock:  # one at a time: nobody tries many at once
            wait = self._shut_until - self._clock()
            if wait > 0.0:
                raise TooOftenError(wait)
            right = self._is_right(said)
            self._wrong = 0 if right else self._wrong + 1
            if self._wrong >= _FREE_TRIES:
                doubled = _FIRST_WAIT_S * 2.0 ** min(self._wrong - _FREE_TRIES, 10)
                self._shut_until = self._clock() + min(doubled, _LONGEST_WAIT_S)
            return right

    def _is_right(self, said: str) -> bool:
        if len(said) > _LONGEST:
            return False
        try:
            return self._hasher.verify(self._kept, said.encode("utf-8", "replace"))
        except VerificationError:
            return False
