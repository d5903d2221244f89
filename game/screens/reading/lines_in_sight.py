"""Which lines of a still page are in sight, and when they are turned. Pure."""

from collections.abc import Sequence

Rows = tuple[int | None, ...]


def turned(before: Rows, rows: int, lines: int, reading: int, ahead: Sequence[int]) -> Rows:
    """The line in each of so many `rows` of a page of `lines`, None for an empty row.

    `reading` is the line being read and `ahead` the lines of the bars that are played next. The line being read stays
    where it is and those after it stand below it. What has been left is replaced when a bar ahead is not in sight: with
    two bars ahead, at the last bar but one.
    """
    if lines <= rows:
        return tuple(range(lines))
    shown = list(before) if reading in before and len(before) == rows else _page_of(reading, rows, lines)
    at = shown.index(reading)
    shown[at:] = [_line(reading + below, lines) for below in range(rows - at)]
    kept = {reading}
    for line in ahead:
        if line in shown:
            kept.add(line)
            continue
        free = [row for row in range(rows) if shown[row] not in kept]
        for after, row in enumerate(free):
            shown[row] = _line(line + after, lines)
        break
    return tuple(shown)


def _page_of(line: int, rows: int, lines: int) -> list[int | None]:
    first = line - line % rows
    return [_line(first + row, lines) for row in range(rows)]


def _line(index: int, lines: int) -> int | None:
    return index if index < lines else None
