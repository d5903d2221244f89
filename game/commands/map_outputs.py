"""What `homefret map` writes: a chart to print, or the map itself, each whole or not at all."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

from game.assignments.assignment import AssignmentError
from game.assignments.assignment_reader import assignment_text
from game.assignments.map_file import MAP_ENDING, map_from_text, map_text
from game.errors import MapError, reason_of
from game.message import Message, message
from game.neck.neck_map import NeckMap
from game.paths import write_whole_file

if TYPE_CHECKING:
    from game.report.map_chart import ChartStyle

CHART_ENDINGS: Final = (".png", ".pdf", ".svg")


def is_chart(out: Path | None) -> bool:
    """Whether a name is that of a chart."""
    return out is not None and out.suffix.lower() in CHART_ENDINGS


def is_map_file(out: Path | None) -> bool:
    """Whether a name is that of a map file."""
    return out is not None and out.suffix.lower() == MAP_ENDING


def faults_of_name(out: Path) -> list[Message]:
    """What is wrong with the name of a file to write."""
    if not is_chart(out) and not is_map_file(out):
        return [message("command.map.no_chart_ending", out=out)]
    if not out.absolute().parent.is_dir():
        return [_not_written(out, message("system.not_there"))]
    if is_map_file(out) and out.exists() and _map_there(out) is None:
        return [message("command.map.file_is_no_map", out=out)]
    return []


def write_chart(neck_map: NeckMap, out: Path, style: "ChartStyle") -> None:
    """Write the chart, over another one, too. Raises `MapError` where it cannot be written."""
    from game.report import map_chart  # noqa: PLC0415 - the drawing library is slow to load

    try:
        map_chart.write_chart(neck_map, out, style)
    except OSError as error:
        raise MapError(_not_written(out, reason_of(error))) from error


def write_map(neck_map: NeckMap, out: Path, read_from: Path | None) -> None:
    """Write the map file. Over a file that is there only where nothing is lost by it: where it holds the same map, or
    is the one that was `read_from`, and nobody wrote remarks into it. Raises `MapError`.
    """
    if out.exists():
        there = _map_there(out)
        same_file = read_from is not None and read_from.exists() and out.samefile(read_from)
        if there is None:
            raise MapError("command.map.file_is_no_map", out=out)
        if not same_file and there != neck_map:
            raise MapError("command.map.file_is_other_map", out=out)
        if _rows(assignment_text(out)) != _rows(map_text(there)):
            raise MapError("command.map.file_by_hand", out=out)
    try:
        write_whole_file(out, map_text(neck_map).encode("utf-8"))
    except OSError as error:
        raise MapError(_not_written(out, reason_of(error))) from error


def _map_there(path: Path) -> NeckMap | None:
    """The map in a file, None where it holds none."""
    try:
        return map_from_text(assignment_text(path))
    except (AssignmentError, MapError):
        return None


def _rows(text: str) -> list[str]:
    """The lines of a map file without the remark that we put above them, in whatever language."""
    rows = text.splitlines()
    return rows[1:] if rows[:1] and rows[0].startswith("#") else rows


def _not_written(out: Path, reason: Message) -> Message:
    return message(
        "command.map.map_not_written" if is_map_file(out) else "command.map.chart_not_written", out=out, strerror=reason
    )
