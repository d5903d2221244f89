"""The walls of the house hold: an import planted against an arrow is found by the contracts that CI checks."""

import shutil
import subprocess
import sys
import tomllib
from copy import deepcopy
from itertools import combinations
from pathlib import Path

import grimp
import importlinter.configuration
import pytest
from importlinter.contracts.forbidden import ForbiddenContract
from importlinter.contracts.layers import LayersContract

from tests.sampling import sample

importlinter.configuration.configure()
ROOT = Path(__file__).resolve().parents[1]
CONFIG = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
CONTRACTS = {contract["id"]: contract for contract in CONFIG["contracts"]}
STOREYS = [[room.strip() for room in layer.split("|")] for layer in CONTRACTS["layers"]["layers"]]
ROOMS = [room for storey in STOREYS for room in storey]
# Each pair of rooms, the upper one first; rooms of one storey may not know each other either.
PAIRS = [(upper, lower) for upper, lower in combinations(ROOMS, 2)]
PURE = [(room, what) for room in CONTRACTS["pure"]["source_modules"] for what in CONTRACTS["pure"]["forbidden_modules"]]


@pytest.fixture(scope="module")
def graph():
    return grimp.build_graph("game", include_external_packages=True, cache_dir=None)


def kept(graph, name: str) -> bool:
    options = {
        key: str(value) if isinstance(value, bool) else value
        for key, value in CONTRACTS[name].items()
        if key not in ("id", "name", "type")
    }
    kind = LayersContract if CONTRACTS[name]["type"] == "layers" else ForbiddenContract
    session = {"root_packages": ["game"], "include_external_packages": True}
    # What a contract is told to pass over it takes out of the graph it is given.
    given = deepcopy(graph) if "ignore_imports" in options else graph
    return kind(name=name, session_options=session, contract_options=options).check(given, verbose=False).kept


def module_of(graph, room: str) -> str:
    """A module with code in a room."""
    name = room if room.startswith("game.") else f"game.{room}"
    return next(iter(sorted(graph.find_descendants(name))), name)


@pytest.mark.parametrize("name", CONTRACTS)
def test_the_house_as_it_stands_keeps_its_contracts(graph, name):
    assert kept(graph, name)


def test_every_room_has_its_place_in_the_layers(graph):
    assert {f"game.{room}" for room in ROOMS} == graph.find_children("game")


def test_an_import_against_any_arrow_is_refused(graph):
    """From every room to every one above it, and to its neighbours."""
    passed = []
    for upper, lower in sample(PAIRS, by_default=60):
        importer, imported = module_of(graph, lower), module_of(graph, upper)
        graph.add_import(importer=importer, imported=imported)
        if kept(graph, "layers"):
            passed.append((lower, upper))
        graph.remove_import(importer=importer, imported=imported)
    assert passed == []
    assert len(PAIRS) > 250


def test_what_is_not_pure_is_refused_in_every_folder_of_the_core(graph):
    passed = []
    for room, what in PURE:
        importer = module_of(graph, room)
        if not graph.direct_import_exists(importer=importer, imported=what):
            known = what in graph.modules
            graph.add_import(importer=importer, imported=what)
            if kept(graph, "pure"):
                passed.append((room, what))
            graph.remove_import(importer=importer, imported=what)
            if not known:
                graph.remove_module(what)
    assert passed == []


def test_a_chain_over_another_folder_is_found_too(graph):
    """Not only what stands in the file itself."""
    graph.add_import(importer="game.errors", imported="pygame")
    assert not kept(graph, "pure")
    graph.remove_import(importer="game.errors", imported="pygame")


def test_a_new_folder_without_a_place_is_refused(graph):
    graph.add_module("game.cellar")
    assert not kept(graph, "layers")
    graph.remove_module("game.cellar")


def test_the_command_that_ci_runs_sees_a_planted_file(tmp_path):
    """The whole way, on a copy: files, command, exit status."""
    shutil.copytree(ROOT / "game", tmp_path / "game", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    with (tmp_path / "game" / "music" / "keys.py").open("a", encoding="utf-8") as file:
        file.write("\nfrom game.neck import tuning\n")
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command as run; run()", "--no-cache"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert "game.music.keys -> game.neck.tuning" in done.stdout


def test_the_house_stays_small_enough_to_be_seen_at_once(graph):
    """At most 15 layers and 150 arrows among its rooms (ours: more, and nobody holds it in their head)."""
    rooms = {f"game.{room}" for room in ROOMS}
    arrows = {
        (importer.split(".")[1], imported.split(".")[1])
        for importer in graph.modules
        for imported in graph.find_modules_directly_imported_by(importer)
        if importer.count(".") and imported.startswith("game.")
    }
    between = {(above, below) for above, below in arrows if above != below and f"game.{below}" in rooms}
    assert len(STOREYS) <= 15
    assert len(between) <= 150
