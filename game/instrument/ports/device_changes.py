"""What comes and goes of devices, and of the MIDI system itself."""

from dataclasses import dataclass

from game.message import Message


@dataclass(frozen=True, slots=True)
class DeviceFound:
    """A device is there and is listened to; `wires_itself` where it is a program that is heard once it, or somebody,
    wires it to our own port.
    """

    name: str
    wires_itself: bool = False


@dataclass(frozen=True, slots=True)
class DeviceWired:
    """A program that was found is wired to our port: something came from it."""

    name: str


@dataclass(frozen=True, slots=True)
class DeviceLost:
    """A device that was found is gone. `was_playing` says whether it may be the one that was heard last."""

    name: str
    was_playing: bool = False


@dataclass(frozen=True, slots=True)
class DeviceRefused:
    """A device is there but cannot be listened to: another program may have it. `can_be_wired` where it is a program
    that can be wired to our own port all the same.
    """

    name: str
    reason: Message
    can_be_wired: bool = False


@dataclass(frozen=True, slots=True)
class SystemChanged:
    """The MIDI system itself went away or came back, or our own port; `told` says so, and what it means, in one
    sentence.
    """

    told: Message


DeviceChange = DeviceFound | DeviceWired | DeviceLost | DeviceRefused | SystemChanged
