"""An identity lies in a small file, and what cannot be read there is never written over."""

from uuid import UUID

import pytest

from game.practice_log.database.identity import Identity, read_identity, write_identity

ANA = Identity(uuid=UUID(int=7), name="la guitarra dé Ana")
BROKEN = [b"", b"[1, 2", b"null", b'{"name": "Ana"}', b'{"uuid": "no id"}', b"\xff\xfe", b"[" * 90_000]


def test_an_identity_is_read_as_it_was_written(tmp_path):
    write_identity(tmp_path / "there" / "player.json", ANA)
    assert read_identity(tmp_path / "there" / "player.json", Identity) == ANA
    assert [path.name for path in (tmp_path / "there").iterdir()] == ["player.json"]


def test_where_there_is_no_file_there_is_no_identity(tmp_path):
    assert read_identity(tmp_path / "player.json", Identity) is None


@pytest.mark.parametrize("content", BROKEN, ids=range(len(BROKEN)))
def test_a_file_that_makes_no_sense_is_laid_aside_as_it_was(tmp_path, content):
    path = tmp_path / "player.json"
    path.write_bytes(content)
    assert read_identity(path, Identity) is None
    write_identity(path, ANA)
    assert read_identity(path, Identity) == ANA
    (aside,) = tmp_path.glob("player.json.broken-*")
    assert aside.read_bytes() == content


def test_a_folder_in_the_place_of_the_file_is_laid_aside_too(tmp_path):
    (tmp_path / "player.json").mkdir()
    write_identity(tmp_path / "player.json", ANA)
    assert read_identity(tmp_path / "player.json", Identity) == ANA


def test_another_identity_takes_the_place_of_one_that_can_be_read(tmp_path):
    for identity in (Identity(uuid=UUID(int=1)), ANA):
        write_identity(tmp_path / "player.json", identity)
    assert read_identity(tmp_path / "player.json", Identity) == ANA
    assert [path.name for path in tmp_path.iterdir()] == ["player.json"]


def test_a_disk_that_refuses_leaves_the_file_as_it_was(tmp_path, monkeypatch):
    path = tmp_path / "player.json"
    write_identity(path, ANA)

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("pathlib.Path.write_bytes", full)
    with pytest.raises(OSError, match="No space"):
        write_identity(path, Identity(uuid=UUID(int=1)))
    assert read_identity(path, Identity) == ANA
    assert [path.name for path in tmp_path.iterdir()] == ["player.json"]
