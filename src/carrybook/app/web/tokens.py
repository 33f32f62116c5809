"""Signed words: who asks, that a change comes from our own form, that a passphrase was said."""

import hmac
import secrets
import time
from hashlib import sha256

__all__ = ["form_token", "is_form_token", "is_visitor", "new_visitor", "pass_of", "pass_stands"]

_PASS_LASTS_S = 12 * 3600  # ours: a day's golf


def new_visitor() -> str:
    """Name a browser that has not been here."""
    return secrets.token_urlsafe(24)


def is_visitor(name: str | None) -> bool:
    """Whether it is shaped like a name of ours."""
    return name is not None and len(name) == 32 and name.isascii()


def form_token(secret: bytes, visitor: str) -> str:
    """What a form of that browser must bring back."""
    return _signed(secret, f"form {visitor}")


def is_form_token(secret: bytes, visitor: str, token: str) -> bool:
    """Whether a form brought back what it was given."""
    return hmac.compare_digest(form_token(secret, visitor).encode(), token.encode())


def pass_of(secret: bytes, now: float | None = None) -> str:
    """Give who said the passphrase something to show at the door for twelve hours."""
    until = str(int((time.time() if now is None else now) + _PASS_LASTS_S))
    return f"{until}.{_signed(secret, f'pass {until}')}"


def pass_stands(secret: bytes, shown: str, now: float | None = None) -> bool:
    """Whether what is shown at the door is ours and still holds."""
    until, _, signature = shown.partition(".")
    signed = hmac.compare_digest(_signed(secret, f"pass {until}").encode(), signature.encode())
    holds = until.isascii() and until.isdigit() and len(until) < 16
    return signed and holds and int(until) > (time.time() if now is None else now)


def _signed(secret: bytes, words: str) -> str:
    return hmac.new(secret, words.encode(), sha256).hexdigest()
