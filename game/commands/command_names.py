"""The names of the commands, apart from their parsers: the game is not to wait for those."""

from typing import Final

COMMANDS: Final = (
    "demo",
    "score",
    "map",
    "take",
    "line",
    "add",
    "devices",
    "report",
    "assign",
    "log",
    "players",
    "erase",
    "print",
    "gather",
    "school",
)
