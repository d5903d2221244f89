"""The same tune read at another octave, or in another clef."""

from collections import Counter
from collections.abc import Container, Iterable
from dataclasses import replace

from game.message import message
from game.music.pitch import STEPS, Pitch
from game.music.score import Bar, Note, Reading, Score

# A page is looked for so many octaves around the place where it stands.
_FURTHEST = 4
_OCTAVE = 12
# A note without a home counts as much as one that stands so many semitones beyond those that need a ledger line or none
# (ours: it can be played anywhere, and a page of ledger lines reads badly).
_AS_FAR_AS_NO_HOME = 24
_NEAR_MIDDLE = 10


def at_reading(score: Score, reading: Reading, homes: Container[int] = ()) -> Score:
    """The score for a player who reads at `reading`; `homes` are the sounding pitches (MIDI numbers) that they play.

    In the same clef, where the file settles which pitches sound, the page moves by an octave and the sound stays; a
    lead sheet that says nothing keeps its page, and sounds an octave lower or higher. Into another clef every page
    moves by whole octaves, as `octaves_moved` says; then its `octave_reason` tells it.
    """
    if score.reading is reading:
        return score
    if score.reading.clef is not reading.clef:
        return _in_other_clef(score, reading, homes)
    moved = replace(score, reading=reading)
    up = reading.octaves_down - score.reading.octaves_down
    return up_octaves(moved, up) if score.sound_fixed else moved


def up_octaves(score: Score, up: int) -> Score:
    """The page moved by octaves, and its sound with it; down where `up` is negative."""
    return replace(score, bars=tuple(_moved(bar, up) for bar in score.bars))


def octaves_moved(
    counts: Iterable[tuple[int, int]], before: Reading, after: Reading, homes: Container[int], *, sound_fixed: bool
) -> int:
    """By how many octaves what sounds moves up (down where negative) when a page is read at another reading.

    `counts` are sounding pitches (MIDI numbers) with how often each stands on the page. Into another clef: where most
    notes have a home; of equals the least move. Where the file does not settle what sounds, notes far from the staff
    count against it, too, and of equals it is where the notes lie nearest to the middle of the staff.
    """
    if before.clef is after.clef:
        return 0 if sound_fixed else before.octaves_down - after.octaves_down
    pairs = tuple(counts)
    notes = sum(count for _, count in pairs) or 1
    written = sum(pitch * count for pitch, count in pairs) / notes + _OCTAVE * after.octaves_down
    middle = _midi_of_step(after.clef.middle_step)

    def burden(up: int) -> tuple[int, float, int]:
        lacking = sum(count for pitch, count in pairs if pitch + _OCTAVE * up not in homes)
        if sound_fixed:
            return lacking, abs(up), up
        off_staff = (abs(pitch + _OCTAVE * (up + after.octaves_down) - middle) - _NEAR_MIDDLE for pitch, _ in pairs)
        far = sum(max(0, off) * count for off, (_, count) in zip(off_staff, pairs, strict=True))
        return _AS_FAR_AS_NO_HOME * lacking + far, abs(written + _OCTAVE * up - middle), up

    return min(range(-_FURTHEST, _FURTHEST + 1), key=burden)


def _in_other_clef(score: Score, reading: Reading, homes: Container[int]) -> Score:
    down = _OCTAVE * score.reading.octaves_down
    counts = Counter(note.pitch.midi - down for bar in score.bars for note in bar.notes if not note.grace)
    sound_up = octaves_moved(counts.items(), score.reading, reading, homes, sound_fixed=score.sound_fixed)
    page_up = sound_up + reading.octaves_down - score.reading.octaves_down
    side = "higher" if page_up > 0 else "lower" if page_up < 0 else "same"
    sounds = f"octave.sounds_{reading.octaves_down}"
    reason = message(f"octave.other_clef_{reading.clef.value}_{side}", count=abs(page_up), sounds=message(sounds))
    return replace(up_octaves(score, page_up), reading=reading, octave_reason=reason)


def _midi_of_step(staff_step: int) -> int:
    octave, step = divmod(staff_step, len(STEPS))
    return Pitch(STEPS[step], 0, octave).midi


def _moved(bar: Bar, up: int) -> Bar:
    events = (
        replace(event, pitch=event.pitch.up_octaves(up)) if isinstance(event, Note) else event for event in bar.events
    )
    return replace(bar, events=tuple(events))
