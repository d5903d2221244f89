"""Why a port refused is told in our words where it is ours, and in the system's where it is not."""

from game.instrument.ports.driver import PortError, refusal_of
from game.text.catalogue import tell


def test_a_refusal_of_ours_is_told_in_the_words_of_the_catalogue():
    refused = PortError("driver.port_gone", port="Harp")
    assert tell(refusal_of(refused)) == "the port Harp is gone"
    assert isinstance(refused, OSError)


def test_a_refusal_of_the_system_stands_in_its_own_words():
    assert tell(refusal_of(OSError("device or resource busy"))) == "device or resource busy"
