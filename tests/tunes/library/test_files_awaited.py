"""Files that somebody waits for come back to whoever asked for them, whatever becomes of the others."""

import threading

import pytest

from game.tunes.library import files_awaited
from game.tunes.library.files_awaited import FilesAwaited


@pytest.fixture
def read(monkeypatch):
    """What is read, in order, and what lets the reading go on."""
    paths, go_on = [], threading.Event()

    def add(path):
        assert go_on.wait(60)
        paths.append(path.name)
        if path.name == "bad":
            raise RuntimeError("nobody foresaw it")
        return f"entry of {path.name}"

    monkeypatch.setattr(files_awaited, "add", add)
    return paths, go_on


def taken(awaited, count):
    came = []
    for _ in range(6000):
        came += awaited.take()
        if len(came) == count:
            return came
        threading.Event().wait(0.005)
    raise AssertionError("the files never came")


def test_each_comes_back_once_to_whoever_asked(read, tmp_path):
    paths, go_on = read
    awaited = FilesAwaited()
    assert not awaited.busy
    for name, asked_for in (("one", 1), ("one", 1), ("bad", 2), ("one", 3)):
        awaited.ask(tmp_path / name, asked_for)
    assert awaited.busy
    assert awaited.take() == ()
    go_on.set()
    came = [(one.path.name, one.asked_for, one.entry) for one in taken(awaited, 3)]
    assert came == [("one", 1, "entry of one"), ("bad", 2, None), ("one", 3, "entry of one")]
    assert paths == ["one", "bad", "one"]
    assert not awaited.busy
    awaited.ask(tmp_path / "one", 1)
    assert [one.entry for one in taken(awaited, 1)] == ["entry of one"]
