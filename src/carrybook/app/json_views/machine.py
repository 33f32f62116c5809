"""What `doctor` finds and `book` wrote, as JSON."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding
    from carrybook.store.archive import Archive

__all__ = ["archive_view", "doctor_view", "serve_view"]


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


def serve_view(places: Sequence[str], *, shared: bool, encrypted: bool) -> Json:
    """Give what `serve` says once, before it serves."""
    return {
        "address": places[0],
        "addresses": list(places),
        "shared": shared,
        "exposed": ["shots", "balls", "maps", "plans"] if shared else [],
        "exposed_to": "this network, behind a passphrase" if shared else "this machine",
        "encrypted": encrypted,
        "installs_on_other_devices": encrypted and shared,
    }
