"""Writing is stopped dead at any moment: the old file stands there or the new one, whole."""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow

USUAL, MANY = 8, 100
LENGTH = 3_000_000
WRITER = f"""
import sys
from pathlib import Path
from salebook.base.files import write_atomically
print("begun", flush=True)
while True:
    for letter in b"NO":
        write_atomically(Path(sys.argv[1]), bytes([letter]) * {LENGTH})
"""


def kill_while_writing(path: Path, chance: random.Random) -> None:
    with subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE) as writer:
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(chance.uniform(0, 0.08))
        writer.send_signal(signal.SIGKILL)
    assert writer.returncode == -signal.SIGKILL


def test_two_that_write_at_once_leave_one_file_whole(tmp_path: Path) -> None:
    path = tmp_path / "sale.xlsx"
    once = WRITER.replace("while True:", "for _ in range(10):")
    writers = [subprocess.Popen([sys.executable, "-c", once, str(path)]) for _ in range(2)]
    assert [writer.wait(timeout=60) for writer in writers] == [0, 0]
    assert path.read_bytes() == b"O" * LENGTH
    assert [path] == list(tmp_path.iterdir())


def stand(times: int, folder: Path) -> None:
    chance = random.Random(times)  # noqa: S311  (nothing secret)
    path = folder / "sale.xlsx"
    path.write_bytes(b"N" * LENGTH)
    for _ in range(times):
        kill_while_writing(path, chance)
        content = path.read_bytes()
        assert (LENGTH, True) == (len(content), content in {b"N" * LENGTH, b"O" * LENGTH})


def test_a_kill_leaves_the_old_file_or_the_new_one_whole(tmp_path: Path) -> None:
    stand(USUAL, tmp_path)


@pytest.mark.long
def test_a_hundred_kills_leave_the_old_file_or_the_new_one_whole(tmp_path: Path) -> None:
    stand(MANY, tmp_path)
