"""Calendar files, read back by a library that is not ours."""

from datetime import UTC, datetime, timedelta

import icalendar

from carrybook.artefacts.calendar import Event, calendar_of

STAMP = datetime(2026, 5, 30, 8, tzinfo=UTC)
EVENT = Event(
    datetime(2026, 6, 1, 17),
    45,
    "practise; build, 60 balls",
    "10 min warm-up\nÜben: 6 x 95 yd, feel 96; \\ done " + "ñé€" * 60,
)


def test_a_reference_library_reads_what_was_written() -> None:
    later = Event(EVENT.start + timedelta(weeks=1), 30, "test", "")
    calendar = icalendar.Calendar.from_ical(calendar_of([EVENT, later], STAMP))
    assert calendar["VERSION"] == "2.0"
    first, second = calendar.walk("VEVENT")
    assert first["DTSTART"].dt == EVENT.start
    assert first["DTSTART"].dt.tzinfo is None
    assert first["DURATION"].dt == timedelta(minutes=45)
    assert first["DTSTAMP"].dt == STAMP
    assert str(first["SUMMARY"]) == EVENT.summary
    assert str(first["DESCRIPTION"]) == EVENT.description
    assert second["DURATION"].dt == timedelta(minutes=30)
    assert first["UID"] != second["UID"]
    assert not first.errors
    assert not second.errors


def test_lines_are_folded_at_75_octets_and_end_as_they_must() -> None:
    written = calendar_of([EVENT], STAMP)
    assert written.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in written.replace(b"\r\n", b"")
    lines = written.split(b"\r\n")
    assert max(map(len, lines)) == 75
    assert all(line.decode() or True for line in lines)  # no character is cut in two


def test_required_properties_stand_once_in_each_event() -> None:
    written = calendar_of([EVENT], STAMP).decode()
    for name in ("UID:", "DTSTAMP:20260530T080000Z", "DTSTART:20260601T170000", "DURATION:PT45M"):
        assert written.count(f"\r\n{name}") == 1
    for name in ("BEGIN:VCALENDAR\r\n", "\r\nVERSION:2.0", "\r\nPRODID:"):
        assert written.count(name) == 1


def test_the_same_event_keeps_its_uid() -> None:
    again = calendar_of([EVENT], STAMP + timedelta(days=1)).decode()
    uid = [line for line in again.split("\r\n") if line.startswith("UID:")]
    assert uid[0] in calendar_of([EVENT], STAMP).decode()


def test_a_control_character_cannot_begin_a_line_of_its_own() -> None:
    sly = Event(EVENT.start, 5, "a\rEND:VCALENDAR", "b\x00c")
    written = calendar_of([sly], STAMP)
    assert written.count(b"\r\nEND:VCALENDAR") == 1
    (event,) = icalendar.Calendar.from_ical(written).walk("VEVENT")
    assert str(event["DESCRIPTION"]) == "b c"
