"""A file that is an assignment is opened, and kept with all it names."""

import shutil

import pygame

from game.screens.routes import ToAssignment, ToToday

TUNE = "X:1\nT:Weir\nM:4/4\nL:1/4\nK:C\nCDEF|GFED|\n"
WEEK = '\ufefftitle = "The week"\r\n[[tune]]\r\nfile = "weir.abc"\r\nstages = ["places"]\r\n'


def put(folder, text=WEEK, tune=TUNE):
    """What a teacher who writes by Notepad hands over."""
    folder.mkdir()
    if tune:
        (folder / "weir.abc").write_text(tune)
    (folder / "week.toml").write_bytes(text.encode("utf-8"))
    return folder / "week.toml"


def test_the_files_it_names_go_into_the_library_and_it_needs_its_folder_no_more(table, tmp_path):
    table.drop(put(tmp_path / "stick"))
    shutil.rmtree(tmp_path / "stick")
    assert not table.context.window.message
    table.go(ToToday())
    (row,) = [row for row in table.screen.sheet.rows if row.assignment]
    assert row.title == "The week"
    table.go(ToAssignment(row.assignment))
    table.key(pygame.K_RETURN)
    assert table.screen.request.score.title == "Weir"


def test_a_file_that_is_not_beside_it_is_told_and_found_when_it_is_opened_again(table, tmp_path):
    path = put(tmp_path / "mail", tune="")
    table.drop(path)
    assert table.screen_name == "AssignmentScreen"
    assert "weir.abc" in table.context.window.message
    table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    (path.parent / "weir.abc").write_text(TUNE)
    table.drop(path)
    table.key(pygame.K_RETURN)
    assert table.screen.request.score.title == "Weir"
    assert len(table.context.session.log.facts.assignments.kept) == 1


def test_dropped_every_day_it_is_one_and_the_log_does_not_grow(table, tmp_path):
    path = put(tmp_path / "mail")
    table.drop(path)
    ((before,),) = table.logged("SELECT count(*) FROM fact")
    for _ in range(3):
        table.day += 1
        table.drop(path)
    assert table.logged("SELECT count(*) FROM fact") == [(before,)]


def test_what_cannot_be_read_is_told_with_its_file_and_nothing_is_kept(table, tmp_path):
    for text in ('title = "x"', "title = ", "title = 3\n[[line]]\nlevel = 99\n", "x" * 100_001):
        path = tmp_path / "faulty.toml"
        path.write_text(text)
        table.drop(path)
        assert "faulty.toml" in table.context.window.message
    assert table.screen_name == "ShelfScreen"
    assert not table.context.session.log.facts.assignments.kept
