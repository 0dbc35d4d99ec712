"""A page that really runs, in a process of its own."""

import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def running(folder: Path, *more: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Yield a running page with its address."""
    command = [sys.executable, "-m", "salebook", "page", "--no-browser", "--folder", str(folder), *more]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as page:
        assert page.stdout is not None
        try:
            said = page.stdout.readline() + page.stdout.readline()
            yield page, re.findall(r"http://\S+", said)[0]
        finally:
            page.kill()
