"""Tests that drive the program in real time must not share the clock with others of their kind."""

import os

import pytest


@pytest.mark.xdist_group("told")
def test_the_tests_of_a_group_are_sent_to_one_worker(request):
    """pytest-xdist tells groups by what it adds to the name of a test; some versions of pytest hide that from it."""
    several = "PYTEST_XDIST_WORKER" in os.environ
    assert request.node.nodeid.endswith("@told") is several
