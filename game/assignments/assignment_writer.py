"""Writes an assignment as the file that `game.assignments.assignment_reader` reads."""

from collections.abc import Sequence

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment
from game.assignments.map_table import map_rows, quoted
from game.coach.stages import Stage


def assignment_text(assignment: Assignment) -> str:
    """The assignment in TOML. What was left open is left out."""
    rows = [f"title = {quoted(assignment.title)}"]
    if assignment.note:
        rows.append(f"note = {quoted(assignment.note)}")
    if assignment.due:
        rows.append(f"due = {assignment.due.isoformat()}")
    if assignment.neck_map:
        rows += ["", *map_rows(assignment.neck_map)]
    for tune in assignment.tunes:
        rows += ["", "[[tune]]", *_tune_rows(tune)]
    for line in assignment.lines:
        rows += ["", "[[line]]", *_line_rows(line)]
    return "\n".join(rows) + "\n"


def _tune_rows(tune: AssignedTune) -> list[str]:
    named = f"title = {quoted(tune.title)}" if tune.title else f"file = {quoted(tune.file_name)}"
    bars = [f"bars = [{tune.bars[0]}, {tune.bars[1]}]"] if tune.bars else []
    return [named, *bars, *_asked_rows(tune.stages, tune.target_bpm)]


def _line_rows(line: AssignedLines) -> list[str]:
    return [f"level = {line.level}", f"a_day = {line.a_day}", *_asked_rows(line.stages, line.target_bpm)]


def _asked_rows(stages: Sequence[Stage], target_bpm: int | None) -> list[str]:
    rows = [f"stages = [{', '.join(quoted(stage.value) for stage in stages)}]"] if stages else []
    return [*rows, f"tempo = {target_bpm}"] if target_bpm else rows
