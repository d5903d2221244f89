"""For all tests: no window, no sound card, and never the player's own folders."""

import os
from pathlib import Path

import pytest
from hypothesis import settings

# Machines are noisy: no test fails for being slow. The same examples on every run, so that a red run can be repeated.
settings.register_profile("homefret", deadline=None, derandomize=True)
settings.load_profile("homefret")

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Tests that drive the program in real time share one worker, so that none disturbs another's clock."""
    for item in items:
        if item.get_closest_marker("system"):
            item.add_marker(pytest.mark.xdist_group("system"))


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Each test has an empty home."""
    home = tmp_path_factory.mktemp("home")
    for name, folder in (("HOME", ""), ("XDG_DATA_HOME", "data"), ("XDG_CONFIG_HOME", "config")):
        monkeypatch.setenv(name, str(home / folder))
    return home
