"""The process that listens is there while an input is wanted, and another when it broke off or hangs."""

from game.clock import HandClock
from game.instrument.ports.process_keeper import ProcessKeeper
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.ports.sound_wire import ExpectNotes, ListenTo, StillWaiting, TellTone
from tests.instrument.ports.process_by_hand import ProcessByHand

CARD, ANOTHER = SoundTerms(name="a card", delay_s=0.02), SoundTerms(name="another")
HANGS_S, WAITS_S = 16.0, 2.0


class Kept:
    """A keeper whose processes and whose clock the test moves."""

    def __init__(self, terms=CARD, first_orders=()):
        self.clock, self.begun, self.refuses = HandClock(100.0), [], False
        self.keeper = ProcessKeeper(
            self.clock.now_s, begin=self._begin, first_orders=lambda: first_orders, looks_after_itself=False
        )
        self.keeper.want(terms)
        self.look()

    def _begin(self, order, now_s):
        if self.refuses:
            raise OSError("no more processes")
        self.begun.append(ProcessByHand(order, now_s))
        return self.begun[-1]

    def look(self, after_s=0.0):
        self.clock.advance(after_s)
        self.keeper.look_after_process()

    def said(self):
        """Which process said how much, in order; 0 for its end."""
        told = [(running.process, frame) for running, _, frame in self.keeper.said()]
        return [(self.begun.index(process), len(frame or b"")) for process, frame in told]


def test_without_an_input_there_is_neither_a_process_nor_a_thread():
    keeper = ProcessKeeper(HandClock().now_s)
    keeper.want(None)
    assert keeper._thread is None
    assert list(keeper.said()) == []
    keeper.close()


def test_a_new_process_is_told_what_to_listen_to_first():
    kept = Kept(first_orders=(ExpectNotes((50,)), TellTone(wanted=True)))
    assert kept.begun[0].orders == [ListenTo(CARD), ExpectNotes((50,)), TellTone(wanted=True)]


def test_one_that_hangs_is_killed_and_one_that_waits_is_not():
    kept = Kept()
    for _ in range(30):
        kept.begun[0].say(StillWaiting())
        kept.look(after_s=WAITS_S)
    assert len(kept.begun) == 1
    kept.look(after_s=HANGS_S)
    assert kept.begun[0].killed
    kept.look()
    assert len(kept.begun) == 2


def test_a_system_that_starts_no_process_is_asked_again():
    kept = Kept(terms=None)
    kept.refuses = True
    kept.keeper.want(CARD)
    kept.look()
    kept.refuses = False
    kept.look(after_s=1)
    assert kept.begun == []
    kept.look(after_s=5)
    assert len(kept.begun) == 1


def test_what_was_given_up_is_begun_again_only_once_something_is_wanted():
    kept = Kept()
    kept.keeper.give_up()
    kept.begun[0].end()
    for _ in range(5):
        kept.look(after_s=HANGS_S)
    assert len(kept.begun) == 1
    kept.keeper.want(CARD)
    kept.look()
    assert len(kept.begun) == 2


def test_what_one_said_is_read_to_its_end_before_the_next_one():
    """A process that is stopped may still say something while its successor begins."""
    kept = Kept()
    kept.keeper.want(ANOTHER)
    kept.look()
    old, new = kept.begun
    old.frames.clear()
    new.say(StillWaiting())
    assert kept.said() == []
    old.say(StillWaiting())
    old.frames.append((kept.clock.now_s(), None))
    told = kept.said()
    assert [process for process, _ in told] == [0, 0, 1]
    assert told[1] == (0, 0)
    assert kept.said() == []


def test_only_what_runs_now_is_told_what_is_wanted():
    kept = Kept()
    kept.keeper.want(None)
    kept.look()
    kept.keeper.tell(TellTone(wanted=True))
    assert kept.begun[0].orders == [ListenTo(CARD)]
