import pytest

from salebook.prints.file_name import file_name


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Village library", "letter-2-village-library.html"),
        ("Wanderbücherei", "letter-2-wanderbucherei.html"),
        ("../../etc/passwd", "letter-2-etc-passwd.html"),
        ("図書館", "letter-2.html"),
        ("x" * 200, f"letter-2-{'x' * 40}.html"),
    ],
)
def test_a_name_gives_a_file_a_plain_name(name: str, expected: str) -> None:
    assert expected == file_name("letter", 2, name)
