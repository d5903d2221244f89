"""The reports of the players in a file that somebody handed over."""

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from game.errors import LogError
from game.practice_log.database.opening import log_in_memory, players_in
from game.practice_log.foreign.plain_files import is_packed
from game.practice_log.foreign.read_export import read_export
from game.practice_log.queries.figures import figures_of
from game.report.pencilled_takes import pencilled_takes
from game.report.student import StudentReport, student_report


def reports_of(path: Path) -> Iterator[StudentReport]:
    """The report of each player in an export or a log. Raises `LogError` for a file that cannot be read."""
    if path.suffix.lower() == ".sqlite" and not is_packed(path):
        with log_in_memory(path) as connection:
            for player in players_in(connection):
                with figures_of(connection, player.uuid) as figures:
                    report = student_report(figures, player.name or path.stem)
                    report = _with_pages(report, connection, player.uuid)
                if report is not None:
                    yield report
        return
    connection, contents = read_export(path)
    with closing(connection), figures_of(connection, contents.player.uuid) as figures:
        report = student_report(figures, contents.player.name or path.stem)
        report = _with_pages(report, connection, contents.player.uuid)
    if report is None:
        raise LogError("report.nothing_judged", name=path.name)
    yield report


def _with_pages(report, log, player):
    return None if report is None else replace(report, pencilled=pencilled_takes(log, player, report.until))
