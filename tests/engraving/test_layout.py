"""verovio's layout, taken apart: a box for each notehead, in the right order, and a place for each moment."""

import random
from fractions import Fraction
from itertools import accumulate, pairwise

import pytest

from game.engraving.engraver import EngravedFace
from game.engraving.ids import head_of, note_id
from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.notation import musicxml
from game.music.score import Note, Reading
from game.music.written import HeadId
from tests.engraving.verovio_timemap import timemap


def _heads(bars):
    return [
        HeadId(index, position)
        for index, bar in enumerate(bars)
        for position, event in enumerate(bar.events)
        if isinstance(event, Note)
    ]


def _event(bars, head):
    return bars[head.bar].events[head.event]


def _random_bars(bar, seed):
    chance = random.Random(seed)
    return tuple(
        bar(
            " ".join(
                f"{chance.choice('CDEFGAB')}{chance.choice(['', '#', 'b'])}{chance.choice('345')}:1/2" for _ in range(8)
            ),
            fifths=chance.randint(-3, 3),
        )
        for _ in range(3)
    )


@pytest.mark.parametrize("face", list(EngravedFace))
def test_every_notehead_gets_exactly_one_box(page, face):
    system = lay_out_line(page, Reading.GUITAR, face).systems[0]
    assert sorted(system.head_boxes) == _heads(page)
    assert sorted(system.groups) == _heads(page)


@pytest.mark.parametrize(("seed", "reading"), [*((seed, Reading.GUITAR) for seed in range(4)), (4, Reading.BASS)])
def test_boxes_lie_as_high_as_their_staff_steps_and_as_far_right_as_their_onsets(bar, seed, reading):
    bars = _random_bars(bar, seed)
    system = lay_out_line(bars, reading).systems[0]
    heads = _heads(bars)
    for head in heads:
        box = system.head_boxes[head]
        middle = system.step_y(_event(bars, head).pitch.staff_step)
        assert (box.top + box.bottom) / 2 == pytest.approx(middle, abs=0.06)
    lefts = [system.head_boxes[head].left for head in heads]
    assert lefts == sorted(lefts)


def test_the_middle_line_is_that_of_the_clef(page):
    """trade: the treble staff's middle line is B4 written, that of the bass staff D3."""
    for reading, middle in ((Reading.GUITAR, 34), (Reading.BASS, 22), (Reading.CONCERT_BASS, 22)):
        system = lay_out_line(page, reading).systems[0]
        assert system.step_y(middle) == pytest.approx(system.top_line + 2)
        assert system.bottom_line == pytest.approx(system.top_line + 4)


def test_verovio_hears_the_onsets_we_count(page):
    """verovio's own timemap, made from the same file, against our bars; ties are joined there (graces
    left out).
    """
    heard = {
        name: entry["qstamp"]
        for entry in timemap(musicxml(page, Reading.GUITAR))
        for name in entry.get("on", [])
        if head_of(name)
    }
    starts = list(accumulate((bar.length for bar in page), initial=Fraction(0)))
    for head in _heads(page):
        event = _event(page, head)
        if not event.grace:
            assert heard[note_id(head)] == pytest.approx(float(starts[head.bar] + event.onset), abs=1e-3)


def test_positions_rise_with_the_music_and_end_at_the_final_bar_line(page):
    engraving = lay_out_line(page, Reading.GUITAR)
    for before, after in pairwise(engraving.positions):
        assert before[0] < after[0]
        assert before[1] < after[1]
    assert engraving.positions[-1][0] == float(sum(bar.length for bar in page))
    assert engraving.positions[-1][1] <= engraving.systems[0].right


@pytest.mark.parametrize("fifths", [-7, -3, 0, 2, 7])
def test_a_signature_shows_one_sign_for_each_fifth(bar, fifths):
    opening = lay_out_line((bar("W:4", fifths=fifths),), Reading.GUITAR).openings[0]
    # Clef, two figures of the metre, and the signature.
    assert len(opening.shapes) == 3 + abs(fifths)


def test_a_change_of_signature_or_metre_gives_an_opening_from_its_bar_line_on(page):
    engraving = lay_out_line(page, Reading.GUITAR)
    ends = engraving.systems[0].bar_ends
    assert [opening.from_x for opening in engraving.openings] == [0.0, ends[5], ends[6], ends[7]]
    assert len(engraving.openings[1].shapes) == 3 + 3


def test_a_page_holds_every_notehead_once_on_lines_that_fit_its_width(page):
    engraving = lay_out_page(page, Reading.GUITAR, 80)
    assert len(engraving.systems) > 1
    assert sorted(head for system in engraving.systems for head in system.head_boxes) == _heads(page)
    assert [bar for system in engraving.systems for bar in system.bars] == list(range(len(page)))
    for system in engraving.systems:
        assert system.right <= 80.1
    for upper, lower in pairwise(engraving.systems):
        assert upper.top_line + 4 < lower.top_line
