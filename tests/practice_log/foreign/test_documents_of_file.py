"""The documents of logs and exports of every kind, as the child reads them."""

import msgspec
import pytest

from game.errors import LogError
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.documents_of_file import documents_of_file, lines_of_export
from game.practice_log.transfer.export import write_export
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.old_logs.unpacking import FACTS, LOG, unpacked
from tests.practice_log.transfer.practised import Computer, gathered, lines_of, told
from tests.practice_log.transfer.tables_export import write_tables
from tests.refusing import refusal


def read(path):
    head, _, lines = b"".join(documents_of_file(path)).partition(b"\n")
    return msgspec.json.decode(head, type=DocumentsHead), lines


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """A computer whose log lies in a file, and exports of it."""
    folder = tmp_path_factory.mktemp("home")
    computer = Computer(1, path=folder / "log.sqlite").practise(12)
    write_export(computer.log, PLAYER, folder / "now.zip", now=computer.now)
    write_tables(computer.log, PLAYER, folder / "before.zip", now=computer.now)
    return computer, folder


@pytest.mark.parametrize("name", ["log.sqlite", "now.zip"])
def test_a_log_and_its_export_say_the_same(home, name):
    computer, folder = home
    head, lines = read(folder / name)
    assert [player.uuid for player in head.players] == [str(PLAYER.uuid)]
    assert lines == lines_of(computer.log)


def test_an_export_of_before_gives_its_takes_keys_as_a_log_of_before_does(home):
    computer, folder = home
    head, lines = read(folder / "before.zip")
    assert head.players[0].uuid == str(PLAYER.uuid)
    takes = "SELECT COUNT(*), MIN(sequence) < 0 FROM entry WHERE kind = 'take'"
    (count,) = computer.log.execute("SELECT COUNT(*) FROM take").fetchone()
    assert gathered(lines).execute(takes).fetchone() == (count, 1)


def test_as_an_export_it_stays_as_it_is(home):
    computer, folder = home
    assert next(lines_of_export(folder / "before.zip")).startswith(b'{"type":"file"')
    assert b"".join(lines_of_export(folder / "now.zip")).partition(b"\n")[2] == lines_of(computer.log)


def test_a_log_of_before_is_made_one_of_today_first(tmp_path):
    head, lines = read(unpacked("two_weeks", tmp_path) / LOG)
    assert lines.count(b'"kind":"take"') == len(FACTS["two_weeks"]["takes"])
    assert head.players[0].uuid in FACTS["two_weeks"]["players"]


def test_gathered_twice_a_log_of_before_is_there_once(tmp_path):
    _, lines = read(unpacked("two_weeks", tmp_path) / LOG)
    uuid = next(iter(FACTS["two_weeks"]["players"]))
    own = lines.replace(uuid.encode(), str(PLAYER.uuid).encode())
    assert told(gathered(own, own)) == told(gathered(own))


def test_what_is_neither_is_refused_in_one_sentence(tmp_path):
    (tmp_path / "letter.txt").write_text("Dear teacher")
    with refusal(LogError, "no practice log|not a practice log|not a log"):
        read(tmp_path / "letter.txt")
