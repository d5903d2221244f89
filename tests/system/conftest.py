"""For the system tests: a JACK server and a screen for all tests of a module; a browser for all that look at pages."""

import os
import subprocess
from collections.abc import Iterator
from contextlib import suppress

import pytest

from tests.system.browser import Browser, browser
from tests.system.game_on_screen import Screen, a_screen
from tests.system.jack import jack_environment, jack_server
from tests.system.needs import require

# What nobody may keep waiting: programs in real time, and the server they speak through.
_FIRST = -10
AXE = "axe-core@4.14.1"


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup() -> None:
    """The other workers give way to what is played in real time, where the system allows it (root, as in CI)."""
    _give_priority(_FIRST)


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown() -> None:
    """What comes after in this worker is like all others."""
    _give_priority(0)


def _give_priority(niceness: int) -> None:
    """To this process, and to what it starts from now on."""
    with suppress(PermissionError):
        os.setpriority(os.PRIO_PROCESS, 0, niceness)


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


@pytest.fixture(scope="session")
def axe(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The source of axe-core."""
    npm = require("npm", package="npm")
    folder = tmp_path_factory.mktemp("axe")
    words = [npm, "install", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", str(folder), AXE]
    done = subprocess.run(words, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    return (folder / "node_modules" / "axe-core" / "axe.min.js").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def window(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """A window of a browser."""
    with browser(tmp_path_factory.mktemp("profile")) as window:
        yield window
