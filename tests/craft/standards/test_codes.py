"""Check digits against the examples of those who published the rules."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from craft.standards import codes


@pytest.mark.parametrize(
    ("digits", "check"),
    [
        ("629104150021", 3),  # GS1, "How to calculate a check digit manually": 6291041500213
        ("730001100001", 7),  # GS1 Sweden, "Så beräknas kontrollsiffran": 7300011000017
        ("890400021003", 7),  # GS1 India, "An example calculating the check digit": 8904000210037
    ],
)
def test_gtin_check_digit_as_published(digits: str, check: int) -> None:
    assert codes.gtin_check_digit(digits) == check
    assert codes.read_gtin(f"{digits}{check}") == f"0{digits}{check}"


def test_upc_and_ean_of_one_thing_are_one_number() -> None:
    """GS1: a UPC-A is the EAN-13 with a nought in front (036000291452 is a common textbook UPC)."""
    assert codes.read_gtin("036000291452") == codes.read_gtin("0036000291452")


def test_gtin_is_shown_as_people_meet_it() -> None:
    assert codes.gtin_shown("06291041500213") == "6291041500213"
    assert codes.gtin_shown("00000096385074") == "96385074"
    assert codes.gtin_shown("40987650000223") == "40987650000223"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("62910415002", "A barcode has 8, 12, 13 or 14 digits; this one has 11. Scan it again."),
        (
            "6291041500214",
            "The last digit of 6291041500214 does not fit the others, so one is wrong. Scan it again.",
        ),
        ("blue", "A barcode has digits only."),
        ("٦٢٩١٠٤١٥٠٠٢١٣", "A barcode has digits only."),
        ("", "A barcode has digits only."),
    ],
)
def test_error_gtin(text: str, sentence: str) -> None:
    with pytest.raises(codes.InvalidCodeError) as caught:
        codes.read_gtin(text)
    assert str(caught.value) == sentence


@given(st.text("0123456789", min_size=12, max_size=12), st.integers(0, 12), st.integers(1, 9))
def test_one_wrong_digit_is_always_found(body: str, place: int, step: int) -> None:
    right = body + str(codes.gtin_check_digit(body))
    wrong = right[:place] + str((int(right[place]) + step) % 10) + right[place + 1 :]
    with pytest.raises(codes.InvalidCodeError):
        codes.read_gtin(wrong)


def test_check_character_as_published() -> None:
    """A1-2425G-ABC1234002-M is the example of the GRid standard, which uses ISO 7064 MOD 37,36."""
    assert codes.check_character("A12425GABC1234002") == "M"
    assert codes.has_check_character("A12425GABC1234002M")
    assert not codes.has_check_character("A12425GABC1234003M")


@given(st.text(codes.LABEL_ALPHABET, min_size=7, max_size=7), st.integers(0, 7), st.data())
def test_one_wrong_sign_of_a_label_is_always_found(body: str, place: int, data: st.DataObject) -> None:
    code = codes.label_code(body)
    if code is None:
        return
    other = data.draw(st.sampled_from(codes.LABEL_ALPHABET.replace(code[place], "")))
    assert codes.read_label_code(code) == code
    with pytest.raises(codes.InvalidCodeError):
        codes.read_label_code(code[:place] + other + code[place + 1 :])


def test_label_code_is_read_as_a_hand_writes_it() -> None:
    code = codes.label_code("0101ABC")
    assert code is not None
    written = code.lower().replace("0", "o").replace("1", "l")
    assert codes.read_label_code(f" {written[:4]}-{written[4:]} ") == code


@pytest.mark.parametrize("text", ["", "ABC", "ABCDEFGU", "!!!!!!!!", "ABCDEFGHJ"])
def test_error_label_code_length_and_signs(text: str) -> None:
    with pytest.raises(codes.InvalidCodeError, match="A label code has 8 letters and digits"):
        codes.read_label_code(text)
