"""What goes along without names says none."""

from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.documents.nameless_entries import nameless_entries, without_unread
from game.practice_log.rows.entry_rows import About, Kind
from tests.practice_log.transfer.practised import Computer, changed, empty_log, lines_of, split, take_in


def entries_of(log):
    return chosen_entries(log, Choice())


def test_facts_that_are_a_name_and_the_names_of_computers_stay_behind_and_all_else_goes():
    computer = Computer(1).practise(6)
    computer.say(About.PLAYER_NAME, name="Ada Berg")
    computer.say(About.SIGNATURE, typed="Ada B.")
    computer.say(About.OPENED_TUNE, tune="ford")
    entries = entries_of(computer.log)
    nameless = nameless_entries(computer.log, entries)
    assert {entry.device_name for entry in nameless} == {""}
    assert len(nameless) == len(entries) - 2
    assert {entry.key for entry in nameless} < {entry.key for entry in entries}


def test_what_only_a_newer_program_can_read_stays_behind():
    lines = split(Computer(1).practise(4))
    log = empty_log()
    take_in(log, b"".join(lines["asked"]) + changed(lines["take"][0], form=99, device_name="Ada's laptop"))
    assert b"Ada's laptop" in lines_of(log)
    assert [entry.kind for entry in entries_of(log)] == [Kind.UNREAD.value]
    assert without_unread(entries_of(log)) == nameless_entries(log, entries_of(log)) == []
