"""Programs that are missing, fail, print rubbish, never end or never stop writing: each is one exception in time."""

import time
from pathlib import Path

import pytest

from harnessgen.outside.program import OutsideProgram, OutsideProgramFailed, answer_of, forgive
from tests.outside.fakes import fake_program
from tests.samples import some

SLOW = OutsideProgram("the echo", "install it with: echo", limit_s=30.0)
FAST = OutsideProgram("the echo", "install it with: echo", limit_s=1.0)


@pytest.fixture(autouse=True)
def _forgiven() -> None:
    forgive()


def is_alive(process: int) -> bool:
    """Whether the process runs; one that is dead and not yet fetched does not."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_an_answer_is_what_the_program_writes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A megabyte there and back, written while it is still being read."""
    fake_program(
        tmp_path / "bin", monkeypatch, "echo-all", "for each in sys.stdin.buffer: sys.stdout.buffer.write(each)"
    )
    text = b"0123456789\n" * 100_000
    assert answer_of(SLOW, ["echo-all"], text) == text


def test_a_missing_program_is_told_with_how_to_install_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No such file, and with an empty PATH none of the present folder either."""
    path = fake_program(tmp_path / "bin", monkeypatch, "here", "print('ran')")
    with pytest.raises(OutsideProgramFailed, match=r"^the echo is not installed; install it with: echo$"):
        answer_of(SLOW, ["no-such-program"], b"")
    monkeypatch.chdir(path.parent)
    monkeypatch.setenv("PATH", "")
    with pytest.raises(OutsideProgramFailed, match="is not installed"):
        answer_of(SLOW, ["here"], b"")


def test_a_file_that_is_no_program_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = fake_program(tmp_path / "bin", monkeypatch, "broken", "")
    path.write_bytes(b"\x00\x01\x02")
    with pytest.raises(OutsideProgramFailed, match="Exec format error"):
        answer_of(SLOW, ["broken"], b"")


@pytest.mark.parametrize("body", ["sys.exit(3)", "print('half'); sys.exit(3)"])
def test_an_exit_status_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, body: str) -> None:
    """Also where it has read nothing of a long text, or has answered already."""
    fake_program(tmp_path / "bin", monkeypatch, "failing", body)
    with pytest.raises(OutsideProgramFailed, match=r"exit status 3"):
        answer_of(SLOW, ["failing"], b"x" * 2**20)


def test_an_answer_without_end_is_cut_off(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is ended long before its time, at the most bytes that an answer may have."""
    fake_program(tmp_path / "bin", monkeypatch, "endless", "while True: sys.stdout.write('y' * 4096)")
    begun = time.monotonic()
    with pytest.raises(OutsideProgramFailed, match="does not end"):
        answer_of(SLOW, ["endless"], b"", 2**20)
    assert time.monotonic() - begun < SLOW.limit_s / 2


HANGING = {
    "it sleeps": "time.sleep(60)",
    "it has closed its output": "os.close(1); time.sleep(60)",
    "it refuses to be asked to end": "import signal; signal.signal(signal.SIGTERM, signal.SIG_IGN); time.sleep(60)",
    "its child holds the output": "os.fork(); time.sleep(60)",
    "its child has left its group": "if os.fork() == 0: os.setsid(); time.sleep(20)",
    "it drips": "while True: print('y', flush=True); time.sleep(0.1)",
}


@pytest.mark.parametrize("how", some(HANGING, ("it refuses to be asked to end", "its child has left its group")))
def test_one_that_hangs_is_ended_in_its_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str) -> None:
    """It is told with the seconds, it is gone, and it is not waited for again until it is forgiven."""
    noted = tmp_path / "pid"
    fake_program(
        tmp_path / "bin", monkeypatch, "hanging", f"open({str(noted)!r}, 'w').write(str(os.getpid()))\n{HANGING[how]}"
    )
    begun = time.monotonic()
    with pytest.raises(OutsideProgramFailed, match=r"^the echo gave no answer within 1 s and was ended$"):
        answer_of(FAST, ["hanging"], b"text")
    assert time.monotonic() - begun < 10
    assert not is_alive(int(noted.read_text()))
    noted.unlink()
    with pytest.raises(OutsideProgramFailed, match="was ended"):
        answer_of(FAST, ["hanging"], b"text")
    assert not noted.exists()


def test_what_a_program_has_started_ends_with_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    noted = tmp_path / "pid"
    body = f"child = os.fork()\nif child: open({str(noted)!r}, 'w').write(str(child))\ntime.sleep(60)"
    fake_program(tmp_path / "bin", monkeypatch, "hanging", body)
    with pytest.raises(OutsideProgramFailed):
        answer_of(FAST, ["hanging"], b"")
    for _ in range(50):
        if not is_alive(int(noted.read_text())):
            break
        time.sleep(0.05)
    assert not is_alive(int(noted.read_text()))
