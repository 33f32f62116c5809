"""What `doctor` finds, as JSON."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding

__all__ = ["doctor_view"]


def doctor_view(findings: "Sequence[Finding]") -> Json:
    """Give what `doctor` answers."""
    return {
        "findings": [
            {"what": f.what, "state": f.state, "found": f.found, "mend": f.mend} for f in findings
        ]
    }
