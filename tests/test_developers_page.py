"""DEVELOPERS.md and README.md name files and modules that are there, and the commands that CI runs."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PAGES = ("DEVELOPERS.md", "README.md")
# A file is named from the root, from `game/`, or beside one named just before it in the same paragraph.
_FILE = re.compile(r"`((?:[\w.-]+/)*[\w*.-]+\.(?:py|po|toml|md|musicxml))`")
_MODULE = re.compile(r"python -m ((?:game|tests)(?:\.\w+)+)")


def named(page: str) -> list[tuple[str, str]]:
    """Each file that is named, with its paragraph."""
    paragraphs = (ROOT / page).read_text(encoding="utf-8").split("\n\n")
    return [(name, paragraph) for paragraph in paragraphs for name in _FILE.findall(paragraph)]


def is_there(name: str, paragraph: str) -> bool:
    folders = {ROOT, ROOT / "game"}
    folders |= {ROOT / base / folder for folder in re.findall(r"`((?:[\w]+/)+)", paragraph) for base in ("", "game")}
    return any(any(folder.glob(name)) for folder in folders)


@pytest.mark.parametrize("page", PAGES)
def test_every_file_that_is_named_is_there(page):
    assert [name for name, paragraph in named(page) if not is_there(name, paragraph)] == []


@pytest.mark.parametrize("page", PAGES)
def test_every_module_that_is_to_be_run_is_there(page):
    modules = _MODULE.findall((ROOT / page).read_text(encoding="utf-8"))
    assert [name for name in modules if not ROOT.joinpath(*name.split(".")).with_suffix(".py").exists()] == []


def test_every_room_of_the_house_is_on_the_map():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rooms = {path.name for path in (ROOT / "game").iterdir() if path.is_dir() or path.suffix == ".py"}
    missing = [room for room in rooms - {"__pycache__", "__init__.py"} if f"`{room}" not in text]
    assert missing == []


def test_the_commands_are_those_that_ci_runs():
    """Word for word; the test command is README's."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    block = text.split("```sh\n")[1].split("```")[0].splitlines()
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert block[0] in readme
    assert [line for line in block[1:] if line not in ci] == []
