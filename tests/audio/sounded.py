"""What would have sounded: the metronome played in its own process into SDL's disk driver, read by the sample.

The disk driver writes about ten times as fast as a sound card plays. Run as a script it is that process; a take
as JSON comes on standard input: rows of notes with their metres, the settings, and for how long to listen.
"""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

ROOT = Path(__file__).resolve().parents[2]
SILENT_SAMPLES = 200
"""Within a click there is never so long a silence."""


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


def sounded(folder: Path, take: dict[str, Any], **environment: str) -> Sounded:
    """Play a take in a process of its own.

    At ten times the speed a block lasts a fifth of a second: where the machine stops the process for longer, the
    disk driver runs dry, which the process reports, and the take is played again.
    """
    for _ in range(3):
        heard = _sounded_once(folder, take, environment)
        if not heard.report["ran_dry"]:
            break
    return heard


def _sounded_once(folder: Path, take: dict[str, Any], environment: dict[str, str]) -> Sounded:
    target = folder / "sounded.raw"
    surroundings = {
        **os.environ,
        "SDL_AUDIODRIVER": "disk",
        "SDL_DISKAUDIOFILE": str(target),
        "SDL_DISKAUDIODELAY": "1",
        "SDL_VIDEODRIVER": "dummy",
        **environment,
    }
    ended = subprocess.run(
        [sys.executable, "-m", "tests.audio.sounded"],
        input=json.dumps(take),
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=surroundings,
        timeout=120,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    raw = np.fromfile(target, np.int16) if target.is_file() else np.zeros(0, np.int16)
    return Sounded(samples=raw[: len(raw) // 2 * 2].reshape(-1, 2), report=json.loads(ended.stdout.splitlines()[-1]))


def _play(take: dict[str, Any]) -> dict[str, Any]:
    import time

    import pygame

    from game.audio.beats import Clicking, ClickSettings, clicks_of
    from game.audio.metronome import Metronome
    from game.audio.output import is_our_loss, open_output
    from game.clock import SystemClock
    from game.music.meter import Meter
    from tests.made import bar

    pygame.display.init()
    settings = dict(take["settings"])
    if "clicking" in settings:
        settings["clicking"] = Clicking(settings["clicking"])
    bars = [
        bar(row, meter=Meter(*meter), pickup=pickup) for row, meter, pickup, times in take["bars"] for _ in range(times)
    ]
    row = clicks_of(bars, ClickSettings(**settings))
    output = open_output()
    metronome = Metronome(output)
    metronome.prepare(row, looping=take.get("looping", False))
    clock = SystemClock()
    metronome.start(clock)
    until_s = clock.now_s() + take.get("listen_s", 60.0)
    ready_bytes = most_bytes = metronome._player.ready_bytes
    stage = dict(take.get("at", {}))
    began_s = clock.now_s()
    while clock.now_s() < until_s and (metronome._player.playing or metronome.lost or not output.audible):
        metronome.tick(clock.now_s())
        for event in pygame.event.get(pygame.AUDIODEVICEREMOVED):
            if is_our_loss(event.which, is_capture=bool(event.iscapture)):
                metronome.device_lost()
        for what, at_s in list(stage.items()):
            if clock.now_s() - began_s > at_s:
                {
                    "quit": pygame.mixer.quit,
                    "mute": lambda: setattr(metronome, "muted", True),
                    "halve": lambda: setattr(metronome, "volume", 0.5),
                    "stop": metronome.stop,
                }[what]()
                del stage[what]
        most_bytes = max(most_bytes, metronome._player.ready_bytes)
        time.sleep(0.0005)
    time.sleep(0.05)
    report = {
        "status": metronome.status.value,
        "lost": metronome.lost,
        "ran_dry": metronome._player.ran_dry,
        "rate": output.rate,
        "audible": output.audible,
        "ready_bytes": ready_bytes,
        "most_bytes": most_bytes,
        "onset_0_known": metronome.onset_0_s is not None,
        "beat_goes_on": metronome.beat(clock.now_s()) is not None,
    }
    pygame.mixer.quit()
    return report


if __name__ == "__main__":
    print(json.dumps(_play(json.load(sys.stdin))))
