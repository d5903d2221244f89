"""The ladder on page and result is the coach's."""

from game.coach.climb import ClimbTake
from game.coach.tempo_ladder import LadderRung, RungStanding
from game.desk.kit.ladder import Rung, RungState
from game.screens.reading.ladder_rungs import drawn_rung, ladder_rungs
from tests.made import passage
from tests.screens.timed_pages import metronome_page


def test_after_a_clean_take_its_tempo_is_kept_and_the_next_one_is_now(table):
    page = metronome_page(table, tempo=60)
    table.play_in_time()
    while table.screen is page:
        table.wait(0.5, frame_s=0.1)
    result = table.screen
    rungs = ladder_rungs(table.context.session.coach, result.decision, result.finished.passage, result.neck_map)
    standing = {rung.tempo_bpm: rung.standing for rung in rungs}
    assert standing[60] is RungStanding.KEPT
    assert standing[result.decision.tempo_bpm] is RungStanding.NOW
    assert [rung.tempo for rung in map(drawn_rung, rungs)] == sorted(standing)


def test_music_without_a_home_has_no_ladder(table):
    result = metronome_page(table, tempo=60)
    line = passage("C7 q, D7 q, E7 h")
    decision = table.context.session.coach.open_passage(result.request.passage)
    assert ladder_rungs(table.context.session.coach, decision, line, result.neck_map) == ()


def test_by_the_players_own_word_no_take_is_ticked():
    takes = ClimbTake(bpm=65, clean=True), ClimbTake(bpm=65, clean=True, own_word=True)
    drawn = drawn_rung(LadderRung(tempo_bpm=65, standing=RungStanding.NOW, takes=takes, target=True))
    assert drawn == Rung(tempo=65, state=RungState.NOW, takes=(True, False), target=True)
