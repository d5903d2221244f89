"""A guitar that is heard: its process is begun when an input was chosen, replaced when it breaks off, and read once a
frame.
"""

import numpy as np
import pytest

from game.clock import HandClock
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteRevised, NoteStarted
from game.instrument.listening.heard import HeardNote, Telling, Told
from game.instrument.ports.device_changes import DeviceFound, DeviceLost, SystemChanged
from game.instrument.ports.live_instrument import ListeningTerms
from game.instrument.ports.microphone import Microphone
from game.instrument.ports.sound_input import SoundInput, SoundLevel, SoundTerms, Tone
from game.instrument.ports.sound_wire import (
    ExpectNotes,
    InputLost,
    InputOpened,
    InputsFound,
    LevelHeard,
    ListenTo,
    NotesHeard,
    RecordSound,
    SoundRecorded,
    StillWaiting,
    TellTone,
    ToneHeard,
    refused,
)
from game.message import message, to_plain
from game.text.catalogue import tell
from tests.instrument.ports.process_by_hand import ProcessByHand

CARD = SoundTerms(name="a card", delay_s=0.02)


class Desk:
    """A microphone whose processes and whose clock the test moves."""

    def __init__(self, terms=CARD, inputs=()):
        self.clock, self.begun = HandClock(100.0), []
        self.answer = InputsFound(inputs)
        self.microphone = Microphone(
            self.clock.now_s, terms, begin=self._begin, ask_inputs=lambda: self.answer, looks_after_itself=False
        )
        self.look()

    def _begin(self, order, now_s):
        self.begun.append(ProcessByHand(order, now_s))
        return self.begun[-1]

    @property
    def process(self):
        return self.begun[-1]

    def look(self, after_s=0.0):
        self.clock.advance(after_s)
        self.microphone.keeper.look_after_process()

    def open(self):
        self.process.say(InputOpened("a card", 48_000, self.clock.now_s()))
        return self.microphone.changes()

    def say(self, *news):
        self.process.say(*news)
        return self.microphone.changes(), list(self.microphone.events(self.clock.now_s()))

    def told(self):
        return [tell(change.told) for change in self.microphone.changes() if isinstance(change, SystemChanged)]


def heard(number=1, *, started_s=2.0, pitch=52.1, telling=Telling.STARTED, began_s=98.0, **others):
    note = HeardNote(number=number, started_s=started_s, pitch=pitch, level_db=-20, clarity=0.95, **others)
    return NotesHeard((Told(telling=telling, note=note, at_s=started_s + 0.04),), began_s)


def test_nothing_begins_before_an_input_is_chosen():
    desk = Desk(terms=None)
    desk.look(after_s=60)
    microphone = desk.microphone
    assert (desk.begun, microphone.found, microphone.devices, microphone.present) == ([], None, (), False)
    assert (microphone.level, microphone.trouble, microphone.recorded()) == (None, None, None)
    microphone.listen_to(CARD)
    desk.look()
    assert desk.process.orders == [ListenTo(CARD)]


def test_notes_are_stamped_by_when_their_samples_were_taken_less_the_delay():
    desk = Desk()
    assert desk.open() == (DeviceFound("a card"),)
    assert (desk.microphone.devices, desk.microphone.present) == (("a card",), True)
    _, (event,) = desk.say(heard())
    assert isinstance(event, NoteStarted)
    assert event.note.started_s == pytest.approx(98.0 + 2.0 - 0.02)
    assert (event.note.sounding, event.note.place, event.note.source) == (52, None, "a card")
    assert (event.note.heard, event.note.sure) == (True, True)


def test_a_note_stays_the_same_note_when_its_stream_is_stamped_better():
    desk = Desk()
    desk.open()
    _, (started,) = desk.say(heard())
    _, events = desk.say(heard(telling=Telling.SETTLED, began_s=98.001))
    assert events == []
    _, (revised,) = desk.say(heard(telling=Telling.REVISED, began_s=98.002, pitch=40.0, sure=False))
    assert isinstance(revised, NoteRevised)
    assert revised.before == started.note
    assert (revised.after.sounding, revised.after.sure) == (40, False)
    assert revised.after.started_s == started.note.started_s


def test_a_note_that_was_none_is_taken_back_and_counted():
    desk = Desk()
    desk.open()
    _, (started,) = desk.say(heard())
    _, (revised,) = desk.say(heard(telling=Telling.WITHDRAWN))
    assert (revised.before, revised.after) == (started.note, None)
    assert sum(desk.microphone.filtered("a card").values()) == 1
    assert set(desk.microphone.filtered("a card")) <= set(Dirt)


def test_an_input_that_vanishes_in_a_take_is_lost_as_a_pickup_is_and_found_again():
    desk = Desk()
    desk.open()
    desk.say(heard())
    desk.process.say(InputLost())
    desk.process.end()
    assert desk.microphone.changes() == (DeviceLost("a card", was_playing=True),)
    assert not desk.microphone.present
    assert tell(desk.microphone.trouble) == "a card is not there: plug it in, or choose another input"
    desk.look()
    desk.look()
    assert len(desk.begun) == 2
    desk.process.say(refused(message("sound_input.absent", input="a card"), absent=True), StillWaiting())
    assert desk.told() == []
    assert desk.open() == (DeviceFound("a card"),)
    assert desk.microphone.trouble is None


def test_one_that_was_not_played_on_keeps_nobody_waiting():
    desk = Desk()
    desk.open()
    desk.process.say(InputLost())
    assert desk.microphone.changes() == (DeviceLost("a card", was_playing=False),)


def test_a_process_that_is_killed_is_begun_again_and_that_is_told_once():
    desk = Desk()
    for times in range(3):
        desk.open()
        desk.process.end()
        changes = desk.microphone.changes()
        assert DeviceLost("a card") in changes
        told = [tell(change.told) for change in changes if isinstance(change, SystemChanged)]
        assert told == ([] if times else ["listening to a card broke off, and begins again"])
        desk.look()
        desk.look(after_s=6)
    assert len(desk.begun) == 4


def test_one_that_always_ends_at_once_is_begun_ever_more_seldom_and_told_once():
    desk, told = Desk(), []
    for _ in range(40):
        if not desk.process.over:
            desk.process.end()
        told += desk.told()
        desk.look(after_s=0.5)
    assert told == ["listening to a card broke off, and begins again"]
    assert 4 <= len(desk.begun) <= 8


def test_why_it_is_not_opened_is_told_once_for_each_reason():
    desk = Desk()
    busy, gone = message("sound_input.in_use", input="a card"), message("sound_input.absent", input="a card")
    desk.process.say(refused(busy), refused(busy), refused(gone, absent=True))
    assert [words.split(":")[0] for words in desk.told()] == ["another program has a card", "a card is not there"]
    assert desk.microphone.found == desk.microphone.trouble == gone


def test_without_the_library_it_is_told_once_and_tried_again_only_when_the_settings_change():
    desk = Desk()
    desk.process.say(refused(message("sound_input.no_library"), for_good=True))
    desk.process.end()
    assert len(desk.told()) == 1
    for _ in range(20):
        desk.look(after_s=10)
    assert len(desk.begun) == 1
    desk.microphone.settle(ListeningTerms(now_s=desk.clock.now_s, setup_for=lambda _: None, pedals=(), sound=CARD))
    desk.look()
    assert len(desk.begun) == 2
    desk.process.say(refused(message("sound_input.no_library"), for_good=True))
    assert desk.told() == []


def test_another_input_or_floor_needs_another_process_another_delay_does_not():
    desk = Desk()
    desk.open()
    desk.microphone.listen_to(SoundTerms(name="a card", delay_s=0.05))
    desk.look()
    assert len(desk.begun) == 1
    _, (event,) = desk.say(heard())
    assert event.note.started_s == pytest.approx(99.95)
    desk.microphone.listen_to(SoundTerms(name="another", delay_s=0.05))
    desk.look()
    assert len(desk.begun) == 2
    desk.begun[0].say(heard(2))
    assert desk.microphone.changes() == ()
    assert list(desk.microphone.events(desk.clock.now_s())) == []
    assert not desk.microphone.present


def test_none_chosen_any_more_ends_the_process_without_a_word():
    desk = Desk()
    desk.open()
    desk.microphone.listen_to(None)
    desk.look()
    assert desk.process.over
    assert desk.microphone.changes() == ()
    assert (desk.microphone.devices, desk.microphone.found) == ((), None)


def test_the_tone_is_worked_out_only_while_somebody_asks_for_it():
    desk = Desk()
    desk.open()
    assert desk.microphone.tone is None
    assert desk.process.orders[1:] == [TellTone(wanted=True)]
    desk.say(ToneHeard(Tone(pitch=40.02, clarity=0.97)))
    assert desk.microphone.tone == Tone(pitch=40.02, clarity=0.97)
    desk.clock.advance(3)
    desk.say()
    assert desk.process.orders[-1] == TellTone(wanted=False)


def test_a_level_is_told_and_gone_with_the_input():
    desk = Desk()
    desk.open()
    level = SoundLevel(rms_db=-30, peak_db=-12, hum_db=-70, clipped=3, lost=1)
    desk.say(LevelHeard(level))
    assert desk.microphone.level == level
    desk.say(InputLost())
    assert desk.microphone.level is None


def test_what_is_recorded_comes_whole_and_only_what_was_asked_for_last():
    desk = Desk()
    desk.open()
    desk.microphone.record(1.0)
    desk.microphone.record(0.5)
    assert desk.process.orders[-2:] == [RecordSound(1, 1.0), RecordSound(2, 0.5)]
    samples = np.linspace(-1, 1, 5, dtype=np.float32)
    desk.say(SoundRecorded(1, 101.0, 48_000, samples.tobytes()))
    assert desk.microphone.recorded() is None
    desk.say(SoundRecorded(2, 101.5, 48_000, samples.tobytes()))
    recorded = desk.microphone.recorded()
    assert (recorded.started_s, recorded.rate, recorded.samples.tolist()) == (101.5, 48_000, samples.tolist())


def test_what_is_expected_is_told_once_and_to_every_new_process():
    desk = Desk()
    for _ in range(3):
        desk.microphone.expect([52, 50, 52])
    assert desk.process.orders[1:] == [ExpectNotes((50, 52))]
    desk.process.end()
    desk.look()
    desk.look()
    assert desk.process.orders[1:] == [ExpectNotes((50, 52))]


def test_a_process_whose_clock_has_another_zero_is_understood():
    desk = Desk()
    desk.process.say(InputOpened("a card", 48_000, 7000.0))
    desk.microphone.changes()
    _, (event,) = desk.say(heard(began_s=6998.0))
    assert event.note.started_s == pytest.approx(100.0 - 0.02)


def test_what_makes_no_sense_is_passed_over():
    desk = Desk()
    desk.open()
    desk.process.frames.append((100.0, b"\xc1"))
    desk.process.frames.append((100.0, b"\x93\xa3abc\x01\x02"))
    _, events = desk.say(heard())
    assert len(events) == 1


def test_the_inputs_are_asked_for_by_name_with_the_open_one_first():
    card, other = (SoundInput(name=name, channels=2, rate=48_000) for name in ("a card", "another"))
    desk = Desk(inputs=(other,))
    desk.open()
    assert desk.microphone.inputs() == ("a card", "another")
    closed = Desk(terms=None, inputs=(other, card))
    assert closed.microphone.inputs() == ("another", "a card")
    assert (closed.microphone.channels_of("a card"), closed.microphone.channels_of("a third")) == (card.channels, None)
    assert closed.begun == []


def test_where_there_are_no_inputs_the_trouble_says_why():
    desk = Desk(terms=None)
    assert desk.microphone.inputs() == ()
    assert "plug in a microphone" in tell(desk.microphone.trouble)
    desk.answer = InputsFound((), to_plain(message("sound_input.no_portaudio_debian")))
    assert desk.microphone.inputs() == ()
    assert "libportaudio2" in tell(desk.microphone.trouble)


NOTHING, SOMETHING = (SoundLevel(rms_db=-120, peak_db=peak_db, hum_db=-120) for peak_db in (-120, -90))


def test_an_input_from_which_nothing_but_silence_comes_is_asked_about_once():
    desk = Desk()
    desk.open()
    told = []
    for _ in range(20):
        desk.process.say(LevelHeard(NOTHING))
        told += desk.told()
        desk.clock.advance(1)
    assert [words.split(":")[0] for words in told] == ["nothing but silence comes from a card"]
    assert tell(desk.microphone.trouble) == told[0]
    desk.say(LevelHeard(SOMETHING))
    assert desk.microphone.trouble is None


def test_one_that_falls_silent_between_notes_is_not():
    """An amplifier with a gate gives nothing at all then."""
    desk = Desk()
    desk.open()
    for level in (SOMETHING, *[NOTHING] * 20):
        desk.process.say(LevelHeard(level))
        assert desk.told() == []
        desk.clock.advance(1)
