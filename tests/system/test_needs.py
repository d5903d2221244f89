"""A system test that lacks a program is skipped with a reason, and fails in CI."""

import pytest

from tests.system.needs import require, require_library, require_module


def test_a_program_that_is_there_is_found():
    assert require("sh", package="dash").endswith("sh")


def test_without_ci_a_missing_program_is_a_skip_that_names_its_package(monkeypatch):
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match=r"no-such-program is not installed \(Debian package nothing\)"):
        require("no-such-program", package="nothing")


def test_a_library_of_the_system_is_asked_for_in_the_same_way(monkeypatch):
    monkeypatch.delenv("CI", raising=False)
    require_library("c", package="libc6")
    with pytest.raises(pytest.skip.Exception, match="the library no-such-library"):
        require_library("no-such-library", package="nothing")


def test_in_ci_a_missing_program_or_module_is_a_failure(monkeypatch):
    monkeypatch.setenv("CI", "1")
    with pytest.raises(pytest.fail.Exception, match="in CI nothing is skipped"):
        require("no-such-program", package="nothing")
    with pytest.raises(pytest.fail.Exception, match="the module no_such_module"):
        require_module("no_such_module", package="nothing")
