"""The words of `homefret assign` whose order counts: `--stage` and `--tempo` belong to the `--tune` or `--lines` before
them, before the first of these to all.
"""

import argparse
from typing import Any

from game.assignments.from_words import PartInWords
from game.text.catalogue import say


def add_part_words(parser: argparse.ArgumentParser) -> None:
    """`--tune --lines --stage --tempo`. They leave `parts` and `everywhere`."""
    parser.set_defaults(parts=None, everywhere=None)
    parser.add_argument(
        "--tune", action=_Part, kind="tune", metavar=say("metavar.assigned_tune"), help=say("command.assign.tune")
    )
    parser.add_argument(
        "--lines", action=_Part, kind="line", metavar=say("metavar.assigned_lines"), help=say("command.assign.lines")
    )
    parser.add_argument("--stage", action=_OfPart, metavar="S[,S]", help=say("command.assign.stage"))
    parser.add_argument("--tempo", action=_OfPart, metavar="BPM", help=say("command.assign.tempo"))


class _Part(argparse.Action):
    """`--tune` and `--lines` begin a part of the assignment."""

    def __init__(self, *args: Any, kind: str, **more: Any) -> None:
        super().__init__(*args, **more)
        self._kind = kind

    def __call__(self, parser: Any, namespace: argparse.Namespace, values: Any, option_string: Any = None) -> None:
        del parser, option_string
        namespace.parts = [*(namespace.parts or ()), PartInWords(self._kind, values)]


class _OfPart(argparse.Action):
    """`--stage` and `--tempo` belong to the part before them, before the first part to all."""

    def __call__(self, parser: Any, namespace: argparse.Namespace, values: Any, option_string: Any = None) -> None:
        del parser
        if not namespace.parts:
            namespace.everywhere = namespace.everywhere or PartInWords("", "")
        part = namespace.parts[-1] if namespace.parts else namespace.everywhere
        if option_string == "--tempo":
            part.tempo = values
        else:
            part.stages = [*part.stages, *(word.strip() for word in values.split(","))]
