"""A log of today tells its documents as it stands; one of before is made one of today first."""

import msgspec

from game.errors import LogError
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.documents_of_log import documents_of_log, documents_of_rows
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer, lines_of
from tests.refusing import refusal


def test_the_head_says_whose_it_is_and_the_documents_are_those_of_the_log(tmp_path):
    computer = Computer(1, path=tmp_path / "log.sqlite").practise(6)
    for read in (documents_of_log, documents_of_rows):
        head, _, lines = b"".join(read(tmp_path / "log.sqlite")).partition(b"\n")
        told = msgspec.json.decode(head, type=DocumentsHead)
        assert [player.uuid for player in told.players] == told.same == [str(PLAYER.uuid)]
        assert lines == lines_of(computer.log)


def test_what_is_no_log_is_refused_in_a_sentence(tmp_path):
    (tmp_path / "diary").write_bytes(b"dear diary")
    with refusal(LogError, "diary"):
        b"".join(documents_of_log(tmp_path / "diary"))
