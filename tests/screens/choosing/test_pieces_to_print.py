"""What is printed is what is read on the desk."""

from random import Random

from game.music.passage import whole_tune
from game.screens.choosing.pieces_to_print import assigned_pieces, todays_pieces, tune_pieces, unseen_pieces
from game.tunes.library.library import open_entry, shipped_entries
from tests.made import score
from tests.screens.ways import ASSIGNMENT


def test_today_has_a_piece_for_each_step_that_is_still_to_be_done(table):
    plan = table.context.session.plan
    before = list(todays_pieces(table.context, Random(1)))
    plan.finish_step(skipped=True)
    assert len(list(todays_pieces(table.context, Random(1)))) == len(before) - 1


def test_an_assignment_has_its_parts(table, tmp_path):
    (tmp_path / "week.toml").write_text(ASSIGNMENT, encoding="utf-8")
    (piece,) = assigned_pieces(table.context, tmp_path / "week.toml", Random(1))
    assert piece.title.startswith("Five notes")


def test_a_tune_is_printed_with_its_repeats_as_they_are_notated(table):
    score = next(open_entry(entry) for entry in shipped_entries() if entry.title == "Au clair de la lune")
    (piece,) = tune_pieces(table.context, [score])
    assert len(piece.bars) == len(score.bars) < len(whole_tune(score).bars) * 2


def test_a_tune_that_leaves_the_position_is_printed_with_its_numerals(table):
    (low,) = tune_pieces(table.context, [score("A4 q, F3 q, A4 q, C5 q")])
    assert list(low.numerals.values()) == ["V", "I", "V"]
    (home,) = tune_pieces(table.context, [score("A4 q, C5 q, E5 h")])
    assert not home.numerals


def test_no_unseen_line_comes_twice(table):
    pieces = list(unseen_pieces(table.context, 6, Random(1)))
    assert len({repr(piece.bars) for piece in pieces}) == 6
