"""Live MIDI: devices that are found, lost and found again, and their messages once a frame.

The driver's callback takes the time, appends to a queue and does nothing else. `scan` looks for devices
that came or went; `watch` does so about once a second in a thread of its own, away from the frame.
"""

import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass

from game.instrument.decoding.active_device import STAYS_ACTIVE_S, ActiveDevice, active_after
from game.instrument.decoding.device_names import device_name, is_loop, is_program, is_wanted, unique_name
from game.instrument.decoding.stamped import StampedMessage, corrected
from game.instrument.ports.device_changes import (
    DeviceChange,
    DeviceFound,
    DeviceLost,
    DeviceRefused,
    DeviceWired,
    SystemChanged,
)
from game.instrument.ports.driver import Driver, OnMessage, OpenPort, refusal_of
from game.instrument.ports.find_driver import FoundDriver, system_name
from game.instrument.ports.rtmidi_driver import CLIENT_NAME
from game.message import Message, message

SCAN_EVERY_S = 0.7
ASKS_EVERY_S = 3.0
"""So often it is asked whether the system is still there: a restart is noticed soon, and costs little."""
# More than a frame can bring at MIDI's line rate, 31.25 kbaud; the oldest give way if nobody drains.
_MOST_QUEUED = 65_536
_FIRST_SYSTEM_STATUS = 0xF0
OFFERED = "port Homefret"


@dataclass(frozen=True, slots=True)
class _Present:
    """A port that is there for us, the device's name, and what is open: None for a program that wires itself to us."""

    port_name: str
    name: str
    port: OpenPort | None


class MidiInputs:
    """Listens to one device, or to whichever plays. Safe to scan from one thread and drain from another.

    `wanted` is any part of a device's name, None for whichever plays; `offered` names a port of our own
    that other programs can be wired to, None for none.
    """

    def __init__(
        self,
        found: FoundDriver,
        now_s: Callable[[], float],
        *,
        wanted: str | None = None,
        offered: str | None = CLIENT_NAME,
    ) -> None:
        self._driver: Driver | None = found.driver
        self._open_again = found.open_again
        self._system = system_name(found.driver.api) if found.driver else ""
        self._account = found.account
        self._now_s = now_s
        self._wanted = wanted
        self._queue: deque[tuple[float, float, bytes | list[int], str]] = deque(maxlen=_MOST_QUEUED)
        self._changes: deque[DeviceChange] = deque()
        # Never changed, only published anew by whoever scans: the frame reads it without waiting for a driver.
        self._present: tuple[_Present, ...] = ()
        self._refused: set[str] = set()
        self._scanning = threading.Lock()
        self._closing = threading.Event()
        self._previous_s: dict[str, float] = {}
        self._active = ActiveDevice()
        self._offered_as = offered
        self._system_lost, self._offer_refused = False, False
        self._offered = self._offer(offered) if offered else None
        self._wired_as: str | None = None
        self._asked_s = now_s()

    @property
    def devices(self) -> tuple[str, ...]:
        """Names of the devices that are there for us."""
        return tuple(there.name for there in self._present)

    @property
    def playing(self) -> str | None:
        """The source that was heard last, None before the first note."""
        return self._active.source

    @property
    def offers_port(self) -> bool:
        """Whether there is a port of our own to be wired to."""
        return self._offered is not None

    @property
    def status(self) -> Message:
        """What was found, in one sentence for the player."""
        if self._driver is None:
            return self._account
        heard = tuple(there.name for there in self._present if there.port or there.name == self._wired_as)
        if heard:
            return message("driver.listening", account=self._account, devices=heard)
        port = "_or_wire" if self.offers_port else ""
        if self._wanted:
            return message(f"driver.wanted_missing{port}", account=self._account, wanted=self._wanted)
        return message(f"driver.none_plugged_in{port}", account=self._account)

    def _offer(self, name: str) -> OpenPort | None:
        """Our own port. Where it is refused that is said once, and it is asked for again."""
        was_refused, self._offer_refused = self._offer_refused, False
        try:
            return self._driver.offer(name, self._listener(OFFERED)) if self._driver else None
        except OSError as error:
            self._offer_refused = True
            if not was_refused:
                told = message("driver.offer_refused", system=self._system, reason=refusal_of(error))
                self._changes.append(SystemChanged(told))
            return None

    def _listener(self, source: str) -> OnMessage:
        append, now_s = self._queue.append, self._now_s

        def on_message(received: bytes | list[int], delta_s: float) -> None:
            append((now_s(), delta_s, received, source))

        return on_message

    def choose(self, wanted: str | None) -> None:
        """Listen to another device from the next scan on, or to whichever plays."""
        self._wanted = wanted

    def scan(self) -> None:
        """Open what came, close what went. Costs a tenth of a millisecond when nothing changed."""
        with self._scanning:
            self._look_at_system()
            if self._driver is None:
                return
            names = _names_now(self._driver)
            wanted = tuple(name for name in names if self._is_for_us(name))
            for there in self._present:
                if there.port_name not in wanted:
                    self._lose(there)
            self._refused &= set(names)
            known = {there.port_name for there in self._present}
            for port_name in wanted:
                if port_name not in known:
                    self._find(self._driver, port_name)

    def _look_at_system(self) -> None:
        """Ask now and then, while nobody plays, whether our port is still there, or for it where it was refused; offer
        it anew when the system that went away is back.
        """
        if self._system_lost:
            self._come_back()
        elif self._offer_refused and self._offered_as and self._is_time_to_ask():
            self._asked_s = self._now_s()
            self._offered = self._offer(self._offered_as)
            if self._offered:
                self._changes.append(SystemChanged(message("driver.offered_at_last", system=self._system)))
        elif self._driver and self._offered and self._offered_as and self._is_time_to_ask():
            self._asked_s = self._now_s()
            if not _still_offers(self._driver, self._offered_as):
                self._go_without()

    def _is_time_to_ask(self) -> bool:
        return self._now_s() - self._asked_s >= ASKS_EVERY_S and not self._someone_plays()

    def _go_without(self) -> None:
        """Leave what was open as it is: it cannot be closed any more."""
        for there in self._present:
            self._lose(there, with_system=True)
        for gone in (self._offered, self._driver):
            if gone:
                gone.abandon()
        self._driver, self._offered, self._system_lost = None, None, True
        self._changes.append(SystemChanged(message("driver.system_lost", system=self._system)))
        self._come_back()

    def _come_back(self) -> None:
        if self._open_again is None:
            return
        try:
            self._driver = self._open_again()
        except OSError:
            return
        self._offered = self._offer(self._offered_as) if self._offered_as else None
        self._system_lost, self._asked_s = False, self._now_s()
        key = "driver.system_back_offered" if self._offered else "driver.system_back"
        self._changes.append(SystemChanged(message(key, system=self._system)))

    def _is_for_us(self, port_name: str) -> bool:
        return not is_loop(port_name) and is_wanted(port_name, self._wanted)

    def _someone_plays(self) -> bool:
        """Opening a port costs milliseconds, and in JACK some notes of the others: it waits for a silence."""
        silent_s = self._now_s() - self._active.heard_s
        return self._active.source in (OFFERED, *self.devices) and silent_s <= STAYS_ACTIVE_S

    def _wires_itself(self, driver: Driver, port_name: str) -> bool:
        return self.offers_port and self._wanted is None and is_program(port_name, driver.api)

    def _find(self, driver: Driver, port_name: str) -> None:
        name = unique_name(device_name(port_name, driver.api), self.devices)
        if self._wires_itself(driver, port_name):
            self._present = (*self._present, _Present(port_name, name, None))
            self._changes.append(DeviceFound(name, wires_itself=True))
        elif not self._someone_plays():
            self._open(driver, port_name, name)

    def _open(self, driver: Driver, port_name: str, name: str) -> None:
        try:
            port = driver.open(port_name, self._listener(name))
        except OSError as error:
            # Tried again at every scan, as the program that has it may end; said once.
            if port_name not in self._refused:
                self._refused.add(port_name)
                can_be_wired = self.offers_port and is_program(port_name, driver.api)
                self._changes.append(DeviceRefused(name, refusal_of(error), can_be_wired))
        else:
            self._refused.discard(port_name)
            self._previous_s.pop(name, None)
            self._present = (*self._present, _Present(port_name, name, port))
            self._changes.append(DeviceFound(name))

    def _lose(self, there: _Present, *, with_system: bool = False) -> None:
        self._present = tuple(other for other in self._present if other is not there)
        if there.name == self._wired_as:
            self._wired_as = None
        if there.port and with_system:
            there.port.abandon()
        elif there.port:
            there.port.close()
        heard_as = there.name if there.port else OFFERED
        self._changes.append(DeviceLost(there.name, was_playing=self.playing == heard_as))

    def watch(self) -> None:
        """Scan now, then in a thread of its own until closed."""
        self.scan()
        threading.Thread(target=self._keep_scanning, name="midi-devices", daemon=True).start()

    def _keep_scanning(self) -> None:
        while not self._closing.wait(SCAN_EVERY_S):
            self.scan()

    def changes(self) -> tuple[DeviceChange, ...]:
        """What came and went since the last call, in order."""
        return tuple(self._changes.popleft() for _ in range(len(self._changes)))

    def drain(self) -> tuple[StampedMessage, ...]:
        """The messages since the last call from the device that plays, in order of their stamps.

        Stamps that came late are put right. Clock, active sensing and system exclusive are left out.
        """
        arrived = [self._put_right(*self._queue.popleft()) for _ in range(len(self._queue))]
        arrived.sort(key=lambda stamped: stamped.at_s)
        if self._wired_as is None and any(stamped.source == OFFERED for stamped in arrived):
            self._wire()
        return tuple(stamped for stamped in arrived if self._is_listened_to(stamped))

    def _wire(self) -> None:
        """Something came by our own port. Which of several programs sent it, nobody can tell."""
        programs = [there.name for there in self._present if there.port is None]
        if len(programs) == 1:
            self._wired_as = programs[0]
            self._changes.append(DeviceWired(programs[0]))

    def _put_right(self, at_s: float, delta_s: float, received: bytes | list[int], source: str) -> StampedMessage:
        stamped = corrected(self._previous_s.get(source), StampedMessage(at_s, delta_s, bytes(received), source))
        self._previous_s[source] = stamped.at_s
        return stamped

    def _is_listened_to(self, stamped: StampedMessage) -> bool:
        if not stamped.message or stamped.message[0] >= _FIRST_SYSTEM_STATUS:
            return False
        self._active, listened_to = active_after(self._active, stamped)
        return listened_to

    def close(self) -> None:
        """Close every port and let the system go."""
        self._closing.set()
        with self._scanning:
            for there in self._present:
                if there.port:
                    there.port.close()
            self._present = ()
            if self._offered:
                self._offered.close()
            if self._driver:
                self._driver.close()
            self._driver, self._offered, self._open_again = None, None, None


def _still_offers(driver: Driver, name: str) -> bool:
    try:
        return driver.still_offers(name)
    except OSError:
        return False


def _names_now(driver: Driver) -> tuple[str, ...]:
    try:
        return driver.input_names()
    except OSError:
        return ()
