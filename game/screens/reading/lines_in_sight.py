"""Which lines of a still page are in sight, and when they are turned. Pure."""

from collections.abc import Sequence

Rows = tuple[int | None, ...]


def turned(
    before: Rows, rows: int, lines: int, reading: int, ahead: Sequence[int], *, just_begun: bool = False
) -> Rows:
    """The line in each of so many `rows` of a page of `lines`, None for an empty row.

    `reading` is the line being read and `ahead` the lines of the bars that are played next. The line being read stays
    where it is, and those after it come below it, though not while it has `just_begun`: what is pencilled in the line
    just left is still to be seen. What has been left is replaced when a bar ahead is not in sight: with two bars ahead,
    at the last bar but one. Where nothing more follows, what has been left stays.
    """
    if lines <= rows:
        return tuple(range(lines))
    shown = list(before) if reading in before and len(before) == rows else _page_of(reading, rows, lines)
    at = shown.index(reading)
    if not just_begun:
        _put(shown, range(at + 1, rows), reading + 1, lines)
    kept = {reading}
    for line in ahead:
        if line in shown:
            kept.add(line)
            continue
        _put(shown, [row for row in range(rows) if shown[row] not in kept], line, lines)
        break
    return tuple(shown)


def _put(shown: list[int | None], rows: Sequence[int], line: int, lines: int) -> None:
    """A line and those after it into rows, as far as there are any."""
    for row, following in zip(rows, range(line, lines), strict=False):
        shown[row] = following


def _page_of(line: int, rows: int, lines: int) -> list[int | None]:
    first = line - line % rows
    return [index if index < lines else None for index in range(first, first + rows)]
