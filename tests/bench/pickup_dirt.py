"""A pickup's dirt by chance that no limit was ever tuned on: `python -m tests.bench.pickup_dirt [first seed]`.

Each row is read three times: as the simulator makes it; handed over by the period of a sound system, the ends of notes
up to 30 ms late, so that they overlap the next of any pitch; and the dirt half as loud again besides. *Lost* notes were
meant and not found at their place (their pitch, where all are on one channel), *invented* ones nobody meant.
Nothing here fails: the aim is under half a per cent of each, and rows beyond it are marked.
"""

import sys
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from random import Random

from game.instrument.decoding.decoded import decode_all
from game.instrument.decoding.delay import NO_DELAY, Delay
from game.instrument.decoding.instrument_state import Setup
from game.instrument.decoding.pitches import PitchesSetup
from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.neck_map import standard_map
from tests.instrument.intended import by_pitch, by_place, compared, intended
from tests.instrument.pickup_faults import Fault
from tests.instrument.pickup_simulator import CLEAN, USUAL_SHARES, Pickup, stream
from tests.instrument.real_playing import PIECES
from tests.instrument.unkind_pickup import (
    Stream,
    on_one_channel,
    with_flickers_after_ends,
    with_grain,
    with_late_ends,
    with_louder_dirt,
)

FIRST_SEED = 92_600_000
SEEDS, NOTES = 30, 300
AIM = 0.005
PLACES = tuple(home.place for home in standard_map().homes)
ONE_IN_FOUR = 0.25
PERIOD_S, LATE_S, LOUDER = 256 / 48_000, 0.030, 1.5

Played = tuple[list[PlayedNote], Stream]


@dataclass(frozen=True, slots=True)
class Row:
    """`plays` gives what was meant and what the device tells of it; `setup` how it is read."""

    name: str
    plays: Callable[[Random], Played]
    setup: Setup = field(default_factory=lambda: StringsSetup(delay=Delay()))


def main(words: list[str]) -> int:
    """Print the table."""
    first = int(words[0]) if words else FIRST_SEED
    print(f"lost, invented in per cent; seeds from {first}; * beyond {AIM:.1%}")
    print(f"{'':44}{'notes':>7}{'as made':>16}{'and late ends':>18}{'and louder':>18}")
    beyond = 0
    for row in rows():
        told = [_read(row, first, late=late, louder=louder) for late, louder in ((0, 0), (1, 0), (1, 1))]
        cells = "".join(f"{_cell(counts):>18}" for counts in told)
        print(f"{row.name:44}{told[0]['meant']:7}{cells[2:]}", flush=True)
        beyond += sum(_share(counts, what) > AIM for counts in told for what in ("lost", "invented"))
    print(f"{beyond} cells of {6 * len(rows())} beyond the aim")
    return 0


def rows() -> list[Row]:
    """Every row there is."""
    found = [Row("clean", _pickup(CLEAN)), Row("all faults at usual rates", _pickup(USUAL_SHARES))]
    found += [Row(f"1 in 4: {fault.value}", _pickup({fault: ONE_IN_FOUR})) for fault in Fault]
    found.append(Row("1 in 4: octave flicker after the end", _flickers))
    found += [Row(name, _piece(name), StringsSetup(delay=NO_DELAY)) for name in PIECES]
    pitches = PitchesSetup(delay=Delay())
    mono = ((CLEAN, "clean"), ({Fault.SLIDE_BY_BEND: ONE_IN_FOUR}, "1 in 4: slide, told as a bend"))
    found += [Row(f"one channel, {name}", _on_one(_pickup(shares)), pitches) for shares, name in mono]
    found.append(Row("one channel, all faults at usual rates", _on_one(_pickup(USUAL_SHARES)), pitches))
    return found


def _pickup(shares: Mapping[Fault, float]) -> Callable[[Random], Played]:
    def plays(rng: Random) -> Played:
        meant = intended(PLACES, NOTES, rng)
        return meant, stream(Pickup(shares=shares, delay=Delay(), jitter_s=0.003), meant, rng)

    return plays


def _flickers(rng: Random) -> Played:
    meant, messages = _pickup(CLEAN)(rng)
    return meant, with_flickers_after_ends(messages, ONE_IN_FOUR, rng)


def _piece(name: str) -> Callable[[Random], Played]:
    def plays(rng: Random) -> Played:
        meant, messages = PIECES[name](rng)
        return list(meant), messages

    return plays


def _on_one(plays: Callable[[Random], Played]) -> Callable[[Random], Played]:
    def on_one(rng: Random) -> Played:
        meant, messages = plays(rng)
        return [replace(note, place=None) for note in meant], on_one_channel(messages)

    return on_one


def _read(row: Row, first: int, *, late: int, louder: int) -> Counter[str]:
    counts = Counter[str]()
    for seed in range(first, first + SEEDS):
        rng = Random(seed)
        meant, messages = row.plays(rng)
        if louder:
            messages = with_louder_dirt(messages, meant, LOUDER)
        if late:
            messages = with_grain(with_late_ends(messages, LATE_S, rng), PERIOD_S)
        same = by_pitch if isinstance(row.setup, PitchesSetup) else by_place
        lost, invented = compared(meant, decode_all(messages, row.setup).notes, same)
        counts.update(meant=len(meant), lost=len(lost), invented=len(invented))
    return counts


def _share(counts: Counter[str], what: str) -> float:
    return counts[what] / counts["meant"]


def _cell(counts: Counter[str]) -> str:
    shares = [_share(counts, what) for what in ("lost", "invented")]
    return " ".join(f"{100 * share:.2f}{'*' if share > AIM else ' '}" for share in shares)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
