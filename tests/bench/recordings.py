"""Recordings of known takes, judged as `homefret take FILE TAKE.wav` does: `python -m tests.bench.recordings [takes a
guitar] [first seed] [--show]`.

Tunes of the book are played with a spread of 15 ms, one note in twenty-five wrong and one in a hundred left out,
rendered (tests/bench/rendered_takes.py), heard in the limited child and judged without a clock and with one. Of the
notes that were played right: how many are told to be right, wrong or missed, and unsure; of those played wrong: how
many are found. Notes stop where the next is plucked but for the last row, in which all strings ring on, as on a guitar
that nobody damps: no aim is set there. Each row stands beside the same takes judged from the very notes that were
played, as a perfect ear would give them. `--show` prints each note that is told otherwise than it was played.
"""

import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from random import Random

from game.commands.sound_take import heard_take
from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote, expected_notes
from game.judging.graces import graces_before
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid, bar_spans, timed_grid
from game.judging.untimed import judge_untimed
from game.judging.verdicts import COUNTS_AS_CLEAN, Judgement, NoteVerdict
from game.music.passage import Passage, whole_tune
from game.music.written import written_out
from game.neck.neck_map import standard_map
from game.tunes.library.library import open_entry
from tests.bench.rendered_takes import GUITARS, RenderedGuitar, render, rendered_with
from tests.judging.made_takes import Errors, MadeTake, made_take
from tests.tunes.book_by_number import book_by_number

FIRST_SEED = 40_700
TAKES = 5
PLAYING = Errors(dropped=0.01, added=0.0, wrong=0.04, spread_s=0.015)
LEAST_GAP_S = 0.16
RIGHT, HELD_WRONG, FOUND = 0.97, 0.005, 0.95
_STAGES = ("places", "time")


def main(words: Sequence[str]) -> int:
    """Print the table."""
    shown, numbers = "--show" in words, [int(word) for word in words if word != "--show"]
    takes, first, *_ = (*numbers, *(TAKES, FIRST_SEED)[len(numbers) :])
    guitars = [guitar for guitar in GUITARS if rendered_with(guitar.font)]
    if not guitars:
        print("fluidsynth and a sound font are needed: apt install fluidsynth fluid-soundfont-gm timgm6mb-soundfont")
        return 1
    print(f"{takes} takes a guitar, seeds from {first}; in per cent; * beyond the aim: of the notes played right")
    print(f"{RIGHT:.0%} right and at most {HELD_WRONG:.1%} wrong or missed, {FOUND:.0%} of the wrong ones found")
    print(f"{'':30}{'notes':>7}{'right':>9}{'wrong':>9}{'unsure':>9}{'found':>9}{'of':>6}   by the notes: right, found")
    every = {stage: (Counter[str](), Counter[str]()) for stage in _STAGES}
    for guitar in guitars:
        row = {stage: (Counter[str](), Counter[str]()) for stage in _STAGES}
        for seed in range(first, first + takes):
            for stage, found in _counted(guitar, seed, shown=shown).items():
                sums = row[stage] if guitar.rings else (*row[stage], *every[stage])
                for counts, more in zip(sums, found * 2, strict=False):
                    counts.update(more)
        for stage in _STAGES:
            _print(f"{guitar.name}, {stage}", *row[stage])
    for stage in _STAGES:
        _print(f"all damped, {stage}", *every[stage])
    return 0


def _counted(guitar: RenderedGuitar, seed: int, *, shown: bool) -> dict[str, tuple[Counter[str], Counter[str]]]:
    """For each stage what was made of a take as it was heard, and as it was played."""
    rng = Random(f"{guitar.name} {seed}")
    passage, expected, grid = _asked(rng)
    take = made_take(expected, grid, PLAYING, rng)
    played = [replace(note, started_s=max(note.started_s, 0.0), place=None) for note in take.played]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "take.wav"
        render(played, _ends(take, expected, grid), guitar, path, rng)
        heard = heard_take(path).notes
    found = {}
    for stage in _STAGES:
        judged = _judged(stage, passage, expected, heard, grid)
        if shown:
            _show(f"{guitar.name} {seed} {stage}", take, expected, judged, heard)
        known = _judged(stage, passage, expected, played, grid)
        found[stage] = _compared(take, expected, judged), _compared(take, expected, known)
    return found


def _show(
    name: str, take: MadeTake, expected: Sequence[ExpectedNote], judged: Judgement, heard: Sequence[PlayedNote]
) -> None:
    """Each note that was told otherwise than it was played, with what was heard about it."""
    for index, (note, answer, verdict) in enumerate(zip(expected, take.answers, judged.verdicts, strict=True)):
        was_right = answer is not None and answer.sounding == note.sounding
        if answer is None or _told(verdict) == ("right" if was_right else "wrong"):
            continue
        before = next((one for one in reversed(take.answers[:index]) if one), None)
        after = next((one for one in take.answers[index + 1 :] if one), None)
        gap_s = answer.started_s - before.started_s if before else 9.0
        until_s = after.started_s - answer.started_s if after else 9.0
        near = [
            f"{one.sounding} at {one.started_s - answer.started_s:+.3f}{'' if one.sure else '?'}"
            for one in heard
            if abs(one.started_s - answer.started_s) < 0.15
        ]
        print(
            f"    {name}: note {note.n} asked {note.sounding} played {answer.sounding} told {verdict.verdict.value};"
            f" before {before.sounding if before else None} {gap_s:.2f} s ago, next in {until_s:.2f} s;"
            f" heard {', '.join(near) or 'nothing'}"
        )


def _asked(rng: Random) -> tuple[Passage, tuple[ExpectedNote, ...], TimedGrid]:
    passage = whole_tune(written_out(open_entry(rng.choice(book_by_number()))))
    expected = expected_notes(passage.notes, standard_map())
    grid = timed_grid(passage.notes, tempo_bpm=rng.uniform(70, 130), spans=bar_spans(passage.bars))
    gaps = [later - earlier for earlier, later in zip(grid.onsets_s, grid.onsets_s[1:], strict=False)]
    return (passage, expected, grid) if len(expected) > 8 and min(gaps) >= LEAST_GAP_S else _asked(rng)


def _ends(take: MadeTake, expected: Sequence[ExpectedNote], grid: TimedGrid) -> list[float]:
    """When each played note ends: after its written length, or where the next begins."""
    quarter_s = _quarter_s(expected, grid)
    lengths_s = [
        float(note.note.length) * quarter_s for note, answer in zip(expected, take.answers, strict=True) if answer
    ]
    starts = [note.started_s for note in take.played]
    nexts = [*starts[1:], float("inf")]
    return [
        min(start + length_s, following) for start, length_s, following in zip(starts, lengths_s, nexts, strict=True)
    ]


def _quarter_s(expected: Sequence[ExpectedNote], grid: TimedGrid) -> float:
    whole = float(expected[-1].note.onset - expected[0].note.onset)
    return (grid.onsets_s[-1] - grid.onsets_s[0]) / whole


def _judged(
    stage: str, passage: Passage, expected: tuple[ExpectedNote, ...], played: Sequence[PlayedNote], grid: TimedGrid
) -> Judgement:
    if stage == "places":
        return judge_untimed(expected, played)
    rules = TimedRules(graces=graces_before(passage.bars, passage.notes, passage.reading))
    return judge_timed(expected, played, grid, rules)


def _compared(take: MadeTake, expected: Sequence[ExpectedNote], judgement: Judgement) -> Counter[str]:
    counts = Counter[str]()
    for note, answer, verdict in zip(expected, take.answers, judgement.verdicts, strict=True):
        if answer is None:
            continue
        told = _told(verdict)
        was_right = answer.sounding == note.sounding
        counts["played right" if was_right else "played wrong"] += 1
        counts[told if was_right else f"{told} of a wrong one"] += 1
    return counts


def _told(verdict: NoteVerdict) -> str:
    if verdict.verdict in COUNTS_AS_CLEAN:
        return "right"
    return "unsure" if verdict.verdict.value == "unsure" else "wrong"


def _print(name: str, heard: Counter[str], known: Counter[str]) -> None:
    right, wrong, unsure = (_share(heard[told], heard["played right"]) for told in ("right", "wrong", "unsure"))
    found = _share(heard["wrong of a wrong one"], heard["played wrong"])
    cells = (
        _cell(right, beyond=right < RIGHT),
        _cell(wrong, beyond=wrong > HELD_WRONG),
        _cell(unsure, beyond=False),
        _cell(found, beyond=found < FOUND),
    )
    reference = (
        _share(known["right"], known["played right"]),
        _share(known["wrong of a wrong one"], known["played wrong"]),
    )
    aside = "".join(_cell(share, beyond=False) for share in reference)
    print(f"{name:30}{heard['played right']:7}{''.join(cells)}{heard['played wrong']:6}{aside}", flush=True)


def _share(part: int, whole: int) -> float:
    return part / whole if whole else 0.0


def _cell(share: float, *, beyond: bool) -> str:
    return f"{100 * share:8.2f}{'*' if beyond else ' '}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
