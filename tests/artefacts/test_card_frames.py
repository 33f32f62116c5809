"""Where blocks go: in order, whole, heads again, tables together; sheets as they are printed."""

import pytest

from carrybook.artefacts.card_frames import Foot, Frame, Page, Panel, corner, panels_of, room
from carrybook.artefacts.card_items import HEIGHT, WIDTH, Block
from carrybook.artefacts.paper import Layout


def page(layout: Layout = Layout.SINGLE) -> Page:
    return Page("title", ("one", "two"), "ordinary", layout)


def heights(panels: dict[Frame, Panel]) -> list[list[float]]:
    return [[block.height for _, block in panel.placed] for panel in panels.values()]


def test_blocks_follow_each_other_and_turn_the_page_when_it_is_full() -> None:
    space = room(Frame(0, 0.0, 0.0, HEIGHT), page())
    third = space / 3.0 - 5.0
    panels = panels_of([Block(third + k) for k in range(4)], page())
    assert heights(panels) == [[third, third + 1, third + 2], [third + 3]]
    first = next(iter(panels.values()))
    assert [y for y, _ in first.placed] == pytest.approx([0.0, third + 4.0, 2 * third + 9.0])


@pytest.mark.parametrize("layout", list(Layout))
def test_nothing_runs_out_of_its_panel(layout: Layout) -> None:
    blocks = [Block(20.0 + 7.0 * (k % 9)) for k in range(40)]
    for frame, panel in panels_of(blocks, page(layout)).items():
        for y, block in panel.placed:
            assert y + block.height <= room(frame, page(layout)) + 1e-9


def test_a_table_stays_together_where_it_can_and_repeats_its_head_where_it_cannot() -> None:
    space = room(Frame(0, 0.0, 0.0, HEIGHT), page())
    head = Block(10.0, gap=0.0)
    rows = [Block(20.0, head=head, gap=0.0) for _ in range(10)]
    panels = panels_of([Block(space - 60.0), *rows], page())
    assert heights(panels) == [[space - 60.0], [10.0] + [20.0] * 10]
    many = [Block(20.0, head=head, gap=0.0) for _ in range(40)]
    split = heights(panels_of(many, page()))
    assert len(split) > 1
    assert all(found[0] == 10.0 for found in split)
    assert sum(found.count(20.0) for found in split) == 40


def test_two_tables_each_have_their_head() -> None:
    one, two = Block(10.0), Block(11.0)
    blocks = [Block(5.0, head=one), Block(5.0, head=one), Block(6.0, head=two)]
    assert heights(panels_of(blocks, page())) == [[10.0, 5.0, 5.0, 11.0, 6.0]]


def test_a_folded_sheet_has_four_panels_outer_side_first() -> None:
    panels = list(panels_of([Block(10.0)], page(Layout.FOLD)))
    assert [frame.sheet for frame in panels] == [0, 0, 1, 1]
    front, back, above, below = panels
    assert (front.y, front.turned, front.titled, front.foot) == (0.0, False, True, Foot.NONE)
    assert (back.y, back.turned, back.foot) == (HEIGHT / 2.0, True, Foot.WHOLE)
    assert (above.y, above.turned, above.foot) == (HEIGHT / 2.0, False, Foot.NONE)
    assert (below.y, below.turned, below.foot) == (0.0, False, Foot.SHORT)


def test_a_folded_sheet_is_read_front_inside_back() -> None:
    panels = panels_of([Block(130.0 + k) for k in range(4)], page(Layout.FOLD))
    order = [panels[frame].placed[0][1].height for frame in panels]
    assert order == [130.0, 133.0, 131.0, 132.0]


@pytest.mark.parametrize("layout", [Layout.A4, Layout.LETTER])
def test_two_cards_lie_side_by_side_in_the_middle(layout: Layout) -> None:
    left, right = panels_of([Block(10.0)], page(layout))
    assert (left.sheet, right.sheet) == (0, 0)
    assert (left.x, left.y) == corner(layout)
    assert right.x == left.x + WIDTH
    assert min(left.x, left.y) > 0.25 * 72.0  # most printers leave a quarter of an inch


def test_a_short_foot_leaves_more_room() -> None:
    spaces = [room(Frame(0, 0.0, 0.0, HEIGHT, foot=foot), page()) for foot in Foot]
    none, short, whole = spaces
    assert none > short > whole
