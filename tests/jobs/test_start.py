"""A first plan is put into its file whole, and never over another one unasked."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from shlex import split

import pytest

from salebook.base.errors import FileError, SalebookError, WrongUseError
from salebook.jobs.start import ask_for_plan, write_blank_plan
from salebook.start.locale_defaults import LocaleDefaults
from tests.support.talk import Talk, script

HOME = LocaleDefaults(today=date(2027, 3, 10))
Writer = Callable[..., None]


def asked(file: Path, *lines: str, on_terminal: bool = True) -> Talk:
    talk = Talk(*lines)
    ask_for_plan(file, HOME, ask=talk.ask, say=talk.say, on_terminal=on_terminal, every=True)
    return talk


def test_the_plan_is_written_and_the_next_command_named(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    talk = asked(file, *script())
    assert 'title = "Open shed"' in file.read_text(encoding="utf-8")
    assert f"salebook price {file}" in talk.text
    assert "assumed" not in talk.text


def test_the_next_commands_can_be_copied_whatever_the_name(tmp_path: Path) -> None:
    file = tmp_path / "advent 2027 für uns.toml"
    commands = [line.partition(": ")[2] for line in asked(file, *script()).shown[-2:]]
    assert [split(command) for command in commands] == [
        ["salebook", "price", str(file)],
        ["salebook", "make", str(file)],
    ]


def test_what_was_assumed_is_counted(tmp_path: Path) -> None:
    talk = asked(tmp_path / "plan.toml", *script(ball="don't know", energy="no idea"))
    assert "What nobody knew is assumed, and marked in it (2)." in talk.text


def test_a_plan_that_is_there_is_replaced_only_after_a_yes(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("mine", encoding="utf-8")
    asked(file, "yes", *script())
    assert "Open shed" in file.read_text(encoding="utf-8")


@pytest.mark.parametrize("answer", ["no", "", "maybe"])
def test_without_a_yes_it_stays_as_it_is(answer: str, tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(FileError, match="stays as it is"):
        asked(file, answer, *script())
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_plan_that_came_meanwhile_is_not_written_over_unasked(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    talk = Talk(*script(), "no")

    def ask(prompt: str) -> str:
        if len(talk.lines) == 3:
            file.write_text("somebody else's", encoding="utf-8")
        return talk.ask(prompt)

    with pytest.raises(FileError, match="stays as it is"):
        ask_for_plan(file, HOME, ask=ask, say=talk.say, on_terminal=True, every=True)
    assert file.read_text(encoding="utf-8") == "somebody else's"


def stopped(file: Path, *lines: str, stop: type[BaseException] = EOFError) -> str:
    """Return what is said where the lines end, or Ctrl-C is pressed."""
    talk = Talk(*lines)

    def ask(prompt: str) -> str:
        try:
            return talk.ask(prompt)
        except EOFError as end:
            raise stop from end

    with pytest.raises(SalebookError, match="Stopped") as trouble:
        ask_for_plan(file, HOME, ask=ask, say=talk.say, on_terminal=True, every=True)
    assert trouble.value.exit_code == 1
    return str(trouble.value)


@pytest.mark.parametrize("stop", [EOFError, KeyboardInterrupt])
def test_who_stops_before_the_first_answer_leaves_nothing_behind(
    stop: type[BaseException], tmp_path: Path
) -> None:
    assert "Stopped: nothing was written" in stopped(tmp_path / "plan.toml", stop=stop)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("stop", [EOFError, KeyboardInterrupt])
@pytest.mark.parametrize("answers", [1, 12, len(script()) - 1])
def test_who_stops_goes_on_another_time_with_the_answers_kept(
    stop: type[BaseException], answers: int, tmp_path: Path
) -> None:
    file = tmp_path / "plan.toml"
    said = stopped(file, *script()[:answers], stop=stop)
    assert f"kept in {tmp_path / 'plan-answers.json'}. To go on: salebook start {file}" in said
    assert not file.exists()
    asked(file, "yes", *script()[answers:])
    assert [each.name for each in tmp_path.iterdir()] == ["plan.toml"]
    resumed = file.read_text(encoding="utf-8")
    asked(file, "yes", *script())
    assert resumed == file.read_text(encoding="utf-8")


def test_who_goes_on_can_go_back_to_what_was_answered_before(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    stopped(file, *script()[:3])
    asked(file, "yes", "back", "Weir meadow", *script()[3:])
    assert 'name = "Weir meadow"' in file.read_text(encoding="utf-8")


def test_kept_answers_are_left_aside_after_a_no(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    stopped(file, "Somebody else")
    asked(file, "no", *script())
    assert "Somebody else" not in file.read_text(encoding="utf-8")
    assert [each.name for each in tmp_path.iterdir()] == ["plan.toml"]


@pytest.mark.parametrize(
    "kept",
    [b"", b"\xff", b"[1]", b'"x"', b'{"maker": 1}', b'{"maker": {"text": 3}}', b'{"maker": {}}', b"{" * 9],
)
def test_kept_answers_that_nobody_can_read_are_asked_again(kept: bytes, tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.with_name("plan-answers.json").write_bytes(kept)
    asked(file, *script())
    assert 'title = "Open shed"' in file.read_text(encoding="utf-8")


def test_kept_answers_that_fit_no_question_are_asked_again(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    kept = '{"days": {"text": "soon", "known": true}, "colour": {"text": "blue"}}'
    file.with_name("plan-answers.json").write_text(kept, encoding="utf-8")
    asked(file, "yes", *script())
    assert "2027-06-12" in file.read_text(encoding="utf-8")


def test_without_a_terminal_it_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(WrongUseError, match=r"salebook start .*plan\.toml --blank"):
        asked(tmp_path / "plan.toml", on_terminal=False)


def blank(file: Path) -> None:
    write_blank_plan(file, HOME, say=lambda _line: None)


@pytest.mark.parametrize("write", [blank, asked])
def test_a_place_that_cannot_be_written_is_told_before_the_first_question(
    write: Writer, tmp_path: Path
) -> None:
    (tmp_path / "folder").mkdir()
    for file, says in (
        (tmp_path / "folder", "needs a file"),
        (tmp_path / "sale.xlsx", "needs a file, such as plan.toml"),
        (tmp_path / "no" / "plan.toml", "no such folder"),
    ):
        with pytest.raises(FileError, match=says):
            write(file)


def test_a_blank_plan_never_replaces_another(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    blank(file)
    before = file.read_bytes()
    with pytest.raises(FileError, match="is there already"):
        blank(file)
    assert file.read_bytes() == before


def test_a_blank_plan_may_go_to_standard_output() -> None:
    lines: list[str] = []
    write_blank_plan(Path("-"), HOME, say=lines.append)
    assert lines[0].startswith("# A plan for salebook")
