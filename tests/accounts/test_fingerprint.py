"""The fingerprint of a list, checked against published texts.

RFC 8785 (JSON Canonicalization Scheme), sections 3.2.2.2 and 3.2.3, and FIPS 180-4's SHA-256 by NIST's
example values; Base 32 by Douglas Crockford's page of that name. All three from memory, as widely copied.
"""

import hashlib
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.accounts.fingerprint import (
    ALPHABET,
    canonical,
    fingerprint,
    letters_that_differ,
    typed_fingerprint,
)
from salebook.accounts.row import HEADING, KEYS, Row
from salebook.base.errors import UnfitError


def first_texts(text: str) -> list[str]:
    """Return the first text of each row of a canonical list, the heading left out."""
    return [row[0] for row in json.loads(text)[1:]]


def test_texts_are_written_as_in_rfc_8785() -> None:
    text = canonical([Row(part='\u20ac$\u000f\nA\'B"\\\\"/')])
    assert '["\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"' in text


def test_rows_stand_in_the_order_of_rfc_8785() -> None:
    sorted_there = ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    rows = [Row(part=text) for text in sorted(sorted_there)]
    # The carriage return is written with a backslash, which stands after the digit.
    assert first_texts(canonical(rows)) == ["1", "\r", *sorted_there[2:]]


def test_the_heading_is_part_of_the_text() -> None:
    assert canonical([]) == json.dumps([HEADING], separators=(",", ":"))
    assert len(HEADING) == len(KEYS) == 16


def test_the_letters_are_crockfords() -> None:
    assert ALPHABET == "".join(
        letter for letter in "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ" if letter not in "ILOU"
    )


@pytest.mark.parametrize(
    ("text", "digest"),
    [
        ("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        ("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
        (
            "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
    ],
)
def test_the_digest_is_fips_180_4s(text: str, digest: str) -> None:
    assert hashlib.sha256(text.encode()).hexdigest() == digest


def test_a_fingerprint_is_the_first_hundred_bits_in_groups() -> None:
    rows = [Row(part="sale", what="Ropewalk table")]
    bits = bin(int(hashlib.sha256(canonical(rows).encode()).hexdigest(), 16))[2:].zfill(256)[:100]
    letters = "".join(ALPHABET[int(bits[start : start + 5], 2)] for start in range(0, 100, 5))
    assert fingerprint(rows) == "-".join(letters[start : start + 4] for start in range(0, 20, 4))


@given(st.permutations([Row(part="line", line=str(number)) for number in range(6)]))
def test_the_order_of_rows_does_not_matter(rows: list[Row]) -> None:
    assert fingerprint(rows) == fingerprint(sorted(rows, key=lambda row: row.line))


@given(st.integers(0, 15), st.text(min_size=1, max_size=3))
def test_every_text_of_a_row_matters(place: int, text: str) -> None:
    one = Row(**dict.fromkeys(KEYS, "x"))
    other = Row(**dict.fromkeys(KEYS, "x") | {KEYS[place]: f"x{text}"})
    assert fingerprint([one]) != fingerprint([other])
    assert fingerprint([one]) != fingerprint([one, one])


@pytest.mark.parametrize(
    "typed",
    [
        "SE72-JVZG-9XJA-EDCF-7TSZ",
        "se72jvzg9xjaedcf7tsz",
        "SE72 JVZG 9XJA EDCF 7TSZ",
        "5E72-JVZG-9XJA-EDCF-7TSZ",
    ],
)
def test_case_and_what_stands_between_are_free(typed: str) -> None:
    letters = "S" if typed.upper().startswith("S") else "5"
    assert typed_fingerprint(typed) == f"{letters}E72-JVZG-9XJA-EDCF-7TSZ"


def test_letters_that_are_not_there_are_read_for_digits() -> None:
    assert typed_fingerprint("oil0-0000-0000-0000-ILO1") == "0110-0000-0000-0000-1101"


@pytest.mark.parametrize(
    "typed", ["", "SE72", "SE72-JVZG-9XJA-EDCF-7TSZ0", "UE72-JVZG-9XJA-EDCF-7TSZ", "é" * 20]
)
def test_what_is_no_fingerprint_is_refused(typed: str) -> None:
    with pytest.raises(UnfitError, match="20 letters and digits"):
        typed_fingerprint(typed)


def test_letters_that_differ_are_counted() -> None:
    assert letters_that_differ("SE72-JVZG", "SE72-JVZG") == 0
    assert letters_that_differ("SE72-JVZG", "5E72-JV2G") == 2
