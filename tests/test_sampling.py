"""The default run takes a sample of what is slow or many; `HOMEFRET_TESTS=all` takes everything."""

import pytest

from tests.sampling import FEW, MANY, VARIABLE, how_many, left_out_of, only_where_all_is_run, runs_all, sample

CASES = tuple(range(40))


@pytest.fixture(autouse=True)
def nothing_asked(monkeypatch):
    monkeypatch.delenv(VARIABLE, raising=False)


def test_by_default_so_many_cases_are_drawn_the_same_each_time_and_in_their_order():
    drawn = sample(CASES, by_default=7)
    assert len(drawn) == 7
    assert drawn == tuple(sorted(set(drawn) & set(CASES)))
    assert drawn == sample(iter(CASES), by_default=7)


def test_where_everything_is_asked_for_all_cases_come(monkeypatch):
    monkeypatch.setenv(VARIABLE, "all")
    assert runs_all()
    assert sample(CASES, by_default=7) == CASES
    assert how_many(900, by_default=30) == 900


def test_by_default_things_are_tried_less_often():
    assert not runs_all()
    assert how_many(900, by_default=30) == 30


def named(test, cases):
    return [f"tests/test_a.py::{test}[{case}]" for case in range(cases)]


def test_of_a_test_with_many_cases_a_few_are_kept_and_all_of_one_with_fewer():
    some, many = named("test_some", MANY), named("test_many", MANY + 1)
    left_out = left_out_of(["tests/test_a.py::test_one", *some, *many])
    assert left_out < set(many)
    assert len(many) - len(left_out) == FEW
    assert left_out == left_out_of(many)


def test_where_everything_is_asked_for_no_case_is_left_out(monkeypatch):
    monkeypatch.setenv(VARIABLE, "all")
    assert left_out_of(named("test_many", 100)) == frozenset()


def test_what_takes_too_long_is_skipped_by_default_and_says_how_to_run_it(monkeypatch):
    marked = only_where_all_is_run("it takes a minute")
    assert marked.args == (True,)
    assert marked.kwargs["reason"] == "it takes a minute, which the default run has not: HOMEFRET_TESTS=all"
    monkeypatch.setenv(VARIABLE, "all")
    assert only_where_all_is_run("it takes a minute").args == (False,)


def test_another_word_is_no_silent_sample(monkeypatch):
    monkeypatch.setenv(VARIABLE, "ALL")
    with pytest.raises(ValueError, match="HOMEFRET_TESTS is 'ALL': give 'all', or leave it out"):
        runs_all()


@pytest.mark.parametrize("by_default", [0, 40, 41])
def test_a_sample_of_all_or_of_none_is_a_mistake_in_the_test(by_default):
    with pytest.raises(ValueError, match=f"{by_default} of 40 cases is no sample"):
        sample(CASES, by_default=by_default)
