"""The take of the first note is in the log, and makes the note met, not known."""

from game.coach.notes.ink import Ink
from game.instrument.decoding.played import PlayedNote
from game.neck.tuning import Place
from game.screens.choosing.first_take import FirstTake
from tests.screens.table import Table


def test_it_is_kept_as_a_take_that_was_helped(tmp_path):
    table = Table(tmp_path)
    now_s = table.clock.now_s()
    take = FirstTake(table.context, now_s)
    assert take.hear(PlayedNote(started_s=now_s + 0.4, sounding=60, place=Place(3, 5), source="test guitar"))
    take.end()
    assert table.logged("SELECT verdict FROM verdict") == [("hinted",)]
    notes = table.context.session.notes
    assert notes.ink(table.context.settings.neck_map()).at(Place(3, 5)) is Ink.PENCIL
    assert not notes.mastery.items


def test_it_is_no_passage_to_go_on_with(tmp_path):
    table = Table(tmp_path)
    now_s = table.clock.now_s()
    take = FirstTake(table.context, now_s)
    take.hear(PlayedNote(started_s=now_s, sounding=60, place=Place(3, 5), source="test guitar"))
    take.end()
    assert table.context.session.plan.situation().passages == ()
