"""Tests mirror the program: what `game/a/b.py` does is proved in `tests/a/test_b.py`."""

import ast
from pathlib import Path

GAME = Path(__file__).parents[1] / "game"
TESTS = Path(__file__).parent

# Tests of what several modules do together, and of programs beside the game: they have no one namesake.
OF_SEVERAL_MODULES = frozenset(
    """
    test_changelog.py test_desktop.py test_developers_page.py test_mirror.py test_names.py test_sampling.py
    test_walls.py test_workers.py
    fixtures_of_november/ system/
    audio/test_written_audio.py
    coach/test_simulated_learners.py coach/test_staircases.py coach/test_students.py
    coach/test_troubled_learners.py coach/test_true_marks.py coach/test_true_reasons.py
    coach/plan/test_weeks_of_plans.py coach/plan/test_weeks_of_maps.py
    commands/test_assignment_to_report.py commands/test_in_german.py commands/test_nothing_bare.py
    commands/test_erase_from_class.py commands/test_report_of_demo.py commands/test_score_order.py
    commands/test_strange_folders.py commands/test_erase_from_school.py
    screens/test_driven_evenings.py screens/test_first_evening.py screens/test_no_hidden_keys.py
    screens/test_layout.py screens/test_one_meaning.py
    screens/test_nothing_bare.py screens/test_nothing_bare_elsewhere.py
    screens/test_whole_practice.py
    instrument/test_pickup.py judging/players/ lines/test_figures_of_lines.py judging/following/test_followed_players.py
    judging/test_timed_events.py judging/test_timed_reference.py
    practice_log/test_killed.py practice_log/test_refused.py practice_log/test_old_logs.py practice_log/test_devices.py
    practice_log/test_wrong_clocks.py practice_log/classes/test_simulated_class.py
    text/test_languages.py text/test_loose_sentences.py text/test_no_loose_sentences.py
    player/test_two_computers.py
    tunes/test_book.py tunes/test_corpus.py tunes/test_easy_heads.py tunes/test_heads.py
    tunes/test_hostile.py tunes/test_melodies.py tunes/test_studies.py
    """.split()
)


def test_every_module_with_behaviour_has_its_namesake():
    assert without_namesake() == []


def test_every_test_file_has_the_module_it_is_named_after():
    """A module that moves or goes takes its tests along."""
    assert [path for path in without_module() if not listed(path, OF_SEVERAL_MODULES)] == []


def test_the_list_of_tests_of_several_modules_holds_none_with_a_namesake():
    """Nor any that is gone."""
    alone = without_module()
    assert [entry for entry in OF_SEVERAL_MODULES if not any(path.startswith(entry) for path in alone)] == []


def without_namesake() -> list[str]:
    """Paths within `game/` of the modules with behaviour that have no test file of their name."""
    modules = (path.relative_to(GAME) for path in sorted(GAME.rglob("*.py")) if path.name != "__init__.py")
    return [
        module.as_posix()
        for module in modules
        if not (TESTS / module.parent / f"test_{module.name}").exists() and has_behaviour(GAME / module)
    ]


def without_module() -> list[str]:
    """Paths within `tests/` of the test files that have no module of their name."""
    files = (path.relative_to(TESTS) for path in sorted(TESTS.rglob("test_*.py")))
    return [file.as_posix() for file in files if not (GAME / file.parent / file.name.removeprefix("test_")).exists()]


def listed(path: str, entries: frozenset[str]) -> bool:
    return any(path == entry or (entry.endswith("/") and path.startswith(entry)) for entry in entries)


def has_behaviour(module: Path) -> bool:
    """Whether a module does something: it has a function, or a class with a method that has a body."""
    body = ast.parse(module.read_text(encoding="utf-8")).body
    classes = [statement for statement in body if isinstance(statement, ast.ClassDef)]
    return any(does_something(item) for owner in (body, *(made.body for made in classes)) for item in owner)


def does_something(item: ast.stmt) -> bool:
    """A function with more in it than its docstring and the dots of a protocol."""
    return isinstance(item, ast.FunctionDef) and not all(
        isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant) for statement in item.body
    )
