"""verovio's layout, taken apart: a box for each notehead, in the right order, and a place for each moment."""

import random
import re
from fractions import Fraction
from itertools import accumulate, pairwise

import pytest

from game.engraving.engraver import EngravedFace, endless_svg, timemap
from game.engraving.ids import head_of, note_id, rest_id
from game.engraving.layout import lay_out_line, lay_out_page
from game.engraving.notation import musicxml
from game.engraving.shapes import TextKind
from game.music.score import BarMarks, Note, Reading
from game.music.written import HeadId


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


@pytest.mark.parametrize("seed", range(5))
def test_boxes_lie_as_high_as_their_staff_steps_and_as_far_right_as_their_onsets(bar, seed):
    bars = _random_bars(bar, seed)
    system = lay_out_line(bars, Reading.GUITAR).systems[0]
    heads = _heads(bars)
    for head in heads:
        box = system.head_boxes[head]
        middle = system.step_y(_event(bars, head).pitch.staff_step)
        assert (box.top + box.bottom) / 2 == pytest.approx(middle, abs=0.06)
    lefts = [system.head_boxes[head].left for head in heads]
    assert lefts == sorted(lefts)


def test_the_middle_line_is_written_b4(page):
    """trade: the treble staff's middle line is B4 written."""
    system = lay_out_line(page, Reading.GUITAR).systems[0]
    assert system.step_y(34) == pytest.approx(system.top_line + 2)


def test_verovio_hears_the_onsets_we_count(page):
    """verovio's own timemap, untimed_verdict from the same file, against our bars; ties are joined there (graces
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


def test_the_signs_are_those_of_smufl(bar):
    """SMuFL `glyphnames.json`: gClef8vb E052, heads E0A2-E0A4, flat to double flat E260-E264; gClef E050."""
    bars = (bar("C#5:1 Cb5:1 C5:2"), bar("C##5:1 Cbb5:1 C5:2"), bar("C5:4"))
    for reading, clef in ((Reading.GUITAR, "E052"), (Reading.CONCERT, "E050")):
        used = set(re.findall(r'href="#(E[0-9A-F]{3})-', endless_svg(musicxml(bars, reading), EngravedFace.ENGRAVED)))
        assert {clef, "E0A2", "E0A3", "E0A4", "E260", "E261", "E262", "E263", "E264"} <= used


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


def test_every_bar_has_its_end(page):
    system = lay_out_line(page, Reading.GUITAR).systems[0]
    assert len(system.bar_ends) == len(page)
    assert system.bar_ends == sorted(system.bar_ends)


def test_beams_and_ties_know_their_noteheads(page):
    joins = {join.heads for join in lay_out_line(page, Reading.GUITAR).systems[0].joins}
    assert tuple(HeadId(1, event) for event in range(4)) in joins
    assert (HeadId(2, 5), HeadId(3, 0)) in joins


def test_chord_symbols_stand_over_their_moment_with_the_text_of_the_bar(page):
    engraving = lay_out_line(page, Reading.GUITAR)
    system = engraving.systems[0]
    chords = [text for text in system.texts if text.kind is TextKind.CHORD]
    assert [chord.text for chord in chords] == ["Bb7", "Cm7/G"]
    for chord, head in zip(chords, (HeadId(1, 0), HeadId(1, 4)), strict=True):
        assert chord.x == pytest.approx(system.head_boxes[head].left, abs=0.5)
        assert chord.baseline < system.top_line


def test_a_page_holds_every_notehead_once_on_lines_that_fit_its_width(page):
    engraving = lay_out_page(page, Reading.GUITAR, 80)
    assert len(engraving.systems) > 1
    assert sorted(head for system in engraving.systems for head in system.head_boxes) == _heads(page)
    assert [bar for system in engraving.systems for bar in system.bars] == list(range(len(page)))
    for system in engraving.systems:
        assert system.right <= 80.1
    for upper, lower in pairwise(engraving.systems):
        assert upper.top_line + 4 < lower.top_line


def test_words_stand_before_their_bar_line_and_endings_are_numbered(bar):
    bars = (
        bar("G5:1 A5:1 B5:1 C6:1"),
        bar("C5:4", marks=BarMarks(endings=(1,), ending_starts=True, ending_stops=True, repeat_end=2)),
        bar("C6:4", marks=BarMarks(endings=(2,), ending_starts=True, ending_stops=True, fine=True)),
    )
    system = lay_out_page(bars, Reading.GUITAR, 90).systems[0]
    texts = {text.text: text for text in system.texts}
    assert set(texts) == {"1.", "2.", "Fine"}
    assert texts["Fine"].ends_at_x
    assert texts["Fine"].x == system.bar_ends[2]
    assert texts["1."].x < texts["2."].x


def test_later_lines_carry_the_number_of_their_first_bar(page):
    engraving = lay_out_page(page, Reading.GUITAR, 80)
    for system in engraving.systems[1:]:
        numbers = [text.text for text in system.texts if text.kind is TextKind.BAR_NUMBER]
        assert numbers == [page[system.bars[0]].number]


def test_ids_and_noteheads_are_opposites():
    assert head_of(note_id(HeadId(12, 3))) == HeadId(12, 3)
    assert head_of(rest_id(HeadId(12, 3))) is None


def test_what_verovio_cannot_read_is_an_error():
    with pytest.raises(ValueError, match="cannot engrave"):
        endless_svg("<nothing/>", EngravedFace.ENGRAVED)
