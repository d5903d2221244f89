"""A guitar that is heard: notes in, what comes and goes, how loud it is. The sound itself stays in another process."""

from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator

import msgspec

from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import NoteRevised, NoteStarted
from game.instrument.listening.heard import Telling, Told
from game.instrument.listening.note_events import HeardStream, note_events
from game.instrument.ports.device_changes import DeviceChange, DeviceFound, DeviceLost, SystemChanged
from game.instrument.ports.live_instrument import ListeningTerms, LiveEvent
from game.instrument.ports.process_keeper import DEAD_AFTER_S, FINE_AFTER_S, BeginListening, KeptProcess, ProcessKeeper
from game.instrument.ports.sound_input import SILENCE_DB, RecordedSound, SoundLevel, SoundTerms, Tone
from game.instrument.ports.sound_process import SoundProcess, sound_inputs
from game.instrument.ports.sound_wire import (
    ExpectNotes,
    InputLost,
    InputOpened,
    InputRefused,
    InputsFound,
    KeepingEnded,
    LevelHeard,
    NotesHeard,
    Order,
    RecordSound,
    SoundNews,
    SoundRecorded,
    TellTone,
    ToneHeard,
    news_in,
)
from game.message import Message, from_plain, message

TONE_STAYS_WANTED_S = 2.0
"""So long after it was last asked for the tone is worked out still."""

SILENT_S = 5.0
"""So long nothing but silence comes from an input before it is asked whether it is on (ours)."""


class Microphone:
    """The audio input that the player chose. Without one nothing is opened, and no process begins.

    Its `keeper` begins and ends processes in a thread of its own; here, in the frame, is only read what they said.
    `kept_in` is a file that all that comes is written into, for whoever asked for that; `on_told` is given all that is
    told of notes, and when their stream began. Without `looks_after_itself` there is no such thread, and whoever made
    it calls `keeper.look_after_process`.
    """

    def __init__(
        self,
        now_s: Callable[[], float] = lambda: 0.0,
        terms: SoundTerms | None = None,
        *,
        begin: BeginListening = SoundProcess,
        ask_inputs: Callable[[], InputsFound] = sound_inputs,
        kept_in: str = "",
        on_told: Callable[[Told, float], None] | None = None,
        looks_after_itself: bool = True,
    ) -> None:
        self.keeper = ProcessKeeper(
            now_s,
            begin=begin,
            kept_in=kept_in,
            first_orders=self._first_orders,
            looks_after_itself=looks_after_itself,
        )
        self._now_s, self._ask_inputs, self._on_told = now_s, ask_inputs, on_told
        self._changes: deque[DeviceChange] = deque()
        self._events: deque[LiveEvent] = deque()
        self._dirt: Counter[Dirt] = Counter()
        self._trouble: Message | None = None
        self._told: Message | None = None
        self._broke_off, self._told_off_s = False, float("-inf")
        self._expected: tuple[int, ...] = ()
        self._tone_asked_s: float | None = None
        self._recordings = 0
        self._record_order: RecordSound | None = None
        self._recorded: RecordedSound | None = None
        self._channels: dict[str, int] = {}
        self._forget_input()
        self.listen_to(terms)

    def _forget_input(self) -> None:
        """Nothing is open."""
        self._opened: InputOpened | None = None
        self._ahead_s = 0.0
        self._level: SoundLevel | None = None
        self._tone: Tone | None = None
        self._told_anything = self._sounded = False
        self._silent_since_s: float | None = None
        self._streams: dict[int, HeardStream] = {}

    @property
    def found(self) -> Message | None:
        """What was found, in one sentence; None while no input is chosen."""
        if self.keeper.terms is None:
            return None
        if self._opened is not None:
            return message("sound_input.listening", input=self._opened.name, rate=self._opened.rate)
        return self._trouble or message("sound_input.opening", input=self.keeper.terms.name)

    @property
    def devices(self) -> tuple[str, ...]:
        """The name of the input, while it is listened to."""
        return (self._opened.name,) if self._opened is not None else ()

    @property
    def present(self) -> bool:
        """Whether it is listened to."""
        return self._opened is not None

    @property
    def level(self) -> SoundLevel | None:
        """How loud it was of late, some ten times a second; None while nothing is listened to."""
        return self._level

    @property
    def tone(self) -> Tone | None:
        """The pitch that sounds now, twenty times a second; None in silence. It is worked out while it is asked for."""
        was_wanted, self._tone_asked_s = self._tone_asked_s is not None, self._now_s()
        if not was_wanted:
            self.keeper.tell(TellTone(wanted=True))
        return self._tone

    @property
    def trouble(self) -> Message | None:
        """Why the chosen input is not listened to, and what to do; None where it is, or none is chosen. After `inputs`
        also why there are none.
        """
        return self._trouble

    def expect(self, pitches: Iterable[int]) -> None:
        """The MIDI numbers that may come next: a note that sounds like one of them is told sooner, and never as
        anything else than it sounds.
        """
        expected = tuple(sorted(set(pitches)))
        if expected != self._expected:
            self._expected = expected
            self.keeper.tell(ExpectNotes(expected))

    def record(self, seconds: float) -> None:
        """Record so many seconds from now on, 60 at most, in memory only. What was recorded before is given up."""
        self._recordings += 1
        self._recorded = None
        self._record_order = RecordSound(self._recordings, seconds)
        if self._opened is not None:
            self.keeper.tell(self._record_order)

    def recorded(self) -> RecordedSound | None:
        """What was recorded, once it is complete; None before, and where nothing is listened to."""
        return self._recorded

    def inputs(self) -> tuple[str, ...]:
        """The names of the inputs that there are now. Asks the system, which takes up to seconds: never in a take.
        Empty where there are none, or the library is missing: then `trouble` says so.
        """
        answer = self._ask_inputs()
        self._channels = {**self._channels, **{one.name: one.channels for one in answer.inputs}}
        # A system may not show what is open already.
        names = tuple(dict.fromkeys((*self.devices, *(one.name for one in answer.inputs))))
        if not names:
            self._trouble = message("sound_input.none") if answer.reason is None else from_plain(answer.reason)
        elif self.keeper.terms is None:
            self._trouble = None
        return names

    def channels_of(self, name: str) -> int | None:
        """How many channels an input has, as it was told when the inputs were last asked for; None where it was not."""
        return self._channels.get(name)

    def filtered(self, device: str) -> Counter[Dirt]:
        """What was heard for a note, and then was none, by kind."""
        return self._dirt if device in self.devices else Counter()

    def settle(self, terms: ListeningTerms) -> None:
        """The settings have changed."""
        self.listen_to(terms.sound)

    def listen_to(self, terms: SoundTerms | None) -> None:
        """Listen to this input from now on, None for none. It is opened and closed in the background."""
        if terms != self.keeper.terms:
            self._told, self._trouble = None, None
        self.keeper.want(terms)

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call."""
        self._read_news()
        return tuple(self._changes.popleft() for _ in range(len(self._changes)))

    def events(self, now_s: float) -> Iterator[LiveEvent]:
        """What was heard since the last call, in order."""
        self._read_news()
        if self._tone_asked_s is not None and now_s - self._tone_asked_s > TONE_STAYS_WANTED_S:
            self._tone_asked_s, self._tone = None, None
            self.keeper.tell(TellTone(wanted=False))
        while self._events:
            yield self._events.popleft()

    def close(self) -> None:
        """Stop listening."""
        self.keeper.close()

    def _first_orders(self) -> Iterator[Order]:
        """What a process that begins has to know of what was asked before."""
        if self._expected:
            yield ExpectNotes(self._expected)
        if self._tone_asked_s is not None:
            yield TellTone(wanted=True)

    def _read_news(self) -> None:
        for running, at_s, frame in self.keeper.said():
            if frame is None:
                self._ended(running, at_s)
            else:
                self._hear(frame, at_s, running)

    def _hear(self, frame: bytes, at_s: float, running: KeptProcess) -> None:
        try:
            news = news_in(frame)
            if not running.stopped:
                self._take_in(news, at_s)
        except (msgspec.MsgspecError, ValueError):
            return

    def _take_in(self, news: SoundNews, at_s: float) -> None:
        match news:
            case NotesHeard():
                for told in news.told:
                    self._hear_note(told, news.began_s + self._ahead_s)
            case LevelHeard():
                self._level = news.level
                self._hear_silence(news.level, at_s)
            case ToneHeard():
                self._tone = news.tone
            case SoundRecorded():
                self._hear_recording(news)
            case InputOpened():
                self._open(news, at_s)
            case InputRefused():
                self._refuse(news)
            case InputLost():
                self._lose()
            case KeepingEnded():
                self._changes.append(SystemChanged(from_plain(news.reason)))

    def _open(self, news: InputOpened, at_s: float) -> None:
        # The clock of another process is the same on every system we know; where it were not, its zero is found here.
        self._ahead_s = 0.0 if 0 <= at_s - news.at_s < DEAD_AFTER_S else at_s - news.at_s
        self._opened, self._trouble, self._told, self._broke_off = news, None, None, False
        self._changes.append(DeviceFound(news.name))
        if self._record_order is not None:
            self.keeper.tell(self._record_order)

    def _refuse(self, news: InputRefused) -> None:
        if news.for_good:
            self.keeper.give_up()
        # That it is gone was told when it went.
        self._say(news.message, silently=news.absent and self._broke_off)

    def _say(self, trouble: Message, *, silently: bool = False) -> None:
        self._trouble = trouble
        if trouble != self._told and not silently:
            self._told = trouble
            self._changes.append(SystemChanged(trouble))

    def _lose(self) -> None:
        if self._opened is None:
            return
        name, was_playing = self._opened.name, self._told_anything
        self._forget_input()
        self._trouble, self._broke_off = message("sound_input.absent", input=name), True
        self._changes.append(DeviceLost(name, was_playing=was_playing))

    def _ended(self, running: KeptProcess, at_s: float) -> None:
        """A process has ended: because we wanted it, because its input is gone, or by itself, which is told once."""
        if running.stopped:
            self._forget_input()
            return
        broke_off = message("sound_input.broke_off", input=running.terms.name)
        if self._opened is not None:
            self._lose()
            if at_s - self._told_off_s > FINE_AFTER_S:
                self._changes.append(SystemChanged(broke_off))
            self._told_off_s = at_s
        elif self._trouble is None:
            self._say(broke_off)

    def _hear_note(self, told: Told, began_s: float) -> None:
        """Each note keeps to the clock of when it was told first, or it would be another whenever that is known
        better.
        """
        terms = self.keeper.terms
        if self._opened is None or terms is None:
            return
        number = told.note.number
        if told.telling is Telling.STARTED:
            self._streams[number] = HeardStream(began_s=began_s, delay_s=terms.delay_s, source=self._opened.name)
        stream = self._streams.pop(number, None)
        if stream is None:
            return
        if self._on_told is not None:
            self._on_told(told, stream.began_s)
        stream, events = note_events(stream, (told,))
        if stream.notes:
            self._streams[number] = stream
        self._told_anything = True
        for event in events:
            if isinstance(event, NoteStarted | NoteRevised):
                self._events.append(event)
            if isinstance(event, NoteRevised) and event.dirt is not None:
                self._dirt[event.dirt] += 1

    def _hear_silence(self, level: SoundLevel, at_s: float) -> None:
        """An input that was never anything but silent is off, or the system keeps it from us. One that falls silent may
        be an amplifier with a gate: that is no more than seen.
        """
        if self._opened is None:
            return
        silent = message("sound_input.silent", input=self._opened.name)
        if level.peak_db > SILENCE_DB:
            self._silent_since_s, self._sounded = None, True
            self._trouble = None if self._trouble == silent else self._trouble
        elif self._silent_since_s is None:
            self._silent_since_s = at_s
        elif at_s - self._silent_since_s >= SILENT_S and self._trouble != silent:
            self._say(silent, silently=self._sounded)

    def _hear_recording(self, news: SoundRecorded) -> None:
        if self._record_order is None or news.number != self._record_order.number:
            return
        import numpy as np  # noqa: PLC0415 - not before the first frame

        self._record_order = None
        samples = np.frombuffer(news.samples, dtype=np.float32)
        self._recorded = RecordedSound(started_s=news.started_s + self._ahead_s, rate=news.rate, samples=samples)
