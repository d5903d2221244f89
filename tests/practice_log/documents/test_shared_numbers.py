"""What many documents share stands once."""

from game.practice_log.documents.shared_numbers import SharedNumbers
from tests.practice_log.transfer.practised import Computer, changed, device_named, empty_log, gathered, lines_of, split


def test_what_is_there_keeps_its_number_and_nothing_stands_twice():
    one, other = Computer(1).practise(8), Computer(2).practise(8)
    log = gathered(lines_of(one.log), lines_of(other.log))
    for table in "bars neck_map instrument source asked".split():
        (there,) = log.execute(f"SELECT COUNT(*) FROM {table}").fetchone()
        assert there <= 3, table


def test_a_device_is_found_by_its_id_whatever_its_name():
    log = empty_log()
    shared = SharedNumbers(log)
    uuid = str(device_named(1).uuid)
    assert shared.device(uuid, "desk") == shared.device(uuid, "another") == SharedNumbers(log).device(uuid, "")
    assert log.execute("SELECT name FROM device").fetchall() == [("desk",)]


def test_what_people_will_see_is_made_clean():
    computer = Computer(1)
    computer.play()
    lines = split(computer)
    take = lines["take"][0]
    named = changed(take, instrument={"name": "pick\x1b[31m\u202eup", "kind": "guitar"}, device_name="a\x00b")
    log = gathered(*lines["asked"], named)
    assert log.execute("SELECT name FROM instrument").fetchall() == [("pick[31mup",)]
    assert log.execute("SELECT name FROM device").fetchall() == [("ab",)]


def test_notes_asked_are_known_once_they_were_told():
    computer = Computer(1)
    computer.play()
    log = gathered(*split(computer)["asked"])
    shared = SharedNumbers(log)
    (digest,) = log.execute("SELECT digest FROM asked").fetchone()
    assert shared.knows_asked(digest)
    assert not shared.knows_asked("0" * 64)
