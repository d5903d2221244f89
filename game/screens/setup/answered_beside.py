"""Something that takes its time, worked out in a thread, so that no picture waits for it."""

from collections.abc import Callable
from threading import Thread
from typing import Generic, TypeVar

Answer = TypeVar("Answer")


class AnsweredBeside(Generic[Answer]):
    """Begun when it is made. What it raises is raised to whoever asks for the answer."""

    def __init__(self, work: Callable[[], Answer]) -> None:
        self._work = work
        self._answer: Answer | None = None
        self._fault: Exception | None = None
        self._thread = Thread(target=self._run, daemon=True)
        self._thread.start()

    def _run(self) -> None:
        try:
            self._answer = self._work()
        except Exception as fault:  # noqa: BLE001 - raised again where it is asked for
            self._fault = fault

    @property
    def there(self) -> bool:
        """Whether the answer is there."""
        return not self._thread.is_alive()

    def wait(self) -> None:
        """Until the answer is there, or none is to come."""
        self._thread.join()

    def answer(self) -> Answer:
        """The answer; waits for it where it is not there."""
        self.wait()
        if self._fault is not None:
            raise self._fault
        return self._answer  # type: ignore[return-value]
