"""The chart lies where its reader finds it, and over nothing else."""

from pathlib import Path

import pytest

from game.music.names import NoteNames
from game.neck.neck_map import standard_map
from game.screens.setup.printed_chart import free_name, write_printed_chart


@pytest.mark.parametrize("documents", [True, False])
def test_the_chart_is_a_page_among_the_documents_or_where_there_are_none_beside_them(tmp_path, monkeypatch, documents):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    folder = tmp_path / "Documents" if documents else tmp_path
    folder.mkdir(exist_ok=True)
    path = write_printed_chart(standard_map(position=7), NoteNames.GERMAN, left_handed=True)
    assert path == folder / "homefret-VII.pdf"
    assert path.read_bytes().startswith(b"%PDF")


def test_no_chart_is_written_over_another(tmp_path):
    (tmp_path / "homefret-V.pdf").touch()
    (tmp_path / "homefret-V-2.pdf").touch()
    assert free_name(tmp_path, "homefret-V").name == "homefret-V-3.pdf"
