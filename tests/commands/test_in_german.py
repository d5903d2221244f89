"""In German: what people read. Answers for programs stay English."""

import re

import pytest

from game.commands.parser import COMMANDS
from game.text.compile import untranslated
from tests.fixtures_of_november.november import laid_out


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    return laid_out(tmp_path_factory.mktemp("desk"))


@pytest.fixture
def german(monkeypatch):
    monkeypatch.setenv("HOMEFRET_LANGUAGE", "de")


def test_all_that_commands_and_reports_say_has_german_words():
    areas = (
        "argparse.",
        "command.",
        "report.",
        "column.",
        "metavar.",
        "chart.",
        "curve.",
        "verdict.",
        "stage.",
        "date.",
    )
    assert [key for key in untranslated("de") if key.startswith(areas)] == []


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_is_german(command, desk):
    told = desk.run(*command.split(), "--help").out
    assert told.startswith("Aufruf: homefret")
    assert "\nOptionen:\n" in told
    assert "diese Hilfe zeigen" in told


@pytest.mark.usefixtures("german")
def test_a_mistake_is_told_in_german(desk):
    assert desk.run("take", "--day", "2025-01-01").err == (
        "homefret: am 1. Januar 2025 wurde nichts gespielt: gib mit --day einen Tag an, den der Bericht nennt\n"
    )
    assert desk.run("demo", "--days", "x").err.startswith(
        "homefret: Angabe --days: 'x' ist keine ganze Zahl: schreib sie in Ziffern, etwa 6; siehe "
    )


@pytest.mark.usefixtures("german")
def test_a_report_is_a_german_page_with_german_days_and_figures(desk):
    assert "Bericht geschrieben nach" in desk.run("report", "--out", "{out}/de.html").out
    page = (desk.out / "de.html").read_text(encoding="utf-8")
    assert '<html lang="de">' in page
    assert "<h1>Dein Notenlesen</h1>" in page
    assert "Vom 3. März 2026 bis zum 5. März 2026." in page
    assert re.search(r"<dd>98\N{NO-BREAK SPACE}% \(\d\d\N{NO-BREAK SPACE}% bis 100\N{NO-BREAK SPACE}%\)</dd>", page)
    assert "von 1,65 bis 1,70" in page
    assert not re.search(r"\b(March|bars|take|home|clean)\b", re.sub(r"<(style|code).*?</\1>|<[^>]*>", "", page))


@pytest.mark.parametrize(
    "words",
    [
        "score {here}/tunes/boathouse.abc",
        "map --for {here}/tunes/boathouse.abc",
        "take --day 2026-11-25 --number 2 --player Möwe --out {out}/take.mid",
        "take {tunes}/03-ode-to-joy.musicxml {here}/takes/keys.mid --keyboard",
        "line --level 3 --seed 4",
        "log",
        "players",
        "devices",
        "assign --title x --tune waltz.abc --lines 2:3 --out {out}/week.toml",
        "report --player Möwe --out {out}/page.html",
        "report --from {here}/broken --out {out}/class/index.html",
    ],
)
def test_an_answer_for_programs_is_english_byte_for_byte(words, desk, monkeypatch):
    answers = []
    for language in ("en", "de", "pseudo"):
        monkeypatch.setenv("HOMEFRET_LANGUAGE", language)
        answers.append(desk.run(*words.split(), "--json").out)
    assert answers[0].startswith("{")
    assert answers == [answers[0]] * 3


@pytest.mark.usefixtures("german")
def test_the_csv_files_beside_a_page_are_the_same_everywhere(desk, monkeypatch):
    tables = []
    for language in ("en", "de"):
        monkeypatch.setenv("HOMEFRET_LANGUAGE", language)
        desk.run("report", "--out", "{out}/tables.html")
        tables.append([path.read_bytes() for path in sorted(desk.out.glob("tables-*.csv"))])
    assert len(tables[0]) == 4
    assert tables[0] == tables[1]
