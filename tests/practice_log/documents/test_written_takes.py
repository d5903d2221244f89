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
