"""A bar is known by what sounds in it, in whatever passage it stood and whichever log it comes from."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.judging.tolerance import BarSpan
from game.music.meter import Meter
from game.music.passage import Passage, passages_of, whole_tune
from game.music.written import written_out
from game.practice_log.database.store import open_store
from game.practice_log.rows.asked_notes import asked_of, put_asked
from game.practice_log.rows.bar_contents import EMPTY, AskedHead, Stretch, bar_keys, stretch_of
from game.practice_log.rows.take_beginning import asked_in
from game.tunes.library.library import open_entry, shelf
from tests.made import score
from tests.practice_log.logged_takes import MAP, MORNING
from tests.sampling import sample

A, B, C, D = (letter * 32 for letter in "abcd")
ROWS = ("F4 q, G4 q, A4 h", "A4 w", "Bb4 h, A4 h", "G4 w", "C5 h, A4 h", "F4 q, E4 q, F4 h", "D4 w", "G4 w")
TUNE = score(*ROWS)
FOUR = Meter(4, 4)


def keys_of(*notes, starts=(0, 4), meter=FOUR):
    spans = [BarSpan(start=Fraction(start), meter=meter) for start in starts]
    return bar_keys([AskedHead(*note) for note in notes], spans, len(spans))


def test_bars_with_the_same_notes_at_the_same_place_are_the_same():
    whole = stretch_of(whole_tune(TUNE)).bars
    assert whole[3] == whole[7]
    assert len(set(whole)) == 7
    assert all(len(key) == 32 for key in whole)


def test_a_passage_holds_the_bars_that_the_whole_tune_holds_there():
    for entry in sample(shelf(), by_default=8):
        tune = written_out(open_entry(entry))
        whole = stretch_of(whole_tune(tune))
        for passage in passages_of(tune):
            part = stretch_of(passage)
            assert part.bars == whole.bars[passage.start : passage.stop], (entry.name, passage.start)


def test_what_a_log_asked_tells_the_same_bars_as_the_passage():
    with_ties = score("F4 q, G4 q, A4 h~", "A4 h, G4 h~", "G4 w", "r w")
    log = open_store(None, now_utc=MORNING)
    for start, stop in ((0, 4), (0, 2), (1, 3), (2, 3)):
        passage = Passage(score=with_ties, start=start, stop=stop)
        asked = asked_of(log, put_asked(log, asked_in(passage, MAP)))
        notes = [one.note for one in asked.notes]
        heads = [AskedHead(note.heads[0].bar, str(note.onset), str(note.length), note.pitch.name) for note in notes]
        assert bar_keys(heads, asked.spans, stop - start) == stretch_of(passage).bars
    log.close()


def test_a_note_tied_over_a_bar_line_is_in_both_bars_wherever_the_passage_was_cut():
    tied = stretch_of(whole_tune(score("F4 q, G4 q, A4 h~", "A4 h, G4 h")))
    second = Passage(score=score("F4 q, G4 q, A4 h~", "A4 h, G4 h"), start=1, stop=2)
    assert stretch_of(second).bars == tied.bars[1:]
    assert keys_of((0, "3", "6", "A4"), starts=(0, 4, 8)) == (
        *keys_of((0, "3", "1", "A4"), (1, "4", "4", "A4")),
        *keys_of((0, "0", "1", "A4"), starts=(0,)),
    )


def test_a_bar_in_which_nothing_sounds_is_empty_whatever_its_metre():
    assert keys_of((1, "4", "1", "A4"))[0] == EMPTY == keys_of(starts=(0,), meter=Meter(3, 4))[0]


@pytest.mark.parametrize("other", [(0, "1", "2", "A4"), (0, "0", "1", "A4"), (0, "0", "2", "G#4"), (0, "0", "2", "A5")])
def test_place_length_and_written_pitch_make_a_bar_another(other):
    assert keys_of((0, "0", "2", "A4")) != keys_of(other)


def test_so_does_the_metre():
    note = (0, "0", "2", "A4")
    assert keys_of(note, starts=(0,)) != keys_of(note, starts=(0,), meter=Meter(3, 4))


def test_a_pickup_counts_from_the_beat_that_would_have_come_first():
    """As `bar_spans` has it: the beats of the short bar meet those of the next."""
    assert keys_of((0, "0", "1", "A4"), starts=(-3,)) == keys_of((0, "3", "1", "A4"), starts=(0,))


def test_notes_of_a_damaged_log_that_lie_nowhere_are_left_out():
    assert keys_of((7, "0", "1", "A4"), (-1, "0", "1", "A4")) == (EMPTY, EMPTY)
    assert EMPTY not in bar_keys([AskedHead(0, "0", "400", "A4")], (), 2)
    with pytest.raises(ValueError, match="is no fraction"):
        keys_of((0, "1e999999999", "1", "A4"))


@pytest.mark.parametrize(
    ("one", "other", "shared"),
    [
        (Stretch(0, (A, B, C, D)), Stretch(0, (A, B, C, D)), (0, 4)),
        (Stretch(0, (A, B, C, D)), Stretch(2, (C, D)), (2, 4)),
        (Stretch(2, (C, D)), Stretch(0, (A, B, C, D)), (0, 2)),
        (Stretch(0, (A, B)), Stretch(1, (B, C)), (1, 2)),
        (Stretch(0, (A, B)), Stretch(1, (A, C)), None),
        (Stretch(0, (A, B)), Stretch(2, (C, D)), None),
        (Stretch(0, (A, B)), Stretch(8, (A, B)), (0, 2)),
        (Stretch(0, (A, B)), Stretch(8, (A, B, C)), None),
        (Stretch(0, (A, B)), Stretch(0, (A, C)), None),
        (Stretch(0, (EMPTY, B)), Stretch(0, (EMPTY,)), None),
        (Stretch(0, (EMPTY, B)), Stretch(0, (EMPTY, B, C)), (0, 2)),
        (Stretch(0, (EMPTY,)), Stretch(8, (EMPTY,)), None),
        (Stretch(0, ()), Stretch(0, ()), None),
    ],
)
def test_bars_are_shared_where_the_same_music_stands(one, other, shared):
    assert one.shared(other) == shared
    assert (other.shared(one) is None) == (shared is None)


def test_a_passage_in_another_octave_or_key_is_other_bars():
    higher = replace(TUNE, bars=score(*(row.replace("4", "5") for row in ROWS)).bars)
    assert stretch_of(whole_tune(TUNE)).shared(stretch_of(whole_tune(higher))) is None
