"""The chart lies where its reader finds it, and over nothing else."""

from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from game.assignments.map_file import read_map
from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.player.settings import Settings
from game.screens.setup.printed_chart import MOST_SHOWN, ChartPrinting, free_name, shown_folder, write_printed_chart
from tests.sampling import sample


@pytest.mark.parametrize("documents", sample([True, False], by_default=1))
def test_the_chart_is_a_page_among_the_documents_or_where_there_are_none_beside_them(tmp_path, monkeypatch, documents):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    folder = tmp_path / "Documents" if documents else tmp_path
    folder.mkdir(exist_ok=True)
    path = write_printed_chart(standard_map(position=7), NoteNames.GERMAN, left_handed=True)
    assert path == folder / "homefret-VII.pdf"
    assert path.read_bytes().startswith(b"%PDF")
    assert read_map(folder / "homefret-VII.toml") == standard_map(position=7)


def test_no_chart_is_written_over_another(tmp_path):
    (tmp_path / "homefret-V.pdf").touch()
    (tmp_path / "homefret-V-2.pdf").touch()
    assert free_name(tmp_path, "homefret-V").name == "homefret-V-3.pdf"
    (tmp_path / "homefret-V-3.toml").touch()
    assert free_name(tmp_path, "homefret-V").name == "homefret-V-4.pdf"


@pytest.mark.parametrize(
    ("folder", "told"),
    [
        (PurePosixPath("/home/anna/Documents"), "/home/anna/Documents"),
        (
            PureWindowsPath(r"C:\Users\Maximiliane von und zu Hohenstein-Bergheim\OneDrive\Documents"),
            r"C:\…\OneDrive\Documents",
        ),
        (
            PurePosixPath("/media/anna/A disk with a rather long name/backups/2026/November/Documents"),
            "/…/backups/2026/November/Documents",
        ),
        (PurePosixPath("/" + "d" * 90), "/" + "d" * 22 + "…" + "d" * 23),
        (PureWindowsPath(r"\\a-server-with-quite-a-long-name\a share of theirs\x"), None),
    ],
)
def test_a_long_folder_is_told_by_its_beginning_and_its_end(folder, told):
    shown = shown_folder(folder)
    assert len(shown) <= MOST_SHOWN
    assert told is None or shown == told


def test_where_a_chart_lies_is_told_once_with_its_name_whole_and_one_is_drawn_at_a_time(tmp_path, monkeypatch):
    deep = tmp_path / ("deep " * 12).strip() / ("deeper " * 12).strip()
    deep.mkdir(parents=True)
    monkeypatch.setattr(Path, "home", lambda: deep)
    printing = ChartPrinting()
    assert printing.begin(standard_map(), Settings())
    assert not printing.begin(standard_map(), Settings())
    printing.wait()
    told = printing.told()
    assert "homefret-V.pdf" in told.split()
    assert "…" in told
    assert not printing.told()
