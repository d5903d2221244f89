"""What a pickup's stream is decoded to, and what calibration finds: `python -m tests.bench.pickups`.

Prints a table with targets; nothing here fails. Beside the fit stands what least squares comes to on the same plucks
before anything goes astray: the least error there can be.
"""

import math
import sys
import time
from collections.abc import Mapping
from dataclasses import replace
from random import Random
from statistics import median

from game.instrument.decoding.calibration import Pluck, fit_delay, offsets_of
from game.instrument.decoding.decoded import decode_all
from game.instrument.decoding.delay import period_s
from game.instrument.decoding.instrument_state import hear, initial_state
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD
from tests.instrument.intended import compared, intended
from tests.instrument.pickup_simulator import CLEAN, USUAL_SHARES, Fault, Pickup, stream

SEEDS = 50
NOTES = 400
FITS = 2000
CLICKS = [0.75 * number for number in range(12)]
PLACES = tuple(home.place for home in standard_map().homes)


def main() -> int:
    """Print the tables."""
    print(f"{'stream':28}{'notes':>8}{'right':>10}{'false':>10}   target")
    _stream("clean", CLEAN, "100 %, 0")
    _stream("all faults at usual rates", USUAL_SHARES, "99 %, at most 1 %")
    for fault in Fault:
        _stream(f"{fault.value}, 1 in 3", {fault: 1 / 3}, "")
    _pace()
    print(
        f"\n{'calibration, 24 plucks':28}{'median ms':>10}{'p95 ms':>10}{'over least squares':>20}   target 3, 7, 1.1"
    )
    for name, astray in (("spread 10 ms", False), ("and beats missed, doubled", True)):
        _calibration(name, astray=astray)
    return 0


def _stream(name: str, shares: Mapping[Fault, float], target: str) -> None:
    missed = false = total = 0
    for seed in range(SEEDS):
        rng = Random(seed)
        meant = intended(PLACES, NOTES, rng)
        pickup = Pickup(shares=shares)
        whole = decode_all(stream(pickup, meant, rng), replace(pickup.setup, delay=pickup.delay))
        lost, added = compared(meant, whole.notes)
        missed, false, total = missed + len(lost), false + len(added), total + len(meant)
    print(f"{name:28}{total:8}{1 - missed / total:10.2%}{false / total:10.2%}   {target}", flush=True)


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
