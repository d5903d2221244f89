"""One word for one thing: no two modules and no two public classes of the program share a name."""

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import game

GAME = Path(game.__file__).parent
MODULES = [path for path in sorted(GAME.rglob("*.py")) if not path.name.startswith("__")]


def test_no_two_modules_have_the_same_name():
    """So that whoever looks for one finds one."""
    assert shared((path.name, path) for path in MODULES) == {}


def test_no_two_public_classes_have_the_same_name():
    """Nor does a reader have to ask which of them is meant."""
    assert shared((name, path) for path in MODULES for name in classes_of(path)) == {}


def shared(named: Iterator[tuple[str, Path]]) -> dict[str, list[str]]:
    """The names that stand in more than one place, with their places within `game/`."""
    places = defaultdict(list)
    for name, path in named:
        places[name].append(path.relative_to(GAME).as_posix())
    return {name: where for name, where in places.items() if len(where) > 1}


def classes_of(path: Path) -> Iterator[str]:
    """The names of the public classes at the top of a module."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield node.name
