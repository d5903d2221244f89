"""What was heard in a recording travels as lines; whatever else comes is refused."""

import pytest

from game.instrument.listening.heard import HeardNote
from game.instrument.sources.heard_recording import MOST_NOTES, SoundFacts, recording_lines, recording_of, tuning_of

FACTS = SoundFacts(file_format="WAV", rate=48_000, channels=2, used=(2,), seconds=3.5, level_db=-20.5, missing_s=0.25)


def note(started_s, pitch, *, sure=True):
    return HeardNote(number=1, started_s=started_s, pitch=pitch, level_db=-20.0, clarity=0.9, sure=sure)


def test_facts_and_notes_come_back_in_order_of_time():
    lines = list(recording_lines(FACTS, [note(1.5, 59.8, sure=False), note(0.5, 64.2)]))
    recording = recording_of([b"".join(lines)], "take.wav")
    assert recording.facts == FACTS
    assert [(one.started_s, one.sounding, one.sure) for one in recording.notes] == [(0.5, 64, True), (1.5, 60, False)]
    assert {(one.place, one.source) for one in recording.notes} == {(None, "take.wav")}
    assert recording_of(lines, "take.wav") == recording


HEAD = next(recording_lines(FACTS, ()))


@pytest.mark.parametrize(
    "lines",
    [
        (),
        (b"",),
        (b"{}\n",),
        (HEAD, b"nonsense\n"),
        (HEAD, b"[0.5, 200.0, -20.0, true]\n"),
        (HEAD, b"[-1.0, 60.0, -20.0, true]\n"),
        (HEAD, b"[1e999, 60.0, -20.0, true]\n"),
        (HEAD, b"[0.5, 60.0]\n"),
        (HEAD.replace(b"48000", b"0"),),
        (HEAD, b"[0.5, 60.0, -20.0, true]\n" * (MOST_NOTES + 1)),
    ],
)
def test_what_was_never_sent_is_no_recording(lines):
    with pytest.raises(ValueError, match=r"\w"):
        recording_of(lines, "take.wav")


@pytest.mark.parametrize("cents", [-45, -32, 0, 12, 45])
def test_a_guitar_tuned_by_no_fork_is_heard_at_the_pitches_that_are_meant(cents):
    """432 Hz is 32 cents flat; strings and fingers are some cents off each."""
    pitches = [60 + step + cents / 100 + off for step, off in zip(range(12), (-0.08, 0.05, 0.0, 0.03) * 3, strict=True)]
    lines = list(recording_lines(FACTS, [note(0.5 * number, pitch) for number, pitch in enumerate(pitches)]))
    recording = recording_of(lines, "take.wav")
    assert [one.sounding for one in recording.notes] == list(range(60, 72))
    assert recording.tuned_cents == pytest.approx(cents, abs=1)


def test_too_few_notes_and_those_that_agree_on_nothing_tell_no_tuning():
    assert tuning_of([60.3] * 7) is None
    assert tuning_of([60.3] * 8) == pytest.approx(0.3)
    assert tuning_of([60 + step / 8 for step in range(8)]) is None
