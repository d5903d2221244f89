"""Whose each file of a class is, and which need not be opened again."""

import os
from random import Random
from uuid import UUID

import pytest

from game.practice_log.classes import deliveries as module
from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_folder import FoundFile, found_in
from game.practice_log.classes.deliveries import Deliveries, Delivery, by_student
from game.practice_log.classes.file_owner import FileOwner
from game.practice_log.transfer.erased import mark_name
from game.text.catalogue import tell
from tests.practice_log.classes.students import ADA, BEN, hand_in, student


@pytest.fixture
def room(tmp_path, monkeypatch):
    """A folder into which Ada and Ben handed in, beside a file that is torn; a file of the class that was there before
    they did, and the clock going on.
    """
    monkeypatch.setattr(module, "_RACY_NS", 0)
    folder = tmp_path / "class"
    for number, player in enumerate((ADA, BEN), start=1):
        hand_in(student(player, number, steps=2), folder / f"{player.name}.zip")
    (folder / "torn.zip").write_bytes((folder / "Ada.zip").read_bytes()[:100])
    return folder, tmp_path / "class.sqlite"


def _lying_there(room, marks=()):
    """Who handed in, by the files' names, and what is said."""
    folder, into = room
    said = []
    with open_class(into) as connection:
        there = Deliveries(connection, found_in(folder, into), marks, said).that_lie_there()
    return {one.file.name: one.owner.ids for one in there}, list(map(tell, said))


def test_each_file_is_of_whom_its_head_says_and_a_torn_one_is_told(room):
    there, said = _lying_there(room)
    assert there == {"Ada.zip": (ADA.uuid,), "Ben.zip": (BEN.uuid,)}
    assert ["torn.zip" in one for one in said] == [True]


def test_a_file_that_was_refused_is_told_again_and_not_opened_until_it_changes(room, monkeypatch):
    folder, _ = room
    _, said = _lying_there(room)
    opened = []
    owner_of = module.owner_of
    monkeypatch.setattr(module, "owner_of", lambda path: opened.append(path.name) or owner_of(path))
    assert _lying_there(room)[1] == said
    assert opened == ["Ada.zip", "Ben.zip"]
    (folder / "torn.zip").write_bytes((folder / "Ada.zip").read_bytes())
    os.utime(folder / "torn.zip", ns=(1, 1))
    there, said = _lying_there(room)
    assert (there["torn.zip"], said) == ((ADA.uuid,), [])


def test_who_was_erased_is_left_out_by_a_mark_here_or_elsewhere(room, tmp_path):
    folder, _ = room
    (folder / mark_name(ADA.uuid)).touch()
    (tmp_path / mark_name(BEN.uuid)).touch()
    there, said = _lying_there(room, marks=[tmp_path])
    assert there == {}
    assert sum("erased" in one for one in said) == 2


@pytest.mark.parametrize("seed", range(20))
def test_who_is_known_by_one_id_in_common_is_one_and_called_by_the_lowest_whatever_the_order(seed, tmp_path):
    rng = Random(seed)
    people = [range(10 * person, 10 * person + rng.randrange(1, 6)) for person in range(4)]
    # Each file knows two ids that follow one another: together they tie all ids of a person.
    pairs = [(one, min(one + 1, ids[-1])) for ids in people for one in ids]
    rng.shuffle(pairs)
    files = [
        Delivery(FoundFile(tmp_path, str(nth), 1, 1), "", FileOwner(tuple(UUID(int=one) for one in pair), "", ""))
        for nth, pair in enumerate(pairs)
    ]
    groups = by_student(files)
    assert sorted(groups) == [UUID(int=ids[0]) for ids in people]
    assert all({uuid.int for one in groups[UUID(int=ids[0])] for uuid in one.owner.ids} == set(ids) for ids in people)
