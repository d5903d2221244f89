"""A line that sets what comes next is one that a shell reads as the words it was made of."""

import shlex
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from game.report.monday.set_next import NextSet, assign_words, file_name, quoted
from tests.sampling import how_many

DUE = date(2026, 12, 7)


def words_of(what, called="Week"):
    return assign_words(what, called=called, due=DUE, out="ada.toml")


def test_a_tune_is_set_with_bars_stages_and_tempo_and_lines_by_their_level():
    tune = NextSet(title="Ode to Joy", bars=(1, 2), stages=("letters", "places"), tempo_bpm=54)
    assert " ".join(quoted(words_of(tune))) == (
        'homefret assign --title Week --tune "Ode to Joy:1-2" --stage letters,places --tempo 54 --due 2026-12-07 '
        "--out ada.toml"
    )
    assert words_of(NextSet(level=3, a_day=2))[3:5] == ["--lines", "3:2"]
    assert words_of(NextSet(title="Ode to Joy"))[3:5] == ["--tune", "Ode to Joy"]


def test_a_tempo_that_no_metronome_goes_at_is_the_nearest_it_does():
    assert words_of(NextSet(title="x", tempo_bpm=12))[5:7] == ["--tempo", "30"]
    assert words_of(NextSet(title="x", tempo_bpm=900))[5:7] == ["--tempo", "300"]


@settings(max_examples=how_many(2000, by_default=100))
@given(st.text(max_size=20))
def test_whatever_a_title_holds_a_shell_reads_it_as_one_word(title):
    words = words_of(NextSet(title=title), called=title)
    assert shlex.split(" ".join(quoted(words))) == ["homefret", *words]


def test_nothing_in_a_title_is_run_or_taken_for_an_option():
    for title in ("$(rm -rf ~)", "`id`", 'a" ; id "', "-x", "--out", "it's", "%PATH%", "a\nb"):
        line = " ".join(quoted(words_of(NextSet(title=title), called=title)))
        assert shlex.split(line)[1:] == words_of(NextSet(title=title), called=title)
        assert '"$' not in line
        assert " -x " not in line
    assert "'" not in " ".join(quoted(words_of(NextSet(title="Deck the Halls"), called="Für Ada")))


def test_files_have_plain_names():
    assert file_name("Jörg Müßig-Öztürk") == "jorg-mussig-ozturk.toml"
    assert file_name("../../etc/passwd") == "etc-passwd.toml"
    assert file_name("王") == "student.toml"
    assert len(file_name("a" * 300)) < 50
