"""Prints what the engraved staff costs: python tests/bench/engraving.py [WIDTH HEIGHT]

Each row is measured in a process of its own, drawing in software (SDL_FRAMEBUFFER_ACCELERATION=0), flips
included. A reference stands beside what only means something against one. Needs a screen, or Xvfb, for frames
that mean much.
"""

import os
import random
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

SPACE_PX_AT_1080 = 22
PAPER, INK, READ = (250, 244, 231), (32, 29, 26), (30, 66, 132)
FRAMES = 900
SPEED_PX = 9


def tune(bar_count: int, seed: int = 5) -> tuple:
    """A chromatic eighth-note line with changes, dense as an improvised solo."""
    from game.music.chords import ChordSymbol
    from game.music.keys import Key, spelled
    from game.music.meter import Meter
    from game.music.score import Bar, Note, NoteValue

    chance, key, midi = random.Random(seed), Key(-2), 70
    half = Fraction(1, 2)
    bars = []
    for index in range(bar_count):
        notes = []
        for step in range(8):
            midi = min(82, max(56, midi + chance.choice([-3, -2, -1, -1, 1, 1, 2, 4])))
            value = NoteValue(base=half)
            notes.append(Note(onset=step * half, length=half, value=value, pitch=spelled(midi, key)))
        chord = ChordSymbol(onset=Fraction(0), root="Bb", kind="major-seventh", text="Bbmaj7")
        bars.append(
            Bar(
                number=str(index + 1),
                meter=Meter(),
                key=key,
                length=Fraction(4),
                events=tuple(notes),
                chords=(chord,),
            )
        )
    return tuple(bars)


def ms(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def open_window() -> object:
    import pygame

    pygame.display.init()
    pygame.font.init()
    return pygame.display.set_mode(size())


def size() -> tuple[int, int]:
    return (int(sys.argv[2]), int(sys.argv[3])) if len(sys.argv) > 3 else (1920, 1080)


def space_px() -> int:
    return max(12, SPACE_PX_AT_1080 * size()[1] // 1080)


def staff_of(bars: tuple) -> tuple:
    import pygame

    from game.desk.staff_text import rendered_on_staff
    from game.engraving.layout import lay_out_line
    from game.engraving.staff import Staff, StaffView
    from game.music.score import Reading

    staff = Staff(lay_out_line(bars, Reading.GUITAR), space_px(), PAPER, INK, rendered_on_staff)
    area = pygame.Rect(0, size()[1] // 5, size()[0], staff.above_px + staff.below_px + 40)
    return staff, lambda scroll: StaffView(area, area.top + staff.above_px + 20, scroll)


def row(name: str, value: str, beside: str = "") -> None:
    print(f"{name:<58}{value:>24}  {beside}", flush=True)


def bench_start() -> None:
    window = ms(open_window)
    row("pygame imported and a window opened (reference)", f"{window:.0f} ms")
    from game.engraving import engraver, layout, staff  # noqa: F401 - imported before the clock starts
    from game.engraving.notation import musicxml
    from game.music.score import Reading

    bars = tune(32)
    screen = open_window()
    row("verovio loaded", f"{ms(engraver.prepare):.0f} ms")
    row("32 bars: notation written", f"{ms(lambda: musicxml(bars, Reading.GUITAR)):.1f} ms")
    notation = musicxml(bars, Reading.GUITAR)
    alone = statistics.median(
        ms(lambda: engraver.endless_svg(notation, engraver.EngravedFace.ENGRAVED)) for _ in range(5)
    )
    row("32 bars: verovio alone (reference)", f"{alone:.0f} ms")
    made: list = []
    first = ms(lambda: made.append(staff_of(bars)))
    drawn = ms(lambda: made[0][0].draw(screen, made[0][1](0)))
    row("32 bars: laid out the first time", f"{first:.0f} ms")
    row("32 bars: first screen", f"{drawn:.0f} ms")
    row("32 bars: score to first screen", f"{first + drawn:.0f} ms", "target 100 ms")
    again = statistics.median(ms(lambda: layout.lay_out_line(bars, Reading.GUITAR)) for _ in range(5))
    row("32 bars: laid out again", f"{again:.0f} ms")
    start = time.process_time()
    layout.lay_out_line(bars, Reading.GUITAR)
    row(
        "  its processor time alone",
        f"{(time.process_time() - start) * 1000:.0f} ms",
        "without waiting for others",
    )


def bench_scroll() -> None:
    import pygame

    screen = open_window()
    blank = frames(lambda _: screen.fill(PAPER), pygame)
    staff, view = staff_of(tune(120))
    ink = {}
    moving = frames(lambda frame: staff.draw(screen, view(frame * SPEED_PX), ink), pygame)
    row("frame, paper and flip only (reference)", quantiles([frame.wall_ms for frame in blank]))
    row(
        "frame while scrolling 120 bars",
        quantiles([frame.wall_ms for frame in moving]),
        "target median 4, p99 10",
    )
    row(
        "  its processor time alone",
        quantiles([frame.cpu_ms for frame in moving]),
        "without waiting for others",
    )
    row("largest kept surfaces", f"{staff.held_bytes / 1e6:.1f} MB")
    row("peak memory of the process", f"{peak_mb():.0f} MB", "target 200 MB")


class Frame(NamedTuple):
    wall_ms: float
    cpu_ms: float


def frames(draw: Callable[[int], object], pygame: object) -> list[Frame]:
    import gc

    gc.collect()
    gc.freeze()
    gc.disable()
    took = []
    for frame in range(FRAMES):
        start, start_cpu = time.perf_counter(), time.thread_time()
        draw(frame)
        pygame.display.flip()
        wall, cpu = time.perf_counter() - start, time.thread_time() - start_cpu
        took.append(Frame(wall * 1000, cpu * 1000))
        pygame.event.pump()
        time.sleep(0.004)
    gc.enable()
    return took


def quantiles(took: list[float]) -> str:
    ordered = sorted(took)
    return f"{statistics.median(took):.2f} / {ordered[int(0.99 * len(ordered))]:.2f} / {ordered[-1]:.2f} ms"


def bench_colour() -> None:
    from game.music.written import HeadId

    screen = open_window()
    staff, view = staff_of(tune(32))
    for _ in range(60):
        staff.draw(screen, view(0))
    plain = [ms(lambda: staff.draw(screen, view(0))) for _ in range(200)]
    colours: dict = {}
    changing = []
    for event in range(16):
        colours[HeadId(event // 8, event % 8)] = READ
        changing.append(ms(lambda: staff.draw(screen, view(0), colours)))
    extra = statistics.median(changing) - statistics.median(plain)
    row("one note's colour changed, beyond an unchanged frame", f"{extra:.2f} ms", "target about 0.2 ms")


def bench_page() -> None:
    import pygame

    from game.desk.staff_text import rendered_on_staff
    from game.engraving.layout import lay_out_page
    from game.engraving.still_page import StillPage
    from game.music.score import Reading
    from game.music.written import HeadId

    screen = open_window()
    bars = tune(32)
    made: list = []
    laid = ms(lambda: made.append(lay_out_page(bars, Reading.GUITAR, (size()[0] - 100) / space_px())))
    page = StillPage(made[0], space_px(), PAPER, INK, rendered_on_staff)
    area = pygame.Rect(50, 50, *page.size).clip(screen.get_rect())
    row("still page of 32 bars: laid out (verovio loaded first)", f"{laid:.0f} ms")
    row("still page: first drawn", f"{ms(lambda: page.draw(screen, area)):.0f} ms")
    row("still page: drawn again", f"{ms(lambda: page.draw(screen, area)):.2f} ms")
    plain = statistics.median(ms(lambda: page.draw(screen, area)) for _ in range(50))
    colours: dict = {}
    changing = []
    for event in range(16):
        colours[HeadId(event // 8, event % 8)] = READ
        changing.append(ms(lambda: page.draw(screen, area, colours)))
    row("still page: one note's colour changed", f"{statistics.median(changing) - plain:.2f} ms")


def peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


BENCHES = {"start": bench_start, "scroll": bench_scroll, "colour": bench_colour, "page": bench_page}

if __name__ == "__main__":
    if len(sys.argv) > 1 and sys.argv[1] in BENCHES:
        BENCHES[sys.argv[1]]()
    else:
        width, height = sys.argv[1:3] if len(sys.argv) > 2 else ("1920", "1080")
        row(f"engraving at {width}x{height}, median / p99 / worst", "")
        for name in BENCHES:
            subprocess.run([sys.executable, __file__, name, width, height], check=True)
