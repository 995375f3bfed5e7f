"""QR symbols against ISO/IEC 18004 and against an encoder that shares no code with ours."""

from __future__ import annotations

import numpy as np
import pytest
import segno
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from witnessmark.pack.qr_symbol import (
    ALPHANUMERIC,
    AddressTooLong,
    NotAlphanumeric,
    QrSymbol,
    UnknownLevel,
    dark_runs,
    qr_symbol,
)

# ISO/IEC 18004:2006 Annex I.2, '01234567' at 1-M: data codewords, then error correction codewords.
ISO_01234567_1M = "10 20 0C 56 61 80 EC 11 EC 11 EC 11 EC 11 EC 11 A5 24 D4 C1 ED 36 C7 87 2C 55"
# ISO/IEC 18004:2006 7.4.4, 'AC-42' at 1-H: mode, character count and data bits.
ISO_AC_42_BITS = "00100000001010011100111011100111001000010"

# ISO/IEC 18004:2006 table 10; i is the row, j the column.
MASKS = {
    0: lambda i, j: (i + j) % 2 == 0,
    1: lambda i, _: i % 2 == 0,
    2: lambda _, j: j % 3 == 0,
    3: lambda i, j: (i + j) % 3 == 0,
    4: lambda i, j: (i // 2 + j // 3) % 2 == 0,
    5: lambda i, j: (i * j) % 2 + (i * j) % 3 == 0,
    6: lambda i, j: ((i * j) % 2 + (i * j) % 3) % 2 == 0,
    7: lambda i, j: ((i + j) % 2 + (i * j) % 3) % 2 == 0,
}


def codewords_of_version_1(symbol: QrSymbol, mask: int) -> list[int]:
    """The 26 codewords read back from a version 1 symbol: unmasked, two columns at a time from the lower right."""
    bits: list[int] = []
    upwards = True
    for right in (20, 18, 16, 14, 12, 10, 8, 5, 3, 1):
        rows = range(20, -1, -1) if upwards else range(21)
        for i in rows:
            for j in (right, right - 1):
                is_function = (i <= 8 and (j <= 8 or j >= 13)) or (i >= 13 and j <= 8) or i == 6 or j == 6
                if not is_function:
                    bits.append(int(symbol.rows[i][j]) ^ int(MASKS[mask](i, j)))
        upwards = not upwards
    return [int("".join(map(str, bits[at : at + 8])), 2) for at in range(0, 208, 8)]


@pytest.mark.parametrize("mask", range(8))
def test_the_worked_example_of_the_standard_comes_out_codeword_by_codeword(mask: int) -> None:
    symbol = qr_symbol("01234567", "M", mask)
    assert symbol.version == 1
    assert codewords_of_version_1(symbol, mask) == [int(word, 16) for word in ISO_01234567_1M.split()]


def test_the_alphanumeric_example_of_the_standard_comes_out_bit_by_bit() -> None:
    words = codewords_of_version_1(qr_symbol("AC-42", "H", 2), 2)
    assert "".join(f"{word:08b}" for word in words).startswith(ISO_AC_42_BITS)


@pytest.mark.parametrize("mask", range(8))
def test_the_worked_example_equals_segno_at_every_fixed_mask(mask: int) -> None:
    other = segno.make_qr("01234567", error="m", version=1, mask=mask, boost_error=False)
    assert [list(row) for row in qr_symbol("01234567", "M", mask).rows] == [
        [bool(m) for m in row] for row in other.matrix
    ]


def ends_on_a_codeword(text: str) -> bool:
    """Whether mode, count, data and terminator fill whole codewords; versions 1 to 9.

    segno 1.6.6 then adds a codeword of zeros before the pad codewords, where ISO/IEC 18004:2015 7.4.10 asks for padding
    bits only 'if the bit stream length is such that it does not end at a codeword boundary'. Decoders ignore it.
    """
    if text.isdigit():
        return (4 + 10 + len(text) // 3 * 10 + (0, 4, 7)[len(text) % 3] + 4) % 8 == 0
    return (4 + 9 + len(text) // 2 * 11 + len(text) % 2 * 6 + 4) % 8 == 0


@settings(max_examples=60, deadline=None)
@given(
    text=st.text(alphabet=sorted(ALPHANUMERIC), min_size=1, max_size=90).filter(
        lambda text: not ends_on_a_codeword(text)
    ),
    level=st.sampled_from(["L", "M", "Q", "H"]),
    mask=st.integers(0, 7),
)
def test_any_upper_case_text_gives_the_matrix_that_segno_gives(text: str, level: str, mask: int) -> None:
    symbol = qr_symbol(text, level, mask)  # type: ignore[arg-type]
    other = segno.make_qr(text, error=level, mask=mask, boost_error=False)
    assert symbol.version == other.version
    assert [list(row) for row in symbol.rows] == [[bool(module) for module in row] for row in other.matrix]


@settings(max_examples=40, deadline=None)
@given(
    text=st.text(alphabet=sorted(ALPHANUMERIC), min_size=1, max_size=90), level=st.sampled_from(["L", "M", "Q", "H"])
)
def test_any_upper_case_text_is_read_back_by_zxing_at_the_level_asked_for(text: str, level: str) -> None:
    modules = np.array(qr_symbol(text, level).rows)  # type: ignore[arg-type]
    pixels = np.where(np.kron(np.pad(modules, 4), np.ones((6, 6))), 0, 255).astype(np.uint8)
    (read,) = zxingcpp.read_barcodes(pixels, formats=zxingcpp.BarcodeFormat.QRCode)
    assert (read.text, read.extra["ECLevel"]) == (text, level)


@pytest.mark.parametrize("mask", range(8))
def test_a_tag_address_of_full_length_equals_segno(mask: int) -> None:
    address = "HTTPS://" + "H" * 20 + ".EXAMPLE/T/KM74XR2/"
    other = segno.make_qr(address, error="q", mask=mask, boost_error=False)
    assert [list(row) for row in qr_symbol(address, "Q", mask).rows] == [[bool(m) for m in row] for row in other.matrix]


@pytest.mark.parametrize(("host_length", "version"), [(28, 3), (29, 4)])
def test_a_host_of_up_to_28_characters_keeps_level_q_at_version_3(host_length: int, version: int) -> None:
    """47 alphanumeric characters are what version 3 holds at level Q (ISO/IEC 18004, table of capacities)."""
    host = "H" * (host_length - 8) + ".EXAMPLE"
    assert len(host) == host_length
    assert qr_symbol(f"HTTPS://{host}/T/KM74XR2/").version == version


def test_the_mask_can_be_left_to_the_penalty_score() -> None:
    text = "HTTPS://HANDOVER.EXAMPLE/T/KM74XR2/"
    assert qr_symbol(text, "Q", None).rows in [qr_symbol(text, "Q", mask).rows for mask in range(8)]


def test_runs_of_dark_modules_rebuild_the_matrix() -> None:
    symbol = qr_symbol("HTTPS://HANDOVER.EXAMPLE/T/KM74XR2/")
    rebuilt = [[False] * symbol.size for _ in range(symbol.size)]
    for column, row, length in dark_runs(symbol):
        rebuilt[row][column : column + length] = [True] * length
    assert rebuilt == [list(row) for row in symbol.rows]


@pytest.mark.parametrize(
    "text", ["https://handover.example/", "HTTPS://HANDOVER.EXAMPLE/\u00c4", "A_B", "A\nB", "\u0663"]
)
def test_an_address_outside_the_alphanumeric_set_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(NotAlphanumeric, match="upper case") as refused:
        qr_symbol(text)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("length", [2421, 5000])
def test_an_address_too_long_for_any_symbol_is_refused(length: int) -> None:
    """Version 40 at level Q holds 2420 alphanumeric characters (ISO/IEC 18004)."""
    with pytest.raises(AddressTooLong, match=f"{length} characters"):
        qr_symbol("A" * length)


def test_a_level_that_does_not_exist_is_refused() -> None:
    with pytest.raises(UnknownLevel, match="L, M, Q, H"):
        qr_symbol("A", "X")  # type: ignore[arg-type]
