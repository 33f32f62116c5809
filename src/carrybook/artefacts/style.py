"""The house style of pictures and cards: one ink, one paper, one warm accent, readable sizes.

The hue runs from paper to ink-blue only, so it reads in black and white and to colour-blind eyes;
the accent marks the chosen shot and nothing else.
"""

__all__ = [
    "ACCENT",
    "FAINT",
    "FONT",
    "INK",
    "LINE",
    "PAPER",
    "SIZE_LABEL",
    "SIZE_SMALL",
    "SIZE_TITLE",
    "TINTS",
    "WIDTH_IN",
]

PAPER = "#FBF9F4"
TINTS = ("#F1EEE6", "#8EA6C0")  # low to high ground, light enough for ink on top
FAINT = "#A9B4C0"  # lines that only help the eye
INK = "#15314D"
ACCENT = "#C2410C"  # burnt orange; luminance 0.15, well below every tint, so dark on grey too

FONT = "DejaVu Sans"  # comes with matplotlib
WIDTH_IN = 4.5  # 360 px at 80 dpi, the width of a phone
SIZE_TITLE = 11.0  # points
SIZE_LABEL = 8.5
SIZE_SMALL = 7.5  # the least: 8.3 px on that phone
LINE = 1.0  # points
