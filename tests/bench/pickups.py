"""What a pickup's stream is decoded to, and what calibration finds: `python -m tests.bench.pickups`.

Prints a table with targets; nothing here fails. *Lost* notes were meant and not found; *swallowed* are those among them
whose pitch is there, but as where another note came to; *invented* ones nobody meant. Beside the fit stands what least
squares comes to on the same plucks before anything goes astray: the least error there can be.
"""

import math
import sys
import time
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from random import Random
from statistics import median

from game.instrument.decoding.calibration import Pluck, fit_delay, offsets_of
from game.instrument.decoding.decoded import DecodedNotes, decode_all
from game.instrument.decoding.delay import NO_DELAY, period_s
from game.instrument.decoding.instrument_state import finish, hear, initial_state
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.strings import StringsState
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD
from tests.instrument.intended import compared, intended, swallowed
from tests.instrument.pickup_faults import Fault
from tests.instrument.pickup_simulator import CLEAN, USUAL_SHARES, Pickup, stream
from tests.instrument.real_playing import PIECES, Piece

SEEDS = 50
NOTES = 400
FITS = 2000
CLICKS = [0.75 * number for number in range(12)]
PLACES = tuple(home.place for home in standard_map().homes)


def main() -> int:
    """Print the tables."""
    print(f"{'stream':40}{'notes':>8}{'lost':>10}{'swallowed':>11}{'invented':>10}   target")
    _stream("clean", CLEAN, "0, 0, 0")
    _stream("all faults at usual rates", USUAL_SHARES, "under 0.5 % each")
    for fault in Fault:
        _stream(f"{fault.value}, 1 in 3", {fault: 1 / 3}, "")
    for name, fault in (("guesses an octave off", Fault.LATE_OCTAVE), ("octave flickers", Fault.LONG_FLICKER)):
        _stream(f"1 in 4: {name}, 95 ms", {fault: 0.25}, "under 0.5 % each")
    _stream("the same, quick repeats on two strings", {Fault.LATE_OCTAVE: 0.25}, "under 0.5 % each", meant_by=_dense)
    for semitones in (12.0, 24.0, 48.0):
        _untold_range(semitones)
    for name, piece in PIECES.items():
        _real(name, piece)
    _pace()
    print(
        f"\n{'calibration, 24 plucks':28}{'median ms':>10}{'p95 ms':>10}{'over least squares':>20}   target 3, 7, 1.1"
    )
    for name, astray in (("spread 10 ms", False), ("and beats missed, doubled", True)):
        _calibration(name, astray=astray)
    return 0


MeantBy = Callable[[Random], list[PlayedNote]]


def _usual(rng: Random) -> list[PlayedNote]:
    return intended(PLACES, NOTES, rng)


def _dense(rng: Random) -> list[PlayedNote]:
    """Sixteenths at 100 and 120 on two strings, two in five of them the pitch of before."""
    at_s, place, notes = 0.5, PLACES[0], []
    for _ in range(NOTES):
        if rng.random() < 0.6:
            place = rng.choice([other for other in PLACES if other.string in (1, 2)])
        sounding = STANDARD.sounding(place)
        notes.append(PlayedNote(started_s=at_s, sounding=sounding, place=place, velocity=rng.randint(50, 110)))
        at_s += rng.choice((0.15, 0.15, 0.125))
    return notes


def _stream(name: str, shares: Mapping[Fault, float], target: str, *, meant_by: MeantBy = _usual) -> None:
    counts = Counter[str]()
    for seed in range(SEEDS):
        rng = Random(seed)
        meant, pickup = meant_by(rng), Pickup(shares=shares)
        whole = decode_all(stream(pickup, meant, rng), replace(pickup.setup, delay=pickup.delay))
        _count(counts, meant, whole.notes)
    _tell(name, counts, target)


def _untold_range(semitones: float) -> None:
    """Slides of one to four frets, a tenth of all notes, by a device that never says how far it bends."""
    counts, found = Counter[str](), 0
    for seed in range(SEEDS):
        rng = Random(seed)
        meant = _usual(rng)
        setup = StringsSetup(bend_semitones=semitones)
        pickup = Pickup(setup=setup, shares={Fault.SLIDE_BY_BEND: 0.1}, tells_range=False, slides=(1, 2, 2, 3, 4))
        state, whole = initial_state(StringsSetup(delay=pickup.delay)), DecodedNotes()
        for message in stream(pickup, meant, rng):
            state, events = hear(state, message)
            for event in events:
                whole.take(event)
        for event in finish(state, meant[-1].started_s + 2)[1]:
            whole.take(event)
        assert isinstance(state, StringsState)
        found += state.bend_semitones == semitones
        _count(counts, meant, whole.notes)
    _tell(f"slides by untold {semitones:g}, found {found}/{SEEDS}", counts, "under 0.5 % each")


def _real(name: str, piece: Callable[[Random], Piece]) -> None:
    counts = Counter[str]()
    for seed in range(4 * SEEDS):
        meant, messages = piece(Random(seed))
        _count(counts, meant, decode_all(messages, StringsSetup(delay=NO_DELAY)).notes)
    _tell(name, counts, "0, 0, 0")


def _count(counts: Counter[str], meant: Sequence[PlayedNote], heard: Sequence[PlayedNote]) -> None:
    lost, invented = compared(meant, heard)
    counts.update(meant=len(meant), lost=len(lost), invented=len(invented), swallowed=swallowed(lost, heard))


def _tell(name: str, counts: Counter[str], target: str) -> None:
    lost, swallows, invented = (counts[what] / counts["meant"] for what in ("lost", "swallowed", "invented"))
    print(f"{name:40}{counts['meant']:8}{lost:10.2%}{swallows:11.2%}{invented:10.2%}   {target}", flush=True)


def _pace() -> None:
    rng = Random(1)
    pickup = Pickup()
    messages = stream(pickup, intended(PLACES, 22_000, rng), rng)[:100_000]
    state = initial_state(pickup.setup)
    began = time.process_time()
    for stamped in messages:
        state, _ = hear(state, stamped)
    each_us = (time.process_time() - began) / len(messages) * 1e6
    print(f"decoding {len(messages):,} messages: {each_us:.1f} us each of processor time   target 10")


def _calibration(name: str, *, astray: bool) -> None:
    errors: list[float] = []
    squares, least = 0.0, 0.0
    for seed in range(FITS):
        rng = Random(seed)
        periods, bias_s = rng.uniform(1.5, 4), rng.uniform(-0.04, 0.03)
        plucks: list[Pluck] = []
        clean: list[Pluck] = []
        for sounding in (40, 64):
            times = [click + bias_s + periods * period_s(sounding) + rng.gauss(0, 0.010) for click in CLICKS]
            clean += [Pluck(at - click, sounding) for at, click in zip(times, CLICKS, strict=True)]
            if astray:
                times = [at for at in times if rng.random() > 0.06]
                times += [at + rng.uniform(0.05, 0.3) for at in times if rng.random() < 0.08]
            plucks += offsets_of(sorted(times), CLICKS, sounding)
        found = fit_delay(plucks)
        assert found is not None
        by_least_squares = _line(clean)
        for sounding in STANDARD.open_strings:
            true_s = bias_s + periods * period_s(sounding)
            errors.append(abs(found.at(sounding) - true_s))
            squares += (found.at(sounding) - true_s) ** 2
            least += (by_least_squares[0] + by_least_squares[1] * period_s(sounding) - true_s) ** 2
    p95 = sorted(errors)[int(0.95 * len(errors))]
    print(f"{name:28}{1000 * median(errors):10.2f}{1000 * p95:10.2f}{math.sqrt(squares / least):20.3f}", flush=True)


def _line(plucks: list[Pluck]) -> tuple[float, float]:
    """Ordinary least squares by its textbook sums: constant and slope over the period."""
    n = len(plucks)
    xs, ys = [period_s(pluck.sounding) for pluck in plucks], [pluck.offset_s for pluck in plucks]
    sx, sy = sum(xs), sum(ys)
    sxx, sxy = sum(x * x for x in xs), sum(x * y for x, y in zip(xs, ys, strict=True))
    slope = (n * sxy - sx * sy) / (n * sxx - sx * sx)
    return (sy - slope * sx) / n, slope


if __name__ == "__main__":
    sys.exit(main())
