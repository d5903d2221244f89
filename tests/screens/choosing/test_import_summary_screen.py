"""The account of a tune: what was read, what was guessed, and one key for what does not lie on the map."""

from dataclasses import replace

import msgspec
import pygame
import pytest

from game.desk.fitted_text import draw_fitted
from game.desk.sheet import SMALLEST
from game.errors import TuneError
from game.message import message
from game.screens.choosing import import_summary_screen
from game.screens.routes import ToImportSummary
from game.screens.shown_keys import draw_keys
from game.tunes.library.fitting import Remedy
from game.tunes.library.library import add, open_entry, shelf
from game.tunes.library.shelf_entry import entry_of
from tests.made import score
from tests.music.order_pages import page
from tests.screens.table import Table
from tests.speaking import speaking
from tests.tunes.hand_written import QUARTERS, barline, bars_played
from tests.tunes.hand_written import score as written


@pytest.fixture
def account(table):
    low = score("F3 q, G3 q, A3 h", "F3 w")
    table.go(ToImportSummary(entry_of(low, name="low", file_name="low.musicxml"), low))
    return table


def take(table, remedy):
    number = next(n for n, way in enumerate(table.screen.ways, start=1) if way.remedy is remedy)
    table.key(ord(str(number)), str(number))


def test_it_says_how_many_notes_have_no_home(account):
    assert "3 of 4 notes have no home" in account.screen.sentences[-1]


def test_before_it_is_opened_it_says_where_the_hand_goes(table):
    tune = score("A4 q, C5 q, F3 q, A4 q", "C5 q, E5 q, A4 h")
    table.go(ToImportSummary(entry_of(tune, name="low", file_name="low.musicxml"), tune))
    *_, hand, on_map = table.screen.sentences
    assert hand == "The hand: V, bar 1 to I, back to V."
    assert "1 of 7 notes" in on_map


def test_of_a_tune_on_the_map_it_says_nothing_of_the_hand(table):
    tune = score("A4 q, C5 q, E5 h")
    table.go(ToImportSummary(entry_of(tune, name="home", file_name="home.musicxml"), tune))
    assert not any("hand" in said for said in table.screen.sentences)


def test_an_octave_higher_is_kept_beside_it_on_the_shelf(account):
    take(account, Remedy.OCTAVE)
    assert account.screen.without == 0
    assert any("an octave higher" in entry.title for entry in shelf())
    account.key(pygame.K_RETURN)
    assert account.screen_name == "PlacesPage"
    assert account.screen.take.expected[0].home is not None


def test_another_position_changes_the_map(account):
    take(account, Remedy.POSITION)
    assert account.context.settings.position != 5
    assert account.screen.without == 0


def test_outlying_homes_are_added_to_the_map(account):
    take(account, Remedy.OUTLYING)
    assert account.context.settings.choices[41] == (6, 1)
    assert account.screen.without == 0


def test_a_key_on_the_shelf_leads_there(table):
    table.key(pygame.K_q)
    assert table.screen_name == "ImportSummaryScreen"
    assert "All" in table.screen.sentences[-1]


def short_bracket(folder):
    """A file as many programs write it: the first ending is drawn over bar 2, its repeat sign stands in bar 3."""
    back, ending = '<repeat direction="backward"/>', '<ending number="{}" type="{}"/>'
    over_one_bar = barline(ending.format(1, "start"), "left") + QUARTERS + barline(ending.format(1, "stop"))
    second = barline(ending.format(2, "start"), "left") + QUARTERS + barline(ending.format(2, "discontinue"))
    path = folder / "weir.musicxml"
    path.write_bytes(written(QUARTERS, over_one_bar, QUARTERS + barline(back), second))
    return path


@pytest.fixture
def doubtful(table, tmp_path):
    entry = add(short_bracket(tmp_path))
    table.go(ToImportSummary(entry, open_entry(entry)))
    return table


ASSUMED = "The bracket over bar 2 is not drawn as far as the repeat sign in bar 3: it was read as reaching there."


def test_it_says_in_which_order_the_bars_are_played_and_what_was_assumed(doubtful):
    assert doubtful.screen.sentences[2:4] == ("Bars in the order they are played: 1-3, 1, 4.", ASSUMED)


def test_a_key_chooses_the_other_order_which_is_kept_with_the_tune(doubtful):
    name, before = doubtful.screen.entry.name, len(shelf())
    doubtful.key(pygame.K_o)
    assert doubtful.screen.sentences[2:4] == (
        "Bars in the order they are played: 1-3, 1, 3-4.",
        f"{ASSUMED} You chose the other reading.",
    )
    (kept,) = [entry for entry in shelf() if entry.name == name]
    assert (len(shelf()), kept.plays) == (before, 6)
    assert bars_played(open_entry(kept)) == "123134"
    doubtful.key(pygame.K_RETURN)
    assert [bar.number for passage in doubtful.screen.request.passages for bar in passage.bars] == list("123134")


def test_the_same_key_brings_the_first_order_back(doubtful):
    was = doubtful.screen.score
    doubtful.key(pygame.K_o)
    doubtful.key(pygame.K_o)
    assert doubtful.screen.score == was == open_entry(doubtful.screen.entry)


def test_the_file_added_again_keeps_the_order_that_was_chosen(doubtful, tmp_path):
    doubtful.key(pygame.K_o)
    assert bars_played(open_entry(add(short_bracket(tmp_path)))) == "123134"


def test_an_order_that_cannot_be_kept_is_said_and_is_not_taken(doubtful, monkeypatch):
    def full(*_):
        raise TuneError("tune.library_not_written", reason="No space left on device")

    was = doubtful.screen.score
    monkeypatch.setattr("game.tunes.library.library.write_whole", full)
    doubtful.key(pygame.K_o)
    assert doubtful.screen.score == was
    assert "No space left on device" in doubtful.context.window.message


def test_a_tune_without_a_choice_has_no_such_key_and_no_such_line(account):
    was = account.screen.score
    account.key(pygame.K_o)
    assert (account.screen.score, account.screen.other_orders) == (was, False)
    assert not any("order they are played" in said for said in account.screen.sentences)


def test_of_many_choices_the_first_are_told_and_of_a_long_order_the_beginning(table):
    bars = page("a|: b[1] c:| d[2] " * 9)
    many = replace(
        score(*["C4 w"] * 36),
        bars=tuple(
            replace(bar, marks=marked.marks) for bar, marked in zip(score(*["C4 w"] * 36).bars, bars, strict=True)
        ),
    )
    table.go(ToImportSummary(entry_of(many, name="many", file_name="many.abc"), many))
    told = table.screen.sentences
    assert told[1].startswith("Bars in the order they are played: 1-3, 1, 4-7, 5, 8-11, ")
    assert told[1].endswith(" and so on, 3 more such runs.")
    assert told[5] == "And 6 more of the kind."


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_longest_account_touches_nothing_at_the_smallest_size(tmp_path, monkeypatch, language):
    """Everything that can be said at once: a part, the order, choices, warnings, ways to lay it on the map."""
    marked = page("a|: b[1] c:| d[2] " * 9)
    low = score(*["F3 w"] * 36)
    crowded = replace(
        low,
        part="Melody",
        bars=tuple(replace(bar, marks=other.marks) for bar, other in zip(low.bars, marked, strict=True)),
        warnings=tuple(message("tune.times_in_words", bar=str(bar), count=3) for bar in range(1, 9)),
        octave_reason=message("octave.clef_as_written"),
    )
    with speaking(language):
        table = Table(tmp_path, size=SMALLEST)
        table.go(ToImportSummary(entry_of(crowded, name="crowded", file_name="crowded.abc"), crowded))
        drawn = []
        monkeypatch.setattr(
            import_summary_screen, "draw_fitted", lambda *told: drawn.append((told, draw_fitted(*told)))
        )
        hints = []
        monkeypatch.setattr(
            import_summary_screen, "draw_keys", lambda *told, **room: hints.append((told[2], draw_keys(*told, **room)))
        )
        table.screen.draw(table.app.surface)
    (((_, paragraphs, room, _), taken),) = drawn
    assert len(paragraphs) > 15
    assert room.contains(taken)
    assert room.bottom <= table.context.sheet.paper.bottom - table.context.sheet.px(104)
    ((keys, shown),) = hints
    assert shown == len(keys) == 3


def told_ways(table):
    return [table.screen._in_words(way) for way in table.screen.ways]


@pytest.mark.parametrize(
    ("language", "few", "many"),
    [
        ("en", "homes outside the position for D (string 1, fret 10) and E (string 1, fret 12)", "four homes outside"),
        ("de", "Stammplätze außerhalb der Lage für D (Saite 1, Bund 10) und E (Saite 1, Bund 12)", "vier Stammplätze"),
    ],
)
def test_a_few_outlying_homes_are_named_first_and_many_are_counted_last(table, language, few, many):
    """D5 and E5 sounding are frets 10 and 12 of the first string (calc)."""
    high, higher = score("F4 q, G4 q, D6 q, E6 q"), score("F4 q, E6 q, F6 q, G6 q", "D6 q, A4 q, A4 h")
    with speaking(language):
        table.go(ToImportSummary(entry_of(high, name="high", file_name="high.musicxml"), high))
        assert told_ways(table)[0] == few
        table.go(ToImportSummary(entry_of(higher, name="higher", file_name="higher.musicxml"), higher))
        assert told_ways(table)[-1].startswith(many)


def test_another_position_leaves_the_second_region_behind(table):
    table.context.change_settings(msgspec.structs.replace(table.context.settings, second=(9, 64)))
    low = score("E3 q, F3 q, F#3 q, C6 q")
    table.go(ToImportSummary(entry_of(low, name="low", file_name="low.musicxml"), low))
    take(table, Remedy.POSITION)
    assert table.context.settings.second is None
