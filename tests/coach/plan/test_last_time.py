"""Last time: one fact and one consequence; who was away is greeted."""

from dataclasses import replace

import pytest

from game.coach.notes.ink_of_map import InkCounts
from game.coach.notes.items import ItemKey, map_name
from game.coach.notes.slow_notes import SlowHome
from game.coach.plan.last_time import LastSitting, last_time_told
from game.message import verbatim
from game.music.accidentals import AlteredBy
from game.music.names import NoteNames
from game.text.catalogue import tell
from tests.coach.judged_takes import MAP

THURSDAY = 739_946
"""26 November 2026."""

KEPT = LastSitting(day=THURSDAY, title=verbatim("Bars 9–12"), bpm=65, run=16, kept=True)
INK = InkCounts(ink=11, pencil=7, not_met=12, due=7)
KEY = ItemKey(
    written="Eb5", shown=AlteredBy.NOTHING, map_name=map_name(MAP), place=MAP.places[63], sounding=63
)  # fmt: skip
SLOW = SlowHome(key=KEY, find_s=1.9, cost_s=2.0)


def told(sitting=KEPT, days=2, ink=INK, slow=None):
    return last_time_told(sitting, THURSDAY + days, ink, slow, NoteNames.ENGLISH)


@pytest.mark.parametrize(
    ("sitting", "said"),
    [
        (KEPT, "Bars 9–12: kept at 65, 16 notes in one run."),
        (replace(KEPT, run=5), "Bars 9–12: kept at 65."),
        (replace(KEPT, kept=False, found=True, bpm=None), "Bars 9–12: every note found."),
        (replace(KEPT, kept=False), "Bars 9–12: 16 notes in one run."),
        (replace(KEPT, kept=False, run=2), "Bars 9–12: begun, and it goes on from there."),
    ],
)
def test_the_fact_is_the_best_of_the_day(sitting, said):
    assert tell(told(sitting).fact) == said


def test_the_consequence_is_a_note_of_todays_warm_up_and_none_where_none_is_slow():
    assert tell(told(slow=SLOW).consequence) == "E♭ took 1.9 seconds to find. It is in the warm-up."
    assert tell(told(slow=replace(SLOW, unsure=True)).consequence).startswith("E♭ was not quite sure.")
    assert told().consequence is None


@pytest.mark.parametrize(
    ("days", "heading"), [(1, "Last time, yesterday"), (2, "Last time, Thursday"), (6, "Last time, Thursday")]
)
def test_the_day_is_named(days, heading):
    assert tell(told(days=days).heading) == heading


def test_after_a_week_away_it_greets_and_tells_of_the_ink_alone():
    away = told(days=11, slow=SLOW)
    assert tell(away.heading) == "After eleven days"
    assert tell(away.fact) == "The ink is still here; seven notes want another look."
    assert away.consequence is None
    assert tell(told(days=7, ink=replace(INK, due=1)).fact) == "The ink is still here; one note wants another look."
    assert tell(told(days=400, ink=replace(INK, due=0)).fact) == "The ink is still here."
    assert tell(told(days=8, ink=InkCounts(ink=0, pencil=3, not_met=27, due=0)).fact) == "What you met is still here."
