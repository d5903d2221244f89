import numpy as np
import pytest

from game.instrument.listening.heard import Telling
from game.instrument.listening.listener import Listener
from tests.instrument.listening import rooms
from tests.instrument.listening.plucked import RATE, line, plucked
from tests.sampling import sample

NOTES = [(0.2, 57), (0.5, 60), (0.8, 53), (1.1, 53)]
SOUND = line(NOTES)


def heard(sound, rate=RATE, cut=256, **how):
    """All that is told of a stream that comes in pieces of `cut` samples."""
    listener = Listener(rate, **how)
    told = [one for first in range(0, len(sound), cut) for one in listener.feed(sound[first : first + cut])]
    return (*told, *listener.finish())


def started(told):
    return [round(one.note.pitch) for one in told if one.telling is Telling.STARTED]


TOLD = heard(SOUND)


def test_each_note_is_started_settled_and_ended_in_this_order():
    for number in range(1, 5):
        story = [one.telling for one in TOLD if one.note.number == number and one.telling is not Telling.REVISED]
        assert story == [Telling.STARTED, Telling.SETTLED, Telling.ENDED]
    assert started(TOLD) == [pitch for _, pitch in NOTES]


def test_a_note_is_told_within_six_hundredths_of_a_second_of_its_pluck():
    late = [one.at_s - one.note.started_s for one in TOLD if one.telling is Telling.STARTED]
    assert max(late) < 0.06


@pytest.mark.parametrize("cut", sample([1, 97, 4096, len(SOUND)], by_default=2))
def test_how_the_stream_is_cut_makes_no_difference(cut):
    sound = SOUND[: RATE // 2] if cut == 1 else SOUND
    assert heard(sound, cut=cut) == heard(sound)


@pytest.mark.parametrize("rate", sample([16_000, 22_050, 48_000, 96_000, 192_000], by_default=2))
def test_a_line_is_heard_at_every_rate(rate):
    told = heard(line(NOTES, rate=rate), rate)
    assert started(told) == [pitch for _, pitch in NOTES]
    begun = [one.note.started_s for one in told if one.telling is Telling.STARTED]
    assert begun == pytest.approx([onset_s for onset_s, _ in NOTES], abs=0.005)


@pytest.mark.parametrize("rate", [0, 8000, 384_000])
def test_other_rates_are_refused(rate):
    with pytest.raises(ValueError, match=f"cannot listen at {rate} samples a second: only at 16000 to 192000"):
        Listener(rate)


@pytest.mark.parametrize("level", [0.02, 4.0])
def test_soft_and_clipped_lines_are_heard(level):
    assert started(heard(np.clip(line(NOTES, level=level), -1, 1))) == [pitch for _, pitch in NOTES]


def test_an_offset_and_samples_that_are_no_numbers_do_no_harm():
    spoilt = SOUND + np.float32(0.4)
    spoilt[[5000, 30_000]] = np.nan
    spoilt[40_000] = np.inf
    told = heard(spoilt)
    pitches = started(told)
    assert [pitch for pitch in pitches if pitch in {57, 60, 53}][-4:] == [57, 60, 53, 53]
    assert all(np.isfinite(one.note.pitch) for one in told)


@pytest.mark.parametrize(
    "sound",
    [
        np.zeros(2 * RATE),
        np.ones(RATE),
        0.01 * np.random.default_rng(1).standard_normal(4 * RATE),
        np.full(RATE, np.nan),
        np.zeros(0),
    ],
    ids="silence offset noise nan nothing".split(),
)
def test_where_nobody_plays_nothing_is_told(sound):
    assert heard(sound.astype(np.float32)) == ()


def test_what_is_quieter_than_the_floor_is_no_note():
    assert heard(SOUND, floor_db=0.0) == ()


def test_the_end_of_the_stream_tells_a_note_that_had_just_begun():
    told = heard(plucked(57, 0.05))
    assert [one.telling for one in told] == [Telling.STARTED, Telling.SETTLED, Telling.ENDED]


def test_the_time_is_that_of_the_samples_fed():
    listener = Listener(48_000)
    listener.feed(np.zeros(4801, dtype=np.float32))
    assert listener.now_s == pytest.approx(4801 / 48_000)


def test_what_is_expected_never_decides_what_was_heard():
    """A semitone beside, an octave and a fifth: the notes stay what they are."""
    for aside in (-12, -7, -1, 1, 7, 12):
        listener = Listener(RATE)
        told = []
        for first in range(0, len(SOUND), 512):
            listener.expect(pitch + aside for _, pitch in NOTES)
            told += listener.feed(SOUND[first : first + 512])
        assert started(told) == started(TOLD)


def test_notes_of_a_seventh_of_a_second_are_all_kept():
    """The next is plucked at the moment one is settled; none is withdrawn."""
    told = heard(line([(0.2 + 0.147 * number, pitch) for number, pitch in enumerate((50, 57, 51, 57, 63, 60))]))
    assert started(told) == [50, 57, 51, 57, 63, 60]
    assert Telling.WITHDRAWN not in {one.telling for one in told}


def test_hardly_anything_of_what_somebody_says_is_told_surely():
    talk = rooms.speech(10, -28, np.random.default_rng(5))
    ended = [one.note for one in heard(talk, rooms.RATE) if one.telling is Telling.ENDED]
    assert len(ended) > 5
    assert sum(note.sure for note in ended) <= len(ended) / 5


def test_plucked_notes_are_sure_to_the_end():
    assert all(one.note.sure for one in TOLD if one.telling is Telling.ENDED)
