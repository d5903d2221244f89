"""Several players at the real game: one is chosen on screen, and still plays after the next start."""

import time
from pathlib import Path

import pytest

from tests.commands.running import answer
from tests.system.game_on_screen import a_screen, game_on

pytestmark = pytest.mark.system


def appears(path: Path, within_s: float = 20.0) -> bool:
    deadline = time.monotonic() + within_s
    while time.monotonic() < deadline and not path.exists():
        time.sleep(0.1)
    return path.exists()


def test_a_player_chosen_on_screen_plays_at_the_next_start_too(own_home, tmp_path):
    _, grace = answer("players", "--add", "Grace")["players"]
    logs = [Path(folder) / "practice.sqlite" for folder in (own_home / "data" / "homefret", grace["folder"])]
    with a_screen(tmp_path) as display:
        with game_on(display, own_home, {}) as game:
            assert [log.exists() for log in logs] == [True, False]
            game.key("p", "Down", "Return")
            assert appears(logs[1])
        for log in logs:
            log.unlink()
        with game_on(display, own_home, {}):
            assert [log.exists() for log in logs] == [False, True]
