"""What is said of entries that go along in a file."""

from datetime import date

from game.practice_log.documents.chosen_entries import Choice, chosen_entries
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer.told_contents import contents_of, practised_days
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer


def told(computer, **what):
    return contents_of(computer.log, chosen_entries(computer.log, Choice()), PLAYER, computer.now, **what)


def test_in_words_how_many_takes_on_which_days_and_whether_the_notes_are_there():
    computer = Computer(1)
    computer.play()
    assert told(computer).holds.startswith("1 take on 1 day, from ")
    assert told(computer).holds.endswith("with every note that was played")
    since = told(computer, since=date(2026, 11, 24), with_notes=False)
    assert "since 24 November 2026" in since.holds
    assert "without the notes that were played" in since.holds


def test_who_has_said_much_and_played_nothing_has_no_days():
    computer = Computer(1)
    computer.say()
    assert told(computer).days.first is None
    assert told(computer).holds == "no take: only what was said and chosen"


def test_each_take_counts_for_the_day_of_its_own_zone():
    """Played at 23:30 UTC: at home in the east that is the next day already."""
    west, east = Computer(1, zone_minutes=0), Computer(2, zone_minutes=60)
    for computer in (west, east):
        computer.minutes = 16 * 60 - 300
        while computer.now.utctimetuple()[3:5] < (23, 0):
            computer.minutes += 1
        computer.minutes -= 300
        computer.play()
    days = [practised_days(computer.log, [1]) for computer in (west, east)]
    assert [day.practised for day in days] == [1, 1]
    for computer, day in zip((west, east), days, strict=True):
        (moment,) = computer.log.execute("SELECT started_utc FROM take").fetchone()
        from datetime import datetime

        assert day.first == datetime.fromisoformat(moment).astimezone(computer.zone).date().isoformat()


def test_the_other_ids_of_the_player_are_told():
    computer = Computer(1)
    computer.say(About.SAME_PLAYER, player="00000000-0000-0000-0000-000000000009")
    assert told(computer).same_players == ["00000000-0000-0000-0000-000000000009"]
    assert told(computer).rows["fact"] == 1
