"""What comes first of the documents of a file, on their way from the child that reads it."""

import msgspec

from game.practice_log.transfer.contents import Whose


class DocumentsHead(msgspec.Struct, frozen=True, kw_only=True, tag="documents"):
    """Whose entries a file holds, `same` all ids that are theirs, and the `contents.json` of an export."""

    players: list[Whose]
    same: list[str]
    contents: msgspec.Raw = msgspec.Raw(b"null")
