"""What is known of a player, and what their plan is made from."""

from dataclasses import replace
from datetime import date, timedelta

from game.coach.marks import Mark
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.programme import Programme
from game.music.former_pages import former_pages
from game.music.tune_kind import TuneKind
from game.player.desk_facts import StepDone
from game.player.player_coach import PlayerCoach
from game.practice.take_request import request_for
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.passage_key import passage_key
from game.screens.routes import ToPage
from game.tunes.library.corrected import as_before
from game.tunes.library.library import open_entry, shelf
from tests.screens.table import Table


def test_a_programme_tells_how_many_pages_wait(tmp_path):
    table = Table(tmp_path)
    plan, facts = table.context.session.plan, table.context.session.log.facts
    assert plan.known.programme() is None
    names = tuple(entry.name for entry in shelf()[:3])
    facts.pick_programme(Programme(tunes=names))
    standing = plan.known.programme()
    assert [tune.tune for tune in standing.tunes] == list(names)
    assert standing.pages_left == sum(len(plan.passages.of(entry)) for entry in shelf()[:3])
    assert not standing.ready


def test_the_plan_knows_in_which_order_tunes_were_begun_and_which_evening_it_is(tmp_path):
    """Opened and left is not begun; who plays without the plan is no newcomer either."""
    table = Table(tmp_path)
    plan, facts = table.context.session.plan, table.context.session.log.facts
    assert (plan.situation().begun, plan.situation().evening) == ((), 1)
    names = ("103-nod-across-the-street", "65-ode-to-joy-in-c")
    by_name = {entry.name: entry for entry in shelf()}
    facts.open_tune("02-ah-vous-dirai-je-maman")
    for name in names:
        facts.open_tune(name)
        table.go(ToPage(request_for(open_entry(by_name[name]), table.context.settings.neck_map())))
        table.play_through()
    now = plan.situation()
    assert [(one.name, one.kind) for one in now.begun] == list(
        zip(names, (TuneKind.LEAD_SHEET, TuneKind.SONG), strict=True)
    )
    assert now.evening == 3
    day = date.fromordinal(table.context.session.notes.day)
    for back in range(1, 6):
        facts.spend_on_step(day - timedelta(back), StepDone(kind=StepKind.WARM_UP, minutes=1.0))
    assert plan.situation().evening == 6


def practised_before(table, entry, *which):
    """Former pages of a tune, found note by note, as long as it was cut every four bars. Their names."""
    table.context.session.log.facts.open_tune(entry.name)
    request = request_for(open_entry(entry), table.context.settings.neck_map())
    pages = former_pages(request.passage.score)
    for index in which:
        table.go(ToPage(replace(request, passages=(pages[index],), index=0)))
        table.play_through()
    return [passage_key(pages[index]) for index in which]


def said_in(log):
    log.flush()
    with log.reading() as connection:
        return list(facts_about(connection, log.player.uuid, About.CUT_ANEW))


def test_what_was_earned_of_former_pages_goes_over_to_those_of_now_once_and_for_good(tmp_path):
    """Of the Ode: bars 9 to 12 and 13 to 16 were practised, 9 to 11 and 12 to 16 are pages."""
    table = Table(tmp_path)
    session = table.context.session
    ode = next(entry for entry in shelf() if entry.name == "65-ode-to-joy-in-c")
    third, fourth = practised_before(table, ode, 2, 3)
    known = dict(session.coach.state.records)
    standings = {one.name: one for one in session.plan.situation().passages}
    names = [name for name, _ in session.plan.passages.of(ode)]
    assert [standings[name].marks for name in names[2:]] == [(Mark.FOUND,)] * 2
    assert [standings[name].last_day for name in names] == [None, None, session.notes.day, session.notes.day]
    records = session.coach.state.records
    assert {name: records[name] for name in known} == known, "what the former pages earned stays theirs"
    assert len(said_in(session.log)) == 2
    assert PlayerCoach(session.log, target_bpm=lambda: 100).state == session.coach.state
    session.plan.situation()
    assert len(said_in(session.log)) == 2, "said once"
    found = session.plan.known.find_passage(fourth)
    assert dict(found.title.values)["first"] == "13", "it is still found by its old name"
    assert third not in names


def test_of_bars_that_were_not_played_nothing_is_said_to_be_found(tmp_path):
    table = Table(tmp_path)
    session = table.context.session
    ode = next(entry for entry in shelf() if entry.name == "65-ode-to-joy-in-c")
    practised_before(table, ode, 3)
    standings = {one.name: one for one in session.plan.situation().passages}
    names = [name for name, _ in session.plan.passages.of(ode)]
    assert (standings[names[3]].marks, standings[names[3]].last_day) == ((), session.notes.day)
    assert standings[names[2]].last_day is None


def renamings_in(log):
    log.flush()
    with log.reading() as connection:
        return list(facts_about(connection, log.player.uuid, About.RENAMED_PASSAGE))


def test_a_corrected_tune_keeps_its_players_marks_and_signatures_and_is_no_new_reading(tmp_path):
    """Of the jig, bars 9 to 12 were practised with G for A in bar 10, as it was shipped at first."""
    table = Table(tmp_path)
    session = table.context.session
    jig = next(entry for entry in shelf() if entry.name == "45-the-kesh-jig")
    session.log.facts.open_tune(jig.name)
    request = request_for(as_before(jig), table.context.settings.neck_map())
    was = request.passages[2]
    for page in request.passages[1:3]:
        table.go(ToPage(replace(request, passages=(page,), index=0)))
        table.play_through()
    session.log.facts.sign_page(passage_key(was))
    earned = session.coach.state.records[passage_key(was)]
    standings = {one.name: one for one in session.plan.situation().passages}
    same, corrected = (name for name, _ in session.plan.passages.of(jig)[1:3])
    assert same == passage_key(request.passages[1])
    assert standings[corrected].marks == earned.marks == (Mark.FOUND,)
    assert [standings[name].last_day for name in (same, corrected)] == [session.notes.day] * 2
    assert corrected in session.log.facts.desk.signed
    (told,) = renamings_in(session.log)
    assert (told.content["was"]["key"], told.content["is"]["key"]) == (passage_key(was), corrected)
    is_now = request_for(open_entry(jig), table.context.settings.neck_map()).passages[2]
    assert session.log.sighting(is_now).nth == 2
    session.plan.situation()
    assert len(renamings_in(session.log)) == 1, "said once"
    assert PlayerCoach(session.log, target_bpm=lambda: 100).state == session.coach.state
    assert dict(session.plan.known.find_passage(passage_key(was)).title.values)["first"] == "9"


def test_of_a_tune_that_nobody_played_before_it_was_corrected_nothing_is_said(tmp_path):
    table = Table(tmp_path)
    session = table.context.session
    jig = next(entry for entry in shelf() if entry.name == "45-the-kesh-jig")
    session.log.facts.open_tune(jig.name)
    request = request_for(open_entry(jig), table.context.settings.neck_map())
    table.go(ToPage(replace(request, passages=request.passages[2:3], index=0)))
    table.play_through()
    session.plan.situation()
    assert renamings_in(session.log) == []


def test_what_was_played_of_a_corrected_tune_when_it_was_cut_every_four_bars_goes_over_too(tmp_path):
    """Of the fair: its bars 9 to 12 and 13 to 17 of before hold those of the page that was corrected, 10 to 13."""
    table = Table(tmp_path)
    session = table.context.session
    fair = next(entry for entry in shelf() if entry.name == "34-scarborough-fair")
    session.log.facts.open_tune(fair.name)
    request = request_for(as_before(fair), table.context.settings.neck_map())
    for page in former_pages(request.passage.score)[2:]:
        table.go(ToPage(replace(request, passages=(page,), index=0)))
        table.play_through()
    standings = {one.name: one for one in session.plan.situation().passages}
    corrected = [name for name, _ in session.plan.passages.of(fair)][2]
    assert standings[corrected].marks == (Mark.FOUND,)
    assert (len(said_in(session.log)), len(renamings_in(session.log))) == (2, 1)
    assert PlayerCoach(session.log, target_bpm=lambda: 100).state == session.coach.state


def test_a_corrected_tune_that_was_played_whole_stays_so(tmp_path):
    table = Table(tmp_path)
    session = table.context.session
    song = next(entry for entry in shelf() if entry.name == "41-korobeiniki")
    session.log.facts.open_tune(song.name)
    neck_map = table.context.settings.neck_map()
    whole = request_for(as_before(song), neck_map).whole_or_passages()
    table.go(ToPage(whole, chosen=True))
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.0)
    marks = session.coach.state.records[passage_key(whole.passage)].marks
    assert Mark.FOUND in marks
    standings = {one.name: one for one in session.plan.situation().passages}
    is_now = request_for(open_entry(song), neck_map).whole_or_passages().passage
    assert is_now.whole
    assert session.coach.state.records[passage_key(is_now)].marks == marks
    assert {one.marks for name, one in standings.items() if name != passage_key(is_now)} == {marks}
