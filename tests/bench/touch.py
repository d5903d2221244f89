"""From a MIDI message to changed pixels, through the real driver: `python -m tests.bench.touch [--notes N]`.

A second process plays a guitar into the running game through JACK's dummy driver. The clock of both is the same, so the
time runs from just before the message is sent to after the flip of the first frame whose picture differs. Target: p99
under two frames at 60 Hz, 33.3 ms. Needs a screen, or Xvfb, and jackd.
"""

import argparse
import os
import sys
import tempfile
import threading
import zlib
from pathlib import Path

os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

from game.music.score import Reading, Score
from tests.made import bar
from tests.system.jack import jack_server
from tests.system.pickup import pickup, plucked

EVERY_S = 0.41
TWO_FRAMES_MS = 2000 / 60


def long_tune(notes: int) -> Score:
    """Steps up and down in the position, four to a bar."""
    row = "F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 q, G4 q"
    bars = tuple(bar(row[index % 2], number=str(index + 1), key=-1) for index in range(notes // 4))
    return Score(title="A line up and down", reading=Reading.GUITAR, bars=bars)


def touched_ms(notes: int, folder: Path) -> list[float]:
    """The delays of all notes, in ms."""
    import pygame

    from game.app import App
    from game.clock import SystemClock
    from game.player.profiles import Profile
    from game.player.session import open_session
    from game.player.settings import Settings
    from game.practice.take_request import request_for
    from game.screens.context import ScreenContext
    from game.screens.devices import Devices
    from game.screens.instrument_events import InstrumentEvents
    from game.screens.routes import ToPage
    from game.screens.window import Window
    from game.screens.window_size import open_window

    pygame.display.init()
    pygame.font.init()
    clock = SystemClock()
    profile = Profile(name="", folder=folder, settings_path=folder / "s.json")
    session = open_session(profile, clock, settings=Settings())
    context = ScreenContext(session=session, devices=Devices(), window=Window())
    app = App(open_window((1920, 1080)), context)
    app.instrument_events = InstrumentEvents(app.context)
    tune = request_for(long_tune(notes), app.context.settings.neck_map()).whole_or_passages()
    app.go(ToPage(tune))
    homes = [app.context.settings.neck_map().home_of(note.sounding).place for note in tune.passage.notes]
    sent_s: list[float] = []
    sent = plucked(homes, every_s=EVERY_S, from_s=0.5)
    changed_s, picture, answered = [], 0, 0
    with pickup(os.environ, "--to", "Homefret") as guitar:
        player = threading.Thread(target=lambda: sent_s.extend(guitar.play(sent, in_time=True)))
        player.start()
        while player.is_alive() or answered < len(homes):
            app.turn()
            at = app.screen.take._take.at if hasattr(app.screen, "take") else len(homes)
            if at > answered:
                seen = zlib.crc32(app.surface.get_view("2"))
                assert seen != picture
                picture = seen
                changed_s.append(clock.now_s())
                answered = at
    app.instrument_events.close()
    starts_s = [at_s for at_s, (_, message) in zip(sent_s, sent, strict=True) if message[0] & 0xF0 == 0x90]
    return [(after - start) * 1000 for start, after in zip(starts_s, changed_s, strict=True)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--notes", type=int, default=200)
    notes = parser.parse_args().notes
    with tempfile.TemporaryDirectory() as folder, jack_server(Path(folder)) as environment:
        os.environ.update(environment)
        delays = sorted(touched_ms(notes, Path(folder)))
    print(f"{len(delays)} of {notes} notes, 1920x1080, drawn in software, through JACK and RtMidi")
    print(f"median {delays[len(delays) // 2]:5.1f} ms")
    print(f"p99    {delays[int(len(delays) * 0.99) - 1]:5.1f} ms     target under {TWO_FRAMES_MS:.1f}")
    print(f"worst  {delays[-1]:5.1f} ms")


if __name__ == "__main__":
    sys.exit(main())
