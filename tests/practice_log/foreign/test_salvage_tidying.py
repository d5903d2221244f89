"""What was saved in part is made consistent: nothing refers to what is gone."""

from contextlib import closing

import pytest

from game.practice_log.database.known_tables import empty_log
from game.practice_log.foreign.readable_rows import Gap
from game.practice_log.foreign.salvage_tidying import tidy

TAKE = (
    "INSERT INTO take VALUES ({take}, 1, {take}, 1, '', 1, 1, 1, 1, '', '', NULL, '1', 1, 1, 1, 1, NULL, 0, 1, 0, "
    "NULL, 0)"
)


@pytest.fixture
def log():
    """Three takes of three notes, each judged, on one device by one player."""
    with closing(empty_log(without_rules=True)) as log:
        for statement in (
            "INSERT INTO device VALUES (1, 'd', '')",
            "INSERT INTO player VALUES (1, 'p', '')",
            "INSERT INTO bars VALUES (1, '', '', '', '', 0, 1)",
            "INSERT INTO neck_map VALUES (1, 5, '', '', 20, '', '')",
            "INSERT INTO asked VALUES (1, '', '')",
            "INSERT INTO instrument VALUES (1, '', '')",
            "INSERT INTO source VALUES (1, '')",
        ):
            log.execute(statement)
        for take in (1, 2, 3):
            log.execute(TAKE.format(take=take))
            entries = [(1, 2 * take, 0, 0, 1, "take", take, 0), (1, 2 * take + 1, 0, 0, 1, "judgement", take, 0)]
            log.execute("INSERT INTO judgement VALUES (?, ?, 1, '', '')", (take, take))
            log.executemany("INSERT INTO entry VALUES (NULL, ?, ?, ?, ?, ?, ?, ?, ?)", entries)
            for i in (1, 2, 3):
                log.execute("INSERT INTO played VALUES (?, ?, 0, 60, NULL, NULL, 90, 1, 1)", (take, i))
                log.execute("INSERT INTO verdict VALUES (?, ?, 'clean', NULL, 0, NULL, NULL)", (take, i))
                log.execute("INSERT INTO answer VALUES (?, ?, 0, ?, 60)", (take, i, i))
        yield log


def column(log, statement):
    return [value for (value,) in log.execute(statement)]


def saved(log, **gaps):
    left = tidy(log, gaps)
    return left.takes, left.takes_lost, left.takes_in_part


def test_a_log_that_hangs_together_stays_as_it_is(log):
    before = list(log.iterdump())
    assert saved(log) == (3, 0, 0)
    assert list(log.iterdump()) == before


def test_a_take_that_is_gone_takes_along_all_that_was_done_in_it(log):
    log.execute("DELETE FROM take WHERE take = 2")
    assert saved(log, take=[Gap((1,), 3)]) == (2, 1, 0)
    assert set(column(log, "SELECT take FROM played")) == {1, 3} == set(column(log, "SELECT take FROM judgement"))
    assert column(log, "SELECT kind || row FROM entry ORDER BY entry") == ["take1", "judgement1", "take3", "judgement3"]
    assert set(column(log, "SELECT judgement FROM answer")) == {1, 3}


def test_of_a_take_the_notes_before_the_gap_stay_and_its_judgement_goes(log):
    log.execute("DELETE FROM played WHERE take = 2 AND i = 2")
    assert saved(log, played=[Gap((2, 1), 3)]) == (3, 0, 2)
    assert column(log, "SELECT i FROM played WHERE take = 2") == [1]
    assert column(log, "SELECT take FROM judgement") == [1, 3]


def test_a_judgement_of_which_a_verdict_may_be_gone_goes(log):
    log.execute("DELETE FROM verdict WHERE judgement = 2 AND n = 3")
    assert saved(log, verdict=[Gap((2, 2), 3)]) == (3, 0, 2)
    assert column(log, "SELECT judgement FROM judgement") == [1]
    assert set(column(log, "SELECT judgement FROM verdict")) == {1}


def test_a_judgement_that_is_gone_leaves_its_take_in_part(log):
    log.execute("DELETE FROM judgement WHERE judgement = 3")
    assert saved(log, judgement=[Gap((2,), None)]) == (3, 0, 1)
    assert column(log, "SELECT row FROM entry WHERE kind = 'judgement'") == [1, 2]


def test_a_take_whose_entry_is_gone_has_no_key_and_goes(log):
    log.execute("DELETE FROM entry WHERE kind = 'take' AND row = 3")
    assert saved(log, entry=[Gap((4,), 6)]) == (2, 1, 0)


def test_notes_asked_in_part_take_their_takes_along(log):
    assert saved(log, asked_note=[Gap((1, 3), None)]) == (0, 3, 0)


def test_what_the_coach_heard_is_there_with_what_was_decided_or_not_at_all(log):
    log.execute("INSERT INTO coach_event VALUES (1, 1, 1, '', 'x', '', 1, 1, NULL, 1, NULL, NULL, NULL, NULL)")
    log.execute("INSERT INTO entry VALUES (NULL, 1, 99, 0, 0, 1, 'coach', 1, 0)")
    assert saved(log, decision=[Gap((), None)]) == (3, 0, 0)
    assert column(log, "SELECT 1 FROM coach_event") == [] == column(log, "SELECT 1 FROM entry WHERE kind = 'coach'")


@pytest.mark.parametrize("before", [2, None])
def test_help_after_a_gap_is_not_taken_for_all_the_help_of_its_take(log, before):
    log.execute("INSERT INTO help VALUES (2, 2, 1, 'place', 0), (3, 2, 2, 'place', 0), (4, 3, 1, 'place', 0)")
    takes_in_part = saved(log, help=[Gap((), before)])[2]
    if before is None:
        assert takes_in_part == 1
    else:
        assert (takes_in_part, column(log, "SELECT help FROM help")) == (1, [4])


def test_a_revision_of_a_note_that_is_gone_goes(log):
    log.execute("INSERT INTO revised VALUES (1, 1, 1, 0, 0, 60, NULL, NULL, 1), (2, 2, 9, 0, 0, 60, NULL, NULL, 1)")
    saved(log)
    assert column(log, "SELECT revised FROM revised") == [1]
