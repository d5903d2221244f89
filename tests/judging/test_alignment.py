"""Aligning played with written notes without a clock."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.judging.alignment import align

rows = st.lists(st.integers(60, 64), max_size=9)


def aligned(written, played):
    """For each written letter what was played for it, and what is left over."""
    found = align([ord(letter) for letter in written], [ord(letter) for letter in played])
    return [["".join(played[i] for i in answer) for answer in found.answers], "".join(played[i] for i in found.extra)]


@pytest.mark.parametrize(
    ("written", "played", "answers", "extra"),
    [
        ("ABC", "ABC", ["A", "B", "C"], ""),
        ("ABC", "AXBC", ["A", "XB", "C"], ""),  # a try, then right: the page waited
        ("ABCD", "AXCD", ["A", "X", "C", "D"], ""),  # wrong, and on
        ("ABCD", "ACD", ["A", "", "C", "D"], ""),  # left out
        ("ABC", "AXYC", ["A", "XY", "C"], ""),  # tries belong to the wrong note, not to the right one after
        ("ABC", "ACBC", ["A", "CB", "C"], ""),
        ("ABC", "ABCD", ["A", "B", "C"], "D"),
        ("ABCDEF", "ABX", ["A", "B", "X", "", "", ""], ""),
        ("ABC", "", ["", "", ""], ""),
        ("", "AB", [], "AB"),
    ],
)
def test_played_notes_answer_the_written_ones(written, played, answers, extra):
    assert aligned(written, played) == [answers, extra]


def test_notes_after_the_last_answer_were_not_read():
    assert align([1, 2, 3, 4], [1, 2]).read == 2
    assert align([1, 2, 3, 4], [1, 3, 4]).read == 4


def edit_distance(first, second):
    """Levenshtein 1966, the plain table: the reference."""
    above = list(range(len(second) + 1))
    for i, one in enumerate(first, start=1):
        row = [i]
        for j, other in enumerate(second, start=1):
            row.append(min(above[j] + 1, row[-1] + 1, above[j - 1] + (one != other)))
        above = row
    return above[-1]


@given(rows, rows)
def test_no_alignment_has_fewer_errors_than_the_edit_distance_to_what_was_read(written, played):
    """Every prefix is a candidate for what was read; ours is a cheapest one."""
    found = align(written, played)
    errors = len(found.extra)
    for index, answer in enumerate(found.answers[: found.read]):
        tries = len(answer) - 1
        errors += 1 if not answer else tries + (played[answer[-1]] != written[index])
    assert errors == min(edit_distance(written[:read], played) for read in range(len(written) + 1))


@given(rows, rows)
def test_every_played_note_is_used_once_and_in_order(written, played):
    found = align(written, played)
    used = [index for answer in found.answers for index in answer] + list(found.extra)
    assert used == list(range(len(played)))
    assert len(found.answers) == len(written)


@given(rows)
def test_a_flawless_take_answers_each_note_with_itself(written):
    assert align(written, written).answers == tuple((index,) for index in range(len(written)))
