"""What a player was set stays with them, on whichever of their computers, until it is done or withdrawn."""

from dataclasses import replace
from datetime import date

import pygame
import pytest

from game.assignments.assignment import AssignmentError
from game.coach.stages import Stage
from game.player.player_assignments import PlayerAssignments
from game.practice_log.database.identity import write_identity
from game.screens.routes import ToAssigned, ToAssignment, ToPage, ToToday
from tests.player.test_player_facts import gather
from tests.practice_log.logged_takes import PLAYER
from tests.screens.table import Table

WEEK = (
    'title = "The week"\ndue = 2026-11-26\n'
    '[[tune]]\ntitle = "Ode to Joy"\nbars = [1, 4]\nstages = ["places", "sight"]\n'
)
LINES = 'title = "Lines"\n[[line]]\nlevel = 1\na_day = 2\nstages = ["places"]\n'


def found(table):
    """Play what is open, each note at its home, to its result."""
    for note in table.screen.take.expected:
        table.play(note.sounding, note.home.place)
    table.wait(1.5, frame_s=0.1)
    assert table.screen_name == "ResultScreen"


def set_rows(table):
    table.go(ToToday())
    return [(row.title, row.below, row.late) for row in table.screen.sheet.rows if row.assignment]


def test_all_stages_are_gone_through_and_done_it_leaves_today(table):
    opened = table.context.session.assignments.open(WEEK)
    assert set_rows(table) == [("The week", "1 of 1 to do, due Thursday 26 November", False)]
    for stage in (Stage.PLACES, Stage.SIGHT):
        table.go(ToAssignment(opened.id))
        assert not table.screen.done.done
        table.key(pygame.K_RETURN)
        assert table.screen.request.stage is stage
        if stage is Stage.SIGHT:
            # At first sight the page is turned up, and then played.
            table.key(pygame.K_SPACE)
            table.wait(1.0)
        for note in table.screen.take.expected:
            table.play(note.sounding, note.home.place)
        table.wait(6.0, frame_s=0.1)
        assert table.screen_name == "ResultScreen"
    table.go(ToAssignment(opened.id))
    assert table.screen.done.done
    assert set_rows(table) == []
    table.go(ToAssignment(opened.id))
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"


def test_what_is_played_from_anywhere_counts(table):
    opened = table.context.session.assignments.open(WEEK)
    table.go(ToAssigned(opened.id, 0))
    request = replace(table.screen.request, assigned=None)
    table.go(ToPage(request, chosen=True))
    found(table)
    assert [one.done for one in table.context.session.assignments.against_done(opened.id).parts[0].stages] == [
        True,
        False,
    ]


def test_lines_are_counted_for_today_and_every_one_is_another(table):
    opened = table.context.session.assignments.open(LINES)
    told = []
    for _ in range(2):
        table.go(ToAssigned(opened.id, 0))
        line = table.screen.request
        for _ in line.passages:
            found(table)
            if not table.screen.request.is_last:
                table.go(ToPage(table.screen.request.moved(1).in_stage(Stage.PLACES), chosen=True))
        (part,) = table.context.session.assignments.against_done(opened.id).parts
        told.append((part.today, part.done))
    assert told == [(1, False), (2, True)]


def test_overdue_it_stays_on_today_and_says_since_when(table):
    table.context.session.assignments.open(WEEK)
    table.day = date(2026, 11, 28).toordinal()
    assert set_rows(table) == [("The week", "1 of 1 to do, overdue since Thursday 26 November", True)]


def test_it_is_withdrawn_after_one_question_and_that_can_be_taken_back(table):
    opened = table.context.session.assignments.open(WEEK)
    table.go(ToAssignment(opened.id))
    table.key(pygame.K_DELETE)
    assert "Press Del once more" in table.context.window.message
    table.key(pygame.K_UP)
    table.key(pygame.K_DELETE)
    assert len(set_rows(table)) == 1
    table.go(ToAssignment(opened.id))
    table.key(pygame.K_DELETE)
    table.key(pygame.K_DELETE)
    assert set_rows(table) == []
    table.go(ToAssignment(opened.id))
    table.key(pygame.K_BACKSPACE)
    assert len(set_rows(table)) == 1


def test_a_corrected_file_keeps_what_was_done(table):
    session = table.context.session
    opened = session.assignments.open(WEEK)
    table.go(ToAssigned(opened.id, 0))
    found(table)
    corrected = session.assignments.open(
        WEEK.replace("[[tune]]", "[[line]]\nlevel = 1\n[[tune]]", 1).replace("26", "27")
    )
    assert len(session.log.facts.assignments.kept) == 1
    ode, lines = session.assignments.against_done(corrected.id).parts
    assert [one.done for one in ode.stages] == [True, False]
    assert not lines.done
    # By the id of its former form it is the same one: the player may have its sheet open.
    assert session.assignments.of(opened.id).id == corrected.id


def test_two_computers_agree_in_whatever_order_their_logs_come_in(tmp_path):
    tables = []
    for name in ("desk", "school"):
        (tmp_path / name).mkdir()
        write_identity(tmp_path / name / "player.json", PLAYER)
        tables.append(Table(tmp_path / name))
    desk, school = tables
    school.clock.advance(60)
    opened = desk.context.session.assignments.open(WEEK)
    # Offline, the same file was opened there, too, and its first stage done.
    school.context.session.assignments.open(WEEK.replace("\n", "\r\n"))
    school.go(ToAssigned(opened.id, 0))
    found(school)
    desk.context.session.assignments.open(LINES)
    logs = [table.context.session.log for table in tables]
    gather(*logs)
    gather(*reversed(logs))
    told = [
        [
            (one.id, one.assignment, [stage.done for part in done.parts for stage in part.stages])
            for one, done in PlayerAssignments(
                table.context.session.log, lambda: desk.context.settings, desk.context.session.today
            ).under_way
        ]
        for table in tables
    ]
    assert told[0] == told[1]
    assert [(one.title, done) for _, one, done in told[0]] == [("The week", [True, False]), ("Lines", [False])]


def test_a_tune_that_is_called_otherwise_later_is_still_the_one_that_was_meant(table, monkeypatch):
    assignments = table.context.session.assignments
    opened = assignments.open(WEEK)
    entry = assignments.tune_of(opened.id, 0)
    renamed = replace(entry, title="An die Freude")
    monkeypatch.setattr("game.player.player_assignments.shelf", lambda: (renamed,))
    assert assignments.tune_of(opened.id, 0) == renamed


def test_what_is_not_there_is_told(table):
    with pytest.raises(AssignmentError, match="gone"):
        table.context.session.assignments.of("0" * 64)
