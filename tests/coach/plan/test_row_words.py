"""What rows are called, and their quiet sentences."""

from dataclasses import replace

import pytest

from game.coach.marks import Mark
from game.coach.plan.plan_steps import PlannedLine, PlanStep, StepKind
from game.coach.plan.row_words import RowFacts, called, passage_quiet, row_quiet, row_title
from game.coach.stages import Pulse, Stage
from game.message import verbatim
from game.music.names import NoteNames
from game.text.catalogue import tell
from tests.coach.plan.situations import FORD, MILL

K = StepKind


@pytest.mark.parametrize(
    ("written", "said"), [("Eb5", "E♭"), ("Bb3", "low B♭"), ("D4", "D"), ("C4", "low C"), ("G5", "G"), ("A5", "high A")]
)
def test_notes_off_the_staff_are_called_low_and_high(written, said):
    assert tell(called(written, NoteNames.ENGLISH)) == said


@pytest.mark.parametrize(
    ("standing", "pulse", "rungs", "said"),
    [
        (MILL, Pulse.METRONOME, (76, 82, 88, 92, 96), "five rungs from 70 to signed off"),
        (MILL, Pulse.METRONOME, (96,), "one rung from 70 to signed off"),
        (MILL, Pulse.METRONOME, (), "pitch and rhythm, with the metronome"),
        (MILL, Pulse.FREE, (), "pitch and rhythm, at your own pace"),
        (FORD, Pulse.FREE, (), "now its rhythm, on one note"),
        (replace(FORD, stage=Stage.PLACES, marks=()), Pulse.FREE, (), "pitch only"),
        (replace(FORD, stage=Stage.PLACES), Pulse.FREE, (), "pitch only, until it comes quickly"),
        (replace(FORD, stage=Stage.LETTERS, marks=()), Pulse.FREE, (), "naming the notes"),
        (replace(FORD, last_day=None), Pulse.FREE, (), "the next bars, pitch only"),
        (replace(MILL, half_day=99), Pulse.METRONOME, (96,), "one clean take at 96 signs it"),
    ],
)
def test_a_passage_says_what_comes_next_and_how_far_it_is(standing, pulse, rungs, said):
    assert (
        tell(passage_quiet(RowFacts(title=standing.title, standing=standing, pulse=pulse, rungs=rungs, now_bpm=70)))
        == said
    )


def row(kind, facts=None, **changes):
    step = PlanStep(kind=kind, minutes=3, reason=(), **changes)
    facts = facts or RowFacts()
    return tell(row_title(step, facts)), tell(row_quiet(step, facts, NoteNames.ENGLISH))


@pytest.mark.parametrize("kind", K)
def test_a_step_has_a_title_and_a_sentence_where_the_log_alone_tells_of_it_and_its_music_is_gone(kind):
    name, quiet = row(kind)
    assert name
    assert quiet


def test_the_notes_of_a_first_day_are_named_as_long_as_they_are_known():
    assert row(K.FIVE_NOTES, RowFacts(first_notes=("C5", "D5")))[1] == "C and D: found without a clock"
    assert row(K.FIVE_NOTES)[1] == "found without a clock"


def test_every_kind_of_step_has_a_title_and_a_sentence():
    title = verbatim("Amazing Grace, bars 1–4")
    for kind in K:
        five = ("C5", "D5") if kind is K.FIVE_NOTES else ()
        name, quiet = row(kind, RowFacts(title=title, standing=MILL), five_notes=five)
        assert name
        assert quiet
        assert not quiet.endswith(".")
    assert row(K.NEW_TUNE, RowFacts(title=title)) == ("A new tune", "Amazing Grace, bars 1–4, pitch only")
    assert row(K.NEW_TUNE, RowFacts(title=title, own=True))[0] == "A tune of your own"
    assert row(K.NEW_TUNE, RowFacts(title=title, lead_sheet=True))[0] == "A new lead sheet"
    assert row(K.COURSE, RowFacts(title=title), stage=Stage.RHYTHM) == (
        "Amazing Grace, bars 1–4", "its rhythm, the second time through",
    )  # fmt: skip


def test_what_the_day_ends_with_is_called_by_its_bars_unless_it_is_played_whole():
    signed = RowFacts(title=MILL.title, standing=replace(MILL, marks=tuple(Mark)), due=True)
    assert row(K.SIGNED_OFF, signed) == ("The Mill, bars 5–8", "before it slips away")
    whole = replace(signed, title=verbatim("The Mill"))
    assert row(K.SIGNED_OFF, whole, whole=True) == ("Played whole", "The Mill, which you can play")


def test_a_block_with_new_notes_is_called_by_them():
    line = PlannedLine(level=1, new=("Bb4", "A4", "F4", "G4"))
    step = PlanStep(kind=K.SLOW_NOTES, minutes=4, reason=(), line=line)
    assert tell(row_title(step, RowFacts())) == "New notes"
    assert tell(row_quiet(step, RowFacts(), NoteNames.ENGLISH)) == "B♭, A and F: new, and a few you know, no clock"
    assert tell(row_title(replace(step, line=replace(line, new=())), RowFacts())) == "Slow notes"
