"""MIDI files to our Score: one line, quantised, put into bars and spelled. Pure, in this process, with caps.

A MIDI file holds played notes: rhythm, bars, spelling and even the octave of the page are made here, and each guess is
one sentence of the score's warnings. Without signs of metre a file is in 4/4 (Standard MIDI File 1.1).
"""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from statistics import median

from game.errors import TuneError
from game.message import Message, message
from game.music.barring import BarFrame, LineNote, bars_of, ends_written, frames, in_force
from game.music.clef import Clef
from game.music.keys import Key
from game.music.meter import Meter
from game.music.score import Bar, Reading, Score
from game.tunes.limits import MAX_BARS
from game.tunes.midi.midi_file import ParsedMidi, parse_midi
from game.tunes.midi.midi_line import ChosenLine, chosen_line
from game.tunes.midi.pickup_bar import with_bar_lines_moved, without_leading_silence
from game.tunes.midi.quantised import Quantised, quantise
from game.tunes.midi.spelled_line import guessed_key, spelled_line
from game.tunes.midi.written_grid import written_ends, written_onsets
from game.tunes.musicxml.reading_octave import (
    SettledOctave,
    fixed_octave,
    octave_shifted_bar,
    open_octave,
    reading_in,
)
from game.tunes.playable import check_playable
from game.tunes.sandbox.tune_source import TuneSource

# A line whose middle note sounds here or above is no guitar's register: it is taken for a lead sheet's page (ours).
_PAGE_FROM = 65
# General MIDI programs 25-32 (from 0: 24-31) are guitars.
_GUITARS = range(24, 32)
# 33-40 (from 0: 32-39) are basses.
_BASSES = range(32, 40)
# Half of what sounds lies below this: the B under middle C, over which ledger lines begin in the bass clef.
_BASS_CLEF_BELOW = 59


def read_midi(source: TuneSource, part: int | None, read: Reading | None) -> Score:
    """Read one part of a MIDI file; `part` counts channels with notes from 1, None takes the likely melody.

    Raises `TuneError`.
    """
    tune = parse_midi(source)
    line = chosen_line(tune.parts, part, source.name, ticks=tune.ticks)
    meters, said_meter = _meters(tune)
    onsets, found = _quantised(line, meters)
    exact = None if found.swing else written_onsets([note.start for note in line.notes], tune.ticks)
    if exact:
        onsets, found = list(exact), Quantised(onsets=exact)
    cells = [_cell(in_force(meters, onset, meters[0][1])) for onset in onsets]
    kept = _first_of_each(onsets)
    notes = [line.notes[index] for index in kept]
    onsets = [onsets[index] for index in kept]
    played_ends = [note.end for note in notes]
    ends = written_ends(onsets, played_ends, tune.ticks) if exact else None
    ends = ends or ends_written(onsets, played_ends, [cells[index] for index in kept])
    keys, said_key = _keys(tune, [note.midi for note in notes], onsets, ends)
    bar_frames = frames(meters, keys, ends[-1], most=MAX_BARS)
    bar_frames, shift, said_pickup = _bar_lines(bar_frames, onsets, ends)
    if len(bar_frames) > MAX_BARS:
        raise TuneError("midi.too_many_bars", file=source.name, count=len(bar_frames), limit=MAX_BARS)
    pitches = spelled_line([note.midi for note in notes], [in_force(keys, onset, Key()) for onset in onsets])
    written = [
        LineNote(onset=onset - shift, length=end - onset, pitch=pitch)
        for onset, end, pitch in zip(onsets, ends, pitches, strict=True)
    ]
    octave = _octave(line, read)
    bars = tuple(octave_shifted_bar(bar, octave.up) for bar in bars_of(bar_frames, written))
    bars = _with_sections(bars, bar_frames, [(_exact(at) - shift, name) for at, name in tune.sections])
    check_playable(bars, source.name)
    return Score(
        title=tune.title,
        part=line.part.name if len(tune.parts) > 1 else "",
        reading=octave.reading,
        bars=bars,
        file_format="midi",
        octave_reason=octave.reason,
        sound_fixed=octave.sound_fixed,
        swung=True if found.swing else None,
        warnings=(*line.warnings, *tune.warnings, *said_meter, *_said(found), *said_key, *said_pickup),
    )


def _meters(tune: ParsedMidi) -> tuple[list[tuple[Fraction, Meter]], list[Message]]:
    meters = [(_exact(at), meter) for at, meter in tune.meters]
    if meters and meters[0][0] == 0:
        return meters, []
    said = [] if meters else [message("midi.no_metre")]
    return [(Fraction(0), Meter()), *meters], said


def _quantised(line: ChosenLine, meters: list[tuple[Fraction, Meter]]) -> tuple[list[Fraction], Quantised]:
    """The onsets in quarter notes, stretch by stretch of one metre, and what was found in the longest."""
    onsets: list[Fraction] = []
    longest = Quantised(onsets=())
    starts = [note.start for note in line.notes]
    for index, (at, meter) in enumerate(meters):
        until = meters[index + 1][0] if index + 1 < len(meters) else None
        cell = _cell(meter)
        # A note a little before the bar line belongs to the bar it was meant for.
        low, high = float(at) - 0.1, None if until is None else float(until) - 0.1
        inside = [start for start in starts if (start >= low or index == 0) and (high is None or start < high)]
        found = quantise([(start - float(at)) / float(cell) for start in inside], may_swing=cell == 1)
        onsets += [max(Fraction(0), at + onset * cell) for onset in found.onsets]
        if len(found.onsets) > len(longest.onsets):
            longest = found
    return onsets, longest


def _first_of_each(onsets: list[Fraction]) -> list[int]:
    """Of notes that came to the same onset the first stands: the others were too quick to be written."""
    return [index for index, onset in enumerate(onsets) if index == 0 or onset > onsets[index - 1]]


def _keys(
    tune: ParsedMidi, numbers: list[int], onsets: list[Fraction], ends: list[Fraction]
) -> tuple[list[tuple[Fraction, Key]], list[Message]]:
    if tune.keys:
        keys = [(_exact(at), key) for at, key in tune.keys]
        return ([(Fraction(0), keys[0][1]), *keys[1:]]), []
    lengths = [float(end - onset) for onset, end in zip(onsets, ends, strict=True)]
    key = guessed_key(numbers, lengths)
    guessed = "midi.minor_guessed" if key.minor else "midi.major_guessed"
    return [(Fraction(0), key)], [message(guessed, key=key.name.removesuffix("m"))]


def _bar_lines(
    bar_frames: list[BarFrame], onsets: list[Fraction], ends: list[Fraction]
) -> tuple[list[BarFrame], Fraction, list[Message]]:
    """The bars without silence at the beginning, and with their lines where the music has them."""
    bar_frames, shift, said = without_leading_silence(bar_frames, onsets[0])
    if shift or bar_frames[0].pickup:
        return bar_frames, shift, said
    moved = with_bar_lines_moved(bar_frames, onsets, ends)
    if moved is not bar_frames:
        said = [*said, message("midi.bar_lines_moved")]
    return moved, shift, said


def _with_sections(
    bars: Sequence[Bar], bar_frames: Sequence[BarFrame], sections: Sequence[tuple[Fraction, str]]
) -> tuple[Bar, ...]:
    """The bars with the names of sections, each at the bar line that it stands nearest to."""
    starts = [frame.start for frame in bar_frames[: len(bars)]]
    named = list(bars)
    for at, name in sections:
        bar = min(range(len(starts)), key=lambda index: abs(starts[index] - at))
        marks = replace(bars[bar].marks, section=name)
        if at < bar_frames[len(bars) - 1].start + bars[-1].length:
            named[bar] = replace(bars[bar], marks=marks)
    return tuple(named)


def _octave(line: ChosenLine, read: Reading | None) -> SettledOctave:
    """MIDI numbers are what sounds (MIDI 1.0); but a high line, not played on a guitar, is a lead sheet's page. A bass
    stands in the bass clef, and for who reads there any low line.
    """
    middle = median(note.midi for note in line.notes)
    low = read is not None and read.clef is Clef.BASS and middle < _BASS_CLEF_BELOW
    reading = reading_in(Clef.BASS if line.part.program in _BASSES or low else Clef.TREBLE, read)
    high = middle >= _PAGE_FROM
    if high and line.part.program not in _GUITARS and reading is Reading.GUITAR:
        return replace(open_octave(reading), reason=message("octave.high_line"))
    return fixed_octave(reading, file_to_sound=0, sign="pitches")


def _said(found: Quantised) -> list[Message]:
    said = []
    if found.swing:
        said.append(message("midi.swung", ratio=found.swing))
    if found.free:
        said.append(message("midi.rhythm_guessed"))
    return said


def _cell(meter: Meter) -> Fraction:
    """What the grid divides: the quarter, or the eighth where the metre counts eighths or less."""
    return Fraction(1) if meter.unit <= 4 else Fraction(1, 2)


def _exact(at: float) -> Fraction:
    return Fraction(at).limit_denominator(960)
