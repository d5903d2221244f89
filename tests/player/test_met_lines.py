"""Lines that were met do not come again."""

from random import Random

from game.lines.fingerprint import fingerprints
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.lines.scale import key_named
from game.neck.neck_map import standard_map
from game.player.met_lines import LINES_FILE, add_met_line, read_met_lines
from game.screens.routes import ToFreshLine
from tests.screens.table import Table

MAP = standard_map()


def line(seed, **choice):
    return fresh_line(level_of(2), MAP, key=key_named("F"), bars=4, rng=Random(seed), **choice)


def test_a_line_that_was_met_is_remembered(tmp_path):
    add_met_line(line(1), tmp_path)
    assert read_met_lines(tmp_path) == frozenset(fingerprints(line(1)))
    assert line(1, seen=read_met_lines(tmp_path)).bars != line(1).bars


def test_the_oldest_go_when_there_are_too_many(tmp_path, monkeypatch):
    monkeypatch.setattr("game.player.met_lines.MOST_KEPT", len(fingerprints(line(1))))
    add_met_line(line(1), tmp_path)
    add_met_line(line(2), tmp_path)
    assert read_met_lines(tmp_path) == frozenset(fingerprints(line(2)))


def test_a_damaged_file_and_a_disk_that_refuses_change_nothing(tmp_path):
    (tmp_path / LINES_FILE).write_bytes(bytes(range(256)) * 50)
    assert read_met_lines(tmp_path) == frozenset()
    (tmp_path / "file").write_text("no folder")
    add_met_line(line(1), tmp_path / "file")
    assert read_met_lines(tmp_path / "file") == frozenset()


def test_what_is_laid_on_the_desk_is_met(tmp_path):
    table = Table(tmp_path)
    table.go(ToFreshLine())
    assert read_met_lines(tmp_path) == frozenset(fingerprints(table.screen.request.score))
