"""Names of files and folders on the command line, for `argparse`. An empty one, of a variable that nobody set, is told:
`Path` would take it for the folder where one stands.
"""

import argparse
from pathlib import Path

from game.text.catalogue import say


def path_given(text: str) -> Path:
    """A file or folder."""
    return Path(name_given(text))


def name_given(text: str) -> str:
    """The name of a file or folder, or the address of a database."""
    if not text:
        raise argparse.ArgumentTypeError(say("command.option.empty"))
    return text
