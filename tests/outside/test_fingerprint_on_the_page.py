"""The fingerprint's parts as the page check.html works them out, against what their standards publish."""

import hashlib
import json

import pytest

from tests.support.check_page import KEYS, opened
from tests.support.devtools import Browser
from tests.support.programs import needs_chromium

pytestmark = needs_chromium


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Browser:
    return opened(tmp_path_factory.mktemp("page"))


def hashes(page: Browser, texts: list[str]) -> list[str]:
    question = f"{json.dumps(texts)}.map(text => salebook.sha256(new TextEncoder().encode(text)))"
    return list(page.found(question))


PUBLISHED = {
    # FIPS 180-4, by NIST's example values for SHA-256: one block, two blocks.
    "abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": (
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
    ),
    # NIST CAVP, SHA256ShortMsg: the message without a bit.
    "": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    # FIPS 180-2, appendix B.3.
    "a" * 1_000_000: "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
}


def test_sha_256_has_the_published_values(page: Browser) -> None:
    assert hashes(page, list(PUBLISHED)) == list(PUBLISHED.values())


def test_sha_256_is_pythons_for_every_length_of_two_blocks(page: Browser) -> None:
    texts = ["é" * (length // 2) + "x" * (length % 2) for length in range(140)]
    assert hashes(page, texts) == [hashlib.sha256(text.encode()).hexdigest() for text in texts]


def canonical(page: Browser, *parts: str) -> str:
    rows = [dict.fromkeys(KEYS, "") | {"part": part} for part in parts]
    return str(page.found(f"salebook.canonical({json.dumps(rows)})"))


def test_texts_are_written_as_rfc_8785_writes_them(page: Browser) -> None:
    """RFC 8785, section 3.2.2: the property "string" of the sample, read and written again."""
    read = json.loads(r'''"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/"''')
    written = '"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"'
    assert canonical(page, read).split("],[")[1].startswith(f"{written},")


def test_rows_are_sorted_as_rfc_8785_sorts_properties(page: Browser) -> None:
    """RFC 8785, section 3.2.3, without the carriage return, whose escape stands elsewhere in a row's text."""
    expected = ["1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    written = json.loads(canonical(page, *sorted(expected)))
    assert [row[0] for row in written[1:]] == expected


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        # Douglas Crockford, Base 32: i, I, l and L are 1, o and O are 0, small letters count as large ones,
        # hyphens are ignored, and U is no letter.
        ("0123456789ABCDEFGHJK", "0123-4567-89AB-CDEF-GHJK"),
        ("mnpqrstvwxyz-iIlL-oO00", "MNPQ-RSTV-WXYZ-1111-0000"),
        ("U123456789ABCDEFGHJK", None),
    ],
)
def test_letters_are_read_as_crockford_has_them(page: Browser, typed: str, read: str | None) -> None:
    assert page.found(f"salebook.typedFingerprint({json.dumps(typed)})") == read


@pytest.mark.parametrize("typed", ["", "1234", "1" * 19, "1" * 21, "ß" * 20, "1234-5678-9ABC-DEFG-HJK!"])
def test_what_has_not_twenty_of_its_letters_is_no_fingerprint(page: Browser, typed: str) -> None:
    assert page.found(f"salebook.typedFingerprint({json.dumps(typed)})") is None
