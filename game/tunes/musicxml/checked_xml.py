"""MusicXML parsed safely: no entities, no depth or size that could hurt, before anything else looks at it."""

import io
import re
from xml.etree.ElementTree import Element

import defusedxml.ElementTree
from defusedxml import DefusedXmlException

from game.errors import TuneError
from game.text.clean_text import cleaned
from game.tunes.limits import MAX_DEPTH, MAX_ELEMENTS
from game.tunes.sandbox.tune_source import TuneSource

_ROOTS = ("score-partwise", "score-timewise")
_SAYS_UTF_16 = re.compile(
    rb"""\A((?:\xef\xbb\xbf)?<\?xml\s[^>]*?)\sencoding\s*=\s*["'][Uu][Tt][Ff]-16(?:[BbLl][Ee])?["']"""
)
"""The declaration of a text of single bytes that calls itself UTF-16: in UTF-16 itself it does not begin so."""
_BLANK_BEFORE = re.compile(rb"\A\s+(?=<\?xml\s)")


def checked_tree(source: TuneSource) -> Element:
    """The root `score-partwise` of a MusicXML text; a `score-timewise` is turned round.

    Raises `TuneError` for XML that is broken, is not a score, defines entities, or is too deep or too large.
    """
    try:
        root = _parsed(source)
    except DefusedXmlException as fault:
        raise TuneError("musicxml.defines_entities", file=source.name) from fault
    except defusedxml.ElementTree.ParseError as fault:
        line, column = fault.position
        raise TuneError("musicxml.broken", file=source.name, line=line, column=column + 1) from fault
    except (ValueError, LookupError) as fault:
        raise TuneError("musicxml.unknown_encoding", file=source.name) from fault
    if root.tag == "score-timewise":
        return _partwise(root)
    if root.tag != "score-partwise":
        raise TuneError("musicxml.not_a_score", file=source.name, tag=cleaned(root.tag, 40))
    return root


def _parsed(source: TuneSource) -> Element:
    # Real files name a DTD: it is allowed and never fetched.
    events = defusedxml.ElementTree.iterparse(
        io.BytesIO(_as_stored(source.content)),
        events=("start", "end"),
        forbid_dtd=False,
        forbid_entities=True,
        forbid_external=True,
    )
    depth = elements = 0
    root: Element | None = None
    for event, element in events:
        if event == "end":
            depth -= 1
            continue
        root = element if root is None else root
        depth += 1
        elements += 1
        if depth > MAX_DEPTH:
            raise TuneError("musicxml.too_deep", file=source.name, limit=MAX_DEPTH)
        if elements > MAX_ELEMENTS:
            raise TuneError("musicxml.too_many_elements", file=source.name, limit=MAX_ELEMENTS)
    if root is None:
        raise TuneError("musicxml.no_element", file=source.name)
    if root.tag in _ROOTS and "}" not in root.tag:
        return root
    return _without_namespace(root)


def _as_stored(content: bytes) -> bytes:
    """The text from its declaration on, and without a word for an encoding that is not its own any more: programs that
    store texts turn UTF-16 into UTF-8, and add empty lines.
    """
    return _SAYS_UTF_16.sub(rb"\1", _BLANK_BEFORE.sub(b"", content))


def _without_namespace(root: Element) -> Element:
    """MusicXML has no namespace, but some programs write one."""
    for element in root.iter():
        if isinstance(element.tag, str):
            element.tag = element.tag.rpartition("}")[2]
    return root


def _partwise(root: Element) -> Element:
    """Measures that hold parts, turned into parts that hold measures."""
    turned = root.makeelement("score-partwise", dict(root.attrib))
    parts: dict[str, Element] = {}
    for child in root:
        if child.tag != "measure":
            turned.append(child)
            continue
        for part in child.findall("part"):
            name = part.get("id", "")
            if name not in parts:
                parts[name] = root.makeelement("part", {"id": name})
            measure = root.makeelement("measure", dict(child.attrib))
            measure.extend(list(part))
            parts[name].append(measure)
    turned.extend(parts.values())
    return turned
