"""The program: its help, wrong use, what it writes on a terminal."""

import re

import click
import pytest

from salebook import __version__
from salebook.cli import commands, main
from tests.support.command_line import FIRST, Capture, on_a_terminal, run_salebook


class TestHelp:
    @pytest.mark.parametrize("name", sorted(commands.commands))
    def test_every_command_has_help_with_an_example(self, name: str, capsys: Capture) -> None:
        assert main([name, "--help"]) == 0
        shown = capsys.readouterr().out
        assert re.search(rf"Examples?:\n\s+salebook {name}\b", shown)

    @pytest.mark.parametrize("name", sorted(commands.commands))
    def test_every_option_of_a_command_is_explained(self, name: str) -> None:
        options = [each for each in commands.commands[name].params if isinstance(each, click.Option)]
        assert [option.name for option in options if not option.help] == []

    def test_the_help_names_every_command(self, capsys: Capture) -> None:
        assert main(["--help"]) == 0
        shown = capsys.readouterr().out
        assert [name for name in commands.commands if f"\n  {name} " not in shown] == []

    def test_the_version_is_the_packages(self, capsys: Capture) -> None:
        assert main(["--version"]) == 0
        assert capsys.readouterr().out == f"salebook {__version__}\n"


class TestWrongUse:
    @pytest.mark.parametrize(
        ("arguments", "says"),
        [
            (["pric"], "'pric'"),
            (["price"], "'PLAN'"),
            (["check"], "'FILE...'"),
            (["price", "--jsno", "x"], "--jsno"),
            (["price", "x", "y"], "y"),
        ],
    )
    def test_wrong_use_says_what_is_wrong_and_exits_with_2(
        self, arguments: list[str], says: str, capsys: Capture
    ) -> None:
        assert main(arguments) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert says in shown.err
        assert "--help" in shown.err


class TestTerminal:
    def test_in_a_pipe_the_output_is_plain(self) -> None:
        assert "\x1b" not in run_salebook("price", FIRST, TERM="xterm-256color").stdout

    def test_on_a_terminal_the_output_has_colour(self) -> None:
        assert re.search("\x1b\\[3[0-9;]*m", on_a_terminal("price", str(FIRST)))

    @pytest.mark.slow
    def test_no_color_is_honoured(self) -> None:
        shown = on_a_terminal("price", str(FIRST), NO_COLOR="1")
        assert "At other prices" in shown
        assert re.search("\x1b\\[[34][0-9;]*m", shown) is None

    def test_a_narrow_terminal_still_gets_every_figure(self) -> None:
        run = run_salebook("price", FIRST, COLUMNS="40")
        assert "£264.00" in run.stdout

    @pytest.mark.slow
    def test_a_terminal_that_lacks_the_letters_gets_the_rest(self) -> None:
        run = run_salebook("price", FIRST, PYTHONIOENCODING="ascii")
        assert (run.returncode, run.stderr) == (0, "")
        assert "264.00" in run.stdout

    @pytest.mark.slow
    def test_no_text_of_a_plan_can_steer_the_terminal(self) -> None:
        run = run_salebook("check", "-", stdin='format = 1\n[sale]\ntitle = "a\\u001b[2Jb"\n')
        assert run.returncode == 2
        assert "\x1b" not in run.stdout + run.stderr


def test_an_empty_place_is_refused(capsys: Capture) -> None:
    assert main(["make", str(FIRST), "-o", ""]) == 2
    assert "is empty: name a file or folder" in capsys.readouterr().err
