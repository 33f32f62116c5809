"""What `card` says."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from carrybook.app.services.card import PrintedCard
    from carrybook.artefacts.card_check import CardCheck

__all__ = ["card_text", "checked_text"]

_PAPER = {
    "single": "pages of 4.25 x 7 in",
    "fold": "pages of 4.25 x 7 in, front and back; fold across at the marks",
    "a4": "pages of A4, two cards each; cut at the marks",
    "letter": "pages of Letter, two cards each; cut at the marks",
}


def card_text(printed: "PrintedCard") -> str:
    """Say what was printed, and what to do with it."""
    content = printed.content
    plans = len(content.advices)
    return (
        f"{printed.path}: {printed.profile} card, {len(content.numbers)} shots,"
        f" {plans} plan{'' if plans == 1 else 's'}\n"
        f"{printed.pages} {_PAPER[printed.layout]}. Print at 100 %: the bars must measure as they"
        f" say.\nLook at it: carrybook card --check '{printed.path}'\n"
        "Prepared before the round: the Committee's local rules come first."
    )


def checked_text(check: "CardCheck") -> str:
    """Line by line what holds."""
    rows = [("yes" if f.holds else "NO", f.what, f.found, f.limit) for f in check.findings]
    widths = [max(len(row[k]) for row in rows) for k in (1, 2)]
    lines = [
        f"  {holds:<3}  {what:<{widths[0]}}  {found:<{widths[1]}}  {limit}"
        for holds, what, found, limit in rows
    ]
    said = "holds" if check.holds else "does not hold"
    return "\n".join([f"{check.profile.capitalize()} profile: {said}", *lines])
