"""Takes whose playing is known, as recordings: notes rendered to a WAV file by fluidsynth with a sound font.

A string stops when the next is plucked, as in playing one line, and rings on for up to 80 ms: sound fonts let some
notes ring for seconds. Notes are rendered in two files by turns, in which each can be damped by itself.
"""

import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

import mido
import numpy as np
import soundfile

from game.instrument.decoding.played import PlayedNote

SOUND_FONTS = Path("/usr/share/sounds/sf2")
RATE = 44_100
_TICKS = 480
_TICKS_A_SECOND = 2 * _TICKS
_RINGS_ON_S = 0.08
_FADES_S = 0.02
_TOUCHES_S = 0.02
"""The same note again is on the same string: the pick that comes to rest on it stops it (trade)."""
_STOPS_S = 0.005
_TAIL_S = 0.5
_GAIN = 0.7
_ALL_SOUND_OFF = 120
"""MIDI 1.0, controller 120."""


@dataclass(frozen=True, slots=True)
class RenderedGuitar:
    """A guitar of a sound font; `program` counts from 0 (General MIDI 1: 24 nylon, 25 steel, 26 jazz, 27 clean). Where
    it `rings`, notes end as the font lets them, on top of one another.
    """

    name: str
    font: str
    program: int
    rings: bool = False


GUITARS = (
    RenderedGuitar("FluidR3 nylon", "FluidR3_GM.sf2", 24),
    RenderedGuitar("FluidR3 steel", "FluidR3_GM.sf2", 25),
    RenderedGuitar("FluidR3 jazz", "FluidR3_GM.sf2", 26),
    RenderedGuitar("FluidR3 clean", "FluidR3_GM.sf2", 27),
    RenderedGuitar("TimGM steel", "TimGM6mb.sf2", 25),
    RenderedGuitar("TimGM clean", "TimGM6mb.sf2", 27),
    RenderedGuitar("FluidR3 steel, ringing", "FluidR3_GM.sf2", 25, rings=True),
)


def rendered_with(font: str) -> bool:
    """Whether there is what it takes to render with a sound font."""
    return shutil.which("fluidsynth") is not None and (SOUND_FONTS / font).is_file()


def render(notes: Sequence[PlayedNote], ends_s: Sequence[float], guitar: RenderedGuitar, to: Path, rng: Random) -> None:
    """Write notes as a WAV file, the same on two channels. Each ends at its time and rings on a little, but is stopped
    by the pick where the next is of its pitch.
    """
    stops_s = []
    for note, end_s, following in zip(notes, ends_s, (*notes[1:], None), strict=True):
        stop_s = end_s + rng.uniform(0, _RINGS_ON_S)
        if following and following.sounding == note.sounding:
            stop_s = min(stop_s, following.started_s - _FADES_S - rng.uniform(0, _TOUCHES_S))
        stops_s.append(max(stop_s, note.started_s + _STOPS_S))
    velocities = [rng.randint(60, 110) for _ in notes]
    whole = list(zip(notes, stops_s, velocities, strict=True))
    if guitar.rings:
        sound = _rendered(whole, guitar)
    else:
        halves = [_damped(_rendered(half, guitar), half) for half in (whole[::2], whole[1::2]) if half]
        sound = np.zeros((max(map(len, halves)), 2))
        for half in halves:
            sound[: len(half)] += half
    soundfile.write(to, sound, RATE)


_Sounded = tuple[PlayedNote, float, int]
"""A note, when it stops, and its velocity."""


def _damped(sound, notes: Sequence[_Sounded]):
    """Each note fades away where it stops."""
    at_s = np.arange(len(sound)) / RATE
    heard = np.zeros(len(sound))
    for note, stops_s, _ in notes:
        here = at_s >= note.started_s - _STOPS_S
        heard[here] = np.clip((stops_s + _FADES_S - at_s[here]) / _FADES_S, 0, 1)
    return sound * heard[:, None]


def _rendered(notes: Sequence[_Sounded], guitar: RenderedGuitar):
    events = []
    for note, stops_s, velocity in notes:
        events.append((note.started_s, mido.Message("note_on", note=note.sounding, velocity=velocity)))
        if guitar.rings:
            events.append((stops_s, mido.Message("note_off", note=note.sounding)))
        else:
            # Inaudible by then.
            off = mido.Message("control_change", control=_ALL_SOUND_OFF, value=0)
            events.append((stops_s + _FADES_S + _STOPS_S, off))
    events.sort(key=lambda event: event[0])
    track = mido.MidiTrack([mido.Message("program_change", program=guitar.program)])
    now = 0
    for at_s, message in events:
        tick = round(at_s * _TICKS_A_SECOND)
        track.append(message.copy(time=tick - now))
        now = tick
    track.append(mido.MetaMessage("end_of_track", time=round(_TAIL_S * _TICKS_A_SECOND)))
    with tempfile.TemporaryDirectory() as folder:
        midi, wav = Path(folder) / "take.mid", Path(folder) / "take.wav"
        mido.MidiFile(ticks_per_beat=_TICKS, tracks=[track]).save(midi)
        dry = ["-R", "0", "-C", "0", "-g", str(_GAIN), "-r", str(RATE)]
        # Options first: what comes behind a file is a file to it.
        command = ["fluidsynth", "-q", "-n", "-i", *dry, "-F", str(wav), str(SOUND_FONTS / guitar.font), str(midi)]
        subprocess.run(command, check=True, capture_output=True, timeout=120)
        return soundfile.read(wav)[0]
