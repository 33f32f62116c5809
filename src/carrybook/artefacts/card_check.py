"""Whether a PDF keeps to what a card may be: measured on its pages, line by line.

Any file can be looked at. What cannot be measured, such as the scale of a photograph, does not
hold. Limits: Clarification 4.3a/1 and Model Local Rule G-11 (rules-of-golf-2023); letters, bars and
cautions are ours.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from reportlab.lib.units import mm

from carrybook.artefacts.card_items import HEIGHT, WIDTH
from carrybook.artefacts.card_sheet import BARS, CUT_MARK, GREEN_BAR, GREEN_MARK
from carrybook.artefacts.paper import Profile
from carrybook.artefacts.pdf_facts import read_pages
from carrybook.artefacts.pdf_values import PageFacts, Tagged

__all__ = ["CardCheck", "CardFinding", "check_card"]

_LEAST_LETTERS = 7.0  # points, ours: read at arm's length
_TOLERANCE = float(0.1 * mm)  # of every length
_LARGEST_SCALE = 480.0  # 3/8 in for 5 yd
_SCALE_SLIP = 0.5  # of that scale, so that 1:480 itself holds after rounding
_POINTS_PER_M = float(1000.0 * mm)
_SLOPE_WORDS = re.compile(
    r"\b(slop\w*|break\w*|contour\w*|tiers?|ridges?|gradients?|uphill|downhill|grain|false front"
    r"|(?:above|below) the hole|lines every|putts?|fall line)\b",
    re.IGNORECASE,
)
_MARKS = (
    ("100 % mark", "on every card", r"100\s?%"),
    ("made before", "said on every card", r"[Pp]repared before the round"),
    ("local rules", "named on every card", r"local rules"),
)


@dataclass(frozen=True, slots=True)
class CardFinding:
    """One limit: what it is about, what it asks, what was measured, whether it holds."""

    what: str
    limit: str
    found: str
    holds: bool


@dataclass(frozen=True, slots=True)
class CardCheck:
    """What was found on a card, for the profile it was looked at with."""

    profile: Profile
    findings: tuple[CardFinding, ...]

    @property
    def holds(self) -> bool:
        """Whether every limit holds."""
        return all(finding.holds for finding in self.findings)


@dataclass(frozen=True, slots=True)
class _Leaf:
    """A page and the cards on it, width and height each."""

    number: int
    facts: PageFacts
    cards: tuple[tuple[float, float], ...]


def check_card(content: bytes, name: str, profile: Profile | None = None) -> CardCheck:
    """Measure a PDF against the limits of a card.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        What it is called in a message.
    profile : Profile, optional
        What it should keep to; as the file says of itself where none is given, and ordinary where
        it says nothing.

    Raises
    ------
    BadInputError
        It is no PDF that can be read.
    """
    pages, subject = read_pages(content, name)
    told = Profile.RESTRICTED if Profile.RESTRICTED.value in subject else Profile.ORDINARY
    asked = profile or told
    leaves = [_Leaf(k, page, _cards_on(page)) for k, page in enumerate(pages, start=1)]
    findings = [*_paper(leaves), *_letters(pages), *_bars(leaves), *_marks(leaves)]
    findings += _restricted(leaves) if asked is Profile.RESTRICTED else _ordinary(leaves)
    return CardCheck(asked, tuple(findings))


def _cards_on(page: PageFacts) -> tuple[tuple[float, float], ...]:
    """The page itself, or what its cut marks cut out of it."""
    marks = [s for tag in page.tagged if tag.name == CUT_MARK for s in tag.segments]
    xs = sorted({round(s.x0, 2) for s in marks if abs(s.x1 - s.x0) < 0.01})
    ys = sorted({round(s.y0, 2) for s in marks if abs(s.y1 - s.y0) < 0.01})
    if len(xs) < 2 or len(ys) < 2:
        return ((page.width, page.height),)
    return tuple((float(w), float(h)) for w in np.diff(xs) for h in np.diff(ys))


def _paper(leaves: Sequence[_Leaf]) -> Iterator[CardFinding]:
    cards = [(min(card), max(card), leaf.number) for leaf in leaves for card in leaf.cards]
    width, height, page = max(cards, key=lambda c: max(c[0] / WIDTH, c[1] / HEIGHT))
    holds = width <= WIDTH + _TOLERANCE and height <= HEIGHT + _TOLERANCE
    limit = f"at most {_mm(WIDTH)} x {_mm(HEIGHT)} mm (4.25 x 7 in)"
    found = f"{_mm(width)} x {_mm(height)} mm, {len(cards)} in the file"
    yield CardFinding("size of a card", limit, found + ("" if holds else f", page {page}"), holds)


def _letters(pages: Sequence[PageFacts]) -> Iterator[CardFinding]:
    loose = sorted({name for page in pages for name in page.loose_fonts})
    yield CardFinding(
        "typefaces", "all embedded", ", ".join(loose) + " not" if loose else "all", not loose
    )
    sizes = [size for page in pages for size in page.sizes]
    empty = [k for k, page in enumerate(pages, start=1) if not page.sizes]
    found = f"{min(sizes):.1f} pt" if sizes else "no text"
    found += f"; no text on page {empty[0]}" if empty and sizes else ""
    holds = bool(sizes) and not empty and min(sizes) >= _LEAST_LETTERS - 0.01
    yield CardFinding("smallest letters", f"at least {_LEAST_LETTERS:.0f} pt", found, holds)
    coloured = [k for k, page in enumerate(pages, start=1) if page.coloured]
    said = f"colour on page {coloured[0]}" if coloured else "no colour"
    yield CardFinding("ink", "black and white", said, not coloured)


def _bars(leaves: Sequence[_Leaf]) -> Iterator[CardFinding]:
    """Every card has a bar that says its length, and every bar that says one has it."""
    missing = [leaf.number for leaf in leaves if not _labels(leaf)]
    found = [
        (drawn, length, leaf.number)
        for leaf in leaves
        for length, _ in _labels(leaf)
        for drawn in _nearest(leaf, length)
    ]
    drawn, asked, page = max(found, key=lambda f: abs(f[0] - f[1]), default=(0.0, 0.0, 0))
    true = abs(drawn - asked) <= _TOLERANCE
    worst = f"{_mm(drawn)} for {_mm(asked)} mm at worst" + ("" if true else f", page {page}")
    said = f"none on page {missing[0]}" if missing else worst
    limit = "5 cm or 1 in on every card, to 0.1 mm"
    yield CardFinding("scale bars", limit, said, not missing and true)


def _labels(leaf: _Leaf) -> list[tuple[float, str]]:
    """Bars whose label stands on a page as often as there are cards on it."""
    times = {label: leaf.facts.words.count(label) for _, label in BARS}
    return [(length, label) for length, label in BARS if times[label] >= len(leaf.cards)]


def _nearest(leaf: _Leaf, length: float) -> list[float]:
    """The level or upright lines nearest to a length, one for each card; too few count as none."""
    lines = (s.length for s in leaf.facts.segments if s.level_or_upright)
    near = sorted(lines, key=lambda drawn: abs(drawn - length))[: len(leaf.cards)]
    return near + [0.0] * (len(leaf.cards) - len(near))


def _marks(leaves: Sequence[_Leaf]) -> Iterator[CardFinding]:
    for what, limit, words in _MARKS:
        missing = [
            leaf.number
            for leaf in leaves
            if len(re.findall(words, leaf.facts.words)) < len(leaf.cards)
        ]
        found = f"not on page {missing[0]}" if missing else "there"
        yield CardFinding(what, limit, found, not missing)
    there = any(re.search(r"[Ll]ightning", leaf.facts.words) for leaf in leaves)
    yield CardFinding("lightning line", "on the card", "there" if there else "missing", there)


def _ordinary(leaves: Sequence[_Leaf]) -> Iterator[CardFinding]:
    greens = [(tag, leaf) for leaf in leaves for tag in leaf.facts.tagged if tag.name == GREEN_MARK]
    scales = [_scale_of(tag) for tag, _ in greens]
    known = [s for s in scales if s is not None]
    holds = len(known) == len(scales) and all(s >= _LARGEST_SCALE - _SCALE_SLIP for s in known)
    found = f"largest 1:{min(known):.0f} of {len(scales)}" if known else "no green"
    found = "a green without its measures" if len(known) < len(scales) else found
    yield CardFinding("greens", "1:480 or smaller (3/8 in for 5 yd)", found, holds)
    if greens:
        yield _green_bars(leaves, len(greens))
    yield _unknown(leaves)


def _green_bars(leaves: Sequence[_Leaf], greens: int) -> CardFinding:
    """Whether as many bars as greens say their length, in the scale of a green on that page."""
    good = 0
    for leaf in leaves:
        scales = [_scale_of(tag) for tag in leaf.facts.tagged if tag.name == GREEN_MARK]
        bars = [tag for tag in leaf.facts.tagged if tag.name == GREEN_BAR]
        good += sum(any(s and _fits(bar, s) for s in scales) for bar in bars)
    holds = good >= greens
    return CardFinding("bars of the greens", "one each, to its scale", f"{good} of {greens}", holds)


def _scale_of(tag: Tagged) -> float | None:
    """How many times larger the green is than its picture, from both its measures."""
    if len(tag.metres) != 2 or min(tag.metres) <= 0.0 or min(tag.width, tag.height) <= 0.0:
        return None
    deep, wide = tag.metres
    narrow, long = sorted((tag.width, tag.height))
    return _POINTS_PER_M * min(min(wide, deep) / narrow, max(wide, deep) / long)


def _fits(bar: Tagged, scale: float) -> bool:
    if len(bar.metres) != 1 or not bar.segments:
        return False
    asked = bar.metres[0] * _POINTS_PER_M / scale
    drawn = max(s.length for s in bar.segments)
    return abs(drawn - asked) <= _TOLERANCE


def _unknown(leaves: Sequence[_Leaf]) -> CardFinding:
    """Pictures, or slanting lines, where no green says how large it is: nobody knows the scale."""
    pages = [
        leaf.number
        for leaf in leaves
        if leaf.facts.pictures
        or (_drawn(leaf.facts) and not any(t.name == GREEN_MARK for t in leaf.facts.tagged))
    ]
    found = f"page {pages[0]}: a picture whose scale is not stated" if pages else "none"
    return CardFinding("other pictures", "none of unknown scale", found, not pages)


def _restricted(leaves: Sequence[_Leaf]) -> Iterator[CardFinding]:
    pages = [leaf.number for leaf in leaves if leaf.facts.pictures or _drawn(leaf.facts)]
    found = f"a drawing on page {pages[0]}" if pages else "none"
    yield CardFinding("pictures and maps", "none (G-11)", found, not pages)
    words = {m.lower() for leaf in leaves for m in _SLOPE_WORDS.findall(leaf.facts.words)}
    found = ", ".join(sorted(words)) if words else "none"
    yield CardFinding("words of slope or putting", "none (G-11)", found, not words)


def _drawn(facts: PageFacts) -> bool:
    """Whether anything but level and upright lines is drawn."""
    return bool(facts.curves) or not all(s.level_or_upright for s in facts.segments)


def _mm(points: float) -> str:
    return f"{points / mm + 1e-6:.1f}"  # so that 107.95 is not 107.9 here and 108.0 there
