"""Live ports by python-rtmidi, against a stand-in for its module: what it does with a server is in tests/system."""

import os
import sys
from types import SimpleNamespace

import pytest

from game.instrument.ports.driver import PortError, refusal_of
from game.instrument.ports.rtmidi_driver import RtMidiDriver, compiled_apis
from game.text.catalogue import tell


class BenchMidiIn:
    """One client of the system."""

    def __init__(self, api, client_name, queue_size_limit):
        self.api, self.client_name, self.queue_size_limit = api, client_name, queue_size_limit
        self.ignored = self.opened = self.callback = None
        self.ended = []

    def get_ports(self):
        return BenchMidiIn.ports

    def ignore_types(self, **kinds):
        self.ignored = kinds

    def set_callback(self, callback):
        self.callback = callback

    def open_port(self, number, name):
        self.opened = number, name

    def open_virtual_port(self, name):
        self.opened = "virtual", name

    def cancel_callback(self):
        self.ended.append("callback")

    def close_port(self):
        self.ended.append("port")

    def delete(self):
        self.ended.append("client")


@pytest.fixture
def clients(monkeypatch):
    """The clients that were made; the system has two pickups of one name and speaks ALSA and Windows MIDI."""
    made = []

    def midi_in(*arguments, **options):
        made.append(BenchMidiIn(*arguments, **options))
        return made[-1]

    apis = {"API_LINUX_ALSA": 1, "API_UNIX_JACK": 2, "API_MACOSX_CORE": 3, "API_WINDOWS_MM": 4}
    module = SimpleNamespace(**apis, MidiIn=midi_in, get_compiled_api=lambda: [1, 4])
    monkeypatch.setitem(sys.modules, "rtmidi", module)
    monkeypatch.setattr(BenchMidiIn, "ports", ["Pickup", "Pickup"], raising=False)
    monkeypatch.delenv("JACK_NO_START_SERVER", raising=False)
    return made


def test_namesakes_are_told_apart_and_opened_by_their_number(clients):
    driver = RtMidiDriver("alsa")
    assert driver.input_names() == ("Pickup", "Pickup #2")
    driver.open("Pickup #2", lambda *_: None)
    assert clients[-1].opened == (1, "input")


def test_ports_are_listed_by_one_client_that_is_kept(clients):
    driver = RtMidiDriver("alsa")
    for _ in range(5):
        driver.input_names()
    assert len(clients) == 1


def test_no_message_is_left_out_for_the_drivers_times_count_from_each(clients):
    RtMidiDriver("alsa").open("Pickup", lambda *_: None)
    assert clients[-1].ignored == {"sysex": False, "timing": False, "active_sense": False}


def test_a_message_is_handed_on_with_the_drivers_seconds(clients):
    heard = []
    RtMidiDriver("alsa").open("Pickup", lambda message, delta_s: heard.append((message, delta_s)))
    clients[-1].callback(([0x90, 64, 80], 0.25), None)
    assert heard == [([0x90, 64, 80], 0.25)]


def test_a_port_that_went_away_is_an_os_error(clients):
    driver = RtMidiDriver("alsa")
    BenchMidiIn.ports = []
    with pytest.raises(PortError) as refused:
        driver.open("Pickup", lambda *_: None)
    assert tell(refusal_of(refused.value)) == "the port Pickup is gone"
    assert len(clients) == 1


def test_a_closed_port_gives_its_client_back(clients):
    RtMidiDriver("alsa").open("Pickup", lambda *_: None).close()
    assert clients[-1].ended == ["callback", "port", "client"]


def test_a_port_of_our_own_is_offered_but_not_on_windows(clients):
    assert RtMidiDriver("alsa").offer("Homefret", lambda *_: None) is not None
    assert (clients[-1].client_name, clients[-1].opened) == ("Homefret", ("virtual", "input"))
    assert RtMidiDriver("winmm").offer("Homefret", lambda *_: None) is None


@pytest.mark.usefixtures("clients")
def test_a_system_it_was_built_without_is_an_os_error():
    with pytest.raises(PortError) as refused:
        RtMidiDriver("jack")
    assert tell(refusal_of(refused.value)) == "python-rtmidi was built without jack"


@pytest.mark.usefixtures("clients")
def test_the_systems_it_speaks_come_the_computers_own_first():
    assert compiled_apis() == ("winmm", "alsa")


@pytest.mark.usefixtures("clients")
def test_no_jack_server_is_ever_started():
    RtMidiDriver("alsa")
    assert os.environ["JACK_NO_START_SERVER"] == "1"


def test_closing_lets_the_listing_client_go(clients):
    RtMidiDriver("alsa").close()
    assert clients[0].ended == ["client"]
