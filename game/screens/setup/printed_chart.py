"""The chart of the map, written where people keep what they want to print, and never over another file."""

from itertools import count
from pathlib import Path

from game.music.names import NoteNames
from game.neck.neck_map import NeckMap, roman

_DOCUMENTS = "Documents"
"""What desktops call the folder, whatever they show it as; without it the chart lies beside it."""


def write_printed_chart(neck_map: NeckMap, names: NoteNames, *, left_handed: bool = False, capo: int = 0) -> Path:
    """Write the chart as a page to print and return where it lies. Takes seconds. Raises `OSError` where it cannot be
    written.
    """
    # Drawing for print brings a large library with it, which nothing else on screen wants.
    from game.report.map_chart import ChartStyle, write_chart  # noqa: PLC0415

    path = free_name(_folder(), "homefret-" + "-".join(roman(position) for position in neck_map.positions))
    write_chart(neck_map, path, ChartStyle(names=names, left_handed=left_handed, capo=capo))
    return path


def free_name(folder: Path, name: str) -> Path:
    """A PDF of that name in a folder or, where there is one, the first with a number that is not there yet."""
    names = (name if number == 1 else f"{name}-{number}" for number in count(1))
    return next(path for one in names if not (path := folder / f"{one}.pdf").exists())


def _folder() -> Path:
    documents = Path.home() / _DOCUMENTS
    return documents if documents.is_dir() else Path.home()
