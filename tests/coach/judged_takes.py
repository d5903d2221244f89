"""Judged takes of rows of quarter notes, for the tests of notes as items."""

from game.coach.notes.items import map_name
from game.coach.notes.note_reads import JudgedTake, items_after, take_reads
from game.coach.stages import Stage
from game.judging.expected import expected_notes
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.neck.neck_map import standard_map
from tests.made import passage

MAP = standard_map()
ON_MAP = map_name(MAP)


def expected(row, key=0, neck_map=MAP):
    """Notes written as a row of names: "F4 G4 A4"."""
    music = passage(", ".join(f"{name} q" for name in row.split()), key=key)
    return expected_notes(music.notes, neck_map)


def judged(row, verdicts=None, find_ms=800.0, cause=None, *, key=0, day=1, neck_map=MAP, **changes):
    """A take of a row of notes, all clean unless verdicts are named, each found in `find_ms`."""
    notes = expected(row, key, neck_map)
    words = verdicts or [Verdict.CLEAN] * len(notes)
    times = find_ms if isinstance(find_ms, list) else [find_ms] * len(notes)
    made = tuple(
        NoteVerdict(n=n, verdict=verdict, cause=cause if verdict is Verdict.WRONG_PITCH else None, time_to_find_ms=ms)
        for n, (verdict, ms) in enumerate(zip(words, times, strict=True), start=1)
    )
    changes = {"stage": Stage.PLACES} | changes
    return JudgedTake(judgement=Judgement(verdicts=made), expected=notes, neck_map=neck_map, day=day, **changes)


def after(*takes):
    """The items after some takes."""
    items = {}
    for take in takes:
        items = items_after(items, take_reads(take))
    return items


def by_name(items):
    """The items by the names of their notes; of several with one name, the last."""
    return {key.written: item for key, item in items.items()}
