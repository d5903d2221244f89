"""Drafts on the disk: nothing is lost, and nothing damaged is taken for one."""

import os
from fractions import Fraction

import pytest

from game.errors import TuneError
from game.tunes.entering.draft import Draft, DraftOnset, DraftPitch
from game.tunes.entering.draft_file import FOLDER, kept_drafts, new_draft_path, read_draft, throw_away, write_draft
from tests.refusing import refusal
from tests.tunes.entering.made_drafts import made_draft


@pytest.mark.parametrize("seed", range(30))
def test_a_draft_comes_back_as_it_was_kept(tmp_path, seed):
    draft = made_draft(seed)
    path = new_draft_path(tmp_path)
    write_draft(path, draft)
    assert read_draft(path) == draft


def test_the_draft_that_was_worked_at_last_is_the_first(tmp_path):
    paths = [new_draft_path(tmp_path) for _ in range(3)]
    for age, path in enumerate(paths):
        write_draft(path, Draft(title=f"{age}"))
        os.utime(path, (1000 - age, 1000 - age))
    assert [kept.draft.title for kept in kept_drafts(tmp_path)] == ["0", "1", "2"]
    assert kept_drafts(tmp_path)[0].path == paths[0]
    assert kept_drafts(tmp_path / "nowhere") == ()


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"\xff\xfe",
        b'{"beats": 0}',
        b'{"unit": 5}',
        b'{"pickup": "9"}',
        b'{"pickup": "1/0"}',
        b'{"settled": "1e999999999"}',
        b'{"pitches": [[60, false]], "onsets": [["1", ""], ["0", ""]], "settled": "4"}',
        b'{"pitches": [[60, false]], "onsets": [["1", "1"]], "settled": "4"}',
        b'{"pitches": [[60, false]], "onsets": [["5", ""]], "settled": "4"}',
        b'{"pitches": [[600, false]]}',
        b'{"chords": [["0", "nothing"]]}',
        b'{"title": "' + b"x" * 1_000_001 + b'"}',
    ],
)
def test_what_is_damaged_is_no_draft_and_is_left_alone(tmp_path, content):
    path = new_draft_path(tmp_path)
    path.parent.mkdir()
    path.write_bytes(content)
    assert read_draft(path) is None
    assert kept_drafts(tmp_path) == ()
    assert path.read_bytes() == content


def test_a_draft_of_a_newer_program_is_read_as_far_as_it_is_known(tmp_path):
    path = new_draft_path(tmp_path)
    path.parent.mkdir()
    path.write_bytes(b'{"title": "New", "colour": 5, "pitches": [[60, false]]}')
    assert read_draft(path) == Draft(title="New", pitches=(DraftPitch(sounding=60),))


def test_a_draft_that_cannot_be_written_leaves_the_one_of_before(tmp_path):
    path = new_draft_path(tmp_path)
    write_draft(path, Draft(title="kept"))
    blocked = tmp_path / FOLDER / "blocked"
    blocked.write_text("a file where a folder should be", encoding="utf-8")
    with refusal(TuneError, "draft cannot be kept .*make room on the disk"):
        write_draft(blocked / "x.draft.json", Draft())
    assert read_draft(path).title == "kept"


def test_a_draft_is_thrown_away_once(tmp_path):
    path = new_draft_path(tmp_path)
    write_draft(path, Draft(title="x"))
    for _ in range(2):
        throw_away(path)
        assert kept_drafts(tmp_path) == ()
    path.mkdir()
    with refusal(TuneError, "draft cannot be thrown away"):
        throw_away(path)


def test_when_a_note_was_heard_is_not_kept(tmp_path):
    path = new_draft_path(tmp_path)
    draft = Draft(
        pitches=(DraftPitch(sounding=60, heard=((60, 5.0),), stood=4),),
        onsets=(DraftOnset(at=Fraction(0)),),
        settled=Fraction(4),
    )
    write_draft(path, draft)
    assert read_draft(path).pitches == (DraftPitch(sounding=60),)
