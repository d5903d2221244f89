"""What another copy of an entry knows beyond the one that is there."""

from tests.practice_log.transfer.practised import Computer, changed, gathered, lines_of, split, take_in, told


def test_a_take_of_which_only_the_beginning_had_come_is_given_its_tail():
    computer = Computer(1)
    number, take = computer.play(finish=False)
    early = lines_of(computer.log)
    computer.go_on(number, take)
    computer.end(number, take)
    log = gathered(early)
    assert told(log) != told(computer.log)
    assert take_in(log, lines_of(computer.log)).longer == 1
    assert told(log) == told(computer.log)
    assert take_in(log, early).longer == 0


def test_of_two_contents_with_one_key_the_first_stands_and_the_other_is_told():
    computer = Computer(1)
    computer.say()
    (line,) = split(computer)["fact"]
    log = gathered(line)
    assert take_in(log, changed(line, content={"name": "other", "value": 1})).clashes == 1
    assert take_in(log, line).clashes == 0
    assert lines_of(log) == line


def test_two_entries_of_different_kinds_with_one_key_clash():
    computer = Computer(1)
    computer.say()
    computer.open_passage()
    (fact,), (heard,) = split(computer)["fact"], split(computer)["coach"]
    log = gathered(fact)
    assert take_in(log, changed(heard, sequence=1, at=at_of(fact))).clashes == 1
    assert lines_of(log) == fact


def at_of(line):
    import json

    return json.loads(line)["at"]
