"""A MIDI file taken apart (Standard MIDI File 1.1)."""

import io

import mido

from game.errors import TuneError
from game.music.keys import Key
from game.music.meter import Meter
from game.tunes.midi.midi_file import MidiNote, ParsedMidi, parse_midi
from game.tunes.sandbox.tune_source import TuneSource
from tests.refusing import refusal
from tests.tunes.made_midi import midi_bytes, midi_score, steps


def test_drums_are_no_part():
    """Channel 10 holds no pitches (General MIDI)."""
    with refusal(TuneError, "without notes"):
        midi_score(*[[] for _ in range(9)], steps(1, 1, 1, first=40))


def parsed(content: bytes) -> ParsedMidi:
    return parse_midi(TuneSource(name="tune.mid", file_format="midi", content=content))


def raw(*track: tuple[int, bytes], division: bytes = b"\x00\x60") -> bytes:
    """A file of type 0: (ticks since the message before, message)."""
    body = b"".join(bytes([delta]) + message for delta, message in track)
    return b"MThd\x00\x00\x00\x06\x00\x00\x00\x01" + division + b"MTrk" + len(body).to_bytes(4, "big") + body


ON, OFF, END = b"\x90\x3c\x40", b"\x80\x3c\x40", b"\xff\x2f\x00"


def test_positions_are_quarter_notes_as_the_file_counts_them():
    """96 ticks a quarter note."""
    (part,) = parsed(raw((48, ON), (72, OFF), (0, END))).parts
    assert part.notes == (MidiNote(0.5, 1.25, 60),)


def test_in_film_frames_a_quarter_note_lasts_as_at_120():
    """Standard MIDI File 1.1: 24 frames of 4 ticks are 96 ticks a second, 48 a quarter note without a tempo."""
    (part,) = parsed(raw((0, ON), (48, OFF), (0, END), division=b"\xe8\x04")).parts
    assert part.notes == (MidiNote(0.0, 1.0, 60),)


def test_a_note_on_of_velocity_0_ends_a_note_and_one_that_never_ends_lasts_to_the_end_of_the_track():
    """MIDI 1.0 for the first."""
    (part,) = parsed(raw((0, ON), (96, b"\x90\x3c\x00"), (0, ON), (96, END))).parts
    assert part.notes == (MidiNote(0.0, 1.0, 60), MidiNote(1.0, 2.0, 60))


def test_a_note_struck_again_before_it_ends_ends_in_the_order_it_began():
    (part,) = parsed(raw((0, ON), (48, ON), (48, OFF), (48, OFF), (0, END))).parts
    assert part.notes == (MidiNote(0.0, 1.0, 60), MidiNote(0.5, 1.5, 60))


def test_an_end_without_a_beginning_is_passed_over():
    (part,) = parsed(raw((0, OFF), (0, ON), (96, OFF), (0, END))).parts
    assert len(part.notes) == 1


def test_each_channel_of_a_track_is_a_part_named_with_it_where_there_are_several():
    program = b"\xc1\x1a"
    file = parsed(raw((0, program), (0, ON), (96, OFF), (0, b"\x91\x40\x40"), (96, b"\x81\x40\x00"), (0, END)))
    assert [part.name for part in file.parts] == ["track 1, channel 1", "track 1, channel 2"]
    assert [part.program for part in file.parts] == [None, 26]


def test_the_first_track_names_the_piece_where_it_has_no_notes():
    file = mido.MidiFile()
    for name, notes in (("Ford", False), ("Flute", True)):
        track = mido.MidiTrack([mido.MetaMessage("track_name", name=name)])
        if notes:
            track += [mido.Message("note_on", note=60), mido.Message("note_off", note=60, time=480)]
        file.tracks.append(track)
    buffer = io.BytesIO()
    file.save(file=buffer)
    tune = parsed(buffer.getvalue())
    assert (tune.title, [part.name for part in tune.parts]) == ("Ford", ["Flute"])


def test_metres_and_keys_come_with_where_they_stand_and_one_nobody_can_count_is_left_out_and_said():
    tune = parsed(midi_bytes(steps(*[1] * 8), meters=[(0, 3, 4), (3, 4, 4)], keys=[(0, "Bb"), (3, "Dm")]))
    assert tune.meters == ((0.0, Meter(3, 4)), (3.0, Meter()))
    assert tune.keys == ((0.0, Key(-2)), (3.0, Key(-1, minor=True)))
    odd = parsed(midi_bytes(steps(1), meters=[(0, 99, 4)]))
    assert odd.meters == ()
    assert [warning.key for warning in odd.warnings] == ["tune.metre_left_out"]


def test_a_number_without_end_is_refused_before_anyone_counts_it():
    """Standard MIDI File 1.1: no number has more than four bytes."""
    endless = raw((0, b"\x81" * 400_000 + ON), (0, END))
    with refusal(TuneError, "tune.mid: is a broken MIDI file: it holds a number without end"):
        parsed(endless)
