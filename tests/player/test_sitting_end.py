"""The end of a sitting: at most three quicker notes, new ink, the answer to the aim, tomorrow in two rows."""

from game.music.pitch import pitch
from game.player.sitting_end import quicker_notes
from game.practice.take_request import request_for
from game.practice_log.queries.figure_records import NoteFigures
from game.practice_log.rows.passage_key import passage_key
from game.screens.routes import ToPage
from game.text.catalogue import tell
from game.tunes.library.library import open_entry, shelf
from tests.screens.table import Table


def note(written, find_s, timed=12):
    return NoteFigures(written=written, string=3, fret=5, read=timed, clean=timed, timed=timed, find_s=find_s)


def test_at_most_three_notes_are_quicker_and_only_surely():
    before = tuple(note(name, 2.0) for name in ("C5", "D5", "E5", "F5", "G5"))
    now = (note("C5", 1.0), note("D5", 0.9), note("E5", 0.8), note("F5", 1.1), note("G5", 1.9), note("A5", 0.5))
    assert [gain.written for gain in quicker_notes(before, now)] == ["E5", "D5", "C5"]
    assert quicker_notes(before[4:], now[4:]) == ()


def test_a_day_ends_with_what_it_was_and_what_comes_tomorrow(tmp_path):
    table = Table(tmp_path)
    table.settle(line_level=3)
    session = table.context.session
    assert session.day_facts.facts().aim is not None
    entry = next(one for one in shelf() if one.name.startswith("01-"))
    session.log.facts.open_tune(entry.name)
    for day in range(2):
        table.day += day
        table.go(ToPage(request_for(open_entry(entry), table.context.settings.neck_map()), chosen=True))
        table.play_through(each_s=0.3)
        session.log.flush()
    end = session.sitting_end()
    assert (end.takes, end.pages_signed, end.quicker) == (1, 0, ())
    assert end.notes_read > 0
    assert list(end.read) == sorted(set(end.read), key=lambda written: pitch(written).midi)
    assert set(end.new_ink) <= set(end.read)
    assert end.new_ink
    assert end.aim is not None
    rows = [(tell(title), tell(quiet)) for title, quiet in end.tomorrow]
    assert 0 < len(rows) <= 2
    assert rows[0][0] == "Au clair de la lune, bars 1 to 4"


def test_before_anything_is_played_it_is_empty_and_tomorrow_has_its_music(tmp_path):
    end = Table(tmp_path).context.session.sitting_end()
    assert (end.minutes, end.takes, end.notes_read, end.new_ink) == (0, 0, 0, ())
    assert len(end.tomorrow) == 1
    assert (end.read, end.signed) == ((), ())


def test_pages_signed_today_are_told_by_their_titles_and_those_of_other_days_are_not(tmp_path):
    table = Table(tmp_path)
    entry = next(one for one in shelf() if one.name.startswith("01-"))
    request = request_for(open_entry(entry), table.context.settings.neck_map())
    facts = table.context.session.log.facts
    facts.open_tune(entry.name)
    table.day -= 1
    facts.sign_page(passage_key(request.moved(1).passage))
    table.day += 1
    facts.sign_page(passage_key(request.passage))
    end = table.context.session.sitting_end()
    assert end.pages_signed == 1
    assert [tell(title) for title in end.signed] == ["Au clair de la lune, bars 1 to 4"]
