"""A line on a grid is put into bars as it would be written: bar lines, ties, rests, a pickup bar."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from game.music.barring import BarFrame, LineNote, bars_of, ends_written, frames, in_force
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import pitch
from game.music.score import Note, Rest

F = Fraction
COMMON, THREE = Meter(4, 4), Meter(3, 4)


def line(*notes: tuple[str, F, F]) -> list[LineNote]:
    return [LineNote(onset=F(onset), length=F(length), pitch=pitch(name)) for name, onset, length in notes]


def written(bars) -> list[list[str]]:
    """Each event as "C4 1", a rest as "- 1", a tie to the next as "~"."""
    return [
        [
            f"{event.pitch.name if isinstance(event, Note) else '-'} {event.length}"
            + ("~" if isinstance(event, Note) and event.tied_to_next else "")
            for event in bar.events
        ]
        for bar in bars
    ]


def test_a_note_over_the_bar_line_is_tied_across_it():
    bars = bars_of(frames([], [], F(8), most=10), line(("C4", 3, 2), ("D4", 5, 3)))
    assert written(bars) == [["- 3", "C4 1~"], ["C4 1", "D4 3"]]
    assert [bar.number for bar in bars] == ["1", "2"]


def test_a_note_off_the_half_beat_is_cut_where_it_would_hide_the_beat():
    """Three sixteenths from the second sixteenth on stay in their beat; a quarter from there is tied (trade)."""
    assert written(bars_of(frames([], [], F(4), most=10), line(("C4", F(1, 4), F(1)))))[0][:3] == [
        "- 1/4", "C4 3/4~", "C4 1/4",
    ]  # fmt: skip


def test_where_the_middle_is_shown_syncopation_is_tied_there_and_rests_leave_the_beats_in_sight():
    """As charts are written (trade); a half note on the second beat hides nothing that counts and stays whole."""
    played = line(("C4", F(0), F(1)), ("D4", F(3, 2), F(3, 2)), ("E4", 5, 2), ("F4", F(7), F(1, 2)))
    made = frames([], [], F(8), most=10)
    assert written(bars_of(made, played)) == [
        ["C4 1", "- 1/2", "D4 3/2", "- 1"], ["- 1", "E4 2", "F4 1/2", "- 1/2"],
    ]  # fmt: skip
    assert written(bars_of(made, played, middle_shown=True)) == [
        ["C4 1", "- 1/2", "D4 1/2~", "D4 1", "- 1"], ["- 1", "E4 2", "F4 1/2", "- 1/2"],
    ]  # fmt: skip
    rest = line(("C4", F(0), F(1, 2)), ("D4", F(3), F(1)))
    assert written(bars_of(made, rest))[0] == ["C4 1/2", "- 2", "- 1/2", "D4 1"]
    assert written(bars_of(made, rest, middle_shown=True))[0] == ["C4 1/2", "- 1/2", "- 2", "D4 1"]


def test_empty_bars_are_whole_rests_and_those_at_the_end_go():
    bars = bars_of(frames([], [], F(16), most=10), line(("C4", 4, 4)))
    assert written(bars) == [["- 4"], ["C4 4"]]
    (rest,) = bars[0].events
    assert isinstance(rest, Rest)
    assert rest.whole_bar


def test_a_first_bar_in_a_shorter_metre_of_its_own_is_a_pickup_and_numbered_nought():
    made = frames([(F(0), Meter(1, 4)), (F(1), COMMON)], [], F(9), most=10)
    assert [(frame.length, frame.meter, frame.pickup) for frame in made] == [
        (1, COMMON, True), (4, COMMON, False), (4, COMMON, False),
    ]  # fmt: skip
    assert bars_of(made, line(("G4", 0, 1), ("C5", 1, 4)))[0].number == "0"


def test_a_change_of_metre_cuts_a_bar_short():
    made = frames([(F(0), COMMON), (F(6), THREE)], [(F(0), Key(0)), (F(6), Key(-1))], F(12), most=10)
    assert [(frame.start, frame.length, frame.key.fifths) for frame in made] == [
        (0, 4, 0), (4, 2, 0), (6, 3, -1), (9, 3, -1),
    ]  # fmt: skip


def test_no_more_bars_are_made_than_one_too_many():
    """So that who asked can tell that there were too many, however long the music is."""
    assert len(frames([], [], F(10**9), most=20)) == 21


def test_a_sign_holds_until_the_next():
    signs = [(F(2), "b"), (F(4), "c")]
    assert [in_force(signs, F(at), "a") for at in (0, 2, 3, 4, 9)] == ["a", "b", "b", "c", "c"]


def test_what_is_only_touch_between_two_notes_is_not_written_as_a_rest():
    """A quarter let go a little early lasts to the next; one let go halfway is an eighth and a rest."""
    onsets, cells = [F(0), F(1), F(2)], [F(1)] * 3
    assert ends_written(onsets, [0.9, 1.5, 3.0], cells) == [1, F(3, 2), 3]


@given(
    st.lists(st.tuples(st.integers(0, 4), st.integers(1, 12)), min_size=1, max_size=12),
    st.sampled_from([COMMON, THREE, Meter(6, 8)]),
    st.booleans(),
)
def test_what_is_barred_lasts_as_long_as_it_was_and_every_bar_is_full(steps, meter, middle_shown):
    """Rests before and lengths in eighths."""
    notes, now = [], F(0)
    for rest, length in steps:
        now += F(rest, 2)
        notes.append(LineNote(onset=now, length=F(length, 2), pitch=pitch("C4")))
        now += F(length, 2)
    empty = [BarFrame(meter.bar_length * at, meter.bar_length, meter, Key(0)) for at in range(60)]
    bars = bars_of(empty, notes, middle_shown=middle_shown)
    assert all(sum(event.length for event in bar.events) == meter.bar_length for bar in bars)
    assert sum(event.length for bar in bars for event in bar.notes) == sum(note.length for note in notes)
    assert all(event.length == event.value.length for bar in bars for event in bar.notes)
    heads = [event for bar in bars for event in bar.notes]
    assert sum(not event.tied_from_previous for event in heads) == len(notes)


def test_a_note_no_printed_values_come_to_is_cut_at_the_next_beat():
    """After two sixths of an eighth in 6/8 a note cannot reach the next felt beat in one piece, nor in 2/2."""
    for meter, cut in ((Meter(6, 8), F(1, 2)), (Meter(2, 2), F(1))):
        notes = line(("C4", F(0), F(1, 3)), ("D4", F(1, 3), meter.beat_length - F(1, 3)))
        (bar,) = bars_of([BarFrame(F(0), meter.bar_length, meter, Key())], notes)
        assert [note.onset for note in bar.notes] == [0, F(1, 3), cut]
        assert all(event.value.length == event.length for event in bar.events)
