"""Finds, in the sources, text that reads like a sentence for people and does not come from the catalogue.

A string counts where two words of letters stand side by side in it. What is never read by people is left out by what it
is: docstrings, what programmers are told (`ValueError`, `assert`), annotations, SQL, markup.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

_WORD = r"[^\W\d_]+['’]?[^\W\d_]*"
_TWO_WORDS = re.compile(rf"(?:^|[\s(\"“‘«]){_WORD}[,;:.!?)]?\s+[(\"“‘«]?(?:{_WORD}|\{{\}})(?=[\s,;:.!?)\"”’»]|$)")
_SQL = re.compile(
    r"\s*(?:--.*\n\s*)*(?:SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|ALTER|PRAGMA|WITH|BEGIN|ATTACH|DETACH|VACUUM|WHERE|AND|ORDER|JOIN)\b"
)
_MARKUP = re.compile(r"\s*</?[a-zA-Z!?]")
_FOR_PROGRAMMERS = frozenset(
    {"ValueError", "TypeError", "AssertionError", "KeyError", "RuntimeError", "NotImplementedError", "AttributeError"}
)


@dataclass(frozen=True, slots=True, order=True)
class Loose:
    """A string that reads like a sentence: its line, counted from 1, and its text, gaps as `{}`."""

    line: int
    text: str


def loose_sentences(source: str) -> tuple[Loose, ...]:
    """All of a source file."""
    tree = ast.parse(source)
    passed_over = set(_not_for_people(tree))
    return tuple(sorted(set(_found(tree, passed_over))))


def _found(node: ast.AST, passed_over: set[ast.AST]) -> Iterator[Loose]:
    if node in passed_over:
        return
    text = _text_of(node)
    if text is not None and _reads_like_a_sentence(text):
        yield Loose(node.lineno, text)
    if isinstance(node, ast.JoinedStr):
        values = (part.value for part in node.values if isinstance(part, ast.FormattedValue))
    else:
        values = ast.iter_child_nodes(node)
    for child in values:
        yield from _found(child, passed_over)


def _text_of(node: ast.AST) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in node.values)
    return None


def _reads_like_a_sentence(text: str) -> bool:
    return bool(_TWO_WORDS.search(text)) and not _SQL.match(text) and not _MARKUP.match(text)


def _not_for_people(tree: ast.AST) -> Iterator[ast.AST]:
    """Nodes whose text nobody but a programmer reads."""
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant(value=str())):
                yield node
            case ast.Assert(msg=ast.expr() as said):
                yield said
            case ast.Raise(exc=ast.Call(func=ast.Name(id=name))) if name in _FOR_PROGRAMMERS:
                yield node.exc
            case ast.AnnAssign(annotation=said) | ast.arg(annotation=ast.expr() as said):
                yield said
            case ast.FunctionDef(returns=ast.expr() as said):
                yield said
