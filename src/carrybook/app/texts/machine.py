"""What `doctor` finds and `book` wrote, in words."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding
    from carrybook.store.archive import Archive

__all__ = ["archive_text", "doctor_text"]


def doctor_text(findings: "Sequence[Finding]") -> str:
    """Say what was looked at, and which command mends what is missing."""
    width = max(len(f.what) for f in findings)
    lines = []
    for f in findings:
        lines.append(f"{f.state:<8} {f.what:<{width}}  {f.found}")
        lines += [f"{'':<{width + 11}}next: {f.mend}"] if f.mend else []
    return "\n".join(lines)


def archive_text(archive: "Archive", done: str) -> str:
    """Say how much was written or read."""
    counts = ", ".join(f"{table} {rows}" for table, rows in archive.rows.items() if rows)
    return f"{done} {archive.folder}: {counts or 'an empty book'} (rows by table)"
