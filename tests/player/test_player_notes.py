"""What is known of the player's notes."""

import msgspec
import pygame

from game.coach.notes.fluent_map import map_fluency
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.todays_plan import plan_for
from game.neck.neck_map import standard_map
from game.player.player_notes import FOLD
from game.practice_log.queries.figures import figures_of
from game.report.student import student_report
from game.screens.progress.progress_figures import progress_of
from game.screens.routes import ToShelf
from game.tunes.library.shelf_order import ShelfOrder
from tests.coach.notes.test_fluent_map import known
from tests.screens.table import Table


def test_notes_that_were_slow_are_known_from_the_log_and_come_up_more(tmp_path):
    table = Table(tmp_path)
    table.open("F4 q, G4 q, A4 q, G4 q", "F4 q, A4 q, G4 q, A4 q")
    for note in table.screen.take.expected:
        table.wait(4.0 if note.sounding == 57 else 0.3, frame_s=0.1)
        table.play(note.sounding)
    table.wait(2.0)
    table.context.session.log.flush()
    weights = table.context.session.notes.weights(table.context.settings.neck_map())
    assert weights[57] > 2 * weights[55]


def test_plan_warm_up_report_progress_and_shelf_name_the_same_notes_as_slow(tmp_path):
    """Three slow notes and one that is often wrong, among quick ones, in two readings of each row."""
    table = Table(tmp_path)
    table.settle(line_level=3)
    slow_s = {57: 4.0, 60: 3.0, 62: 4.5}
    rows = ("F4 q, G4 q, A4 q, G4 q", "E4 q, C5 q, F4 q, C5 q", "G4 q, D5 q, E4 q, D5 q", "A4 q, E4 q, F4 q, A4 q")
    for _ in range(2):
        table.open(*rows)
        for note in table.screen.take.expected:
            table.wait(slow_s.get(note.sounding, 0.4), frame_s=1.0)
            if note.sounding == 52:
                table.play(71)
                table.wait(0.3)
            table.play(note.sounding)
        table.wait(2.0)
    session = table.context.session
    session.log.flush()
    neck_map = session.settings.neck_map()
    named = [note.key.written for note in session.notes.slow(neck_map)]
    assert sorted(named) == ["A4", "C5", "D5", "E4"]
    steps = {step.kind: step for step in plan_for(session.plan.situation())}
    assert [key.written for key in steps[StepKind.SLOW_NOTES].line.notes] == named
    assert [key.written for key in steps[StepKind.WARM_UP].line.notes] == named
    with session.log.reading() as connection, figures_of(connection, session.log.player.uuid) as figures:
        report = student_report(figures, "")
    assert [note.written for note in report.slow] == named
    assert [note.written for note in progress_of(session).slowest] == named[:5]
    table.go(ToShelf())
    while table.screen.list.order is not ShelfOrder.NEXT:
        table.key(pygame.K_o, "o")
    assert set(table.screen.list.slow) == {note.key.sounding for note in session.notes.slow(neck_map)}


def test_what_is_kept_of_the_days_on_each_map_comes_out_of_a_snapshot_as_it_went_in():
    mastery = known()
    stored = msgspec.msgpack.decode(msgspec.msgpack.encode(FOLD.pack(mastery)), type=FOLD.stored_type)
    again = FOLD.unpack(stored)
    assert again == mastery
    assert map_fluency(again, standard_map()).fluent
