"""Our own clicks beside a guitar that is heard: `python -m tests.bench.own_clicks [--row WORDS] [--seed N] [--all]`.

How lines are heard without a click, and with one that leaks by several ways and so loud, left in and taken out as the
game does (`game.instrument.listening.known_sound`). The player is on the beat give or take 15 ms. Loudness is that of
the accent's peak against the loudest of the guitar. The guitars are those of `tests.bench.listening`, four of them
without `--all`; other melodies. Some minutes.
"""

import argparse
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from game.audio.beats import ClickKind
from game.audio.clicks import click_sounds
from game.instrument.listening.heard import HeardNote
from game.instrument.listening.known_sound import KnownSound
from game.music.clicking import ClickSound
from tests.bench.listening_measures import Counts, counted, fed, notes_of
from tests.bench.listening_rows import Recording, Samples, chance_of, guitars, lines
from tests.instrument.listening import rooms
from tests.instrument.listening.rendered_guitar import RATE

BPM = 100
FEW = (1, 3, 5, 8)
Way = Callable[[Samples], Samples]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=71)
    parser.add_argument("--notes", type=int, default=40)
    parser.add_argument("--all", action="store_true", help="all guitars")
    parser.add_argument("--row", default="", help="only rows with these words")
    asked = parser.parse_args()
    found = guitars(asked.seed)
    chosen = found if asked.all else [found[number] for number in FEW]
    recordings = [
        recording
        for guitar in chosen
        for recording in lines(asked.notes, (BPM,))(guitar, chance_of(asked.seed, "own clicks", guitar.name))
    ]
    heads = "F recall prec. onset p95 ms"
    print(f"{'':34s} {'left in':>27s} {'taken out':>27s}\n{'the click':34s} {heads:>27s} {heads:>27s}")
    if asked.row in "none":
        row("none", recordings)
    for name, way in ways(asked.seed).items():
        for below_db in (-20, -6, 0):
            if asked.row in (words := f"{name}, {below_db} dB"):
                row(words, [clicked(one, way, below_db) for one in recordings])
    print("\nthe clicks alone, notes heard (target: 0)")
    for name, way in ways(asked.seed).items():
        alone = way(click_track(30.0, 0.05)) * 0.8
        print(f"{name:34s} {len(heard_in(alone, taken_out=False)):27d} {len(heard_in(alone, taken_out=True)):27d}")


def ways(seed: int) -> dict[str, Way]:
    """From the loudspeaker to the microphone."""

    def laptop(samples: Samples) -> Samples:
        small = rooms.band(samples, 300, 8_000)
        chance = np.random.default_rng(seed)
        for _ in range(6):
            later = round(chance.uniform(0.02, 0.08) * RATE)
            small[later:] += chance.choice((-1, 1)) * chance.uniform(0.15, 0.5) * small[:-later]
        return small

    def room(samples: Samples) -> Samples:
        return rooms.in_room(rooms.band(samples, 300, 8_000), np.random.default_rng(seed), wet=0.5)

    def other_clock(samples: Samples) -> Samples:
        """100 parts in a million too fast, and driven too far."""
        return np.tanh(3 * np.interp(np.arange(len(samples)) * 1.0001, np.arange(len(samples)), samples)) / 3

    return {
        "straight": lambda samples: samples,
        "small loudspeaker, echoes": laptop,
        "room": room,
        "other": other_clock,
    }


def click_track(seconds: float, first_s: float) -> Samples:
    """Bars of four with subdivisions, the accents of peak 1."""
    waves = click_sounds(RATE, ClickSound.BRIGHT)
    loudest = float(np.abs(waves[ClickKind.ACCENT]).max())
    track = np.zeros(round(seconds * RATE))
    for number in range(int((seconds - first_s - 0.1) / (30 / BPM))):
        kind = ClickKind.SUBDIVISION if number % 2 else ClickKind.BEAT if number % 8 else ClickKind.ACCENT
        wave, at = waves[kind] / loudest, round((first_s + number * 30 / BPM) * RATE)
        track[at : at + len(wave)] += wave[: len(track) - at]
    return track


def clicked(recording: Recording, way: Way, below_db: float) -> Recording:
    first_s = recording.notes[0].start_s % (30 / BPM)
    track = way(click_track(len(recording.samples) / RATE, first_s))
    loudest = rooms.loudness(recording.samples) * 10 ** (below_db / 20)
    return replace(recording, samples=recording.samples + track * loudest)


def heard_in(samples: Samples, *, taken_out: bool) -> list[HeardNote]:
    return list(notes_of(fed(without_clicks(Recording("", samples, ()), taken_out=taken_out))))


def without_clicks(recording: Recording, *, taken_out: bool) -> Recording:
    if not taken_out:
        return recording
    left = KnownSound(RATE).take_out(recording.samples.astype(np.float32))
    return replace(recording, samples=left.astype(np.float64))


def row(name: str, recordings: list[Recording]) -> None:
    told = []
    for taken_out in (False, True):
        counts = Counts()
        for recording in recordings:
            counts.add(counted(without_clicks(recording, taken_out=taken_out)))
        late_ms = float(np.quantile(np.abs(counts.onsets_ms), 0.95)) if counts.onsets_ms else float("nan")
        told.append(f"{counts.f_measure:.4f} {counts.recall:.3f} {counts.precision:.3f} {late_ms:5.1f}")
    print(f"{name:34s} {told[0]:>27s} {told[1]:>27s}", flush=True)


if __name__ == "__main__":
    main()
