"""Writes the published schemas of all answers, after a change to `game/commands/answers`: `python -m
game.commands.make_schemas`.
"""

import json
from inspect import cleandoc
from pathlib import Path
from typing import Any

import msgspec

from game.commands.answers.add_answer import AddAnswer
from game.commands.answers.assign_answer import AssignAnswer
from game.commands.answers.demo_answer import DemoAnswer
from game.commands.answers.devices_answer import DevicesAnswer
from game.commands.answers.erase_answer import EraseAnswer
from game.commands.answers.gather_answer import GatherAnswer
from game.commands.answers.kinds import Answer
from game.commands.answers.line_answer import LineAnswer
from game.commands.answers.log_answer import LogAnswer
from game.commands.answers.map_answer import MapAnswer
from game.commands.answers.players_answer import PlayersAnswer
from game.commands.answers.print_answer import PrintAnswer
from game.commands.answers.report_answer import ReportAnswer
from game.commands.answers.school_answer import SchoolAnswer
from game.commands.answers.score_answer import ScoreAnswer
from game.commands.answers.take_answer import DayAnswer, TakeAnswer
from game.paths import shipped

ANSWERS: dict[str, tuple[type[Answer], ...]] = {
    "add": (AddAnswer,),
    "assign": (AssignAnswer,),
    "demo": (DemoAnswer,),
    "devices": (DevicesAnswer,),
    "erase": (EraseAnswer,),
    "gather": (GatherAnswer,),
    "line": (LineAnswer,),
    "log": (LogAnswer,),
    "map": (MapAnswer,),
    "players": (PlayersAnswer,),
    "print": (PrintAnswer,),
    "report": (ReportAnswer,),
    "school": (SchoolAnswer,),
    "score": (ScoreAnswer,),
    "take": (TakeAnswer, DayAnswer),
}
"""What each command may answer: one of these."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(command: str) -> dict[str, Any]:
    """The schema of what a command answers (JSON Schema, draft 2020-12). Raises `KeyError` for no command of ours."""
    found = msgspec.json.schema_components(ANSWERS[command], ref_template="#/$defs/{name}")
    may_be, parts = _with_clean_descriptions(found)
    whole: dict[str, Any] = {"oneOf": list(may_be)}
    if len(may_be) == 1:
        whole = parts.pop(ANSWERS[command][0].__name__)
        del whole["title"]
    head = {"$schema": DIALECT, "title": f"Answer of homefret {command} --json"}
    return {**head, **whole, "$defs": parts} if parts else {**head, **whole}


def _with_clean_descriptions(part: Any) -> Any:
    """The same without the indentation of docstrings, which msgspec kept before its version 0.23."""
    if isinstance(part, dict):
        cleaned = {name: _with_clean_descriptions(value) for name, value in part.items()}
        if isinstance(part.get("description"), str):
            cleaned["description"] = cleandoc(part["description"])
        return cleaned
    return [_with_clean_descriptions(one) for one in part] if isinstance(part, list | tuple) else part


def schema_text(command: str) -> str:
    """The schema as its file has it."""
    return json.dumps(schema_of(command), indent=2, ensure_ascii=False) + "\n"


def path_of(command: str) -> Path:
    """Where the schema of a command is published."""
    return shipped("content", "schemas", f"{command}.schema.json")


def main() -> None:
    """Write them all."""
    for command in ANSWERS:
        path_of(command).write_text(schema_text(command), encoding="utf-8")


if __name__ == "__main__":
    main()
