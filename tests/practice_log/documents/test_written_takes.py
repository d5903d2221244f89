"""Takes as documents."""

import json

from game.practice_log.documents.written_takes import WrittenTakes
from tests.practice_log.transfer.practised import Computer, gathered, lines_of, split, take_in


def played_take():
    for seed in range(20):
        computer = Computer(1, seed=seed)
        computer.play()
        if b'"played"' in lines_of(computer.log):
            return computer
    raise AssertionError("chance never plays")


def test_notes_stand_as_columns_with_their_sources_by_name():
    (line,) = split(played_take())["take"]
    take = json.loads(line)
    assert take["sources"] == ["pickup"]
    assert set(take["played"]["source"]) == {0}
    assert len(take["played"]["at"]) == len(take["played"]["sounding"]) >= 5
    assert "i" not in take


def test_where_notes_were_lost_the_others_keep_their_numbers():
    """As in what could be saved of a damaged log."""
    computer = played_take()
    whole = lines_of(computer.log)
    computer.log.execute("DROP TRIGGER played_no_delete")
    computer.log.execute("DELETE FROM played WHERE i = 2")
    saved = gathered(lines_of(computer.log))
    assert json.loads(split(computer)["take"][0])["i"][:2] == [1, 3]
    assert [i for (i,) in saved.execute("SELECT i FROM played ORDER BY i LIMIT 2")] == [1, 3]
    take_in(saved, whole)
    assert [i for (i,) in saved.execute("SELECT i FROM played ORDER BY i LIMIT 3")] == [1, 2, 3]


def test_what_was_asked_once_is_not_sent_again():
    computer = played_take()
    takes = WrittenTakes(computer.log, with_notes=True)
    from game.practice_log.documents.chosen_entries import Choice, chosen_entries

    entries = [entry for entry in chosen_entries(computer.log, Choice()) if entry.kind == "take"]
    assert [len(takes.documents(entries)[0]) for _ in range(2)] == [1, 0]


def test_a_take_of_a_guitar_that_was_heard_is_of_the_newest_form_and_comes_back_as_it_was():
    """Older programs do not know the word, keep the take unread and pass it on; all others are of the first form."""
    computer = played_take()
    assert {json.loads(line)["form"] for line in split(computer)["take"]} == {1}
    (changed,) = computer.log.execute("SELECT sql FROM sqlite_master WHERE name = 'instrument_no_update'").fetchone()
    computer.log.execute("DROP TRIGGER instrument_no_update")
    computer.log.execute("UPDATE instrument SET kind = 'guitar heard'")
    computer.log.execute(changed)
    (line,) = split(computer)["take"]
    assert (json.loads(line)["form"], json.loads(line)["instrument"]["kind"]) == (3, "guitar heard")
    assert gathered(lines_of(computer.log)).execute("SELECT kind FROM instrument").fetchall() == [("guitar heard",)]
