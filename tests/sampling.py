"""What is proved in many cases, or slowly: a sample of them in the default run, all of them in CI's.

    @pytest.mark.parametrize("order", sample(ORDERS, by_default=1))
    @settings(max_examples=how_many(2000, by_default=200))

`HOMEFRET_TESTS=all` runs everything, as CI does (`.ci/run`). A sample is the same on every run and every machine, so
that a red one can be repeated. Where the tests of all folders are run, a test of more than eight cases is run with five
of them; whoever names a folder, a file or a test runs all that are drawn there.
"""

import os
from collections import defaultdict
from collections.abc import Iterable
from random import Random
from typing import TypeVar

import pytest

VARIABLE = "HOMEFRET_TESTS"
_ALL = "all"
_SEED = 20261125
MANY, FEW = 8, 5
"""A test of more cases than many is run with few of them where the tests of all folders are run."""

Case = TypeVar("Case")


def runs_all() -> bool:
    """Whether everything is asked for. Raises `ValueError` for a word that asks for nothing known."""
    word = os.environ.get(VARIABLE, "")
    if word not in ("", _ALL):
        raise ValueError(f"{VARIABLE} is {word!r}: give {_ALL!r}, or leave it out for a sample of what is slow")
    return word == _ALL


def sample(cases: Iterable[Case], *, by_default: int) -> tuple[Case, ...]:
    """So many of the cases, drawn by a seed and in their own order; all of them where everything is asked for.

    Raises `ValueError` where `by_default` is not less than their number: then there is nothing to draw.
    """
    whole = tuple(cases)
    if not 0 < by_default < len(whole):
        raise ValueError(f"{by_default} of {len(whole)} cases is no sample")
    if runs_all():
        return whole
    drawn = Random(_SEED).sample(range(len(whole)), by_default)
    return tuple(whole[index] for index in sorted(drawn))


def only_where_all_is_run(why: str) -> pytest.MarkDecorator:
    """For a test that is left out of the default run; `why`, what it takes, is said where it is skipped."""
    return pytest.mark.skipif(not runs_all(), reason=f"{why}, which the default run has not: {VARIABLE}={_ALL}")


def how_many(whole: int, *, by_default: int) -> int:
    """How often something is tried: `whole` where everything is asked for."""
    return whole if runs_all() else by_default


def left_out_of(tests: Iterable[str]) -> frozenset[str]:
    """Of these names of tests, as pytest has them, those of further cases where a test has more than `MANY`; `FEW` of
    them stay. None where everything is asked for.
    """
    cases: dict[str, list[str]] = defaultdict(list)
    for name in tests:
        cases[name.partition("[")[0]].append(name)
    many = [names for names in cases.values() if len(names) > MANY and not runs_all()]
    return frozenset(name for names in many for name in {*names} - {*sample(names, by_default=FEW)})
