"""The coach at the desk: what it hears and says is in the log, and comes out of it again."""

from dataclasses import replace

from game.coach.events import Wish
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.coach.tempo_ladder import RungStanding, ladder_of
from game.player.player_coach import PlayerCoach
from game.practice.assigned_take import AssignedTake
from game.practice_log.queries.facts import facts_about
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.entry_rows import About
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
    assert session.coach.record_of(was) is session.coach.record_of(is_now) is not None
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


WHOLE = ("F4 q, G4 q, A4 q, Bb4 q", "A4 q, G4 q, F4 h", "G4 q, A4 q, Bb4 q, C5 q", "A4 w")


def play_whole(table, wrong=0):
    """Note by note."""
    request = table.open(*WHOLE, *WHOLE[1:], "F4 w", key=-1)
    table.go(ToPage(request.whole_or_passages(), chosen=True))
    for note in table.screen.take.expected:
        for _ in range(6 if wrong > 0 else 0):
            table.play(note.sounding + 1, place=False)
        wrong -= 1
        table.play(note.sounding)
    table.wait(1.5)
    return [passage_key(page) for page in request.passages]


def told_pages(session):
    assert session.log.flush()
    with session.log.reading() as log:
        return [fact.content for fact in facts_about(log, session.log.player.uuid, About.TUNE_PAGES)]


def test_a_clean_take_of_the_whole_tune_counts_for_each_of_its_pages(table):
    """And does so when the log is read, on whatever computer; the pages are told of once."""
    session = table.context.session
    pages = play_whole(table)
    assert len(pages) == 2
    records = session.coach.state.records
    for page in pages:
        assert (records[page].marks, records[page].takes_today) == ((Mark.FOUND,), 1)
        assert records[page].practised_day == session.notes.day
    assert session.coach.state.decision.passage not in pages
    assert len(told_pages(session)) == 1
    play_whole(table)
    assert session.coach.state.records[pages[0]].takes_today == 2
    assert len(told_pages(session)) == 1
    assert PlayerCoach(session.log, target_bpm=lambda: session.settings.target_bpm).state == session.coach.state
    with session.log.reading() as log, figures_of(log, session.log.player.uuid) as figures:
        assert [mark for mark, _ in figures.passages()[0].marks] == [Mark.FOUND.value]


def test_one_with_wrong_notes_counts_for_the_whole_alone(table):
    session = table.context.session
    pages = play_whole(table, wrong=9)
    records = session.coach.state.records
    assert all(name not in records or records[name].practised_day is None for name in pages)
    assert told_pages(session) == []


def assigned_takes(table, *, own_bpm, set_bpm):
    """The day's first take at the tempo a teacher set, clean, on two days; the marks, and what was decided."""
    table.settle(target_bpm=own_bpm)
    request = table.open(*ROWS, "F4 q, G4 q, A4 h", key=-1)
    assigned = AssignedTake(assignment="a" * 64, part=0, target_bpm=set_bpm)
    for _ in range(2):
        timed = replace(request.in_stage(Stage.TIME), pulse=Pulse.METRONOME, tempo_bpm=set_bpm, assigned=assigned)
        table.go(ToPage(timed, chosen=True))
        table.play_in_time()
        table.wait(3.0)
        assert table.screen_name == "ResultScreen"
        table.day += 1
    session = table.context.session
    assert session.log.flush()
    again = PlayerCoach(session.log, target_bpm=lambda: own_bpm)
    assert again.state.records == session.coach.state.records
    return session.coach.record_of(request.passage).marks, table.screen.decision


def test_a_slower_tempo_that_was_set_signs_nothing_off_and_still_leads(table):
    marks, decision = assigned_takes(table, own_bpm=96, set_bpm=66)
    assert marks == (Mark.IN_TIME,)
    assert Mark.SIGNED_OFF not in decision.earned
    assert decision.tempo_bpm <= round(66 * NUMBERS.over_target)


def test_at_the_players_own_tempo_what_was_set_signs_off(table):
    marks, decision = assigned_takes(table, own_bpm=66, set_bpm=66)
    assert Mark.SIGNED_OFF in marks
    assert Mark.SIGNED_OFF in decision.earned
