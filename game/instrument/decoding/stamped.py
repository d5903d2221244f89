"""Driver messages with their time, and the correction of stamps that came late. Pure.

The stamp is taken when Python's callback runs, which a busy interpreter delays; the driver's own time since
its last message is not delayed. So a message cannot have come later than the one before it plus that time.
"""

from dataclasses import dataclass, replace

# The driver's clock may run slower than ours; 200 millionths is more than a quartz is off (trade: up to 100).
_DRIFT = 200e-6
# A correction beyond this is no late callback but a driver whose times are not to be trusted.
_MOST_LATE_S = 0.05


@dataclass(frozen=True, slots=True)
class StampedMessage:
    """One message as the driver delivered it.

    `at_s` is on the master clock; `delta_s` the driver's own seconds since its previous message, 0 for the
    first; `source` the name of the device.
    """

    at_s: float
    delta_s: float
    message: bytes
    source: str = ""


def corrected(previous_s: float | None, stamped: StampedMessage) -> StampedMessage:
    """The message with its stamp put right; `previous_s` is the corrected stamp of the source's last one.

    Only ever moves a stamp back, never before `previous_s`. No message of the source may be left out in
    between, clock and system exclusive neither: the driver's times count from each.
    """
    if previous_s is None or stamped.delta_s <= 0:
        return stamped
    latest_s = previous_s + stamped.delta_s * (1 + _DRIFT)
    if not 0 < stamped.at_s - latest_s <= _MOST_LATE_S:
        return stamped
    return replace(stamped, at_s=latest_s)
