"""A line is shown only where the command itself takes it; and what is shown makes a file that passes its check."""

import shlex
from datetime import timedelta

import pytest

from game.clock import wall_time
from game.commands.accepted_words import accepts_words
from game.report.monday.set_next import NextSet, assign_words, quoted
from game.tunes.library.library import shelf
from tests.commands.running import answer
from tests.sampling import sample

TOMORROW = wall_time().date() + timedelta(days=1)
SHIPPED = [
    NextSet(title="Ode to Joy", bars=(1, 2), stages=("letters", "places")),
    NextSet(title="Amazing Grace", bars=(0, 4), stages=("time",), tempo_bpm=54),
    NextSet(title="The Landlord’s Ladder", stages=("rhythm",)),
    NextSet(level=5, a_day=2, stages=("places",)),
]


def words_of(what, due=TOMORROW):
    return assign_words(what, called="Für Ada, bars 1–2", due=due, out="ada.toml")


@pytest.mark.parametrize("what", sample(SHIPPED, by_default=2), ids=lambda what: what.title or "lines")
def test_a_line_that_is_shown_makes_an_assignment_that_passes_its_check(what, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    words = words_of(what)
    assert accepts_words()(words)
    homefret, *typed = shlex.split(" ".join(quoted(words)))
    assert homefret == "homefret"
    typed[-1] = str(tmp_path / typed[-1])
    made = answer(*typed)
    checked = answer("assign", "--check", made["file"])
    assert checked["due"] == TOMORROW.isoformat()
    assert (checked["tunes"] or checked["lines"])[0]["stages"] == list(what.stages)


def test_what_is_on_no_shelf_has_no_such_bars_or_is_over_is_not_accepted(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    accepts = accepts_words()
    for what in (NextSet(title="No Such Tune"), NextSet(title="Ode to Joy", bars=(90, 94)), NextSet(level=9)):
        assert not accepts(words_of(what))
    assert not accepts(words_of(SHIPPED[0], due=wall_time().date() - timedelta(days=1)))
    assert not accepts(words_of(NextSet(title="-x", bars=(1, 2))))


def test_what_lies_where_the_file_would_go_makes_no_difference(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "ada.toml").write_text("mine", encoding="utf-8")
    assert accepts_words()(words_of(SHIPPED[0]))


def test_every_tune_that_is_shipped_can_be_set_by_its_title():
    accepts = accepts_words()
    titles = [entry.title for entry in shelf()]
    assert len(titles) > 20
    assert [title for title in titles if not accepts(words_of(NextSet(title=title)))] == []
