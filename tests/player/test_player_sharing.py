"""The folder through which a player's computers share what is played."""

import pytest

from game.clock import HandClock
from game.errors import LogError
from game.player.profiles import first_player
from game.player.session import open_session


@pytest.fixture
def session():
    session = open_session(first_player(), HandClock(100.0))
    yield session
    session.close()


@pytest.fixture
def begun(session, monkeypatch):
    """The times at which the session begins to bring its computers together."""
    begun = []
    monkeypatch.setattr(session.gatherer, "begin", begun.append)
    return begun


def test_who_shares_through_no_folder_has_no_strangers_no_assignments_and_no_log_is_opened(session):
    sharing = session.sharing
    assert (sharing.folder, sharing.assignments, sharing.has_strangers) == (None, (), False)
    assert "log" not in vars(session)


def test_a_folder_is_remembered_and_what_lies_there_is_gathered_at_once(session, begun, tmp_path):
    session.sharing.share_through(tmp_path)
    assert session.sharing.folder == tmp_path
    assert begun == [100.0]
    assert open_session(first_player(), HandClock()).sharing.folder == tmp_path


def test_sharing_ends_where_it_is_wished(session, begun, tmp_path):
    session.sharing.share_through(tmp_path)
    session.sharing.share_through(None)
    assert session.sharing.folder is None
    assert len(begun) == 2


@pytest.mark.usefixtures("begun")
def test_a_folder_that_cannot_be_shared_is_refused_and_the_one_before_stays(session, tmp_path):
    session.sharing.share_through(tmp_path)
    with pytest.raises(LogError):
        session.sharing.share_through(tmp_path / "none")
    assert session.sharing.folder == tmp_path


@pytest.mark.usefixtures("begun")
def test_assignments_are_those_for_everybody_there_and_for_this_player(session, tmp_path):
    session.sharing.share_through(tmp_path)
    ours = tmp_path / "homefret" / str(session.log.player.uuid) / "assignments" / "one.toml"
    theirs = tmp_path / "homefret" / "6f1a5a3e-7d4e-4a43-9a39-f6c2a36f0d11" / "assignments" / "other.toml"
    everybodys = tmp_path / "homefret" / "assignments" / "all.toml"
    for path in (ours, theirs, everybodys):
        path.parent.mkdir(parents=True)
        path.write_text("", encoding="utf-8")
    assert set(session.sharing.assignments) == {ours, everybodys}
