"""What was heard in a recording travels as lines; whatever else comes is refused."""

import pytest

from game.instrument.listening.heard import HeardNote
from game.instrument.sources.heard_recording import MOST_NOTES, SoundFacts, recording_lines, recording_of

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
