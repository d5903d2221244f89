"""Finds, in the sources, text that reads like a sentence for people and does not come from the catalogue.

A string counts where two words of letters stand side by side in it. What no person reads is left out by what it is:
docstrings, what programmers are told (`ValueError`, `assert`), annotations, the values of an `Enum`, rows of names that
are split at once, regular expressions, names with underscores, SQL, markup.
"""

import ast
import re
from collections.abc import Iterable, Sequence
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

# Most of what stands in a source; nothing stands in it that could be said.
_HOLDS_NOTHING = (ast.Name, ast.Constant, ast.alias)


@dataclass(frozen=True, slots=True, order=True)
class Loose:
    """A string that reads like a sentence: its line, counted from 1, and its text, gaps as `{}`."""

    line: int
    text: str


def loose_sentences(source: str) -> tuple[Loose, ...]:
    """All of a source file, in order."""
    found: set[Loose] = set()
    ahead: list[ast.AST] = [ast.parse(source)]
    while ahead:
        node = ahead.pop()
        text = _text_of(node)
        if text is not None and _reads_like_a_sentence(text):
            found.add(Loose(node.lineno, text))
        passed_over = _not_for_people(node)
        if node not in passed_over:
            ahead.extend(child for child in _within(node) if child not in passed_over)
    return tuple(sorted(found))


def _within(node: ast.AST) -> Iterable[ast.AST]:
    """What else stands in a node: of a string with gaps, what is put into them."""
    if isinstance(node, ast.JoinedStr):
        return (part.value for part in node.values if isinstance(part, ast.FormattedValue))
    return () if isinstance(node, _HOLDS_NOTHING) else ast.iter_child_nodes(node)


def _text_of(node: ast.AST) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in node.values)
    return None


def _reads_like_a_sentence(text: str) -> bool:
    for_machines = _SQL.search(text) or _IDENTIFIER.search(text) or _MARKUP.match(text)
    return bool(_TWO_WORDS.search(text)) and not for_machines


def _not_for_people(node: ast.AST) -> Sequence[ast.AST]:  # noqa: PLR0911 - one for each form
    """Of a node and what stands right in it: in which of them nothing is said but to programmers and machines."""
    match node:
        case ast.Expr(value=ast.Constant(value=str())):
            return (node,)
        case ast.Assert(msg=ast.expr() as said):
            return (said,)
        case ast.Raise(exc=ast.Call(func=ast.Name(id=name)) as said) if name in _FOR_PROGRAMMERS:
            return (said,)
        case ast.AnnAssign(annotation=said) | ast.arg(annotation=ast.expr() as said):
            return (said,)
        case ast.FunctionDef(returns=ast.expr() as said):
            return (said,)
        case ast.ClassDef(bases=[ast.Name(id="Enum" | "StrEnum"), *_]):
            return node.body
        case ast.Call(func=ast.Attribute(value=ast.Constant(), attr="split")):
            return (node.func,)
        case ast.Call(func=ast.Attribute(value=ast.Name(id="re"), attr="compile")):
            return (node,)
    return ()
