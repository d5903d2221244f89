"""The clicks, and bass and chords beside them: spacing in what SDL is given, time to render, memory. Run as a script:
prints tables with their targets.

    python tests/bench/clicks.py

The written audio comes from SDL's disk driver in a process of its own, some ten times as fast as it would sound.
"""

import sys
import tempfile
import time
from collections.abc import Iterable
from fractions import Fraction
from functools import partial
from itertools import islice, pairwise
from pathlib import Path
from statistics import median
from typing import Any

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2])]

from game.audio.accompaniment import accompaniment_of
from game.audio.bass_and_chords import AccompanimentSounds, accompaniment_strikes
from game.audio.beats import ClickRow, ClickSettings, clicks_of
from game.audio.blocks import Block, render
from game.audio.clicks import click_blocks, click_sounds, sample_of
from game.audio.player import FIRST_BYTES, READY_BYTES
from game.audio.pluck import plucked
from game.music.meter import Meter
from game.music.score import Bar, Reading
from tests.audio.lead_sheets import sheet
from tests.audio.sounded import DiskPlayer
from tests.made import bar

RATE = 44100
LEAD_S = Fraction(1, 4)
LOOPED_S = 200.0


def due(quarters: Fraction, quarter_bpm: int) -> int:
    """Samples from the first click by the rule of the absolute index, reckoned apart from the program."""
    return round((LEAD_S + quarters * 60 / quarter_bpm) * RATE) - round(LEAD_S * RATE)


def spacing_row(disk: DiskPlayer, name: str, take: dict[str, Any], quarter_bpm: int, step: Fraction) -> str:
    """Errors of every click against the first; steps are quarters from click to click."""
    began_s = time.perf_counter()
    heard = disk.sounded(take)
    took_s = time.perf_counter() - began_s
    onsets = heard.onsets()
    errors = [onset - onsets[0] - due(index * step, quarter_bpm) for index, onset in enumerate(onsets)]
    gaps = {after - before for before, after in pairwise(onsets)}
    return (
        f"{name:34s} {len(onsets):7d} {max(map(abs, errors)):8d}   {min(gaps)}-{max(gaps):<8d}"
        f" {heard.report['most_bytes'] / 1e6:6.1f} {took_s:7.1f}"
    )


def spacing(disk: DiskPlayer) -> None:
    print("Clicks in the written audio over 200 bars (target: error 0 samples)")
    print(f"{'':34s} {'clicks':>7s} {'error':>8s}   {'gaps':17s} {'MB':>6s} {'s':>7s}")
    for tempo_bpm in (113, 240, 397):
        take = {"bars": [["G4 h", [2, 4], False, 200]], "settings": {"tempo_bpm": tempo_bpm}}
        print(spacing_row(disk, f"200 bars of 2/4 at {tempo_bpm}", take, tempo_bpm, Fraction(1)))
    take = {"bars": [["G4 h.", [6, 8], False, 200]], "settings": {"tempo_bpm": 222}}
    print(spacing_row(disk, "200 bars of 6/8 at 222", take, 333, Fraction(3, 2)))


def looped(disk: DiskPlayer) -> None:
    for tempo_bpm in (223, 397):
        take = {
            "bars": [["G4 q", [3, 4], True, 1], ["G4 h.", [3, 4], False, 3], ["G4 h", [3, 4], False, 1]],
            "settings": {"tempo_bpm": tempo_bpm},
            "looping": True,
            "stages": [["end", LOOPED_S]],
            "until": "stages",
        }
        print(spacing_row(disk, f"4 bars of 3/4, looped, at {tempo_bpm}", take, tempo_bpm, Fraction(1)))


def long_take(tempo_bpm: float) -> ClickRow:
    whole = bar("G4 w", meter=Meter(4, 4))
    return clicks_of([whole] * 200, ClickSettings(tempo_bpm=tempo_bpm))


def rendering() -> None:
    print("\nRendering 200 bars of 4/4 (target: blocks; one array at 60 would be 141 MB)")
    heads = ("tempo", 5), ("blocks", 8), ("largest MB", 11), ("all MB", 8), ("median ms", 10), ("worst ms", 9)
    print("".join(f"{name:>{width}s}" for name, width in (*heads, ("ready ms", 10))))
    began_s = time.perf_counter()
    sounds = click_sounds(RATE)
    loading_ms = (time.perf_counter() - began_s) * 1000
    for tempo_bpm in (20, 59, 60, 120, 240):
        row = long_take(tempo_bpm)
        took_ms, sizes = [], []
        for block in click_blocks(row, sounds, RATE):
            began_s = time.perf_counter()
            sizes.append(render(block, rate=RATE).nbytes)
            took_ms.append((time.perf_counter() - began_s) * 1000)
        ready = next((index for index in range(len(sizes)) if sum(sizes[:index]) > READY_BYTES), len(sizes))
        print(
            f"{tempo_bpm:5d}{len(sizes):8d}{max(sizes) / 1e6:11.2f}{sum(sizes) / 1e6:8.1f}"
            f"{median(took_ms):10.2f}{max(took_ms):9.2f}{sum(took_ms[:ready]):10.1f}"
        )
    print(f"'ready ms': what is rendered before the count-in. Loading the three sounds: {loading_ms:.1f} ms.")


def lead_sheet(bars: int) -> list[Bar]:
    """Melody and changes that go round in twelve bars, two chords in some."""
    changes = "Dm7|G7|Cmaj7|A7b9|Dm7 G7|Em7 A7|F6|Bb7|Fm7|Ebmaj7|Am7b5 D7|Gm6".split("|")
    rows = "G4 h, D5 q, B4 q", "E5 q, F4 e, G4 e, A4 q, C5 q"
    return [
        sheet(rows[index % 2], ",".join(f"{text} {2 * at}" for at, text in enumerate(changes[index % 12].split())))
        for index in range(bars)
    ]


def accompaniment() -> None:
    """Before the count-in, and a block at a time behind it; the clicks alone as a reference of the same run."""
    bars = lead_sheet(200)
    print("\nBass and chords of 200 bars of 4/4 beside the clicks (no target; the clicks alone in the second row)")
    heads = (
        ("voicing ms", 12),
        ("waves ms", 10),
        ("waves MB", 10),
        ("blocks MB", 11),
        ("block ms", 10),
        ("worst ms", 10),
    )
    print("".join(f"{name:>{width}s}" for name, width in (("tempo", 16), *heads, ("ready ms", 10))))
    for tempo_bpm in (60, 120, 240):
        row = clicks_of(bars, ClickSettings(tempo_bpm=tempo_bpm))
        began_s = time.perf_counter()
        notes = accompaniment_of(bars, Reading.GUITAR, quarter_bpm=Fraction(tempo_bpm))
        voicing_ms = (time.perf_counter() - began_s) * 1000
        band = AccompanimentSounds(RATE)
        began_s = time.perf_counter()
        band.make_ready(notes)
        waves_ms = (time.perf_counter() - began_s) * 1000
        waves_mb = sum(wave.nbytes for wave in {id(wave): wave for wave in band._waves.values()}.values()) / 1e6
        strikes = accompaniment_strikes(notes, band, partial(sample_at, row))
        print(
            f"{tempo_bpm:7d} with   {voicing_ms:12.1f}{waves_ms:10.1f}{waves_mb:10.1f}"
            + rendered_row(click_blocks(row, click_sounds(RATE), RATE, beside=strikes), layers=2)
        )
        alone = click_blocks(row, click_sounds(RATE), RATE)
        print(f"{tempo_bpm:7d} without{'':32s}" + rendered_row(alone, layers=1))


def sample_at(row: ClickRow, quarters: Fraction) -> int:
    return sample_of(row, quarters, RATE)


def rendered_row(blocks: Iterable[Block], *, layers: int) -> str:
    """All blocks in every layer: megabytes, median and worst milliseconds of one, those before the count-in."""
    took_ms, sizes, at_once = [], [], READY_BYTES if layers == 1 else FIRST_BYTES
    for block in blocks:
        began_s = time.perf_counter()
        sizes.append(sum(render(block, rate=RATE, layer=layer).nbytes for layer in range(layers)))
        took_ms.append((time.perf_counter() - began_s) * 1000)
    ready = next((index for index in range(len(sizes)) if sum(sizes[:index]) > at_once), len(sizes))
    return f"{sum(sizes) / 1e6:11.1f}{median(took_ms):10.2f}{max(took_ms):10.2f}{sum(took_ms[:ready]):10.1f}"


def looping_for_ever() -> None:
    row = clicks_of([bar("G4 h.", meter=Meter(3, 4))] * 4, ClickSettings(tempo_bpm=97))
    sounds = click_sounds(RATE)
    began_s = time.perf_counter()
    last = next(islice(click_blocks(row, sounds, RATE, looping=True), 1800, None))
    took_ms = (time.perf_counter() - began_s) * 1000
    print(f"\nCutting {last.stop / RATE / 60:.0f} minutes of a loop into 1,801 blocks: {took_ms:.0f} ms")


def strings() -> None:
    took_ms = []
    for _ in range(3):
        began_s = time.perf_counter()
        for sounding in range(40, 85):
            plucked(sounding, RATE)
        took_ms.append((time.perf_counter() - began_s) * 1000)
    print(f"\n45 plucked strings of 2 s: best {min(took_ms):.0f} ms, worst {max(took_ms):.0f} ms of three (target 150)")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, DiskPlayer(Path(folder)) as disk:
        spacing(disk)
        looped(disk)
    rendering()
    accompaniment()
    looping_for_ever()
    strings()


if __name__ == "__main__":
    main()
