"""The parent's side of the press: starts, feeds, times and ends the child."""

from __future__ import annotations

import atexit
import os
import subprocess
import sys
import threading
from pathlib import Path
from typing import IO, Final

from patterns.press.job import PaperFailedError, PaperTooLongError, PrintJob, packed, receive, send

MEMORY_BYTES: Final = 2 * 1024**3
TIME_LIMIT_S: Final = 60.0
JOBS_A_CHILD: Final = 200
"""After so many papers a fresh child takes over, so that nothing can pile up in it."""

HOUSE: Final = Path(__file__).resolve().parent.parent.parent


class Press:
    """One child, one job at a time. Safe to share between threads; a fork starts its own child."""

    def __init__(self, *, time_limit_s: float = TIME_LIMIT_S, memory_bytes: int = MEMORY_BYTES) -> None:
        self.time_limit_s = time_limit_s
        self.memory_bytes = memory_bytes
        self._lock = threading.Lock()
        self._child: subprocess.Popen[bytes] | None = None
        self._owner = 0
        self._printed = 0

    def print_pdf(self, job: PrintJob) -> bytes:
        """The PDF of a job. Raises PaperTooLongError or PaperFailedError; the press goes on after both."""
        with self._lock:
            child = self._ready_child()
            timer = threading.Timer(self.time_limit_s, child.kill)
            timer.start()
            try:
                return self._printed_by(child, job)
            except (EOFError, OSError) as error:
                raise self._why_it_ended(child, timed_out=not timer.is_alive()) from error
            finally:
                timer.cancel()

    def close(self) -> None:
        """End the child."""
        with self._lock:
            self._end()

    def _printed_by(self, child: subprocess.Popen[bytes], job: PrintJob) -> bytes:
        send(_open(child.stdin), *packed(job))
        kind, content = receive(_open(child.stdout)), receive(_open(child.stdout))
        self._printed += 1
        if kind != b"pdf":
            self._end()  # what is left of it after running out of memory can't be trusted
            raise PaperFailedError(content.decode(errors="replace"))
        return content

    def _why_it_ended(
        self, child: subprocess.Popen[bytes], *, timed_out: bool
    ) -> PaperTooLongError | PaperFailedError:
        self._end()
        if timed_out:
            return PaperTooLongError(self.time_limit_s)
        return PaperFailedError(f"the press stopped by itself (status {child.returncode})")

    def _ready_child(self) -> subprocess.Popen[bytes]:
        """The running child, or a new one when there is none, it is worn, or it is a parent's."""
        if self._owner != os.getpid():
            self._child = None
        worn = self._printed >= JOBS_A_CHILD
        if self._child is None or worn or self._child.poll() is not None:
            self._end()
            self._child = self._started()
        return self._child

    def _started(self) -> subprocess.Popen[bytes]:
        child = subprocess.Popen(  # noqa: S603 - our own module, by our own interpreter
            [sys.executable, "-m", "patterns.press.child", str(self.memory_bytes)],
            cwd=HOUSE,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
        )
        self._owner, self._printed = os.getpid(), 0
        try:
            receive(_open(child.stdout))
        except EOFError as error:
            child.wait()
            raise PaperFailedError("the press does not start; see the server's log") from error
        return child

    def _end(self) -> None:
        child, self._child = self._child, None
        if child is None:
            return
        child.kill()
        child.wait()
        for pipe in (child.stdin, child.stdout):
            if pipe is not None:
                _close(pipe)


def _open(pipe: IO[bytes] | None) -> IO[bytes]:
    if pipe is None:
        raise EOFError
    return pipe


def _close(pipe: IO[bytes]) -> None:
    try:
        pipe.close()
    except OSError:  # unsent bytes of a child that is gone
        return


_press: Press | None = None
_making = threading.Lock()


def press() -> Press:
    """The press of this process, started when first used."""
    global _press  # noqa: PLW0603 - one press a process is the point
    with _making:
        if _press is None:
            _press = Press()
            atexit.register(_press.close)
        return _press
