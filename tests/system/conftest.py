"""For the system tests: a JACK server and a screen for all tests of a module."""

from collections.abc import Iterator

import pytest

from tests.system.game_on_screen import Screen, a_screen
from tests.system.jack import jack_environment, jack_server


@pytest.fixture(scope="module")
def jack_name(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The name of a JACK server of our own."""
    with jack_server(tmp_path_factory.mktemp("jack")) as environment:
        yield environment["JACK_DEFAULT_SERVER"]


@pytest.fixture
def jack(jack_name: str) -> dict[str, str]:
    """The environment for programs that speak MIDI through that server, at home where the test is."""
    return jack_environment(jack_name)


@pytest.fixture(scope="module")
def screen(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Screen]:
    """A screen of our own."""
    with a_screen(tmp_path_factory.mktemp("screen")) as screen:
        yield screen
