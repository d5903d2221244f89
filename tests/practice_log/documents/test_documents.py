"""How the things in a log travel: the words and bounds of a line."""

from typing import get_args

import msgspec
import pytest

from game.coach.decisions import Offer
from game.coach.events import Wish
from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from game.instrument.sources.note_sources import PlayedOn
from game.judging.untimed import HintStep
from game.judging.verdicts import Cause, EventKind, Verdict
from game.music.accidentals import AlteredBy
from game.music.score import Reading
from game.neck.neck_map import Reach
from game.practice_log.documents import document_values as words
from game.practice_log.documents.documents import CoachLine, TakeLine
from game.practice_log.queries.coach_events import OPENED, OVERRULED, TAKE
from game.practice_log.rows.log_records import Outcome
from tests.practice_log.transfer.practised import Computer, changed, split


@pytest.mark.parametrize(
    ("told", "ours"),
    [
        (words.StageWord, Stage),
        (words.PulseWord, Pulse),
        (words.PlayedOnWord, PlayedOn),
        (words.ReadingWord, Reading),
        (words.ReachWord, Reach),
        (words.AlteredByWord, AlteredBy),
        (words.OutcomeWord, Outcome),
        (words.VerdictWord, Verdict),
        (words.CauseWord, Cause),
        (words.EventWord, EventKind),
        (words.WishWord, Wish),
        (words.OfferWord, Offer),
        (words.MarkWord, Mark),
    ],
)
def test_the_words_of_a_document_are_ours(told, ours):
    """Whoever adds a word raises the form, for older programs cannot know it."""
    assert set(get_args(told)) == {member.value for member in ours}


def test_so_are_the_steps_of_help_and_what_the_coach_hears():
    assert set(get_args(words.StepWord)) == {step.name.lower() for step in HintStep}
    assert set(get_args(words.HeardWord)) == {OPENED, TAKE, OVERRULED}


def decodes(line, kind):
    return msgspec.json.decode(line, type=kind)


def test_a_note_comes_from_a_source_that_is_told():
    (line,) = takes()
    assert decodes(line, TakeLine).played_count > 0
    with pytest.raises(msgspec.ValidationError, match="source"):
        decodes(changed(line, sources=[]), TakeLine)
    with pytest.raises(msgspec.ValidationError, match="numbers of played notes"):
        decodes(changed(line, i=[1, 1]), TakeLine)


def takes():
    for seed in range(20):
        computer = Computer(1, seed=seed)
        computer.play()
        if b'"played"' in split(computer)["take"][0]:
            return split(computer)["take"]
    raise AssertionError("chance never plays")


def test_what_the_coach_heard_is_told():
    computer = Computer(1)
    computer.overrule()
    (line,) = split(computer)["coach"]
    assert decodes(line, CoachLine).wish == "slower"
    with pytest.raises(msgspec.ValidationError, match="not told"):
        decodes(changed(line, wish=None), CoachLine)
    with pytest.raises(msgspec.ValidationError, match="not told"):
        decodes(changed(line, of=["00000000-0000-0000-0000-000000000001", 1, 1]), CoachLine)
