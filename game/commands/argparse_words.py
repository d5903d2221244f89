"""What `argparse` says by itself, in the words of our catalogue: "usage", "options", "the following arguments are
required".

`argparse` looks up its own sentences by `_` and `ngettext`, names of its module that it takes from `gettext`. They are
replaced here and nowhere else. A sentence that we do not know, of a newer Python, stands as it is, in English.
"""

import argparse

from game.text.catalogue import say

_KEYS = {
    "usage: ": "argparse.usage",
    "positional arguments": "argparse.positional_arguments",
    "options": "argparse.options",
    "show this help message and exit": "argparse.help",
    "show program's version number and exit": "argparse.version",
    "argument %(argument_name)s: %(message)s": "argparse.fault_of_argument",
    "the following arguments are required: %s": "argparse.arguments_required",
    "one of the arguments %s is required": "argparse.one_of_arguments_required",
    "unrecognized arguments: %s": "argparse.unknown_arguments",
    "not allowed with argument %s": "argparse.not_allowed_with",
    "expected one argument": "argparse.one_argument",
    "expected at most one argument": "argparse.at_most_one_argument",
    "expected at least one argument": "argparse.at_least_one_argument",
    "expected %s argument": "argparse.so_many_arguments",
    "ignored explicit argument %r": "argparse.argument_ignored",
    "ambiguous option: %(option)s could match %(matches)s": "argparse.ambiguous_option",
    "unexpected option string: %s": "argparse.unexpected_option",
    "invalid %(type)s value: %(value)r": "argparse.invalid_value",
    "invalid choice: %(value)r (choose from %(choices)s)": "argparse.invalid_choice",
}
"""The sentences of Python 3.11 to 3.13 that a user can meet."""


def teach_argparse() -> None:
    """From now on `argparse` speaks the language that was chosen."""
    vars(argparse).update(_=_said, ngettext=_counted)


def _said(sentence: str) -> str:
    return say(_KEYS[sentence]) if sentence in _KEYS else sentence


def _counted(one: str, several: str, count: int) -> str:
    if one in _KEYS:
        return say(_KEYS[one], count=count)
    return one if count == 1 else several
