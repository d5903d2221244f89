"""By what a computer is told from others: the id that its system gave it at its installation.

It is never written down as it is, for programs are not to give it away (machine-id(5)): only a keyed hash of it is, by
which nobody else can know the computer.
"""

import hmac
import os
import platform
import subprocess
import sys
import uuid
from collections.abc import Callable, Mapping
from importlib import import_module
from pathlib import Path

_LINUX = (Path("/etc/machine-id"), Path("/var/lib/dbus/machine-id"))
_WINDOWS = r"SOFTWARE\Microsoft\Cryptography"
_ASKED_S = 5.0
_DIGITS = 32
_NOT_GIVEN = ("", "uninitialized")


def machine_hash() -> str:
    """32 hexadecimal digits for this computer, the same at each start."""
    return _hashed("machine", machine_id(sys.platform))


def folder_hash(folder: Path) -> str:
    """32 hexadecimal digits for where a folder really lies: whatever links lead to it, and on whatever computer."""
    return _hashed("folder", os.path.normcase(folder.resolve()))


def machine_id(system: str) -> str:
    """The id of this computer; where its system tells none, its name and the address of its network card. `system` is
    called as `sys.platform` calls it.
    """
    try:
        given = _TOLD_BY[system]().strip()
    except (KeyError, OSError, UnicodeError, ImportError, StopIteration, subprocess.SubprocessError):
        given = ""
    return _named_machine() if given in _NOT_GIVEN else given


def _hashed(what: str, text: str) -> str:
    return hmac.digest(text.encode("utf-8", "surrogateescape"), f"homefret-{what}".encode(), "sha256").hex()[:_DIGITS]


def _named_machine() -> str:
    address = uuid.getnode()
    # Where no card can be asked the address is made up at each start, which is told by this bit (RFC 9562, 6.10).
    made_up = address >> 40 & 1
    return platform.node() if made_up else f"{platform.node()} {address:012x}"


def _linux_id() -> str:
    """See machine-id(5)."""
    return next(path for path in _LINUX if path.is_file()).read_text(encoding="ascii")


def _windows_id() -> str:
    """The registry's MachineGuid, from the view of 64 bits whatever Python this is."""
    registry = import_module("winreg")
    access = registry.KEY_READ | registry.KEY_WOW64_64KEY
    with registry.OpenKey(registry.HKEY_LOCAL_MACHINE, _WINDOWS, 0, access) as key:
        return str(registry.QueryValueEx(key, "MachineGuid")[0])


def _mac_id() -> str:
    """The IOPlatformUUID, in a line such as `"IOPlatformUUID" = "564D1F0C-…"`."""
    told = subprocess.run(
        ["/usr/sbin/ioreg", "-rd1", "-c", "IOPlatformExpertDevice"],
        capture_output=True,
        check=True,
        timeout=_ASKED_S,
        encoding="utf-8",
    )
    line = next(line for line in told.stdout.splitlines() if '"IOPlatformUUID"' in line)
    return line.split('"')[-2]


_TOLD_BY: Mapping[str, Callable[[], str]] = {"linux": _linux_id, "win32": _windows_id, "darwin": _mac_id}
