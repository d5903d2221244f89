"""One take of a player, note by note: what was done and what was said of it."""

from game.judging.free import judge_free
from game.judging.timed_verdict import TimedRules
from tests.bench import follow_takes as takes
from tests.bench.follow_measures import judged
from tests.judging.players.cells import Cell
from tests.judging.players.scoring import answers_of, pitch_score


def all_cells() -> list[Cell]:
    pulses = ("steady", "drift 1-3 %")
    every = ("walking", "scales", "ostinato", "repeated", "tunes", "fresh lines")
    return [
        *takes.drifting(),
        *takes.curves(),
        *takes.tapping(),
        *takes.at_fault(every),
        *takes.at_much_fault(every),
        *(cell for pulse in pulses for cell in takes.single_faults(pulse)),
        *(cell for jump in takes.JUMPS for pulse in pulses for cell in takes.jumping(jump, pulse, every)),
        *(cell for jump in takes.JUMPS for pulse in pulses for cell in takes.jumping(jump, pulse, every, 0.05 / 3)),
        *(cell for jump in takes.JUMPS for cell in takes.out_of_time(jump)),
        *takes.beginning(),
        *takes.rhythms_alone(),
        *takes.in_free_time(),
        *(cell for kind in ("faults", "repeated pitches", "jumps") for cell in takes.played_live(kind)),
    ]


def show(name: str, seed: int) -> None:
    """One take: what was done and what was said, note by note; `!` where they differ."""
    cell = next(cell for cell in all_cells() if cell.name == name)
    performance = cell.performance(seed)
    if name.startswith("free"):
        material = performance.material
        judgement = judge_free(material.line, performance.played, spans=material.spans).judgement
    else:
        judgement = judged(performance, TimedRules(pitch_counts=not name.startswith("rhythm")))
    answers = answers_of(performance, judgement.verdicts)
    print(f"{name}, seed {seed}: {performance.material.name}; events as made {performance.events}")
    print("judged:", [(event.kind.value, (event.n or 0) - 1, round(event.time_ms)) for event in judgement.events])
    untrue = pitch_score(performance, judgement).where
    for index, verdict in enumerate(judgement.verdicts):
        first = performance.first[index]
        at_s = (
            "" if first is None else f"{performance.played[first].started_s:.3f} ({performance.offset_s(index):+.3f})"
        )
        print(
            f"{'!' if index in untrue else ' '}{index:4d} due {performance.material.grid.onsets_s[index]:8.3f}"
            f" asks {performance.material.line[index].sounding} {performance.fates[index].value:8s} note {first!s:5s}"
            f" {at_s:18s} said {verdict.verdict.value:12s} note {answers[index]!s:5s} {verdict.offset_ms or 0:+.0f}"
        )
    for at, note in enumerate(performance.played):
        if performance.meant[at] is None or note in judgement.extra:
            meant, called = performance.meant[at], "extra" if note in judgement.extra else "an answer"
            print(f"      note {at} {note.sounding} at {note.started_s:.3f} meant for {meant}, called {called}")
