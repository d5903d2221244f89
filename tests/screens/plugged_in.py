"""A pickup plugged into the game on the table: it plays bytes, as a real one does."""

from game.instrument.decoding.device_names import device_name
from game.instrument.ports.find_driver import FoundDriver
from game.instrument.ports.live_instrument import open_midi
from game.message import verbatim
from game.neck.tuning import STANDARD, Place
from game.screens.instrument_events import InstrumentEvents
from tests.instrument.ports.bench_driver import GUITAR, BenchDriver

NAME = device_name(GUITAR, BenchDriver.api)


class Plugged:
    """What is plugged in. `channels` are those of strings 1 to 6."""

    def __init__(self, table, channels=(1, 2, 3, 4, 5, 6)):
        self.table, self.channels = table, channels
        self.driver = BenchDriver(GUITAR)
        table.app.instrument_events = InstrumentEvents(table.context, [self._opened])
        table.wait(0.1)

    def _opened(self, terms):
        return open_midi(terms, lambda: FoundDriver(self.driver, verbatim("MIDI by hand")))

    def send(self, *message):
        self.driver.play(GUITAR, list(message))
        self.table.wait(0.02)

    def pluck(self, place: Place, lasts_s=0.25, velocity=80):
        channel, number = self.channels[place.string - 1] - 1, STANDARD.sounding(place)
        self.send(0x90 | channel, number, velocity)
        self.table.wait(lasts_s)
        self.send(0x80 | channel, number, 0)

    def press_pedal(self, times=1):
        for _ in range(times):
            self.send(0xB0, 64, 127)
            self.send(0xB0, 64, 0)
            self.table.wait(0.1)
        self.table.wait(0.8)

    def pull_out(self):
        self.driver.names.remove(GUITAR)
        self.table.app.instrument_events._live._sources[0]._inputs.scan()
        self.table.wait(0.1)

    def plug_in(self):
        self.driver.names.append(GUITAR)
        self.table.app.instrument_events._live._sources[0]._inputs.scan()
        self.table.wait(0.1)
