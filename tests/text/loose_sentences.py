"""Finds, in the sources, text that reads like a sentence for people and does not come from the catalogue.

A string counts where two words of letters stand side by side in it. What no person reads is left out by what it is:
docstrings, what programmers are told (`ValueError`, `assert`), annotations, the values of an `Enum`, rows of names that
are split at once, regular expressions, names with underscores, SQL, markup.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass

_WORD = r"[^\W\d_]+['’]?[^\W\d_]*"
_OPENING, _CLOSING = r"[\s(\"“‘«\[]", r"[\s,;:.!?…)\"”’»\]]"
_TWO_WORDS = re.compile(rf"(?:^|{_OPENING}){_WORD}[,;:.!?)]?\s+[(\"“‘«]?(?:{_WORD}|\{{\}})(?={_CLOSING}|$)")
_SQL = re.compile(
    r"\b(?:SELECT|WHERE|INSERT|UPDATE|DELETE|CREATE|ALTER|DROP|PRAGMA|ORDER BY|AND|OR|IN \(|SAVEPOINT|ROLLBACK|RELEASE"
    r"|ATTACH|DETACH|BEGIN (?:EXCLUSIVE|IMMEDIATE))\b"
)
_IDENTIFIER = re.compile(r"[a-z]_[a-z]")
_MARKUP = re.compile(r"\s*</?[a-zA-Z!?]")
_FOR_PROGRAMMERS = frozenset(
    {
        *("ValueError", "TypeError", "AssertionError", "KeyError", "RuntimeError", "NotImplementedError"),
        *("AttributeError", "ModuleNotFoundError"),
    }
)


@dataclass(frozen=True, slots=True, order=True)
class Loose:
    """A string that reads like a sentence: its line, counted from 1, and its text, gaps as `{}`."""

    line: int
    text: str


def loose_sentences(source: str) -> tuple[Loose, ...]:
    """All of a source file, in order."""
    tree = ast.parse(source)
    return tuple(sorted(set(_found(tree, frozenset(_not_for_people(tree))))))


def _found(node: ast.AST, passed_over: frozenset[ast.AST]) -> Iterator[Loose]:
    if node in passed_over:
        return
    text = _text_of(node)
    if text is not None and _reads_like_a_sentence(text):
        yield Loose(node.lineno, text)
    for child in _within(node):
        yield from _found(child, passed_over)


def _within(node: ast.AST) -> Iterator[ast.AST]:
    """What else stands in a node: of a string with gaps, what is put into them."""
    if not isinstance(node, ast.JoinedStr):
        return ast.iter_child_nodes(node)
    return (part.value for part in node.values if isinstance(part, ast.FormattedValue))


def _text_of(node: ast.AST) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in node.values)
    return None


def _reads_like_a_sentence(text: str) -> bool:
    for_machines = _SQL.search(text) or _IDENTIFIER.search(text) or _MARKUP.match(text)
    return bool(_TWO_WORDS.search(text)) and not for_machines


def _not_for_people(tree: ast.AST) -> Iterator[ast.AST]:
    """Nodes in which nothing is said to anybody but programmers and machines."""
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant(value=str())):
                yield node
            case ast.Assert(msg=ast.expr() as said):
                yield said
            case ast.Raise(exc=ast.Call(func=ast.Name(id=name)) as said) if name in _FOR_PROGRAMMERS:
                yield said
            case ast.AnnAssign(annotation=said) | ast.arg(annotation=ast.expr() as said):
                yield said
            case ast.FunctionDef(returns=ast.expr() as said):
                yield said
            case ast.ClassDef(bases=[ast.Name(id="Enum" | "StrEnum"), *_]):
                yield from node.body
            case ast.Call(func=ast.Attribute(value=ast.Constant() as said, attr="split")):
                yield said
            case ast.Call(func=ast.Attribute(value=ast.Name(id="re"), attr="compile")):
                yield node
