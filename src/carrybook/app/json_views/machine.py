"""What `doctor` finds and `book` wrote, as JSON."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding
    from carrybook.store.archive import Archive

__all__ = ["archive_view", "doctor_view"]


def doctor_view(findings: "Sequence[Finding]") -> Json:
    """Give what `doctor` answers."""
    return {
        "findings": [
            {"what": f.what, "state": f.state, "found": f.found, "mend": f.mend} for f in findings
        ]
    }


def archive_view(archive: "Archive") -> Json:
    """Give what `book export` and `book restore` answer."""
    return {
        "folder": str(archive.folder),
        "version": archive.version,
        "rows": dict(archive.rows),
    }
