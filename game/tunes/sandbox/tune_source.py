"""A tune file opened: what kind it is, told by its content and never by its name, and its text.

It runs in the reading process: whatever a file brings about ends there.
"""

import io
import lzma
import os
import struct
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import defusedxml.ElementTree
from defusedxml import DefusedXmlException

from game.errors import TuneError, reason_of
from game.message import message
from game.text.clean_text import cleaned, cleaned_name
from game.text.no_file_words import kind_of_no_file
from game.tunes.limits import MAX_FILE_BYTES, MAX_MEMBER_BYTES, MAX_MEMBERS

_BOMS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
_CONTAINER = "META-INF/container.xml"
_MAX_CONTAINER_BYTES = 100_000
_LOOKED_AT = 100_000
# Bit 0 of the general purpose flag of a member (APPNOTE.TXT 4.4.4).
_LOCKED = 1
_AT_ONCE = os.O_RDONLY | sum(getattr(os, flag, 0) for flag in ("O_NONBLOCK", "O_NOCTTY", "O_BINARY"))
# `zipfile` lets through what its packers raise; `struct.error` is of fields that end too early.
_BROKEN_ARCHIVE = (
    *(zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, EOFError),
    *(NotImplementedError, RuntimeError, OSError, ValueError, LookupError),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TuneSource:
    """One tune file in memory. `content` is the music itself, unpacked; `name` is safe to show."""

    name: str
    file_format: str
    content: bytes


def open_source(path: Path) -> TuneSource:
    """Read a file, at most 5 MB of it. Raises `TuneError` when it cannot be read or is no format we know."""
    return source_of(bytes_of(path), cleaned_name(path))


def bytes_of(path: Path) -> bytes:
    """What a file holds, up to a byte more than any may hold. Raises `TuneError` when it is no plain file or cannot be
    read. It never waits for the other end of a pipe.
    """
    name = cleaned_name(path)
    try:
        # Looked at before it is opened, for opening a device may do something; and after, for it may be another now.
        _check_plain(path.stat().st_mode, name)
        with os.fdopen(os.open(path, _AT_ONCE), "rb") as file:
            _check_plain(os.fstat(file.fileno()).st_mode, name)
            return file.read(MAX_FILE_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError) as fault:
        raise TuneError("tune.no_such_file", file=name) from fault
    except (OSError, ValueError) as fault:
        raise TuneError("tune.cannot_be_read", file=name, reason=reason_of(fault)) from fault


def _check_plain(mode: int, name: str) -> None:
    kind = kind_of_no_file(mode)
    if kind == "transfer.is_folder":
        raise TuneError("tune.no_such_file", file=name)
    if kind is not None:
        raise TuneError("transfer.no_plain_file", file=name, kind=message(kind))


def source_of(content: bytes, name: str) -> TuneSource:
    """Tell the format of `content` by looking at it. Raises `TuneError`."""
    name = cleaned(name)
    if len(content) > MAX_FILE_BYTES:
        raise TuneError("tune.too_large", file=name, limit_mb=MAX_FILE_BYTES // 1_000_000)
    if not content.strip():
        raise TuneError("tune.empty", file=name)
    if content.startswith(b"PK\x03\x04"):
        return TuneSource(name=name, file_format="musicxml", content=_unzipped(content, name))
    if _looks_like_xml(content):
        return TuneSource(name=name, file_format="musicxml", content=content)
    if content.startswith(b"MThd"):
        return TuneSource(name=name, file_format="midi", content=content)
    if _looks_like_abc(content):
        return TuneSource(name=name, file_format="abc", content=content)
    raise TuneError("tune.unknown_format", file=name)


def _looks_like_xml(content: bytes) -> bool:
    start = content[:200]
    for mark in _BOMS:
        start = start.removeprefix(mark)
    return start.replace(b"\x00", b"").lstrip().startswith(b"<")


def _looks_like_abc(content: bytes) -> bool:
    """Whether this is ABC 2.1: it says so, or a key field ends a header that began with another field."""
    if b"\x00" in content[:4096]:
        return False
    start = content[:_LOOKED_AT].removeprefix(b"\xef\xbb\xbf").lstrip()
    if start.startswith(b"%abc"):
        return True
    letters = [line[:1] for line in start.splitlines() if line[1:2] == b":"]
    return b"K" in letters[1:] and any(letter in b"XTML" for letter in letters[: letters.index(b"K", 1)])


def _unzipped(content: bytes, name: str) -> bytes:
    """The score inside an .mxl, unpacked in memory. Member names are looked up and never used as paths."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            members = archive.infolist()
            if len(members) > MAX_MEMBERS:
                raise TuneError("tune.too_many_members", file=name, count=len(members))
            return _member_bytes(archive, _score_member(archive, members, name), MAX_MEMBER_BYTES, name)
    except _BROKEN_ARCHIVE as fault:
        raise TuneError("tune.cannot_be_unpacked", file=name) from fault


def _score_member(archive: zipfile.ZipFile, members: list[zipfile.ZipInfo], name: str) -> zipfile.ZipInfo:
    named = {member.filename: member for member in members}
    for rootfile in _rootfiles(archive, named, name):
        if rootfile in named:
            return named[rootfile]
    # Many real containers are malformed or name a member that is not there.
    scores = [member for member in members if _may_be_score(member.filename)]
    if not scores:
        raise TuneError(
            "tune.packed_tunes" if any(map(_may_be_tune, named)) else "tune.no_score_inside",
            file=name,
        )
    if len(scores) > 1:
        raise TuneError("tune.several_scores_inside", file=name, count=len(scores))
    return scores[0]


def _may_be_score(filename: str) -> bool:
    path = PurePosixPath(filename)
    return path.suffix.lower() in {".xml", ".musicxml"} and path.parts[0] not in {"META-INF", "__MACOSX"}


def _may_be_tune(filename: str) -> bool:
    """Whether a member of a packed folder, such as a collection that was downloaded, may be a tune for itself."""
    path = PurePosixPath(filename)
    return path.suffix.lower() in {".abc", ".mid", ".midi", ".mxl"} and path.parts[0] != "__MACOSX"


def _rootfiles(archive: zipfile.ZipFile, named: dict[str, zipfile.ZipInfo], name: str) -> list[str]:
    """What `container.xml` names, in its order: the first is the score (MusicXML 4.0, compressed files)."""
    if _CONTAINER not in named:
        return []
    text = _member_bytes(archive, named[_CONTAINER], _MAX_CONTAINER_BYTES, name)
    try:
        container = defusedxml.ElementTree.fromstring(text)
    except (DefusedXmlException, defusedxml.ElementTree.ParseError, ValueError, LookupError):
        return []
    return [
        element.get("full-path") or ""
        for element in container.iter()
        if str(element.tag).rpartition("}")[2] == "rootfile"
    ]


def _member_bytes(archive: zipfile.ZipFile, member: zipfile.ZipInfo, most: int, name: str) -> bytes:
    if member.flag_bits & _LOCKED:
        raise TuneError("tune.locked", file=name)
    # The size in the archive's own list may lie: read one byte more than is allowed and see.
    with archive.open(member) as file:
        content = file.read(most + 1)
    if len(content) > most:
        raise TuneError("tune.unpacks_too_large", file=name, limit_bytes=most)
    return content
