"""`salebook start` on a real terminal, and without one."""

import os
import signal
import subprocess
import sys
from datetime import date
from pathlib import Path

import pexpect
import pytest

from salebook.cli import main
from tests.support.books import sample_book
from tests.support.talk import script

ROOT = Path(__file__).parent.parent.parent
PROMPT = "\r\n  > "
NEXT_JUNE = f"12 and 13 June {date.today().year + 1}"


def hear_ctrl_c() -> None:
    """Hear Ctrl-C also where the tests themselves were started in the background, which is deaf to it."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def started(folder: Path, *arguments: str) -> "pexpect.spawn[str]":
    """Start salebook on a terminal of its own."""
    environment = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "LANG": "en_GB.UTF-8",
        "LC_ALL": "",
        "TERM": "xterm",
    }
    return pexpect.spawn(
        sys.executable,
        ["-m", "salebook", "start", *arguments],
        cwd=str(folder),
        preexec_fn=hear_ctrl_c,
        env=environment,
        encoding="utf-8",
        timeout=60,
        dimensions=(50, 120),
    )


def say_all(terminal: "pexpect.spawn[str]", *lines: str) -> None:
    for line in lines:
        terminal.expect_exact(PROMPT)
        terminal.sendline(line)


def exit_code(terminal: "pexpect.spawn[str]") -> int | None:
    terminal.expect(pexpect.EOF)
    terminal.close()
    return terminal.exitstatus


@pytest.mark.slow
def test_the_answers_become_a_plan_that_is_sound_and_priced_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal = started(tmp_path, "--all")
    lines = script(shrinkage="don't know", days=NEXT_JUNE)
    first, *others = lines
    say_all(terminal, first, "back", first, *others)
    terminal.expect_exact("Made plan.toml. What nobody knew is assumed, and marked in it (1).")
    assert exit_code(terminal) == 0
    plan = tmp_path / "plan.toml"
    assert main(["check", str(plan)]) == 0
    assert main(["price", str(plan)]) == 0
    shown = capsys.readouterr()
    assert f"{plan}: sound" in shown.out
    assert "At the prices in the plan you can expect about £" in shown.out
    assert shown.err == ""


@pytest.mark.slow
def test_control_c_keeps_the_answers_and_the_same_command_goes_on(tmp_path: Path) -> None:
    lines = ["Millrace pots", NEXT_JUNE, "Plate & Hope, Youth choir", "no"]
    terminal = started(tmp_path, "spring.toml")
    say_all(terminal, *lines)
    terminal.expect_exact(PROMPT)
    stopped = "Stopped: your answers are kept in spring-answers.json. To go on: salebook start spring.toml"
    # Between the prompt and the waiting for an answer Python may miss it: a person presses again.
    for _attempt in range(6):
        terminal.sendintr()
        if terminal.expect_exact([stopped, pexpect.TIMEOUT], timeout=10) == 0:
            break
    else:
        pytest.fail("Ctrl-C does not end it")
    assert exit_code(terminal) == 1
    again = started(tmp_path, "spring.toml")
    again.expect_exact("Go on with them?")
    say_all(again, "yes")
    again.expect_exact("[4/12]")
    say_all(again, "four thousand pounds", "jug", "100ish", "£24", "stoneware", "10oz")
    again.expect_exact("That is 283 g (10 oz).")
    say_all(again, "2 foot by 18 inches", "28", "no", "about 28p", "nothing", "")
    again.expect_exact("Made spring.toml.")
    assert exit_code(again) == 0
    assert [each.name for each in tmp_path.iterdir()] == ["spring.toml"]
    assert main(["check", str(tmp_path / "spring.toml")]) == 0


def test_the_end_of_input_before_any_answer_leaves_nothing(tmp_path: Path) -> None:
    terminal = started(tmp_path)
    terminal.expect_exact(PROMPT)
    terminal.sendeof()
    terminal.expect_exact("Stopped: nothing was written.")
    assert exit_code(terminal) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_plan_that_is_there_is_asked_for(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text("mine", encoding="utf-8")
    terminal = started(tmp_path)
    terminal.expect_exact("plan.toml is there already. Write a new plan over it?")
    say_all(terminal, "no")
    terminal.expect_exact("stays as it is")
    assert exit_code(terminal) == 1
    assert (tmp_path / "plan.toml").read_text(encoding="utf-8") == "mine"


def run_without_terminal(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "salebook", "start", *arguments],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )


def test_without_a_terminal_it_asks_nothing_and_says_what_to_do(tmp_path: Path) -> None:
    run = run_without_terminal(tmp_path)
    assert (run.returncode, run.stdout) == (2, "")
    assert "salebook start plan.toml --blank" in run.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_blank_plan_needs_no_terminal_and_is_sound(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run = run_without_terminal(tmp_path, "--blank")
    assert (run.returncode, run.stderr) == (0, "")
    assert main(["check", str(tmp_path / "plan.toml")]) == 0
    assert "sound" in capsys.readouterr().out


@pytest.mark.slow
def test_the_plan_of_the_next_sale_comes_from_a_filled_in_book(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "sale.xlsx").write_bytes(sample_book("first-sale", filled_in=True))
    terminal = started(tmp_path, "--from", "sale.xlsx", "next.toml", "--today", "2027-05-01")
    terminal.expect_exact("Mug at £16.00: ")
    terminal.expect_exact("All else is carried over as it was")
    terminal.expect_exact("Enter takes: Saturday, 22 April 2028.")
    say_all(terminal, "6 May 2028", "", "back", "Meadow sale", "£300", "24", "", "")
    terminal.expect_exact("Made next.toml.")
    assert exit_code(terminal) in {0, 3}
    plan = tmp_path / "next.toml"
    assert main(["check", str(plan)]) == 0
    assert f"{plan}: sound" in capsys.readouterr().out
    assert 'title = "Meadow sale"' in plan.read_text(encoding="utf-8")
