"""Written notes in order of play, and passages."""

from fractions import Fraction

from game.music.passage import passages_of, whole_tune
from game.music.score import Reading
from game.music.written import HeadId, written_notes
from tests.made import bar, passage, score


def test_ties_are_joined_into_one_note_with_both_heads():
    notes = passage("G4 h., A4 q ~", "~A4 h, B4 h").notes
    assert [(note.pitch.name, note.onset, note.length) for note in notes] == [
        ("G4", 0, 3), ("A4", 3, 3), ("B4", 6, 2),
    ]  # fmt: skip
    assert notes[1].heads == (HeadId(0, 1), HeadId(1, 0))


def test_a_tie_without_its_beginning_is_read_as_a_note():
    assert [note.onset for note in passage("~A4 h, B4 h").notes] == [0, 2]


def test_a_tie_to_another_pitch_joins_nothing():
    assert len(passage("A4 h ~, B4 h").notes) == 2


def test_grace_notes_and_rests_are_not_asked_for():
    notes = passage("gB4 e, A4 q, r q, C5 h").notes
    assert [note.pitch.name for note in notes] == ["A4", "C5"]
    assert notes[1].onset == Fraction(2)


def test_the_guitar_sounds_an_octave_below_the_page():
    """Open low E is written E3 and sounds 40, high E written E5 and sounds 64 (trade; clef-octave-change -1)."""
    low, high = passage("E3 h, E5 h").notes
    assert (low.sounding, high.sounding) == (40, 64)


def test_the_middle_line_sounds_b3_at_guitar_octave_and_b4_at_concert_pitch():
    assert passage("B4 w").notes[0].sounding == 59
    assert passage("B4 w", reading=Reading.CONCERT).notes[0].sounding == 71


def test_a_tune_is_cut_into_passages_of_four_bars():
    cuts = [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 16))]
    assert cuts == [(0, 4), (4, 8), (8, 12), (12, 16)]


def test_a_pickup_bar_goes_with_the_bars_after_it():
    pickup = bar("D4 q", number="0", pickup=True)
    made = score(*["G4 w"] * 8)
    made = type(made)(title="t", reading=made.reading, bars=(pickup, *made.bars))
    assert [(p.start, p.stop) for p in passages_of(made)] == [(0, 5), (5, 9)]


def test_a_short_rest_of_a_tune_goes_with_the_last_passage():
    assert [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 9))] == [(0, 4), (4, 9)]
    assert [(p.start, p.stop) for p in passages_of(score(*["G4 w"] * 10))] == [(0, 4), (4, 8), (8, 10)]


def test_passages_without_a_note_are_joined_to_their_neighbours():
    made = score(*["r w"] * 4, *["G4 w"] * 4, *["r w"] * 4)
    assert [(p.start, p.stop) for p in passages_of(made)] == [(0, 12)]


def test_every_bar_is_in_exactly_one_passage():
    for count in range(1, 40):
        covered = [i for p in passages_of(score(*["G4 w"] * count)) for i in range(p.start, p.stop)]
        assert covered == list(range(count))


def test_a_passage_that_comes_again_on_the_page_is_offered_once():
    made = score(*["G4 w"] * 4, *["A4 w"] * 4)
    first, second = made.bars[:4], made.bars[4:]
    again = type(made)(title="t", reading=made.reading, bars=(*first, *first, *second))
    assert [(p.start, p.stop) for p in passages_of(again)] == [(0, 4), (8, 12)]


def test_passages_stand_in_the_order_in_which_they_first_come():
    """As after a da capo: the beginning comes once more at the end, and is still the first passage."""
    made = score(*["G4 w"] * 4, *["A4 w"] * 4)
    first, second = made.bars[:4], made.bars[4:]
    da_capo = type(made)(title="t", reading=made.reading, bars=(*first, *second, *first))
    assert [(p.start, p.stop) for p in passages_of(da_capo)] == [(0, 4), (4, 8)]


def test_notes_of_a_passage_are_numbered_from_one_and_heads_from_its_first_bar():
    second = passages_of(score(*["G4 h, A4 h"] * 8))[1]
    assert [note.n for note in second.notes][:2] == [1, 2]
    assert second.notes[0].heads == (HeadId(0, 0),)
    assert not second.whole
    assert whole_tune(second.score).whole


def test_onsets_start_at_zero_where_the_music_starts():
    assert written_notes(score("r q, G4 h.").bars, Reading.GUITAR)[0].onset == 1
