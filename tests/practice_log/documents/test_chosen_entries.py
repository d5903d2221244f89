"""Which entries of a log go along."""

from game.practice_log.documents.chosen_entries import Choice, chosen_entries, take_of_rows
from game.practice_log.rows.entry_rows import About, us_of
from tests.practice_log.transfer.practised import Computer, gathered, lines_of

DAY = 1440


def two_days():
    """A take on the first day, judged after midnight, and one on the second."""
    computer = Computer(1, zone_minutes=0)
    computer.minutes = 15 * 60 + 30
    number, take = computer.play(finish=False)
    computer.minutes = DAY
    computer.end(number, take)
    computer.play()
    computer.say()
    return computer


def kinds(entries):
    return [entry.kind for entry in entries if entry.kind != "coach"]


def test_all_of_them_stand_in_the_order_of_their_devices_and_counts():
    one, other = Computer(2).practise(6), Computer(1).practise(6)
    entries = chosen_entries(gathered(lines_of(one.log), lines_of(other.log)), Choice())
    assert entries == sorted(entries, key=lambda entry: entry.key)
    assert len(entries) == sum(log.execute("SELECT COUNT(*) FROM entry").fetchone()[0] for log in (one.log, other.log))


def test_since_a_day_leaves_out_the_judgements_of_takes_before_it():
    computer = two_days()
    second = computer.now.toordinal()
    assert kinds(chosen_entries(computer.log, Choice())) == ["take", "judgement", "take", "judgement", "fact"]
    assert kinds(chosen_entries(computer.log, Choice(since_day=second))) == ["take", "judgement", "fact"]


def test_the_day_is_that_of_the_zone_in_which_each_was_recorded():
    computer = Computer(1, zone_minutes=600)
    computer.minutes = 15 * 60
    computer.say()
    assert computer.now.toordinal() == two_days().now.toordinal()
    assert len(chosen_entries(computer.log, Choice(since_day=computer.now.toordinal()))) == 1
    assert chosen_entries(computer.log, Choice(since_day=computer.now.toordinal() + 1)) == []


def test_of_a_stretch_of_time_the_takes_that_were_judged_in_it_go_along():
    computer = two_days()
    midnight = us_of(computer.now.replace(hour=0, minute=0))
    entries = chosen_entries(computer.log, Choice(from_us=midnight, with_takes=True))
    assert kinds(entries) == ["take", "judgement", "take", "judgement", "fact"]
    assert kinds(chosen_entries(computer.log, Choice(until_us=midnight))) == ["take"]


def test_of_a_device_or_after_a_count():
    one, other = Computer(1).practise(5), Computer(2).practise(5)
    log = gathered(lines_of(one.log), lines_of(other.log))
    (device,) = log.execute("SELECT device FROM device WHERE uuid = ?", (str(one.device.uuid),)).fetchone()
    entries = chosen_entries(log, Choice(device=device))
    assert {entry.device for entry in entries} == {str(one.device.uuid)}
    last = chosen_entries(log, Choice(device=device, after=entries[-2].sequence, with_takes=True))
    assert last[-1] == entries[-1]


def test_each_judgement_and_what_the_coach_heard_of_a_take_knows_its_take():
    computer = two_days()
    computer.say(About.OPENED_TUNE, tune="ford")
    entries = chosen_entries(computer.log, Choice())
    takes = {entry.row for entry in entries if entry.kind == "take"}
    assert set(take_of_rows(computer.log, entries).values()) == takes
