"""Today is true, as people practise: steps left half, games begun again, midnight, tunes brought in."""

from datetime import timedelta

import pytest

from game.coach.plan.day_facts import DayRowState
from game.coach.plan.plan_steps import StepKind
from game.player.desk_facts import StepDone
from game.player.player_situation import FIRST_TUNE
from game.practice.take_request import request_for
from game.practice_log.database.identity import write_identity
from game.practice_log.database.opening import opened_log
from game.screens.routes import ToPage, ToToday
from game.text.catalogue import tell
from game.tunes.library.library import add, open_entry, shelf
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import lines_of, take_in
from tests.screens.table import Table

S = DayRowState


def placed(folder, **settings):
    """Somebody who is no beginner, with twenty minutes."""
    table = Table(folder)
    table.settle(line_level=3, **settings)
    return table


def facts(table):
    return table.context.session.day_facts.facts()


def rows(table):
    return [(row.kind, row.state) for row in facts(table).rows]


def plan(table):
    return table.context.session.plan


def spend(table, minutes):
    """So long on the step that stands next, to its end."""
    plan(table).begin_step()
    table.clock.advance(60 * minutes)
    plan(table).finish_step()


def practise(table, name, passages=1):
    """The first passages of a tune of the shelf, every note at its home."""
    entry = next(one for one in shelf() if one.name == name)
    table.context.session.log.facts.open_tune(name)
    request = request_for(open_entry(entry), table.context.settings.neck_map())
    for at in range(passages):
        table.go(ToPage(request.moved(at), chosen=True))
        table.play_through(each_s=0.3)


def later(table, days=1):
    """The same player at the next start, so many days on."""
    assert table.context.session.log.flush()
    again = Table(table.context.session.folder)
    again.context.session.settings = table.context.settings
    again.day = table.day + days
    return again


def test_a_beginner_has_three_rows_and_is_told_how_it_goes(tmp_path):
    today = facts(Table(tmp_path))
    assert (today.first_day, today.minutes, tell(today.aim)) == (True, 10, "Five notes met.")
    assert [(row.kind, row.minutes) for row in today.rows] == [
        (StepKind.FIVE_NOTES, 2), (StepKind.NEW_TUNE, 6), (StepKind.HEARD_WHOLE, 2),
    ]  # fmt: skip
    assert tell(today.rows[0].quiet) == "C, D, E, F and G: found without a clock"
    assert (tell(today.rows[1].title), tell(today.rows[1].quiet)) == (
        "Ode to Joy in C", "bars 1–4: those five notes, pitch only",
    )  # fmt: skip
    assert (today.last_time, today.unseen.ready, len(today.how_it_goes)) == (None, False, 2)


def test_the_notes_of_the_first_step_are_those_of_the_first_bars_and_need_no_stretch(tmp_path):
    table = Table(tmp_path)
    line = plan(table).progress.steps[0].line
    homes = {home.sounding: home for home in table.context.settings.neck_map().homes}
    first = request_for(
        open_entry(next(one for one in shelf() if one.name == FIRST_TUNE)), table.context.settings.neck_map()
    )
    assert set(line.weights) == {note.sounding for note in first.passage.notes} == {60, 62, 64, 65, 67}
    assert not any(homes[sounding].stretch or homes[sounding].outlying for sounding in line.weights)


def test_a_game_that_is_left_and_begun_again_goes_on_where_the_day_stood(tmp_path):
    table = placed(tmp_path)
    spend(table, 1)
    plan(table).finish_step(skipped=True)
    before = rows(table)
    assert [state for _, state in before[:2]] == [S.DONE, S.SKIPPED]
    again = later(table, days=0)
    assert rows(again)[:2] == before[:2]
    assert StepKind.WARM_UP not in [kind for kind, _ in rows(again)[2:]]
    assert StepKind.FIRST_SIGHT not in [kind for kind, _ in rows(again)[2:]], "what was skipped is not asked again"
    assert sum(step.minutes for step in plan(again).progress.steps[2:]) == 19


def test_a_step_that_was_left_half_has_the_rest_of_its_minutes_also_after_another_start(tmp_path):
    table = placed(tmp_path)
    spend(table, 1)
    spend(table, 4)
    whole = plan(table).step
    plan(table).begin_step()
    table.clock.advance(60)
    plan(table).leave_step()
    table.clock.advance(7200)
    assert facts(table).rows[2].left_s == pytest.approx(60.0 * plan(table).step.minutes - 60)
    again = later(table, days=0)
    assert plan(again).step.kind is whole.kind
    left = plan(again).progress.steps[plan(again).progress.at :]
    assert sum(step.minutes for step in left) == 20 - 6


def test_a_game_that_is_closed_in_the_middle_of_a_step_knows_at_the_next_start_how_long_it_was_on_it(tmp_path):
    """By the close button, say: nobody went back to Today before."""
    table = placed(tmp_path)
    spend(table, 1)
    plan(table).begin_step()
    table.clock.advance(120)
    kind = plan(table).step.kind
    assert table.context.session.close() is None
    again = Table(tmp_path)
    again.settle(line_level=3)
    assert plan(again).done_today.by_kind[kind] == pytest.approx(2.0)
    assert sum(step.minutes for step in plan(again).progress.steps[1:]) == 20 - 3


@pytest.mark.parametrize(
    ("minutes", "left_s", "shown"),
    [
        ((), 60, [("Five notes", 1, S.NOW), ("Ode to Joy in C", 6, S.AHEAD), ("Heard whole", 2, S.AHEAD)]),
        ((2,), 120, [("Five notes", 2, S.DONE), ("Ode to Joy in C", 4, S.NOW), ("Heard whole", 2, S.AHEAD)]),
        ((2, 6), 0, [("Five notes", 2, S.DONE), ("Ode to Joy in C", 6, S.DONE), ("Heard whole", 3, S.NOW)]),
        ((2, 6, 2), 0, [("Five notes", 2, S.DONE), ("Ode to Joy in C", 6, S.DONE), ("Heard whole", 2, S.DONE)]),
    ],
)
def test_a_first_evening_goes_on_where_the_game_was_closed(tmp_path, minutes, left_s, shown):
    """So many minutes on each step, then so many seconds on the next, and the game is closed and begun again."""
    table = Table(tmp_path)
    practise(table, FIRST_TUNE)
    for each in minutes:
        spend(table, each)
    if left_s:
        plan(table).begin_step()
        table.clock.advance(left_s)
    table.context.session.close()
    again = Table(tmp_path)
    again.go(ToToday())
    assert again.screen_name == "TodayScreen"
    assert [(tell(row.title), row.minutes, row.state) for row in facts(again).rows] == shown
    assert tell(facts(again).rows[0].quiet) == "C, D, E, F and G: found without a clock"


def test_today_opens_where_a_tune_that_was_begun_on_it_is_not_on_this_computer(tmp_path):
    table = placed(tmp_path)
    table.context.session.log.facts.spend_on_step(
        table.context.session.today(), StepDone(kind=StepKind.NEW_TUNE, minutes=3.0, over=True, tune="a-tune-elsewhere")
    )
    table.go(ToToday())
    assert table.screen_name == "TodayScreen"
    assert [tell(row.quiet) for row in facts(table).rows if row.state is S.DONE] == ["pitch only"]


def test_more_minutes_keep_what_was_done(tmp_path):
    table = placed(tmp_path)
    spend(table, 1)
    table.settle(plan_minutes=30)
    plan(table).replan()
    assert rows(table)[0] == (StepKind.WARM_UP, S.DONE)
    assert 25 <= sum(step.minutes for step in plan(table).progress.steps) <= 30


def test_when_the_minutes_are_spent_the_plan_is_done_and_stays_done_after_another_start(tmp_path):
    table = placed(tmp_path)
    while plan(table).step is not None:
        spend(table, plan(table).step.minutes)
    again = later(table, days=0)
    assert plan(again).step is None
    assert all(state is S.DONE for _, state in rows(again))


def test_a_sitting_goes_on_past_midnight_and_the_next_evening_has_a_plan_of_its_own(tmp_path):
    table = placed(tmp_path)
    spend(table, 1)
    table.clock.advance(11.9 * 3600)
    spend(table, 4)
    table.clock.advance(600)
    assert table.now().date().toordinal() == table.day + 1
    assert rows(table)[:2] == [(StepKind.WARM_UP, S.DONE), (StepKind.FIRST_SIGHT, S.DONE)]
    table.clock.advance(18 * 3600)
    assert {state for _, state in rows(table)} == {S.NOW, S.AHEAD}


def test_what_was_done_on_another_computer_is_done_here(tmp_path):
    for name in ("one", "other"):
        write_identity(tmp_path / name / "player.json", PLAYER)
    one, other = placed(tmp_path / "one"), placed(tmp_path / "other")
    spend(one, 1)
    plan(one).finish_step(skipped=True)
    carry(one.context.session.log, other.context.session.log)
    other.context.session.begin_again()
    assert [state for _, state in rows(other)[:2]] == [S.DONE, S.SKIPPED]


def carry(there, here):
    """What one computer recorded comes into the log of another."""
    assert there.flush()
    with there.reading() as connection:
        lines = lines_of(connection)
    assert here.flush()
    with opened_log(here.path) as connection:
        take_in(connection, lines, player=here.player)


def test_a_tune_of_the_players_own_comes_before_the_book_even_if_it_was_looked_at_when_it_came(tmp_path):
    table = placed(tmp_path / "player")
    file = tmp_path / "mill.abc"
    file.write_text("X:1\nT:The Mill Race\nM:4/4\nL:1/4\nK:F\nFGAB|cBAG|FAcA|F4|\n")
    entry = add(file)
    table.context.session.log.facts.open_tune(entry.name)
    plan(table).replan()
    row = next(row for row in facts(table).rows if row.kind is StepKind.NEW_TUNE)
    assert (tell(row.title), tell(row.quiet)) == ("A tune of your own", "The Mill Race, bars 1 to 4, pitch only")
    practise(table, entry.name)
    again = later(table)
    kinds = {row.kind: row for row in facts(again).rows}
    assert "Mill Race" in tell(kinds[StepKind.PASSAGE].title)
    new = kinds.get(StepKind.NEW_TUNE)
    assert new is None or tell(new.title) != "A tune of your own"


def test_a_tune_that_was_met_under_another_name_is_not_called_new(tmp_path):
    """Its file was added once more, or it was practised on another computer: the bars are the same."""
    table = placed(tmp_path / "player")
    files = [tmp_path / "one.abc", tmp_path / "two.abc"]
    for file in files:
        file.write_text(f"X:1\nT:Weir {file.stem}\nM:4/4\nL:1/4\nK:F\nFGAB|cBAG|FAcA|F4|\n")
    entry = add(files[0])
    practise(table, entry.name)
    copy = add(files[1])
    again = later(table)
    assert copy.name != entry.name
    assert not any(step.tune == copy.name for step in plan(again).progress.steps)


def test_last_time_is_one_fact_and_a_week_away_is_greeted(tmp_path):
    table = placed(tmp_path)
    practise(table, "01-au-clair-de-la-lune")
    soon = facts(later(table)).last_time
    assert tell(soon.heading) == "Last time, yesterday"
    assert tell(soon.fact) == "Au clair de la lune, bars 1 to 4: every note found."
    assert tell(facts(later(table, days=3)).last_time.heading) == "Last time, Tuesday"
    away = facts(later(table, days=11)).last_time
    assert (tell(away.heading), tell(away.fact)) == ("After eleven days", "What you met is still here.")


def test_the_aim_that_was_said_is_answered_though_the_plan_has_gone_on(tmp_path):
    table = placed(tmp_path)
    practise(table, "01-au-clair-de-la-lune")
    again = later(table)
    said = tell(facts(again).aim)
    assert said == "Au clair de la lune, bars 1 to 4, in time with the click."
    spend(again, 1)
    assert tell(facts(again).aim) == said
    assert tell(facts(later(again, days=0)).aim) == said
    answer = again.context.session.day_facts.aim_answer()
    assert not answer.reached
    assert tell(answer.said).startswith(said.removesuffix("."))


def test_the_unseen_line_of_today_is_one_and_more_may_be_taken(tmp_path):
    table = placed(tmp_path)
    assert (facts(table).unseen.ready, facts(table).unseen.planned) == (True, True)
    spend(table, 1)
    spend(table, 4)
    assert (facts(table).unseen.ready, facts(table).unseen.planned) == (True, False)
    table.settle(plan_minutes=60)
    plan(table).replan()
    ahead = plan(table).progress.steps[plan(table).progress.at :]
    assert StepKind.FIRST_SIGHT not in [step.kind for step in ahead]


def test_a_step_open_on_a_computer_that_slept_counts_no_hours(tmp_path):
    table = placed(tmp_path)
    minutes = plan(table).step.minutes
    plan(table).begin_step()
    table.clock.advance(timedelta(hours=9).total_seconds())
    plan(table).finish_step()
    assert plan(table).progress.practised[0] <= 2 * minutes
    assert plan(table).step is not None
    table.go(ToToday())
    assert table.screen_name == "TodayScreen"
