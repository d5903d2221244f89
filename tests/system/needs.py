"""What system tests need beside Python: where it is missing a test is skipped with a reason, but never in
CI.
"""

import ctypes.util
import importlib.util
import os
import shutil
from pathlib import Path
from typing import NoReturn

import pytest


def require(program: str, *, package: str) -> str:
    """The path of `program`; where it is missing, skips the test, or fails it when `CI` is set."""
    path = shutil.which(program)
    return path or _missing(f"{program} is not installed (Debian package {package})")


def require_module(module: str, *, package: str) -> None:
    """The same for a Python module that has no wheel for every Python we run on."""
    if importlib.util.find_spec(module) is None:
        _missing(f"the module {module} is not installed (package {package})")


def require_library(library: str, *, package: str) -> None:
    """The same for a library of the system."""
    if ctypes.util.find_library(library) is None:
        _missing(f"the library {library} is not installed (Debian package {package})")


def require_file(pattern: str, *, package: str) -> Path:
    """The same for a file that a Debian package brings, by its pattern below `/usr`."""
    found = next(Path("/usr").glob(pattern), None)
    return found or _missing(f"/usr/{pattern} is not there (Debian package {package})")


def _missing(reason: str) -> NoReturn:
    if os.environ.get("CI"):
        pytest.fail(f"{reason}, and in CI nothing is skipped")
    pytest.skip(reason)
