"""Several sources of notes are heard as one, and the log knows what each is."""

from collections import Counter
from dataclasses import dataclass, field, replace

import pytest

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteStarted, PlayedNote
from game.instrument.ports.device_changes import DeviceFound, DeviceLost
from game.instrument.ports.live_instrument import ListeningTerms
from game.instrument.ports.microphone import Microphone
from game.instrument.sources.note_sources import LiveSources, PlayedOn, played_on
from game.message import Message, verbatim
from game.neck.tuning import Place
from game.text.catalogue import tell, tell_all

TERMS = ListeningTerms(now_s=lambda: 0.0, setup_for=lambda _: None, pedals=(64,))


def note(source: str, place: Place | None = None) -> PlayedNote:
    return PlayedNote(started_s=1.0, sounding=60, place=place, source=source)


@dataclass
class Whistle:
    """A source that is none of ours: anything that keeps to the protocol is heard."""

    name: str
    there: bool = True
    settled: list[ListeningTerms] = field(default_factory=list)
    closed: bool = False

    @property
    def found(self) -> Message:
        return verbatim(f"{self.name} is here.")

    @property
    def devices(self) -> tuple[str, ...]:
        return (self.name,) if self.there else ()

    @property
    def present(self) -> bool:
        return self.there

    def filtered(self, device: str) -> Counter[Dirt]:
        return Counter({Dirt.SHORT: 2}) if device == self.name else Counter()

    def settle(self, terms: ListeningTerms) -> None:
        self.settled.append(terms)

    def changes(self):
        return (DeviceFound(self.name),)

    def events(self, now_s: float):  # noqa: ARG002 - part of the interface
        yield NoteStarted(note=note(self.name), channel=1)

    def close(self) -> None:
        self.closed = True


@pytest.fixture
def pair():
    return Whistle("tin whistle"), Whistle("low whistle", there=False)


def test_what_each_source_hears_and_finds_is_told_together(pair):
    live = LiveSources(TERMS, [lambda _, source=source: source for source in pair])
    assert tell_all(live.found) == "tin whistle is here. low whistle is here."
    assert (live.devices, live.present) == (("tin whistle",), True)
    assert [event.note.source for event in live.events(1.0)] == ["tin whistle", "low whistle"]
    assert [change.name for change in live.changes()] == ["tin whistle", "low whistle"]
    assert live.filtered("low whistle") == Counter({Dirt.SHORT: 2})
    assert live.filtered("drum") == Counter()


def test_new_settings_and_the_end_reach_every_source(pair):
    live = LiveSources(TERMS, [lambda _, source=source: source for source in pair])
    live.settle(TERMS)
    live.close()
    assert all(source.settled == [TERMS] and source.closed for source in pair)


def test_without_a_source_nothing_is_found():
    live = LiveSources(TERMS, [])
    assert (live.found, live.devices, live.present, list(live.events(0.0))) == ((), (), False, [])


@pytest.mark.parametrize(
    ("source", "place", "kind"),
    [
        ("neck on screen", Place(1, 0), PlayedOn.SCREEN_NECK),
        ("computer keys", Place(1, 0), PlayedOn.COMPUTER_KEYS),
        ("simulated player", Place(1, 0), PlayedOn.SIMULATED),
        ("blue pickup", Place(1, 0), PlayedOn.GUITAR),
        ("grand piano", None, PlayedOn.KEYBOARD),
    ],
)
def test_the_log_knows_what_a_note_was_played_on(source, place, kind):
    """A device is known by whether it tells places; everything of ours by its name."""
    assert played_on(note(source, place)) is kind


def test_what_was_heard_is_no_keyboard_although_it_tells_no_place():
    heard = PlayedNote(started_s=1.0, sounding=60, place=None, source="a card", heard=True)
    assert played_on(heard) is PlayedOn.HEARD


class HeardByHand(Microphone):
    """A microphone whose notes and changes the test hands in."""

    def __init__(self):
        super().__init__()
        self.next_events, self.next_changes, self.there = [], [], ()

    @property
    def devices(self):
        return self.there

    @property
    def present(self):
        return bool(self.there)

    def changes(self):
        changes, self.next_changes = tuple(self.next_changes), []
        return changes

    def events(self, now_s):  # noqa: ARG002 - part of the interface
        events, self.next_events = self.next_events, []
        yield from events


def test_a_pickup_takes_over_from_the_microphone_and_gives_back_when_it_is_taken_out():
    whistle, microphone = Whistle("pickup"), HeardByHand()
    live = LiveSources(TERMS, [lambda _: whistle, lambda _: microphone])
    heard = NoteStarted(note=PlayedNote(started_s=9.0, sounding=60, place=None, source="a card", heard=True), channel=1)
    microphone.next_events = [heard]
    assert [event.note.source for event in live.events(1.0)] == ["pickup"]
    microphone.next_changes = [DeviceLost("a card", was_playing=True)]
    assert DeviceLost("a card", was_playing=False) in live.changes()
    whistle.changes = lambda: (DeviceLost("pickup", was_playing=True),)
    whistle.events = lambda _: iter(())
    live.changes()
    microphone.next_events = [heard]
    assert list(live.events(1.0)) == [heard]
    assert live.microphone is microphone


def test_what_looks_for_nothing_says_nothing():
    live = LiveSources(TERMS, [lambda _: Whistle("tin whistle"), lambda _: HeardByHand()])
    assert tell_all(live.found) == "tin whistle is here."


def test_no_take_waits_for_a_pickup_that_went_where_a_microphone_hears_on():
    whistle, microphone = Whistle("pickup"), HeardByHand()
    live = LiveSources(TERMS, [lambda _: whistle, lambda _: microphone])
    lost = DeviceLost("pickup", was_playing=True)
    for there in ((), ("a card",)):
        list(live.events(1.0))
        microphone.there, whistle.changes = there, lambda: (lost,)
        first, *others = live.changes()
        assert first == DeviceLost("pickup", was_playing=not there)
        said = [tell(change.told) for change in others]
        assert said == (["pickup is gone, and a guitar is heard by a card again"] if there else [])


def test_every_source_is_heard_as_it_was_fingered_from_the_capo():
    live = LiveSources(replace(TERMS, capo=3), [lambda _: Whistle("one")])
    (started,) = live.events(0.0)
    assert started.note.sounding == 57
    live.settle(TERMS)
    (started,) = live.events(0.0)
    assert started.note.sounding == 60
