"""Some thousand documents on their way into a log."""

from game.practice_log.documents.decoded_documents import decoded
from game.practice_log.documents.document_batch import DocumentBatch, TakenIn
from game.practice_log.documents.shared_numbers import SharedNumbers
from game.practice_log.rows.shared_rows import put_player
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer, device_named, empty_log, lines_of, split


def put(log, lines):
    told = TakenIn()
    batch = DocumentBatch(log, SharedNumbers(log), put_player(log, PLAYER), told)
    batch.put(decoded(lines))
    return told, batch.brought


def test_it_accounts_for_what_came_of_which_device():
    computer = Computer(1)
    computer.play()
    computer.say()
    told, brought = put(empty_log(), lines_of(computer.log))
    assert (told.takes, told.new["take"], told.new["judgement"], told.new["fact"]) == (1, 1, 1, 1)
    assert told.holds == {str(device_named(1).uuid): (len(brought), brought[-1].sequence)}
    assert told.changed


def test_of_one_document_that_comes_twice_at_once_one_is_brought():
    computer = Computer(1)
    computer.say()
    told, brought = put(empty_log(), lines_of(computer.log) * 2)
    assert (told.new["fact"], len(brought), told.clashes) == (1, 1, 0)


def test_what_waits_for_another_is_kept():
    computer = Computer(1)
    computer.play()
    told, brought = put(empty_log(), b"".join(split(computer)["judgement"]))
    assert (told.kept, told.new.total(), [entry.kind for entry in brought]) == (1, 0, ["unread"])


def test_two_accounts_are_one():
    first, second = TakenIn(takes=1, holds={"a": (2, 5)}), TakenIn(takes=2, longer=1, holds={"a": (1, 9), "b": (1, -3)})
    first.add(second)
    assert (first.takes, first.longer, first.holds) == (3, 1, {"a": (3, 9), "b": (1, -3)})
    assert first.changed
    assert not TakenIn(left_out=3, clashes=1).changed
