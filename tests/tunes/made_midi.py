"""MIDI files made for tests with mido: notes as (onset, length, number) in quarter notes, and signs."""

import io
import random

import mido

from tests.tunes.read_here import read_here

TICKS = 480
JITTER_MS = 20


def midi_bytes(
    *tracks, ticks: int = TICKS, meters=(), keys=(), markers=(), names=(), bpm: float = 100, program=None
) -> bytes:
    """A file of type 1. `meters` are (quarter, beats, unit), `keys` (quarter, name such as "Bb" or "Dm"), `markers`
    (quarter, text).
    """
    file = mido.MidiFile(ticks_per_beat=ticks)
    signs = [(0.0, mido.MetaMessage("set_tempo", tempo=mido.bpm2tempo(bpm)))]
    signs += [(at, mido.MetaMessage("time_signature", numerator=beats, denominator=unit)) for at, beats, unit in meters]
    signs += [(at, mido.MetaMessage("key_signature", key=key)) for at, key in keys]
    signs += [(at, mido.MetaMessage("marker", text=text)) for at, text in markers]
    file.tracks.append(_track(signs, ticks))
    for number, notes in enumerate(tracks):
        events = [(0.0, mido.MetaMessage("track_name", name=names[number] if names else f"line {number + 1}"))]
        if program is not None:
            events.append((0.0, mido.Message("program_change", program=program, channel=number)))
        for onset, length, midi in notes:
            events.append((onset, mido.Message("note_on", note=midi, velocity=80, channel=number)))
            events.append((onset + length, mido.Message("note_off", note=midi, channel=number)))
        file.tracks.append(_track(events, ticks))
    buffer = io.BytesIO()
    file.save(file=buffer)
    return buffer.getvalue()


def _track(events, ticks):
    track, now = mido.MidiTrack(), 0
    # What ends goes before what begins at the same moment.
    for at, message in sorted(events, key=lambda event: (round(event[0] * ticks), event[1].type == "note_on")):
        tick = max(0, round(at * ticks))
        track.append(message.copy(time=tick - now))
        now = tick
    return track


def jittered(notes, rng: random.Random, *, bpm: float = 100, most_ms: float = JITTER_MS):
    """The notes as a person plays them: each onset up to `most_ms` early or late, lengths a little short."""
    most = most_ms / 1000 * bpm / 60
    return [
        (max(0.0, onset + rng.uniform(-most, most)), length * rng.uniform(0.75, 0.98), midi)
        for onset, length, midi in notes
    ]


def steps(*lengths, start=0.0, first=57):
    """Notes one after another, a step up each, wrapping after an octave."""
    notes, at = [], start
    for index, length in enumerate(lengths):
        notes.append((at, length, first + (0, 2, 4, 5, 7, 9, 11)[index % 7]))
        at += length
    return notes


def row(score) -> str:
    """Bars apart; pitch and length of each note, ties as ~, rests as z."""
    return " | ".join(
        " ".join(
            f"{event.pitch}:{event.length}" + ("~" if event.tied_to_next else "")
            if hasattr(event, "pitch")
            else f"z{event.length}"
            for event in bar.events
        )
        for bar in score.bars
    )


def midi_score(*tracks, part=None, choice=None, **signs):
    signs.setdefault("meters", [(0, 4, 4)])
    signs.setdefault("keys", [(0, "C")])
    return read_here(midi_bytes(*tracks, **signs), name="tune.mid", part=part, read=choice)
