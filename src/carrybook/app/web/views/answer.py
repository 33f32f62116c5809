"""An answer of `choose` in words, ready for the page; the words are those of the command line."""

from dataclasses import dataclass

from carrybook.app.json_views.base import RULES_NOTE
from carrybook.artefacts import words as w
from carrybook.artefacts.advice_text import answer_pairs, headline, ledger, other_row
from carrybook.artefacts.facts_text import find_out_lines, flip_lines
from carrybook.decision.advice import Advice, Option

__all__ = ["AnswerView", "answer_view"]


@dataclass(frozen=True, slots=True)
class AnswerView:
    """What the page says of one answer.

    Parameters
    ----------
    headline : str
        What to do.
    shot, feel, where : str
        The same in three parts, to be read at arm's length.
    close : str
        Which other shots are too close to call; empty where none is.
    strokes, green, near : str
        Three figures.
    pairs : tuple of (str, str)
        Label and text.
    others : tuple of tuple of str
        Rows of the table of other options.
    why : tuple of (str, str, str)
        Fact, what it adds, total.
    changes, find_out : tuple of str
        What would change the shot; what is worth finding out first.
    doubts, left_out : tuple of str
        What is not well known; shots that were not considered.
    basis, rules : str
        How much was played; what the Rules say.
    """

    headline: str
    shot: str
    feel: str
    where: str
    close: str
    strokes: str
    green: str
    near: str
    pairs: tuple[tuple[str, str], ...]
    others: tuple[tuple[str, ...], ...]
    why: tuple[tuple[str, str, str], ...]
    changes: tuple[str, ...]
    find_out: tuple[str, ...]
    doubts: tuple[str, ...]
    left_out: tuple[str, ...]
    basis: str
    rules: str = RULES_NOTE


def answer_view(advice: Advice, units: w.Units) -> AnswerView:
    """Put an answer into words."""
    s, (best, *others) = advice.situation, advice.options
    said = headline(best, units)
    close = [w.one_line(o.summary.shot.label) for o in others if o.close_call]
    return AnswerView(
        headline=said,
        shot=w.one_line(best.summary.shot.label),
        feel=w.distance(best.feel_m, units),
        where=said.partition(": ")[2],
        close=" and ".join(close),
        strokes=f"{best.strokes:.2f} {w.standard_error(best.strokes_se)}",
        green=w.per_cent(best.green),
        near=w.short_distance(best.near_m, units),
        pairs=tuple(answer_pairs(best, s, units)),
        others=_rows(others, advice.at_flag, units),
        why=tuple(
            (name, f"{adds:+.1f}" if k else "", f"{total:.1f}")
            for k, (name, adds, total) in enumerate(ledger(best, s.number_m, units.far_m))
        ),
        changes=tuple(flip_lines(advice, units)),
        find_out=tuple(find_out_lines(advice)),
        doubts=advice.doubts,
        left_out=advice.left_out,
        basis=f"{advice.candidates} ways to play it, {advice.draws:,} balls each",
    )


def _rows(
    others: list[Option], at_flag: Option | None, units: w.Units
) -> tuple[tuple[str, ...], ...]:
    rows = [other_row(w.one_line(o.summary.shot.label), o, units) for o in others]
    if at_flag is not None:
        name = f"{w.one_line(at_flag.summary.shot.label)} at the flag"
        rows.append(other_row(name, at_flag, units))
    return tuple(rows)
