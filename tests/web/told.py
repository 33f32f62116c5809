"""What the command line says, to hold the page against."""

import json
from typing import Any

from typer.testing import CliRunner

from carrybook.app.cli import app


def said(*words: str) -> dict[str, Any]:
    """What the command line answers as JSON."""
    result = CliRunner().invoke(app, [*words, "--json"], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer
