"""The chart of the map, written where people keep what they want to print, and never over another file."""

from itertools import count
from pathlib import Path, PurePath, PureWindowsPath
from typing import Final

from game.assignments.map_file import MAP_ENDING, map_text
from game.errors import reason_of
from game.music.names import NoteNames
from game.neck.neck_map import NeckMap, roman
from game.player.settings import Settings
from game.screens.setup.answered_beside import AnsweredBeside
from game.text.catalogue import say

_DOCUMENTS = "Documents"
"""What desktops call the folder, whatever they show it as; without it the chart lies beside it."""


MOST_SHOWN: Final = 48
"""Characters of a folder, which a message has room for in a line."""


class ChartPrinting:
    """A chart written beside the picture, one at a time."""

    def __init__(self) -> None:
        self._printing: AnsweredBeside[Path] | None = None

    def begin(self, neck_map: NeckMap, settings: Settings) -> bool:
        """Begin with the chart of a map, as these settings show it; whether none is being drawn already."""
        if self._printing is not None:
            return False
        self._printing = AnsweredBeside(
            lambda: write_printed_chart(
                neck_map, settings.note_names, left_handed=settings.left_handed, capo=settings.capo_in_use
            )
        )
        return True

    def wait(self) -> None:
        """Until it is drawn, or could not be."""
        if self._printing is not None:
            self._printing.wait()

    def told(self) -> str:
        """Once, where the chart lies, or why it could not be written; empty while there is nothing to tell."""
        if self._printing is None or not self._printing.there:
            return ""
        printing, self._printing = self._printing, None
        try:
            path = printing.answer()
            return say("map.printed", name=path.name, folder=shown_folder(path.parent))
        except OSError as error:
            return say("map.not_printed", reason=reason_of(error))


def write_printed_chart(neck_map: NeckMap, names: NoteNames, *, left_handed: bool = False, capo: int = 0) -> Path:
    """Write the chart as a page to print, and beside it the map as a file to hand on; returns where the chart lies.
    Takes seconds. Raises `OSError` where it cannot be written.
    """
    # Drawing for print brings a large library with it, which nothing else on screen wants.
    from game.report.map_chart import ChartStyle, write_beside, write_chart  # noqa: PLC0415

    path = free_name(_folder(), "homefret-" + "-".join(roman(position) for position in neck_map.positions))
    write_chart(neck_map, path, ChartStyle(names=names, left_handed=left_handed, capo=capo))
    write_beside(path, MAP_ENDING, map_text(neck_map))
    return path


def free_name(folder: Path, name: str) -> Path:
    """A PDF of that name in a folder or, where there is one or a map file, the first with a number that is not there
    yet.
    """
    names = (name if number == 1 else f"{name}-{number}" for number in count(1))
    return next(
        path
        for one in names
        if not (path := folder / f"{one}.pdf").exists() and not path.with_suffix(MAP_ENDING).exists()
    )


def _folder() -> Path:
    documents = Path.home() / _DOCUMENTS
    return documents if documents.is_dir() else Path.home()


def shown_folder(folder: PurePath) -> str:
    """A folder as it is told: whole, or by its beginning and its last folders where it is longer than `MOST_SHOWN`."""
    told = str(folder)
    if len(told) <= MOST_SHOWN:
        return told
    begin, last = f"{folder.anchor}…", ""
    slash = "\\" if isinstance(folder, PureWindowsPath) else "/"
    for part in reversed(folder.parts[1:]):
        longer = f"{slash}{part}{last}"
        if len(begin) + len(longer) > MOST_SHOWN:
            break
        last = longer
    if last:
        return begin + last
    half = (MOST_SHOWN - 1) // 2
    return f"{told[:half]}…{told[-half:]}"
