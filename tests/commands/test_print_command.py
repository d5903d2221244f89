"""`homefret print`: pages for an evening without a screen."""

import io
import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from game.commands.main import main
from tests.screens.tune_files import tune_file


def words_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(path.read_bytes())).pages)


@pytest.fixture
def out(tmp_path):
    return tmp_path / "pages.pdf"


def test_without_a_word_more_it_is_todays_plan(out, capsys):
    assert main(["print", "--out", str(out)]) == 0
    told = capsys.readouterr().out
    assert str(out) in told
    assert "pieces to read" in told
    assert "bars" in words_of(out)


def test_tunes_are_printed_whole_under_their_titles(out, tmp_path):
    assert main(["print", str(tune_file(tmp_path, "Melody")), "--out", str(out)]) == 0
    assert "The Weir" in words_of(out)


def test_an_assignment_is_printed_part_by_part(out, tmp_path, capsys):
    tune_file(tmp_path, "Melody")
    words = 'title = "A week"\n[[tune]]\nfile = "dropped.musicxml"\n[[line]]\nlevel = 1\n'
    (tmp_path / "week.toml").write_text(words, encoding="utf-8")
    assert main(["print", str(tmp_path / "week.toml"), "--out", str(out), "--json"]) == 0
    pieces = json.loads(capsys.readouterr().out)["pieces"]
    assert pieces[0] == "The Weir"
    assert pieces[1].startswith("Five notes")


def test_unseen_lines_are_printed_and_no_two_are_alike(out, capsys):
    assert main(["print", "--lines", "3", "--paper", "letter", "--out", str(out), "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["pieces"]) == 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--lines", "0"], "choose 1 to 50"),
        (["--lines", "900"], "choose 1 to 50"),
        (["--paper", "b5"], "no paper called b5"),
        (["nothing.abc"], "nothing.abc"),
    ],
)
def test_a_mistake_is_told_in_one_line_and_nothing_is_written(words, said, out, capsys):
    assert main(["print", *words, "--out", str(out)]) == 2
    assert said in capsys.readouterr().err
    assert not out.exists()


def test_where_it_cannot_be_written_that_is_told(tmp_path, capsys):
    assert main(["print", "--lines", "1", "--out", str(tmp_path / "none" / "pages.pdf")]) == 2
    assert "the pages cannot be written to" in capsys.readouterr().err
