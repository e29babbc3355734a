"""A process that stands by with the libraries of the steps imported, and forks for every job of a run.

Importing them takes longer than most jobs do. A job asks the process that its run has started; where there is none (a
job started by hand, on another machine, or on a system whose libraries cannot be forked) it does its work itself.

What holds of a job holds here too: its process takes the run's lock itself, has its caller's environment, folder and
streams, and ends as soon as its caller does, however that ends.
"""

import json
import os
import selectors
import signal
import socket
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import NamedTuple, NoReturn

STANDBY = "PATTERN_RELEASE_STANDBY"
"""The environment's name for the place where a job may ask; set to nothing, every job does its work itself."""
_SIZE = 8
_BEGUN = b"b"
_STREAMS = (0, 1, 2)

Do = Callable[[list[str]], None]


def done_by_standby(words: list[str]) -> int | None:
    """Have a job done; its exit status, or None where nobody stands by, and nothing was begun."""
    place = os.environ.get(STANDBY)
    if not place:
        return None
    asked = json.dumps({"words": words, "folder": os.getcwd(), "environment": dict(os.environ)}).encode()
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as caller:
        try:
            caller.connect(place)
            socket.send_fds(caller, [len(asked).to_bytes(_SIZE, "big")], list(_STREAMS))
            caller.sendall(asked)
            if caller.recv(1) != _BEGUN:
                return None
        except OSError:
            return None
        status = caller.recv(1)
    return status[0] if status else 128 + signal.SIGKILL


def stand_by(listening: socket.socket, alive: int, prepare: Do, do: Do) -> None:
    """Fork for every job that is asked for, until the descriptor `alive` is closed at its other end.

    `prepare` is called before a fork, and `do` after it, with the words of the job.
    """
    woken, wake = os.pipe()
    for end in (woken, wake):
        os.set_blocking(end, False)
    signal.set_wakeup_fd(wake, warn_on_full_buffer=False)
    signal.signal(signal.SIGCHLD, lambda *_: None)
    with selectors.DefaultSelector() as waiting:
        for end in (listening.fileno(), alive, woken):
            waiting.register(end, selectors.EVENT_READ)
        while True:
            ready = {key.fd for key, _ in waiting.select()}
            if woken in ready:
                os.read(woken, 4096)
                _reap()
            if alive in ready:
                return
            if listening.fileno() in ready:
                with suppress(OSError):  # of a caller that ended meanwhile
                    _answer(listening, prepare, do)


def _answer(listening: socket.socket, prepare: Do, do: Do) -> None:
    caller, _ = listening.accept()
    with caller:
        job = _heard(caller)
        if job is None:
            return
        try:
            prepare(job.words)
            caller.sendall(_BEGUN)
            if os.fork() == 0:
                signal.set_wakeup_fd(-1)
                listening.close()
                _child(job, caller, do)
        finally:
            for stream in job.streams:
                os.close(stream)


class _Job(NamedTuple):
    words: list[str]
    folder: str
    environment: dict[str, str]
    streams: tuple[int, ...]


def _heard(caller: socket.socket) -> _Job | None:
    """What is asked for; None where the caller ended before it had said it."""
    size, streams, _, _ = socket.recv_fds(caller, _SIZE, len(_STREAMS))
    wanted, heard = int.from_bytes(size, "big"), b""
    while len(heard) < wanted and (part := caller.recv(wanted - len(heard))):
        heard += part
    if len(size) == _SIZE and len(heard) == wanted:
        return _Job(**json.loads(heard), streams=tuple(streams))
    for stream in streams:
        os.close(stream)
    return None


def _child(job: _Job, caller: socket.socket, do: Do) -> NoReturn:
    """Do a job as its caller would have, and tell how it ended."""
    status = 1
    try:
        for stream, number in zip(job.streams, _STREAMS, strict=True):
            os.dup2(stream, number)
            os.close(stream)
        os.environ.clear()
        os.environ.update(job.environment)
        os.chdir(job.folder)
        for each in (signal.SIGCHLD, signal.SIGINT):
            signal.signal(each, signal.SIG_DFL)
        threading.Thread(target=_end_with, args=(caller,), daemon=True).start()
        do(job.words)
        status = 0
    except SystemExit as ended:
        if isinstance(ended.code, str):
            print(ended.code, file=sys.stderr)
        status = ended.code if isinstance(ended.code, int) else int(ended.code is not None)
    except Exception:
        sys.excepthook(*sys.exc_info())
    finally:
        with suppress(OSError):
            sys.stdout.flush()
            sys.stderr.flush()
            caller.sendall(bytes([status & 0xFF]))
        os._exit(status & 0xFF)


def _end_with(caller: socket.socket) -> None:
    if not caller.recv(1):
        os._exit(1)


def _reap() -> None:
    """Take note of jobs that ended: what they used counts as this process's."""
    try:
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass
    except ChildProcessError:
        pass
