import pytest

from mendbook.terms.speed_symbol import SPEEDS_KM_H, SpeedSymbolError, read_speed_symbol


# UN R30 and R54, a public copy (read); A2 from ISO 4250-2 (extract read), A8 as 25 mph (read), the other
# symbols with A from memory.
@pytest.mark.parametrize(
    ("text", "km_h"),
    [
        ("A1", 5),
        ("A2", 10),
        ("A8", 40),
        ("B", 50),
        ("D", 65),
        ("E", 70),
        ("G", 90),
        ("J", 100),
        ("L", 120),
        ("a 2", 10),
    ],
)
def test_the_speed_a_symbol_states(text: str, km_h: int) -> None:
    assert read_speed_symbol(text).km_h == km_h


def test_h_stands_between_u_and_v_and_all_others_follow_the_alphabet() -> None:
    by_speed = sorted(SPEEDS_KM_H, key=lambda symbol: SPEEDS_KM_H[symbol])
    assert by_speed.index("U") + 1 == by_speed.index("H") == by_speed.index("V") - 1
    assert [s for s in by_speed if s != "H"] == sorted(s for s in by_speed if s != "H")
    assert len(set(SPEEDS_KM_H.values())) == len(SPEEDS_KM_H)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("I", "never used"),
        ("o", "never used"),
        ("X", "never used"),
        ("A", "needs its digit"),
        ("A9", "not a speed"),
        ("ZZ", "not a speed"),
        ("", "not a speed"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str, told: str) -> None:
    with pytest.raises(SpeedSymbolError, match="Write A1 to A8, B to Y") as caught:
        read_speed_symbol(text)
    assert told in str(caught.value)
