"""The coach at the desk: what it hears and says is in the log, and comes out of it again."""

from dataclasses import replace

from game.coach.events import Wish
from game.coach.tempo_ladder import RungStanding, ladder_of
from game.player.player_coach import PlayerCoach
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.passage_key import passage_key
from game.screens.routes import ToPage
from tests.made import score

ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h")


SOUNDINGS = (53, 55, 57, 58, 60, 58, 57)


def test_what_the_coach_knows_comes_back_from_the_log_at_the_next_start(table):
    request = table.open(*ROWS, key=-1)
    table.go(ToPage(request))
    for sounding in SOUNDINGS:
        table.play(sounding)
    table.wait(1.0)
    known = table.context.session.coach.state
    table.context.session.log.close()
    assert table.context.session.coach.state.records == known.records


def test_what_a_passage_earned_and_how_often_it_was_met_stays_its_own_when_its_file_is_corrected(table):
    """And so it does at the next start, and for the figures of the report."""
    table.open(*ROWS, key=-1)
    table.play_through()
    session = table.context.session
    was = table.screen.request.passage if hasattr(table.screen, "request") else table.open(*ROWS, key=-1).passage
    is_now = replace(was, score=score("F4 q, G4 q, A4 q, B4 q", *ROWS[1:], key=-1))
    known = session.coach.state.records[passage_key(was)]
    assert session.log.sighting(is_now).nth == 1
    session.coach.rename_passage(was, is_now)
    assert session.log.flush()
    assert session.coach.state.records[passage_key(is_now)].marks == known.marks
    assert session.log.sighting(is_now).nth == 2
    assert PlayerCoach(session.log, target_bpm=lambda: 100).state == session.coach.state
    with session.log.reading() as log, figures_of(log, session.log.player.uuid) as figures:
        (only,) = figures.passages()
    assert only.key == passage_key(is_now)
    assert [mark for mark, _ in only.marks] == [mark.value for mark in known.marks]


def test_a_rung_that_was_wished_for_comes_back_from_the_log_as_a_wish(table):
    request = table.open(*ROWS, key=-1)
    session = table.context.session
    decision = session.coach.overrule(request.passage, Wish.METRONOME_NOW, 72)
    assert decision.tempo_bpm == 72
    assert session.log.flush()
    again = PlayerCoach(session.log, target_bpm=lambda: session.settings.target_bpm)
    (rung,) = [one for one in ladder_of(again.state, again.state.decision, notes=7) if one.tempo_bpm == 72]
    assert (rung.standing, rung.wish, rung.kept) == (RungStanding.NOW, True, False)
