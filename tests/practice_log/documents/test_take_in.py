"""Documents into a log: idempotent, in any order, in parts, interrupted, and whatever they hold."""

import json
import sqlite3
from random import Random

import pytest

from game.neck.neck_map import standard_map
from game.neck.tuning import tuning_named
from game.practice_log.documents.decoded_documents import decoded
from game.practice_log.documents.documents import FORM
from game.practice_log.documents.take_in import TakingIn, gatherings, read_what_was_kept
from game.practice_log.rows.entry_rows import About
from game.practice_log.rows.played_rows import put_played
from game.practice_log.rows.take_rows import put_take, takes_where
from game.practice_log.transfer.log_fingerprint import fingerprint
from tests.made import passage
from tests.practice_log.logged_takes import PLAYER, begun, notes_of
from tests.practice_log.transfer.practised import (
    Computer,
    changed,
    device_named,
    empty_log,
    gathered,
    lines_of,
    split,
    take_in,
    told,
)
from tests.sampling import how_many


@pytest.fixture(scope="module")
def computers():
    return [Computer(number, zone_minutes=60 * number).practise(25) for number in (1, 2, 3)]


@pytest.fixture(scope="module")
def whole(computers):
    return told(gathered(*(lines_of(computer.log) for computer in computers)))


def test_a_log_that_was_taken_in_says_what_the_one_it_came_from_says(computers):
    for computer in computers:
        copy = gathered(lines_of(computer.log))
        assert told(copy) == told(computer.log)
        assert fingerprint(copy) == fingerprint(computer.log)


def test_what_comes_twice_is_there_once_and_tells_so(computers):
    lines = lines_of(computers[0].log)
    log = gathered(lines)
    before, number = told(log), gatherings(log)
    again = take_in(log, lines)
    assert (again.changed, again.clashes, again.left_out) == (False, 0, 0)
    assert (told(log), gatherings(log)) == (before, number)


@pytest.mark.parametrize("seed", range(how_many(60, by_default=2)))
def test_in_whatever_order_pieces_and_copies_things_come_the_log_is_the_same(computers, whole, seed):
    rng = Random(seed)
    log = empty_log()
    for piece in pieces(computers, rng):
        take_in(log, piece)
    assert told(log) == whole


@pytest.mark.parametrize("seed", range(how_many(20, by_default=1)))
def test_notes_that_could_not_be_told_are_the_same_in_every_copy(seed):
    heard = [Computer(number, seed=seed, unsure=0.3).practise(12) for number in (1, 2)]
    together = told(gathered(*(lines_of(computer.log) for computer in heard)))
    text = b"".join(together[0])
    assert b'"unsure":[' in text
    log = empty_log()
    for piece in pieces(heard, Random(seed)):
        take_in(log, piece)
    assert told(log) == together


def test_what_practice_with_doubt_tells_in_documents_is_all_that_there_is_of_it():
    text = lines_of(Computer(1, seed=1, unsure=0.3).practise(12).log)
    assert all(word in text for word in (b'"unsure":[', b'"unsure_revised":[', b'"unsure"]'))


def pieces(computers, rng):
    """All that happened, line by line in a wild order and some of it several times; what is asked stands before."""
    lines = [line for computer in computers for line in lines_of(computer.log).splitlines(keepends=True)]
    lines += [
        line for computer in computers for line in lines_of(computer.log, with_notes=False).splitlines(keepends=True)
    ]
    lines += rng.sample(lines, len(lines) // 3)
    rng.shuffle(lines)
    while lines:
        some = [lines.pop() for _ in range(min(len(lines), rng.randrange(1, 60)))]
        yield b"".join(some)


@pytest.mark.parametrize("seed", range(how_many(40, by_default=2)))
def test_interrupted_anywhere_and_begun_again_it_is_the_same(computers, whole, seed, monkeypatch):
    """Killed while it writes: what is not committed is gone."""
    rng = Random(seed)
    log = empty_log()
    for lines in [lines_of(computer.log) for computer in computers]:
        before = told(log)
        with monkeypatch.context() as patched:
            patched.setattr("game.practice_log.documents.take_in.settle_brought", killed)
            with pytest.raises(KeyboardInterrupt):
                take_in(log, lines)
        assert told(log) == before
        some = lines.splitlines(keepends=True)
        take_in(log, b"".join(some[: rng.randrange(len(some))]))
        take_in(log, lines)
    assert told(log) == whole


def killed(*_):
    raise KeyboardInterrupt


def test_a_copy_without_notes_is_taken_in_and_made_whole_when_the_notes_come(computers):
    (computer, *_) = computers
    log = gathered(lines_of(computer.log, with_notes=False))
    assert log.execute("SELECT (SELECT COUNT(*) FROM played) + (SELECT COUNT(*) FROM answer)").fetchone() == (0,)
    assert (
        log.execute("SELECT COUNT(*) FROM verdict").fetchone()
        == computer.log.execute("SELECT COUNT(*) FROM verdict").fetchone()
    )
    take_in(log, lines_of(computer.log))
    assert told(log) == told(computer.log)


def test_what_a_device_recorded_on_two_copies_of_itself_stands_side_by_side():
    first, second = Computer(1, seed=1).practise(3), Computer(1, seed=2).practise(3)
    log = gathered(lines_of(first.log), lines_of(second.log))
    entries = sum(one.log.execute("SELECT COUNT(*) FROM entry").fetchone()[0] for one in (first, second))
    assert log.execute("SELECT COUNT(*) FROM entry").fetchone() == (entries,)
    assert told(log) == told(gathered(lines_of(second.log), lines_of(first.log)))


def test_what_a_newer_program_wrote_is_kept_and_passed_on_as_it_came():
    computer = Computer(1)
    computer.say()
    (line,) = split(computer)["fact"]
    newer = changed(line, form=FORM + 1, kind="fact", content=[1, {"new": "ä"}])
    another = changed(line, kind="dream", sequence=7)
    log = gathered(newer + another)
    assert log.execute("SELECT kind FROM entry").fetchall() == [("unread",)] * 2
    assert sorted(lines_of(log).splitlines()) == sorted([newer.strip(), another.strip()])
    assert not take_in(log, newer + another).changed


def test_a_judgement_that_comes_before_its_take_waits_for_it():
    computer = Computer(1)
    number, take = computer.play(finish=False)
    computer.end(number, take)
    lines = split(computer)
    log = gathered(*lines["judgement"], *lines.get("coach", []))
    assert {kind for (kind,) in log.execute("SELECT kind FROM entry")} == {"unread"}
    take_in(log, b"".join(lines["asked"] + lines["take"]))
    assert told(log) == told(computer.log)
    assert log.execute("SELECT COUNT(*) FROM unread").fetchone() == (0,)


def test_a_take_whose_notes_asked_are_not_there_waits_for_them():
    computer = Computer(1)
    computer.play()
    lines = split(computer)
    log = gathered(*lines["take"], *lines["judgement"], *lines.get("coach", []), *lines["asked"])
    assert told(log) == told(computer.log)


def test_another_players_lines_are_passed_over_and_counted(computers):
    log = empty_log()
    came = take_in(log, lines_of(computers[0].log), player=PLAYER.__class__(uuid=device_named(9).uuid, name="Ben"))
    assert came.others > 0
    assert not came.changed
    assert log.execute("SELECT COUNT(*) FROM entry").fetchone() == (0,)


def test_once_two_ids_are_said_to_be_one_player_the_lines_of_both_are_this_players(computers):
    ben = PLAYER.__class__(uuid=device_named(9).uuid, name="Ben")
    of_ben = Computer(8, player=ben)
    of_ben.say(About.SAME_PLAYER, player=str(PLAYER.uuid))
    assert take_in(of_ben.log, lines_of(computers[0].log), player=ben).others == 0
    assert of_ben.log.execute("SELECT DISTINCT player.uuid FROM entry JOIN player USING (player)").fetchall() == [
        (str(ben.uuid),)
    ]


def test_a_take_on_a_map_that_cannot_be_is_left_out_and_all_else_taken_in():
    computer = Computer(1).practise(12)
    lines = lines_of(computer.log).splitlines(keepends=True)
    index = next(index for index, line in enumerate(lines) if b'"kind":"take"' in line)
    bad = json.loads(lines[index])
    lines[index] = changed(lines[index], neck_map={**bad["neck_map"], "position": 99})
    log = empty_log()
    assert take_in(log, b"".join(lines)).left_out == 1
    kept = {kind for (kind,) in log.execute("SELECT kind FROM entry WHERE kind = 'unread'")}
    assert kept <= {"unread"}
    (entries,) = log.execute("SELECT COUNT(*) FROM entry").fetchone()
    assert entries == computer.log.execute("SELECT COUNT(*) FROM entry").fetchone()[0] - 1


@pytest.mark.parametrize("seed", range(how_many(300, by_default=4)))
def test_hostile_lines_are_counted_and_nothing_else_happens(computers, seed):
    rng = Random(seed)
    lines = lines_of(computers[seed % 3].log).splitlines(keepends=True)
    spoilt = [spoil(line, rng) if rng.random() < 0.3 else line for line in lines]
    log = empty_log()
    came = take_in(log, b"".join(spoilt))
    assert log.execute("PRAGMA foreign_key_check").fetchall() == []
    assert came.left_out <= len(lines)
    assert told(gathered(lines_of(log))) == told(log)


def spoil(line, rng):
    """A line with something in it that nobody wrote."""
    if rng.random() < 0.2:
        return line[: rng.randrange(len(line))] + b"\n"
    document = json.loads(line)
    place = document
    while isinstance(place, dict | list) and place:
        key = rng.choice(list(place) if isinstance(place, dict) else range(len(place)))
        if not isinstance(place[key], dict | list) or not place[key] or rng.random() < 0.3:
            place[key] = rng.choice(
                [None, -1, 2**70, 1e300, "", "\x00", [], {}, True, "x" * 2000, [[[[]]]], -(2**62), 0.5]
            )
            break
        place = place[key]
    return json.dumps(document).encode() + b"\n"


def test_a_log_that_cannot_be_written_now_says_so(computers):
    log = empty_log()
    log.execute("PRAGMA query_only = ON")
    taking = TakingIn(log, player=1, accepted={str(PLAYER.uuid)})
    with pytest.raises(sqlite3.OperationalError):
        taking.take_in(decoded(lines_of(computers[0].log)))


def test_what_an_older_program_kept_unread_is_read_when_a_newer_one_opens_the_log(monkeypatch):
    """Once: a program that knows the form has read all that it can."""
    computer = Computer(1)
    computer.say()
    computer.play()
    kept = b"".join(changed(line, form=FORM + 1) for line in split(computer)["fact"])
    log = gathered(kept)
    assert log.execute("SELECT kind FROM entry").fetchall() == [("unread",)]
    log.execute("UPDATE unread SET content = replace(content, ?, ?)", (f'"form": {FORM + 1}', '"form": 1'))
    read_what_was_kept(log)
    assert log.execute("SELECT kind FROM entry").fetchall() == [("fact",)]
    assert lines_of(log) == b"".join(split(computer)["fact"])
    take_in(log, b"".join(split(computer)["judgement"]))
    monkeypatch.setattr(TakingIn, "try_again", lambda _: 1 / 0)
    read_what_was_kept(log)


@pytest.mark.parametrize(
    ("name", "tune"), [("eight-string", "B2 q, C3 q, F4 q, A4 q"), ("bass", "C3 q, D3 q, E3 q, F3 q")]
)
def test_takes_on_other_numbers_of_strings_say_the_same_after_they_travelled(name, tune):
    computer, neck_map = Computer(7), standard_map(tuning=tuning_named(name))
    take = begun(tune=passage(tune), neck_map=neck_map)
    number = put_take(computer.log, take, computer.device)
    for note in notes_of(take):
        put_played(computer.log, number, note)
    computer.end(number, take)
    copy = gathered(lines_of(computer.log))
    assert told(copy) == told(computer.log)
    assert fingerprint(copy) == fingerprint(computer.log)
    (kept,) = takes_where(copy, "TRUE", ())
    assert kept.begun.neck_map.tuning == tuning_named(name)
    assert {note.home.place.string for note in kept.begun.asked.notes} >= {4 if name == "bass" else 8}
    played = copy.execute("SELECT string FROM played").fetchall()
    assert {row[0] for row in played} == {note.home.place.string for note in take.asked.notes}
