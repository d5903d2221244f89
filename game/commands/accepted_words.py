"""Whether words that set an assignment would be taken: asked of the command itself, before anybody is shown them."""

from collections.abc import Callable, Sequence

from game.commands.assign_command import assignment_meant
from game.commands.parser import command_parser
from game.errors import HomefretError


def accepts_words() -> Callable[[Sequence[str]], bool]:
    """A function that says of words behind `homefret` whether `homefret assign` would take them today, wherever its
    file goes. What was asked before is not asked again.
    """
    parser = command_parser(["assign"])
    known: dict[tuple[str, ...], bool] = {}

    def accepts(words: Sequence[str]) -> bool:
        args = parser.parse_args(list(words))
        args.out = None
        # The last word is the name of the file, another for each student.
        key = tuple(words[:-1])
        if key not in known:
            try:
                assignment_meant(args)
                known[key] = True
            except HomefretError:
                known[key] = False
        return known[key]

    return accepts
