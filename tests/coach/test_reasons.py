"""The coach's sentences."""

import pytest

from game.coach.events import PassageFacts
from game.coach.reasons import (
    NOTHING_READ,
    begun,
    enough_for_today,
    not_yet_ready,
    report,
    tempo_said,
    wished,
    without_report,
)
from game.coach.stages import Pulse, Stage
from game.coach.tempo.next_tempo import NextTempo, TempoReason
from game.message import message
from game.text.catalogue import tell, tell_all
from tests.coach.coach_takes import take


@pytest.mark.parametrize(
    ("right", "asked", "said"),
    [
        (11, 12, "Eleven of twelve at 72."),
        (12, 12, "All twelve at 72."),
        (12, 32, "Twelve of 32 at 72."),
        (30, 32, "30 of 32 at 72."),
        (32, 32, "All 32 at 72."),
        (0, 8, "None of eight at 72."),
        (1, 1, "The one note at 72."),
        (0, 1, "None of one at 72."),
        (0, 0, "Nothing was read."),
    ],
)
def test_small_numbers_are_said_in_words(right, asked, said):
    assert tell(report(take(asked - right, notes=asked, bpm=72, stops=1))) == said


def test_what_was_played_is_said_with_its_tempo():
    assert tell(report(take(1, notes=12, bpm=72))) == "Eleven of twelve at 72, without a stop."
    assert tell(report(take(1, notes=12, bpm=72, stops=1))) == "Eleven of twelve at 72."
    assert tell(report(take(1, notes=12, stage=Stage.PLACES))) == "Eleven of twelve."
    assert tell(report(take(notes=12, stage=Stage.RHYTHM, bpm=60, off_time=2))) == "Ten of twelve in time at 60."
    assert tell(report(take(notes=12, stage=Stage.RHYTHM))) == "All twelve in time."


def test_where_notes_were_right_in_other_places_pitch_is_what_was_right():
    astray = frozenset({4})
    said = [
        tell(report(take(away, notes=12, other_place_notes=astray, **how)))
        for away in (1, 2, 12)
        for how in ({"bpm": 72}, {"bpm": 72, "stops": 1}, {"stage": Stage.PLACES})
    ]
    assert said == [
        "All twelve right in pitch at 72, without a stop.",
        "All twelve right in pitch at 72.",
        "All twelve right in pitch.",
        "Eleven of twelve right in pitch at 72, without a stop.",
        "Eleven of twelve right in pitch at 72.",
        "Eleven of twelve right in pitch.",
        "One of twelve right in pitch at 72, without a stop.",
        "One of twelve right in pitch at 72.",
        "One of twelve right in pitch.",
    ]


@pytest.mark.parametrize("why", list(TempoReason))
@pytest.mark.parametrize("bpm", [64, 72, 80])
def test_every_next_tempo_is_said_and_says_its_figure(why, bpm):
    said = tell(tempo_said(NextTempo(bpm=bpm, why=why), 72))
    assert str(bpm) in said
    assert said.endswith(".")
    assert len(said) < 80


@pytest.mark.parametrize(
    ("why", "slower", "same"),
    [
        (TempoReason.HELD, "Again at 64.", "Again at 72."),
        (TempoReason.TOO_FAST, "A little too fast yet: slower, 64.", "Again at 72."),
        (TempoReason.FELL_APART, "It fell apart: down to 64.", "It fell apart: again at 72, calmly."),
        (TempoReason.STOPPED, "It stopped on the way: slower, 64.", "It stopped on the way: again at 72."),
        (
            TempoReason.OUT_OF_TIME,
            "Right notes, but beside the beat: slower, 64.",
            "Right notes, but beside the beat: again at 72.",
        ),
    ],
)
def test_a_slower_tempo_and_the_same_are_told_apart(why, slower, same):
    assert tell(tempo_said(NextTempo(bpm=64, why=why), 72)) == slower
    assert tell(tempo_said(NextTempo(bpm=72, why=why), 72)) == same


def test_a_rise_is_told():
    assert tell(tempo_said(NextTempo(bpm=76, why=TempoReason.HELD), 72)) == "Now 76."


def test_every_stage_and_pulse_that_can_be_asked_has_its_sentence():
    untimed = {(Stage.LETTERS, Pulse.METRONOME), (Stage.PLACES, Pulse.METRONOME)}
    for stage, pulse in {(stage, pulse) for stage in Stage for pulse in Pulse} - untimed:
        said = tell(begun(stage, pulse, 60))
        assert ("60" in said) == (pulse is Pulse.METRONOME)
        assert said.endswith(".")
    assert tell(begun(Stage.TIME, Pulse.METRONOME, 60)) == "Now with the metronome, at 60."
    assert tell_all(wished(begun(Stage.TIME, Pulse.FREE, None))) == (
        "As you wish. Now notes and rhythm together, at your own pace."
    )


def test_enough_is_said_with_the_number_of_takes():
    assert tell(enough_for_today(5)) == "Five times today is enough: the same notes in other bars now."


def test_what_is_missing_for_the_clock_is_said_with_its_figure():
    facts = PassageFacts(name="x", notes_per_beat=1, usual_note_beats=1.0)
    assert tell_all(not_yet_ready(60, facts, slow=True)) == (
        "Sure, but not quick yet: most notes within 1.2 seconds, then the clock. The places once more."
    )
    assert tell_all(not_yet_ready(None, facts, slow=False)) == (
        "Not sure enough for the clock yet. The places once more."
    )


def test_beside_a_result_what_was_played_is_left_out_and_what_comes_next_stays():
    said = report(take(1, notes=12, bpm=72)), message("coach.tempo_again", bpm=72)
    assert without_report(said) == said[1:]
    assert without_report((NOTHING_READ, *said)) == said[1:]
    for stage in (Stage.PLACES, Stage.RHYTHM, Stage.TIME):
        for right in (0, 5, 12):
            for bpm in (None, 72):
                assert without_report((report(take(12 - right, notes=12, bpm=bpm, stage=stage)),)) == ()
