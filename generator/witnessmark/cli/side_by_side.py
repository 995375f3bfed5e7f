"""Two jobs at once, each in a process of its own where the machine allows it; their files are the same either way."""

from __future__ import annotations

import gc
import multiprocessing
import os
import sys
import threading
import traceback
import warnings
from collections.abc import Callable
from multiprocessing.connection import Connection

from witnessmark.pack.refusal import CannotWrite

Job = Callable[[], None]


class HelperFailed(RuntimeError):
    """The job in the second process met an unexpected error, or the process was killed."""


def side_by_side(here: Job, beside: Job) -> None:
    """Run ``here`` in this process and ``beside`` in a forked one; one after the other where that cannot be.

    The jobs may share what was read before, and may not hand anything over but files. Raises what ``here`` raises, the
    ``CannotWrite`` of ``beside``, or ``HelperFailed`` with the trace of its error.
    """
    if not _can_fork():
        here()
        beside()
        return
    receive, send = multiprocessing.get_context("fork").Pipe(duplex=False)
    watched, held = os.pipe()
    process = multiprocessing.get_context("fork").Process(target=_beside, args=(beside, send, watched, held))
    # What was read is shared by both; marking it as permanent keeps the collector from copying it page by page.
    gc.freeze()
    sys.stdout.flush()
    sys.stderr.flush()
    try:
        with warnings.catch_warnings():
            # Python warns of forking beside threads; those of the number libraries hold no lock that the jobs need.
            warnings.simplefilter("ignore", DeprecationWarning)
            process.start()
        send.close()
        here()
        _raise_from(receive)
    finally:
        gc.unfreeze()
        if process.is_alive():
            process.terminate()
        process.join()
        receive.close()
        os.close(watched)
        os.close(held)


def _can_fork() -> bool:
    # On macOS system libraries may crash in a forked process.
    return sys.platform.startswith("linux") and (os.cpu_count() or 1) > 1


def _beside(job: Job, send: Connection, watched: int, held: int) -> None:
    # Whoever kills the first process means the build: nothing may go on writing into a folder that is cleared away.
    os.close(held)
    threading.Thread(target=_leave_with_the_first, args=(watched,), daemon=True).start()
    try:
        job()
        send.send(("done", ""))
    except CannotWrite as error:
        send.send(("refused", str(error)))
    except BaseException:
        # An interrupt reaches both processes; only the first one tells of it.
        send.send(("failed", traceback.format_exc()))
    finally:
        send.close()


def _leave_with_the_first(watched: int) -> None:
    os.read(watched, 1)  # returns once the first process, which writes nothing, no longer holds the other end
    os._exit(1)


def _raise_from(receive: Connection) -> None:
    try:
        outcome, text = receive.recv()
    except EOFError:
        raise HelperFailed("the second process was stopped before it had finished") from None
    if outcome == "refused":
        raise CannotWrite(text)
    if outcome == "failed":
        *_, last = text.strip().splitlines()
        raise HelperFailed(last) from RuntimeError(text)
