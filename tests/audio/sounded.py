"""What would have sounded: the metronome played in its own process into SDL's disk driver, read by the sample.

The disk driver writes about ten times as fast as a sound card plays. Run as a script it is that process: takes come
as JSON on standard input, a line each, and what became of each goes to standard output. A take has rows of notes
with their metres (`bars`), `settings`, and optionally `chords` (a symbol for each bar, to be accompanied), `looping`,
`ready_bytes` to keep ready less than the program does, `until` ("ended", "lost", "beat" or "stages": what the listening
waits for) and `stages`: pairs of something done and how many seconds of sound are to be written before it, counted from
the stage before.
"""

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from threading import Timer
from typing import TYPE_CHECKING, Any, Self

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from game.audio.metronome import Metronome

ROOT = Path(__file__).resolve().parents[2]
SILENT_SAMPLES = 200
"""Within a click there is never so long a silence."""

BYTES_A_SECOND = 44100 * 4
LONGEST_S, _HUNG_S = 60.0, 120.0
_TRIES = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Sounded:
    """Samples of both sides, shape (samples, 2), and what the process said of itself."""

    samples: npt.NDArray[np.int16]
    report: dict[str, Any]

    def onsets(self) -> list[int]:
        """Where sound begins after silence. Our clicks begin one sample before their first that is not 0."""
        loud = np.flatnonzero(self.samples[:, 0])
        fresh = np.diff(loud, prepend=-SILENT_SAMPLES - 1) > SILENT_SAMPLES
        return [int(sample) - 1 for sample in loud[fresh]]


class DiskPlayer:
    """The process that plays takes one after another. Each is written to a file of its own in `folder`."""

    def __init__(self, folder: Path) -> None:
        self._target = folder / "sounded.raw"
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.audio.sounded"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
            env={
                **os.environ,
                "SDL_VIDEODRIVER": "dummy",
                "SDL_DISKAUDIODELAY": "1",
                "PYGAME_HIDE_SUPPORT_PROMPT": "1",
            },
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.communicate(timeout=_HUNG_S)

    def sounded(self, take: dict[str, Any], *, driver: str = "disk", target: str | None = None) -> Sounded:
        """Play a take, into a file or to `target`.

        At ten times the speed a block lasts a fifth of a second: where the machine stops the process for longer, the
        disk driver runs dry, which the process reports, and the take is played again.
        """
        for _ in range(_TRIES):
            heard = self._sounded_once(take, driver, target or str(self._target))
            # Told beside a test that fails.
            print(f"{len(heard.samples)} samples; the process said {heard.report}")
            if not heard.report["ran_dry"]:
                break
        return heard

    def _sounded_once(self, take: dict[str, Any], driver: str, target: str) -> Sounded:
        self._target.unlink(missing_ok=True)
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        print(json.dumps({**take, "driver": driver, "target": target}), file=self._process.stdin, flush=True)
        hung = Timer(_HUNG_S, self._process.kill)
        hung.start()
        answer = self._process.stdout.readline()
        hung.cancel()
        assert answer, "the process that plays ended: its standard error says why"
        report = json.loads(answer)
        assert report["over"], "what was waited for never came"
        raw = np.fromfile(self._target, np.int16) if self._target.is_file() else np.zeros(0, np.int16)
        return Sounded(samples=raw[: len(raw) // 2 * 2].reshape(-1, 2), report=report)


def _play(take: dict[str, Any]) -> dict[str, Any]:
    import pygame

    from game.audio import player
    from game.audio.metronome import Metronome
    from game.audio.output import open_output
    from game.clock import SystemClock

    player.READY_BYTES = take.get("ready_bytes", player.READY_BYTES)
    output = open_output()
    metronome = Metronome(output)
    clock = SystemClock()
    looping = take.get("looping", False)
    metronome.prepare(_row(take), looping=looping, accompaniment=accompaniment(take), accompanied_again=looping)
    with _dry_runs(metronome) as ran_dry:
        onset_0_s = metronome.start(clock)
        most_bytes = _listen(take, metronome, clock.now_s)
    report = {
        "over": not take.get("stages") and _over(take, metronome, clock.now_s()),
        "status": metronome.status.value,
        "lost": metronome.lost,
        "ran_dry": len(ran_dry),
        "audible": output.audible,
        "most_bytes": most_bytes,
        "onset_0_s": onset_0_s,
        "beat_goes_on": metronome.beat(clock.now_s()) is not None,
    }
    pygame.mixer.quit()
    return report


def _row(take: dict[str, Any]) -> Any:
    from game.audio.beats import Clicking, ClickSettings, clicks_of

    settings = dict(take["settings"])
    if "clicking" in settings:
        settings["clicking"] = Clicking(settings["clicking"])
    return clicks_of(_bars(take), ClickSettings(**settings))


def accompaniment(take: dict[str, Any]) -> Any:
    """Bass and chords of a take, none where it has no `chords`."""
    from game.audio.accompaniment import accompaniment_of
    from game.music.score import Reading

    tempo = Fraction(take["settings"]["tempo_bpm"])
    swing = take["settings"].get("swing", 1.0)
    return accompaniment_of(_bars(take), Reading.GUITAR, quarter_bpm=tempo, swing=swing)


def _bars(take: dict[str, Any]) -> Any:
    from game.music.meter import Meter
    from tests.audio.lead_sheets import chord
    from tests.made import bar

    bars = [
        bar(row, meter=Meter(*meter), pickup=pickup) for row, meter, pickup, times in take["bars"] for _ in range(times)
    ]
    symbols = take.get("chords", [])
    return [replace(bar, chords=(chord(symbol),)) for bar, symbol in zip(bars, symbols, strict=False)] + bars[
        len(symbols) :
    ]


@contextmanager
def _dry_runs(metronome: "Metronome") -> Iterator[list[float]]:
    """The moments at which the card had nothing more to play, because the process stood still."""
    player, moments = metronome._player, list[float]()
    catch_up = player._catch_up

    def counted(channel: Any, now_s: float) -> None:
        moments.append(now_s)
        catch_up(channel, now_s)

    player._catch_up = counted  # type: ignore[method-assign]
    yield moments


def _listen(take: dict[str, Any], metronome: "Metronome", now_s: Callable[[], float]) -> int:
    """Let the take go on until what was asked for has come about; the most bytes that lay ready at a time."""
    stages = take.get("stages", [])
    until_s, staged_at, most_bytes = now_s() + LONGEST_S, _written(take), metronome._player.ready_bytes
    while now_s() < until_s and (stages or not _over(take, metronome, now_s())):
        metronome.tick(now_s())
        _hear_of_losses(metronome)
        written = _written(take)
        if stages and written - staged_at >= stages[0][1] * BYTES_A_SECOND:
            _stage(metronome, stages.pop(0)[0])
            staged_at = written
        most_bytes = max(most_bytes, metronome._player.ready_bytes)
        time.sleep(0.0005)
    return most_bytes


def _over(take: dict[str, Any], metronome: "Metronome", now_s: float) -> bool:
    until = take.get("until", "ended")
    if until == "beat":
        return metronome.beat(now_s) is not None
    if until == "lost":
        return metronome.lost
    return until == "stages" or not metronome._player.playing


def _hear_of_losses(metronome: "Metronome") -> None:
    import pygame

    from game.audio.output import is_our_loss

    for event in pygame.event.get(pygame.AUDIODEVICEREMOVED):
        if is_our_loss(event.which, is_capture=bool(event.iscapture)):
            metronome.device_lost()


def _written(take: dict[str, Any]) -> int:
    path = Path(take["target"])
    return path.stat().st_size if path.is_file() else 0


def _stage(metronome: "Metronome", what: str) -> None:
    from pygame import mixer

    if what == "quit":
        mixer.quit()
    elif what == "mute":
        metronome.muted = True
    elif what == "mute the accompaniment":
        metronome.set_accompaniment_volume(0.0)
    elif what == "halve":
        metronome.volume = 0.5
    elif what == "stop":
        metronome.stop()


def main() -> None:
    """Play the takes of standard input until it ends."""
    import pygame

    pygame.display.init()
    for line in sys.stdin:
        take = json.loads(line)
        os.environ |= {"SDL_AUDIODRIVER": take["driver"], "SDL_DISKAUDIOFILE": take["target"]}
        print(json.dumps(_play(take)), flush=True)


if __name__ == "__main__":
    main()
