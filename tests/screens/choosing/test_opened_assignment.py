"""A file that is an assignment is opened, and kept with all it names."""

import shutil
import threading

import pygame

from game.practice_log.transfer.shared_folder import remember_shared
from game.screens.routes import ToAssignment, ToToday
from game.tunes.library import files_awaited
from game.tunes.library.library import add

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
    table.wait_for_imports()
    shutil.rmtree(tmp_path / "stick")
    assert not table.context.window.message
    table.go(ToToday())
    (row,) = [row for row in table.screen.sheet.rows if row.assignment]
    assert row.title == "The week"
    table.go(ToAssignment(row.assignment))
    table.key(pygame.K_RETURN)
    assert table.screen.request.score.title == "Weir"


def test_a_file_beside_it_is_found_as_a_mac_or_windows_calls_it(table, tmp_path):
    path = put(tmp_path / "mail", WEEK.replace("weir", "Übung"), tune="")
    (path.parent / "U\N{COMBINING DIAERESIS}BUNG.abc").write_text(TUNE)
    table.drop(path)
    assert not table.context.window.message
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


def share(table, made):
    """The folder that the player's computers share, and what a teacher puts there for all and for this one."""
    folder = made.mktemp("shared")
    session = table.context.session
    everybody = folder / "homefret" / "assignments"
    own = folder / "homefret" / str(session.log.player.uuid) / "assignments"
    for one in (everybody, own):
        one.mkdir(parents=True)
    remember_shared(session.folder, folder)
    return everybody, own


def titles_on_today(table):
    table.wait(61, frame_s=1.0)
    table.go(ToToday())
    return sorted(row.title for row in table.screen.sheet.rows if row.assignment)


def test_what_a_teacher_puts_into_the_shared_folder_is_opened_by_itself(table, tmp_path_factory):
    everybody, own = share(table, tmp_path_factory)
    put(everybody / "made", WEEK)
    for path in (everybody / "made").iterdir():
        path.rename(everybody / path.name)
    (own / "mine.toml").write_text('title = "Mine"\n[[line]]\nlevel = 1\n')
    (own / "broken.toml").write_text("title = ")
    (own / "other.txt").write_text("no assignment")
    (own / "folder.toml").mkdir()
    (own / "by Notepad.toml.txt").write_text('title = "Notes"\n[[line]]\nlevel = 2\n')
    assert titles_on_today(table) == ["Mine", "Notes", "The week"]
    assert "Mine" in table.context.window.message
    assert (
        "2 files in the shared folder cannot be read as assignments, among them broken.toml"
        in table.context.window.message
    )
    table.wait_for_imports()
    table.key(pygame.K_h)
    table.context.say("something else")
    assert titles_on_today(table) == ["Mine", "Notes", "The week"]
    assert "Mine" not in table.context.window.message
    assert "broken" not in table.context.window.message
    # Changed, and wrong in another way, it is told again; a map beside them is nobody's fault.
    (own / "broken.toml").write_text("[[tune]]")
    (own / "map.toml").write_text("[map]\nposition = 5\n")
    titles_on_today(table)
    assert "broken.toml in the shared folder cannot be read as an assignment" in table.context.window.message


def test_a_tune_beside_it_there_is_found_though_it_was_opened_on_another_computer(table, tmp_path_factory, tmp_path):
    """Which told of it through the same folder: the text came before the tune."""
    everybody, _ = share(table, tmp_path_factory)
    opened = table.context.session.assignments.open(WEEK.removeprefix("\ufeff"))
    put(tmp_path / "mail").rename(everybody / "week.toml")
    (tmp_path / "mail" / "weir.abc").rename(everybody / "weir.abc")
    assert titles_on_today(table) == ["The week"]
    table.wait_for_imports()
    assert not table.context.window.message
    table.go(ToAssignment(opened.id))
    table.key(pygame.K_RETURN)
    assert table.screen.request.score.title == "Weir"


def test_what_was_withdrawn_stays_so_until_its_file_is_changed(table, tmp_path_factory):
    _, own = share(table, tmp_path_factory)
    path = own / "mine.toml"
    path.write_text('title = "Mine"\n[[line]]\nlevel = 1\n')
    assert titles_on_today(table) == ["Mine"]
    assignments = table.context.session.assignments
    assignments.withdraw(assignments.under_way[0][0].id)
    path.touch()
    assert titles_on_today(table) == []
    path.write_text('title = "Mine"\n[[line]]\nlevel = 2\n')
    assert titles_on_today(table) == ["Mine"]


def test_another_players_own_are_left_alone(table, tmp_path_factory):
    everybody, _ = share(table, tmp_path_factory)
    other = everybody.parent / "12345678-1234-1234-1234-123456789abc" / "assignments"
    other.mkdir(parents=True)
    (other / "theirs.toml").write_text('title = "Theirs"\n[[line]]\nlevel = 1\n')
    assert titles_on_today(table) == []


def test_no_frame_waits_for_a_file_that_is_slow_to_come(table, tmp_path, monkeypatch):
    let_go = threading.Event()

    def slow(path):
        assert let_go.wait(60)
        return add(path)

    monkeypatch.setattr(files_awaited, "add", slow)
    path = put(tmp_path / "stick")
    table.app.step([pygame.event.Event(pygame.DROPFILE, file=str(path))])
    assert table.screen_name == "AssignmentScreen"
    table.key(pygame.K_RETURN)
    assert table.screen_name == "AssignmentScreen"
    let_go.set()
    table.wait_for_imports()
    table.key(pygame.K_RETURN)
    assert table.screen.request.score.title == "Weir"


def test_what_comes_for_an_assignment_that_was_corrected_meanwhile_is_not_taken_for_another_part(
    table, tmp_path, monkeypatch
):
    let_go = threading.Event()

    def slow(path):
        assert let_go.wait(60)
        return add(path)

    monkeypatch.setattr(files_awaited, "add", slow)
    path = put(tmp_path / "stick")
    table.app.step([pygame.event.Event(pygame.DROPFILE, file=str(path))])
    other = WEEK.replace("[[tune]]", '[[tune]]\r\ntitle = "Ode to Joy"\r\n[[tune]]')
    newer = table.context.session.assignments.open(other.lstrip("\ufeff"))
    let_go.set()
    table.wait_for_imports()
    tunes = [table.context.session.assignments.tune_of(newer.id, number) for number in range(2)]
    assert [tune and tune.title for tune in tunes] == ["Ode to Joy", None]
