"""Entries into a zip."""

import io
import zipfile

from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.transfer.told_contents import contents_of
from game.practice_log.transfer.written_zip import write_zip
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer, gathered, lines_of


def packed(log, at):
    file = io.BytesIO()
    entries = chosen_entries(log, Choice())
    write_zip(file, contents_of(log, entries, PLAYER, at), log, entries)
    return file.getvalue()


def test_the_same_entries_are_the_same_bytes_in_every_copy():
    computer = Computer(1).practise(10)
    copy = gathered(*reversed(lines_of(computer.log).splitlines(keepends=True)))
    assert packed(copy, computer.now) == packed(computer.log, computer.now)


def test_what_goes_along_can_be_unpacked_with_anything():
    computer = Computer(1).practise(5)
    with zipfile.ZipFile(io.BytesIO(packed(computer.log, computer.now))) as archive:
        assert archive.testzip() is None
        assert archive.read("entries.jsonl") == lines_of(computer.log)
