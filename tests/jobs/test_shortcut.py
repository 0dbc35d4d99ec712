"""The file on the desktop opens the page, whatever its folder is called."""

import configparser
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from salebook.base.errors import FileError
from salebook.cli import main
from salebook.jobs.shortcut import desktop_of, put_shortcut, shortcut_command

FOLDERS = ("sales", "my sales", 'a "quoted" $HOME `x` 50% \\ folder', "d\u00e9p\u00f4t ; rm -rf x", "it's")


def entry_of(path: Path) -> configparser.SectionProxy:
    parser = configparser.ConfigParser(interpolation=None)
    parser.optionxform = str  # type: ignore[assignment,method-assign]
    parser.read(path, encoding="utf-8")
    return parser["Desktop Entry"]


def said_by(command: str) -> list[str]:
    """Return the parts of a command as a shell takes it apart."""
    script = f"printf '%s\\n' {command}"
    return subprocess.run(
        ["sh", "-c", script], check=True, capture_output=True, text=True
    ).stdout.splitlines()


def run_by_an_entry(exec_line: str) -> list[str]:
    """Take a command apart as the Desktop Entry Specification 1.5 says ("The Exec key").

    First the escapes of any value, then quotes, in which a shell treats the same signs, then %%.
    """
    return [part.replace("%%", "%") for part in said_by(exec_line.replace("\\\\", "\\"))]


@pytest.mark.parametrize("name", FOLDERS)
def test_on_linux_it_is_an_entry_that_runs_the_page(name: str, tmp_path: Path) -> None:
    folder = tmp_path / name
    path = put_shortcut(folder, tmp_path / "Desktop", system="linux")
    entry = entry_of(path)
    assert (path.name, entry["Type"], entry["Terminal"]) == ("salebook.desktop", "Application", "true")
    assert run_by_an_entry(entry["Exec"]) == shortcut_command(folder)
    assert path.stat().st_mode & stat.S_IXUSR


@pytest.mark.parametrize("name", FOLDERS)
def test_on_a_mac_it_is_a_script_that_runs_the_page(name: str, tmp_path: Path) -> None:
    path = put_shortcut(tmp_path / name, tmp_path / "Desktop", system="darwin")
    command = path.read_text(encoding="utf-8").partition("exec ")[2]
    assert path.name == "salebook.command"
    assert said_by(command) == shortcut_command(tmp_path / name)
    assert path.stat().st_mode & stat.S_IXUSR


def test_on_windows_it_is_a_batch_file_with_its_line_ends(tmp_path: Path) -> None:
    path = put_shortcut(tmp_path / "50% sales", tmp_path / "Desktop", system="win32")
    lines = path.read_bytes().decode().split("\r\n")
    assert path.name == "salebook.bat"
    assert lines[0] == "@echo off"
    assert lines[2].startswith(f'"{sys.executable}" "-m" "salebook" "page" "--folder" "')
    assert lines[2].endswith('50%% sales"')


def test_a_folder_with_a_line_break_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="line break"):
        put_shortcut(tmp_path / "a\nb", tmp_path / "Desktop")


@pytest.mark.parametrize(
    ("environment", "found"),
    [({}, "/home/me/Desktop"), ({"XDG_DESKTOP_DIR": "$HOME/Bureau"}, "/home/me/Bureau")],
)
def test_the_desktop_is_where_the_computer_says(environment: dict[str, str], found: str) -> None:
    assert desktop_of(environment, Path("/home/me")) == Path(found)


def test_the_command_puts_it_there_and_starts_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DESKTOP_DIR", str(tmp_path / "Desktop"))
    assert main(["page", "--shortcut", "--folder", str(tmp_path / "sales")]) == 0
    assert "a double click opens salebook" in capsys.readouterr().out
    assert len(list((tmp_path / "Desktop").iterdir())) == 1
    assert not (tmp_path / "sales").exists()
