"""What `doctor` finds and `book` wrote, in words."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding
    from carrybook.store.archive import Archive

__all__ = ["archive_text", "doctor_text", "serve_text"]


def doctor_text(findings: "Sequence[Finding]") -> str:
    """Say what was looked at, and which command mends what is missing."""
    width = max(len(f.what) for f in findings)
    lines = []
    for f in findings:
        lines.append(f"{f.state:<8} {f.what:<{width}}  {f.found}")
        lines += [f"{'':<{width + 11}}next: {f.mend}"] if f.mend else []
    return "\n".join(lines)


def archive_text(archive: "Archive", done: str, left_out: Path | None = None) -> str:
    """Say how much was written or read, and what the page keeps that is not in it."""
    counts = ", ".join(f"{table} {rows}" for table, rows in archive.rows.items() if rows)
    told = f"{done} {archive.folder}: {counts or 'an empty book'} (rows by table)"
    if left_out is None:
        return told
    return (
        f"{told}\nnot in it: maps, plans and half-filled forms that the page keeps in {left_out};"
        " copy that folder too if you want them"
    )


def serve_text(places: Sequence[str], *, shared: bool, encrypted: bool) -> str:
    """Say where the page is; and, of a shared one, what it shows to whom and what a phone lacks."""
    here = f"carrybook is at {places[0]}; stop it with Ctrl-C"
    if not shared:
        return here
    told = (
        f"{here}\nshared as {', '.join(places[2:] or places[:1])}: whoever is on this network and"
        " knows the passphrase can read and change the book: shots, balls, maps, plans.\n"
    )
    if encrypted:
        return told + (
            "The connection is encrypted: a phone that trusts the certificate can install the page,"
            " and log balls while this machine is away."
        )
    return told + (
        "The connection is not encrypted: share on a network you trust, and stop it when done.\n"
        "So browsers elsewhere do not install it, nor keep rooms for when this machine is away: a"
        " phone needs it running here, or a --certificate that it trusts."
    )
