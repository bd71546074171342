"""Keeps child processes running until Ctrl-C or a termination signal, then ends them cleanly.

Children run in sessions of their own, so that a Ctrl-C at the keyboard reaches the supervisor alone: the
background worker takes a second signal as "drop the task", and would get one from the terminal and one from
us.
"""

import ctypes
import errno
import fcntl
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from project.var_folder import ROOT

POLL_S = 0.2
SHORTEST_LIFE_S = 10.0  # a child that lives longer than this has started well
LONGEST_PAUSE_S = 30.0
END_TIMEOUT_S = 30.0  # a task at work, a request being answered
LAST_PORT = 65535
PR_SET_PDEATHSIG = 1  # prctl(2)
LIBC = ctypes.CDLL(None) if sys.platform == "linux" else None  # loaded here: not safe to do between fork and exec

Say = Callable[[str], None]


class CannotServe(Exception):
    """A sentence for the person who starts the server; the program ends with status 1."""


def pause_before_restart_s(quick_deaths: int) -> float:
    """How long to wait before a restart, in seconds: 0 after a long life, then 1, 2, 4 … up to 30."""
    return 0.0 if quick_deaths == 0 else min(2.0 ** (quick_deaths - 1), LONGEST_PAUSE_S)


def parse_port(text: str) -> int:
    """The port that a person typed; raises CannotServe when it is none."""
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:9]) <= LAST_PORT):
        raise CannotServe(f"A port is a whole number from 1 to {LAST_PORT}, not {text[:40]!r}.")
    return int(text)


def check_port(host: str, port: int) -> None:
    """Raises CannotServe when nothing can listen on that address."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        # As the web server does it: connections of a server that has just ended do not count as taken.
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as problem:
            if problem.errno == errno.EADDRINUSE:
                message = f"Port {port} on {host} is taken by another program. End that, or choose another port"
                raise CannotServe(f"{message}: make run PORT={port + 1 if port < LAST_PORT else 8000}") from None
            raise CannotServe(f"Nothing can listen on {host}, port {port}: {problem.strerror}.") from None


@contextmanager
def only_one(folder: Path) -> Iterator[int]:
    """Holds the lock of a var folder, so that two servers never share it; gives the lock's file descriptor.

    The kernel frees the lock when the last process that has the descriptor ends, however it ends.
    """
    with (folder / "serve.lock").open("a+") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            lock.seek(0)
            process = lock.read().strip() or "unknown"
            message = f"Levelwright already runs from {folder} (process {process}). End it first"
            raise CannotServe(f"{message}, or name another folder in LEVELWRIGHT_VAR.") from None
        lock.truncate(0)
        lock.write(f"{os.getpid()}\n")
        lock.flush()
        yield lock.fileno()


class Child:
    """One supervised process: started, and started again when it dies."""

    def __init__(
        self,
        name: str,
        command: Sequence[str],
        before: Callable[[], None] = lambda: None,
        inherited: Sequence[int] = (),
    ) -> None:
        """`before` runs before each start; `inherited` are file descriptors that the process keeps open."""
        self.name = name
        self.command = list(command)
        self.before = before
        self.inherited = tuple(inherited)
        self.process: subprocess.Popen[bytes] | None = None
        self.started_at = 0.0
        self.start_after = 0.0
        self.quick_deaths = 0

    def keep_alive(self, now: float, say: Say) -> None:
        """Starts the process if it is not running and its pause is over; notices that it has died."""
        if self.process is not None and self.process.poll() is not None:
            self._died(self.process.returncode, now, say)
        if self.process is None and now >= self.start_after:
            self._start(now, say)

    def _start(self, now: float, say: Say) -> None:
        self.started_at = now
        try:
            self.before()
        except Exception as problem:  # the database may be away for a while: no reason to give up
            self._pause(now)
            say(f"{self.name} cannot start yet: {problem}")
            return
        if self.quick_deaths:
            say(f"{self.name} is started again.")
        self.process = subprocess.Popen(
            self.command,
            cwd=ROOT,
            stdin=subprocess.DEVNULL,
            pass_fds=self.inherited,
            start_new_session=True,
            preexec_fn=_end_with_supervisor,
        )

    def _died(self, status: int, now: float, say: Say) -> None:
        self.process = None
        if status == 0:  # it retired by itself, as the background worker does after so many tasks
            self.quick_deaths, self.start_after = 0, now
            return
        if now - self.started_at >= SHORTEST_LIFE_S:
            self.quick_deaths = 0
        self._pause(now)
        say(f"{self.name} ended unexpectedly, with status {status}.")

    def _pause(self, now: float) -> None:
        self.quick_deaths += 1
        self.start_after = now + pause_before_restart_s(self.quick_deaths)

    def terminate(self) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.terminate()

    def ended(self) -> bool:
        return self.process is None or self.process.poll() is not None

    def kill(self) -> None:
        """Ends the process and all that it started, without asking."""
        if self.process is not None and self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()


def _end_with_supervisor() -> None:
    """Has Linux send SIGTERM to this child if the supervisor is killed and cannot do so itself."""
    if LIBC is not None:
        LIBC.prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


class Supervisor:
    """Runs children until a signal asks it to stop."""

    def __init__(self, children: Sequence[Child], say: Say, watch: Callable[[], None] = lambda: None) -> None:
        """`watch` is called on every round, for what else there is to look after; an exception stops all."""
        self.children = children
        self.say = say
        self.watch = watch
        self.signals = 0

    def run(self) -> None:
        """Returns when all children have ended after SIGINT, SIGTERM or SIGHUP."""
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, self._on_signal)
        try:
            while not self.signals:
                for child in self.children:
                    child.keep_alive(time.monotonic(), self.say)
                self.watch()
                time.sleep(POLL_S)
        finally:
            self.stop()

    def stop(self) -> None:
        """Asks the children to end; kills those that take too long, or all after a second signal."""
        self.say("Ending ...")
        deadline = time.monotonic() + END_TIMEOUT_S
        for child in self.children:
            child.terminate()
        while not all(child.ended() for child in self.children):
            if time.monotonic() > deadline or self.signals > 1:
                break
            time.sleep(POLL_S / 4)
        for child in self.children:
            child.kill()

    def _on_signal(self, number: int, frame: FrameType | None) -> None:
        self.signals += 1
