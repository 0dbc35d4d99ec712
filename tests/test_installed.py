"""The package as it is installed: built as a wheel, unpacked, run away from the checkout."""

import os
import shutil
import subprocess
import sys
import zipfile
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import pytest

from tests.support.programs import ALL_MUST_RUN

ROOT = Path(__file__).parent.parent
NOT_COPIED = shutil.ignore_patterns(".*", "tests", "*.egg-info", "__pycache__", "build", "pack")
INSIDE = ("*.py", "*.csv", "*.toml", "py.typed")


def can_build() -> bool:
    """Whether this environment holds a setuptools that can build a wheel by itself."""
    try:
        return int(version("setuptools").split(".")[0]) >= 77
    except PackageNotFoundError:
        return False


pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not can_build() and not ALL_MUST_RUN, reason="not installed: setuptools 77 or newer"),
]


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from a copy of the checkout and unpack it as an installation would."""
    folder = tmp_path_factory.mktemp("wheel")
    shutil.copytree(ROOT, folder / "source", ignore=NOT_COPIED)
    build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation"]
    subprocess.run([*build, "--wheel-dir", str(folder), str(folder / "source")], check=True)
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "site")
    return folder / "site"


def names_in(folder: Path, *patterns: str) -> set[str]:
    return {str(path.relative_to(folder)) for pattern in patterns for path in folder.rglob(pattern)}


def test_every_module_and_its_data_are_installed(unpacked: Path) -> None:
    assert names_in(unpacked / "salebook", *INSIDE) == names_in(ROOT / "salebook", *INSIDE)


def test_every_template_and_sample_is_installed(unpacked: Path) -> None:
    assert names_in(unpacked / "salebook_templates", "*.html", "*.css", "*.js") == names_in(
        ROOT / "templates", "*.html", "*.css", "*.js"
    )
    assert names_in(unpacked / "salebook_samples", "*.toml", "*.xlsx", "*.jpg") == names_in(
        ROOT / "sample_data", "*.toml", "*.xlsx", "*.jpg"
    )


def test_the_installed_package_makes_its_demo(unpacked: Path, tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "salebook", "demo", "demo"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(unpacked)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (run.returncode, run.stderr) == (0, "")
    assert (tmp_path / "demo" / "sale.xlsx").is_file()
