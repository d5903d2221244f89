"""Which keys of the text catalogue the program asks for: read out of its own source and the templates of its pages.

A key stands as it is in a call (`say("shelf.title")`), or in a table from which it is said later, or it is one of a
family, where a part of it is known only then (`say(f"cause.{cause}")`).
"""

import ast
import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from jinja2 import Environment
from jinja2.ext import extract_from_ast

import game
from game.message import VERBATIM
from game.paths import shipped

SAYING = ("say", "message", "_template", "_sentence")
"""What takes a key first, besides the errors, whose names end in Error."""


@dataclass(frozen=True, slots=True)
class KeysAskedFor:
    """`said` are keys in a call, `families` patterns in one, which match whole keys; `texts` are all strings of the
    source, the keys of tables among them, and `patterns` all that it puts together so that it may be a key.
    """

    said: frozenset[str]
    families: frozenset[str]
    texts: frozenset[str]
    patterns: frozenset[str]

    def missing(self, keys: Collection[str]) -> list[str]:
        """What is asked for and not among `keys`: single keys, and families of which there is none."""
        strangers = self.said - set(keys) - {VERBATIM}
        return sorted(strangers | {family for family in self.families if not _some(family, keys)})

    def unused(self, keys: Collection[str]) -> list[str]:
        """Which of `keys` nobody asks for."""
        left = set(keys) - self.said - self.texts
        families = self.families | self.patterns
        return sorted(key for key in left if not any(re.fullmatch(family, key) for family in families))


@cache
def keys_asked_for() -> KeysAskedFor:
    """All that the program asks for, as its source stands when this is first called."""
    asked = [*_in_source(Path(game.__file__).parent), *_in_templates(shipped("content", "report"))]
    return KeysAskedFor(*(frozenset(text for kind, text in asked if kind == wanted) for wanted in _KINDS))


_KINDS = ("said", "family", "text", "pattern")
_BEGINS_A_KEY = re.compile(r"[a-z_]+\\\.[^ ]*")


def _in_source(folder: Path) -> Iterator[tuple[str, str]]:
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield "text", node.value
            if isinstance(node, ast.JoinedStr) and _BEGINS_A_KEY.fullmatch(pattern := _pattern(node)):
                yield "pattern", pattern
            if isinstance(node, ast.Call) and node.args and _takes_a_key(node.func):
                yield from _keys_of(node.args[0])


def _takes_a_key(called: ast.expr) -> bool:
    name = called.id if isinstance(called, ast.Name) else called.attr if isinstance(called, ast.Attribute) else ""
    return name in SAYING or name.endswith("Error")


def _keys_of(node: ast.expr) -> Iterator[tuple[str, str]]:
    """The keys that an argument may be. An error of Python's own says a sentence, not a key."""
    match node:
        case ast.Constant(value=str(text)) if re.fullmatch(r"[a-z_]+(\.[^.\s][^.]*)*", text):
            yield "said", text
        case ast.JoinedStr() if " " not in _pattern(node):
            yield "family", _pattern(node)
        case ast.IfExp(body=one, orelse=other):
            yield from _keys_of(one)
            yield from _keys_of(other)


def _pattern(node: ast.JoinedStr) -> str:
    return "".join(re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".+" for part in node.values)


def _in_templates(folder: Path) -> Iterator[tuple[str, str]]:
    for path in sorted(folder.glob("*.html")):
        tree = Environment(autoescape=True).parse(path.read_text(encoding="utf-8"))
        for _, _, found in extract_from_ast(tree, SAYING, babel_style=False):
            yield "said", str(found[0] if isinstance(found, tuple) else found)


def _some(family: str, keys: Collection[str]) -> bool:
    return any(re.fullmatch(family, key) for key in keys)
