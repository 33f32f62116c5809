"""Sessions as a calendar file: iCalendar, RFC 5545, the small part of it that a plan needs.

Times are floating (form 1 of section 3.3.5): five in the evening is that wherever the player is.
"""

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

__all__ = ["Event", "calendar_of"]

_LONGEST = 75  # octets of a line, its end not counted; RFC 5545, 3.1
_ESCAPED = {"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"}  # RFC 5545, 3.3.11


@dataclass(frozen=True, slots=True)
class Event:
    """Something at a time.

    Parameters
    ----------
    start : datetime
        Local, without a zone.
    minutes : int
        How long.
    summary, description : str
        In one line; in several.
    """

    start: datetime
    minutes: int
    summary: str
    description: str


def calendar_of(events: Iterable[Event], stamp: datetime) -> bytes:
    """Write a calendar.

    Parameters
    ----------
    events : iterable of Event
        What is in it. An event at the same time with the same summary keeps its UID, so that a
        calendar replaces it instead of having it twice.
    stamp : datetime
        When it is written, with its zone.

    References
    ----------
    RFC 5545, sections 3.1 (lines and folding), 3.4, 3.6.1.
    """
    lines = (
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//carrybook//practice//EN",
        "CALSCALE:GREGORIAN",
        *(line for event in events for line in _event(event, stamp)),
        "END:VCALENDAR",
    )
    return b"".join(part + b"\r\n" for line in lines for part in _folded(line))


def _event(event: Event, stamp: datetime) -> Iterator[str]:
    start = f"{event.start:%Y%m%dT%H%M%S}"
    digest = hashlib.sha256(f"{start} {event.summary}".encode()).hexdigest()[:24]
    yield "BEGIN:VEVENT"
    yield f"UID:{digest}@carrybook.invalid"
    yield f"DTSTAMP:{stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART:{start}"
    yield f"DURATION:PT{event.minutes}M"
    yield f"SUMMARY:{_escaped(event.summary)}"
    yield f"DESCRIPTION:{_escaped(event.description)}"
    yield "END:VEVENT"


def _escaped(text: str) -> str:
    printable = (ch if ch.isprintable() or ch == "\n" else " " for ch in text)
    return "".join(_ESCAPED.get(ch, ch) for ch in printable)


def _folded(line: str) -> Iterator[bytes]:
    """Break a line before it has more than 75 octets; what goes on begins with a blank."""
    part = b""
    for ch in line:
        octets = ch.encode()
        if len(part) + len(octets) > _LONGEST:
            yield part
            part = b" "
        part += octets
    yield part
