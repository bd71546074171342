"""The supervisor starts children, starts them again when they die, and ends them cleanly."""

import os
import signal
import socket
import subprocess
import sys
import time

import pytest

from project import supervisor
from project.supervisor import CannotServe, Child, Supervisor, check_port, only_one, parse_port

LIVES = "import time; time.sleep(60)"
STUBBORN = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print(1, flush=True); time.sleep(60)"


def python(code):
    return [sys.executable, "-c", code]


@pytest.fixture
def said():
    return []


@pytest.fixture
def child():
    started = []

    def make(code, **options):
        one = Child("The child", python(code), **options)
        started.append(one)
        return one

    yield make
    for one in started:
        one.kill()


def wait_until_dead(one):
    one.process.wait(timeout=10)


def test_pauses_grow_and_stay_bounded():
    assert [supervisor.pause_before_restart_s(n) for n in (0, 1, 2, 3, 5, 6, 500)] == [0, 1, 2, 4, 16, 30, 30]


@pytest.mark.parametrize(("text", "port"), [("1", 1), ("8000", 8000), ("65535", 65535)])
def test_port(text, port):
    assert parse_port(text) == port


@pytest.mark.parametrize("text", ["", "0", "-1", "65536", "http", "80 ", "8000.0", "٨٠", "9" * 5000])
def test_port_that_is_none(text):
    with pytest.raises(CannotServe, match="from 1 to 65535"):
        parse_port(text)


def test_taken_port_is_named_with_another_to_try():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(CannotServe, match=rf"Port {port} on 127.0.0.1 is taken .* PORT="):
            check_port("127.0.0.1", port)
    check_port("127.0.0.1", port)


def test_address_that_is_not_ours():
    with pytest.raises(CannotServe, match=r"192\.0\.2\.1"):  # RFC 5737: never assigned to a machine
        check_port("192.0.2.1", 8000)


def test_second_server_in_the_same_folder_is_refused(tmp_path):
    with only_one(tmp_path), pytest.raises(CannotServe, match=f"process {os.getpid()}"), only_one(tmp_path):
        pass
    with only_one(tmp_path):
        pass


def test_lock_is_held_as_long_as_a_child_that_inherited_it_lives(tmp_path, child, said):
    with only_one(tmp_path) as lock:
        worker = child(LIVES, inherited=[lock])
        worker.keep_alive(0.0, said.append)
    with pytest.raises(CannotServe), only_one(tmp_path):
        pass
    worker.kill()
    with only_one(tmp_path):
        pass


def test_child_that_dies_is_started_again_after_a_pause(child, said):
    one = child("raise SystemExit(3)")
    one.keep_alive(100.0, said.append)
    wait_until_dead(one)
    one.keep_alive(100.5, said.append)
    assert one.process is None
    assert said == ["The child ended unexpectedly, with status 3."]
    one.keep_alive(101.4, said.append)
    assert one.process is None
    one.keep_alive(101.6, said.append)
    assert one.process is not None
    assert said[-1] == "The child is started again."


def test_pause_starts_afresh_after_a_long_life(child, said):
    one = child("raise SystemExit(3)")
    one.quick_deaths = 4
    one.keep_alive(100.0, said.append)
    wait_until_dead(one)
    one.keep_alive(100.0 + supervisor.SHORTEST_LIFE_S, said.append)
    assert one.quick_deaths == 1


def test_child_that_retires_is_started_again_at_once_without_a_word(child, said):
    one = child("")
    one.keep_alive(100.0, said.append)
    wait_until_dead(one)
    one.keep_alive(100.5, said.append)
    assert one.process is not None
    assert said == []


def test_what_comes_before_a_start_may_fail_for_a_while(child, said):
    problems = [OSError("the database is away"), None]

    def before():
        problem = problems.pop(0)
        if problem:
            raise problem

    one = child(LIVES, before=before)
    one.keep_alive(100.0, said.append)
    assert one.process is None
    assert said == ["The child cannot start yet: the database is away"]
    one.keep_alive(101.5, said.append)
    assert one.process is not None


def test_kill_ends_what_the_child_started_too(child, said):
    one = child(f"import subprocess, sys; subprocess.run([sys.executable, '-c', '{LIVES}'])")
    one.keep_alive(0.0, said.append)
    group = one.process.pid
    one.kill()
    deadline = time.monotonic() + 5
    while time.monotonic() < deadline:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return
        time.sleep(0.05)
    pytest.fail("a process of the child's group is left")


def run_supervisor(code, *signals):
    """Runs a supervisor over one child in a process of its own, sends it signals: status, output, child."""
    program = (
        "import sys\n"
        "from project.supervisor import Child, Supervisor\n"
        f"child = Child('The child', [sys.executable, '-c', {code!r}])\n"
        "ready = []\n"
        "def watch():\n"
        "    if child.process and not ready: ready.append(print('pid', child.process.pid, flush=True))\n"
        "Supervisor([child], lambda text: print(text, flush=True), watch).run()\n"
        "print('done', flush=True)\n"
    )
    process = subprocess.Popen(
        python(program), cwd=supervisor.ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    child_pid = int(process.stdout.readline().split()[1])
    time.sleep(0.3)
    for number in signals:
        process.send_signal(number)
        time.sleep(0.5)
    output, _ = process.communicate(timeout=20)
    return process.returncode, output, child_pid


def is_alive(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_signal_ends_all_cleanly(number):
    status, output, child_pid = run_supervisor(LIVES, number)
    assert (status, output) == (0, "Ending ...\ndone\n")
    assert not is_alive(child_pid)


def test_second_signal_does_not_wait_for_a_child_that_takes_its_time():
    status, output, child_pid = run_supervisor(STUBBORN, signal.SIGINT, signal.SIGINT)
    assert status == 0
    assert output.endswith("done\n")
    assert "Traceback" not in output
    assert not is_alive(child_pid)


@pytest.mark.skipif(sys.platform != "linux", reason="the kernel sees to this on Linux only")
def test_children_end_with_a_supervisor_that_is_killed():
    status, _, child_pid = run_supervisor(LIVES, signal.SIGKILL)
    assert status == -signal.SIGKILL
    deadline = time.monotonic() + 5
    while is_alive(child_pid) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not is_alive(child_pid)


def test_exception_in_the_round_ends_the_children(child, said):
    one = child(LIVES)

    def watch():
        raise CannotServe("no good")

    previous = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)}
    try:
        with pytest.raises(CannotServe, match="no good"):
            Supervisor([one], said.append, watch).run()
    finally:
        for number, handler in previous.items():
            signal.signal(number, handler)
    assert one.ended()
    assert said == ["Ending ..."]
