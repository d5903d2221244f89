"""The rows of `tests.bench.listening`: guitars, lines and rooms by name. None of them was tuned on."""

import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from game.audio.beats import ClickKind
from game.audio.clicks import click_sounds
from game.music.clicking import ClickSound
from tests.instrument.listening import rendered_guitar as fonts
from tests.instrument.listening import rooms, string_model, unkind_rooms
from tests.instrument.listening.melodies import Touch, line
from tests.instrument.listening.played_lines import Guitar, Modelled, PlayedLine, Sampled, TrueNote, played
from tests.instrument.listening.rendered_guitar import RATE, FontGuitar

Samples = NDArray[np.float64]
VELOCITIES = (40, 64, 96, 120)
TEMPOS = (60, 80, 100, 120, 140, 160)
MELODY = {"lowest": 45, "highest": 72}  # A2 to C5


@dataclass(frozen=True)
class Recording:
    """What is fed, at `rate`, and what was played; `lowest_string` is that of the tuning."""

    guitar: str
    samples: Samples
    notes: tuple[TrueNote, ...]
    rate: int = RATE
    lowest_string: int = 40


Made = Callable[[Guitar, np.random.Generator], Iterator[Recording]]


@dataclass(frozen=True)
class Row:
    """A kind of playing or of room. `wanted` is the least F; None where there is no target."""

    name: str
    recordings: Made
    wanted: float | None = None


@cache
def guitars(seed: int) -> tuple[Guitar, ...]:
    """Two sound fonts and three guitars of the string model."""
    sampled = [
        Sampled(FontGuitar(font, program, VELOCITIES))
        for font in (fonts.FLUID, fonts.TIM)
        for program in (fonts.NYLON, fonts.STEEL, fonts.JAZZ, fonts.CLEAN)
    ]
    chance = np.random.default_rng(seed)
    modelled = [
        Modelled(
            replace(
                strings,
                stiffness=tuple(each * chance.uniform(0.7, 1.5) for each in strings.stiffness),
                fading=strings.fading * chance.uniform(0.7, 1.4),
                thump=strings.thump * chance.uniform(0.7, 1.4),
                noise=strings.noise * chance.uniform(0.7, 1.4),
            )
        )
        for strings in (string_model.STEEL, string_model.NYLON, string_model.ELECTRIC)
    ]
    return (*sampled, *modelled)


def made(row: Row, seed: int, number: int) -> Iterator[Recording]:
    """The recordings of a row by one of the `guitars`, the same for the same seed."""
    guitar = guitars(seed)[number]
    yield from row.recordings(guitar, chance_of(seed, row.name, guitar.name))


def chance_of(seed: int, *names: str) -> np.random.Generator:
    return np.random.default_rng([seed, *(zlib.crc32(name.encode()) for name in names)])


def lines(notes: int = 40, bpm: Sequence[float] = (110,), *, same_string: float = 0.5, **how: Any) -> Made:
    """Lines at each of the tempos, nothing but the guitar."""

    def make(guitar: Guitar, chance: np.random.Generator) -> Iterator[Recording]:
        for tempo in bpm:
            made_line = line(chance, notes=notes, bpm=tempo, **{**MELODY, **how})
            sounded = played(made_line, guitar, chance, same_string=same_string)
            yield Recording(guitar.name, sounded.samples, sounded.notes)

    return make


def tuned_down(lowest_string: int, **how: Any) -> Made:
    """Lines on a guitar whose lowest string is this MIDI number."""

    def make(guitar: Guitar, chance: np.random.Generator) -> Iterator[Recording]:
        for plain in lines(40, (100,), **how)(guitar, chance):
            yield replace(plain, lowest_string=lowest_string)

    return make


def in_place(change: Callable[[Samples, np.random.Generator], Samples], rate: int = RATE, notes: int = 40) -> Made:
    """Lines whose sound `change` makes something else of."""

    def make(guitar: Guitar, chance: np.random.Generator) -> Iterator[Recording]:
        for plain in lines(notes)(guitar, chance):
            changed = change(plain.samples, chance)
            yield Recording(guitar.name, changed if rate == RATE else rooms.at_rate(changed, rate), plain.notes, rate)

    return make


def changed_line(change: Callable[[PlayedLine, Guitar, np.random.Generator], PlayedLine]) -> Made:
    """Lines that `change` makes something else of, what was played included."""

    def make(guitar: Guitar, chance: np.random.Generator) -> Iterator[Recording]:
        for plain in lines()(guitar, chance):
            changed = change(PlayedLine(plain.samples, plain.notes), guitar, chance)
            yield Recording(guitar.name, changed.samples, changed.notes)

    return make


def palm_muted(guitar: Guitar, chance: np.random.Generator) -> Iterator[Recording]:
    if isinstance(guitar, Modelled):
        guitar = Modelled(string_model.muted(guitar.strings))
    elif isinstance(guitar, Sampled):
        program = fonts.MUTED if guitar.guitar.program == fonts.JAZZ else guitar.guitar.program
        fades = 0.0 if program == fonts.MUTED and guitar.guitar.font == fonts.FLUID else float(chance.uniform(7, 14))
        guitar = Sampled(FontGuitar(guitar.guitar.font, program, VELOCITIES), fades)
    yield from lines(ringing=(0.0, 0.01))(guitar, chance)


def tuned_flat(guitar: Guitar, chance: np.random.Generator) -> Iterator[Recording]:
    """Every note a third of a semitone flat: everything 2 percent slower, from 45 to 44.1 thousand samples a second."""
    for plain in lines()(guitar, chance):
        slower = 2 ** (0.33 / 12)
        samples = np.interp(
            np.arange(0, len(plain.samples) - 1, 1 / slower), np.arange(len(plain.samples)), plain.samples
        )
        notes = tuple(TrueNote(note.start_s * slower, note.end_s * slower, note.pitch) for note in plain.notes)
        yield Recording(guitar.name, samples, notes)


def clicking(sound: ClickSound, below_db: float) -> Callable[[Samples, np.random.Generator], Samples]:
    """The program's own clicks on the beat, their peaks `below_db` under the line's loudness."""

    def change(samples: Samples, chance: np.random.Generator) -> Samples:
        del chance
        return with_clicks(samples, sound, rooms.loudness(samples) * 10 ** (below_db / 20), 110)

    return change


def with_clicks(samples: Samples, sound: ClickSound, peak: float, bpm: float) -> Samples:
    waves = {kind: np.asarray(each, dtype=np.float64) for kind, each in click_sounds(RATE, sound).items()}
    beats = np.arange(0.35, len(samples) / RATE - 0.1, 60 / bpm)
    for number, beat in enumerate(beats):
        kind = ClickKind.BEAT if number % 4 else ClickKind.ACCENT
        samples = rooms.with_sounds(samples, waves[kind], [float(beat)], peak)
        samples = rooms.with_sounds(samples, waves[ClickKind.SUBDIVISION], [float(beat) + 30 / bpm], peak * 0.6)
    return samples


def now_and_then(
    sound: Callable[[np.random.Generator], Samples],
    loud: tuple[float, float],
    every_s: tuple[float, float] = (0.4, 1.6),
) -> Callable[[Samples, np.random.Generator], Samples]:
    """`sound` at chance times, its peak at `loud` (from, to) of the line's loudness; of full scale in silence."""

    def change(samples: Samples, chance: np.random.Generator) -> Samples:
        level = rooms.loudness(samples) or 1.0
        at = float(chance.uniform(*every_s))
        while at < len(samples) / RATE - 0.8:
            samples = rooms.with_sounds(samples, sound(chance), [at], level * float(chance.uniform(*loud)))
            at += float(chance.uniform(*every_s))
        return samples

    return change


def squeak_or_tap(chance: np.random.Generator) -> Samples:
    return rooms.squeak(chance) if chance.random() < 0.6 else rooms.tap(chance)


def laptop(samples: Samples, chance: np.random.Generator) -> Samples:
    """Half a metre from a laptop: room, a small microphone, an automatic gain, its noise."""
    heard = rooms.in_room(samples, chance, lasts_s=0.35, wet=0.2)
    heard = rooms.band(heard, 100, 8_000) * 0.2
    heard += rooms.pink(len(heard) / RATE + 0.1, -62, chance)[: len(heard)]
    return rooms.with_automatic_gain(heard)


def beside_talk(samples: Samples, chance: np.random.Generator) -> Samples:
    """Somebody talks in the room, rms 32 dB under the line's peaks."""
    talk = rooms.speech(len(samples) / RATE + 1, 0.0, chance)[: len(samples)]
    return samples + talk * rooms.loudness(samples) * 10 ** (-32 / 20)


WANTED = (
    Row("A2-C5, 60 to 160 bpm", lines(20, TEMPOS), 0.985),
    Row("A2-C5, 200 bpm", lines(60, (200,)), 0.975),
    Row("E2-G#2", lines(40, (90,), lowest=40, highest=44, repeats=0.15), 0.97),
    Row("E2-D3", lines(40, (120,), lowest=40, highest=50), 0.97),
    Row("half of the notes repeats", lines(50, (120,), repeats=0.5)),
    Row("room, microphone at 30 cm", in_place(lambda x, c: rooms.in_room(x, c, wet=0.14)), 0.98),
    Row("hum of 50 Hz, -30 dB", in_place(lambda x, c: rooms.with_hum(x, 50, -30, c)), 0.98),
    Row("hum of 60 Hz, -30 dB", in_place(lambda x, c: rooms.with_hum(x, 60, -30, c)), 0.98),
    Row("our bright click, -20 dB", in_place(clicking(ClickSound.BRIGHT, -20)), 0.98),
    Row("squeaks and taps", in_place(now_and_then(squeak_or_tap, (0.03, 0.12))), 0.98),
    Row("slurs", lines(40, (90,), touches=(Touch.SLUR,), touched=0.6), 0.96),
    Row("slides between notes", lines(40, (90,), touches=(Touch.SLIDE,), touched=0.6), 0.96),
    Row("slides into a note", lines(40, (90,), touches=(Touch.SLIDE_IN,), touched=0.6), 0.96),
    Row("bends", lines(40, (90,), touches=(Touch.BEND,), touched=0.6, shortest=1.0), 0.96),
    Row("vibrato", lines(40, (90,), touches=(Touch.VIBRATO,), touched=0.6, shortest=1.0), 0.96),
    Row("palm mute", palm_muted, 0.96),
    Row("staccato", lines(40, (120,), staccato=True), 0.96),
)

LESS_KIND = (
    Row("our wooden click, -20 dB", in_place(clicking(ClickSound.WOODEN, -20))),
    Row("our bright click, -10 dB", in_place(clicking(ClickSound.BRIGHT, -10))),
    Row("room, microphone at 60 cm", in_place(lambda x, c: rooms.in_room(x, c, wet=0.35))),
    Row("sixteenths at 110 bpm", lines(60, (220,), ringing=(0.0, 0.05))),
    Row("notes left ringing 0.2-1 s", lines(40, ringing=(0.2, 1.0), same_string=1.0)),
    Row("open strings sound along, -24 dB", in_place(lambda x, _: unkind_rooms.with_sympathetic_strings(x, -24))),
    Row(
        "a tenth with an open string struck",
        changed_line(lambda x, g, c: unkind_rooms.with_struck_neighbours(x, g, 0.1, c)),
    ),
    Row(
        "an open string as the finger lifts",
        changed_line(lambda x, g, c: unkind_rooms.with_lifted_fingers(x, g, 0.3, c)),
    ),
    Row("knocks on the body as loud as notes", in_place(now_and_then(rooms.tap, (0.5, 1.2), (1.0, 3.0)))),
    Row("a phone buzzes, -15 dB", in_place(now_and_then(unkind_rooms.phone_buzz, (0.12, 0.22), (2.0, 4.0)))),
    Row("a chair creaks, -15 dB", in_place(now_and_then(unkind_rooms.chair, (0.12, 0.22), (2.0, 4.0)))),
    Row("somebody talks, -32 dB", in_place(beside_talk)),
    Row("gain down by 14 dB in the middle", in_place(lambda x, _: unkind_rooms.with_gain_changed(x, 0.2))),
    Row("gain up by 14 dB in the middle", in_place(lambda x, _: unkind_rooms.with_gain_changed(x * 0.2, 5.0))),
    Row("clipped by 16 dB", in_place(lambda x, _: np.clip(x * (6.3 / rooms.loudness(x)), -1, 1))),
    Row("peaks at -36 dB", in_place(lambda x, c: unkind_rooms.hissing(x, -36, -78, c))),
    Row("peaks at -44 dB", in_place(lambda x, c: unkind_rooms.hissing(x, -44, -78, c))),
    Row("hiss 40 dB below the peaks", in_place(lambda x, c: unkind_rooms.hissing(x, -10, -50, c))),
    Row(
        "an offset and rumble",
        in_place(lambda x, _: x + 0.05 + 0.03 * np.sin(np.arange(len(x)) * 2 * np.pi * 17 / RATE)),
    ),
    Row("a laptop's microphone", in_place(laptop)),
    Row("overdriven", in_place(lambda x, _: unkind_rooms.overdriven(x))),
    Row("a third of a semitone flat", tuned_flat),
    Row("D2-G2 of drop D", tuned_down(38, lowest=38, highest=43, repeats=0.15)),
    Row("B1-E2 of seven strings", tuned_down(35, lowest=35, highest=40, repeats=0.15)),
    Row("A2-C5, listened to as seven strings", tuned_down(35)),
    Row("E2-G#2, listened to as seven strings", tuned_down(35, lowest=40, highest=44, repeats=0.15)),
    Row("at 16 kHz", in_place(lambda x, _: x, rate=16_000)),
    Row("at 48 kHz", in_place(lambda x, _: x, rate=48_000)),
    Row("at 96 kHz", in_place(lambda x, _: x, rate=96_000)),
    Row("half a second lost every five", changed_line(lambda x, _, c: unkind_rooms.with_holes(x, c))),
)


def without_notes(seed: int, seconds: float = 60.0) -> Iterator[tuple[str, Samples, int | None]]:
    """Name, sound and the most notes a minute that may be told: nobody plays. None: no target is set."""
    quiet = np.zeros(int(seconds * RATE))
    chance = chance_of(seed, "without notes")
    for name, rms_db in (("-40", -40), ("-60", -60)):
        yield f"white noise, {name} dB", rooms.white(seconds, rms_db, chance), 1
    for name, rms_db in (("-30", -30), ("-45", -45)):
        yield f"pink noise, {name} dB", rooms.pink(seconds, rms_db, chance), 1
    for name, rms_db in (("-35", -35), ("-50", -50)):
        yield f"a fan, {name} dB", rooms.fan(seconds, rms_db, chance), 1
    for name, rms_db in (("-28", -28), ("-40", -40), ("-50", -50)):
        yield f"speech-like, {name} dB", rooms.speech(seconds, rms_db, chance), 1
    for sound, most in ((ClickSound.BRIGHT, 0), (ClickSound.WOODEN, None)):
        for peak_db in (-10, -24):
            clicks = with_clicks(quiet, sound, 10 ** (peak_db / 20), 120)
            yield f"our {sound.value} clicks, {peak_db} dB", clicks + rooms.white(seconds, -75, chance), most
    for name, sound in (("squeaks", rooms.squeak), ("taps", rooms.tap), ("a chair", unkind_rooms.chair)):
        heard = now_and_then(sound, (0.03, 0.25))(quiet, chance)
        yield f"{name}, no notes", heard + rooms.white(seconds, -70, chance), None


def wrong_line(seed: int, number: int, notes: int) -> tuple[Recording, tuple[int, ...]]:
    """A line and, for each note, the pitch that was written: a semitone beside what was played."""
    guitar = guitars(seed)[number]
    chance = chance_of(seed, "wrong", guitar.name)
    recording = next(lines(notes)(guitar, chance))
    return recording, tuple(note.pitch + int(chance.choice([-1, 1])) for note in recording.notes)
