import pytest

from mendbook.terms.tread_code import Service, TreadCodeError, read_tread_code


# The trade's open tread code: letters, digits and 100, 150, 250 % read on public pages, flotation 80 % from
# memory.
@pytest.mark.parametrize(
    ("text", "service", "pattern", "depth_share"),
    [
        ("E-1", Service.EARTHMOVER, "rib or smooth", 1.0),
        ("E-3", Service.EARTHMOVER, "rock", 1.0),
        ("E4", Service.EARTHMOVER, "rock, deep", 1.5),
        ("e-7", Service.EARTHMOVER, "flotation", 0.8),
        ("E-6", Service.EARTHMOVER, "", None),
        ("L-2", Service.LOADER, "traction", 1.0),
        ("L-5", Service.LOADER, "rock, extra deep", 2.5),
        ("L-5S", Service.LOADER, "smooth", 2.5),
        ("L 4 ", Service.LOADER, "rock, deep", 1.5),
        ("E-4T", Service.EARTHMOVER, "traction", 1.5),
        ("G-2", Service.GRADER, "traction", 1.0),
        ("C-1", Service.COMPACTOR, "rib or smooth", 1.0),
        ("IND-4", Service.INDUSTRIAL, "rock, deep", 1.5),
        ("ML", Service.LOGGING, "", None),
        ("ML-4", Service.LOGGING, "rock, deep", 1.5),
    ],
)
def test_a_tread_code(text: str, service: Service, pattern: str, depth_share: float | None) -> None:
    code = read_tread_code(text)
    assert (code.service, code.pattern, code.depth_share) == (service, pattern, depth_share)


# Order of magnitude from memory: 23.5-25 L-3 about 35 mm, L-5 about 85 mm; 29.5-25 about 40 and 100 mm.
@pytest.mark.parametrize(("regular_mm", "extra_deep_mm"), [(35, 85), (40, 100)])
def test_an_extra_deep_tread_is_two_and_a_half_times_a_regular_one(regular_mm: float, extra_deep_mm: float) -> None:
    share = read_tread_code("L-5").depth_share
    assert share is not None
    assert regular_mm * share == pytest.approx(extra_deep_mm, rel=0.1)


@pytest.mark.parametrize("text", ["L-5S", "E-3", "ML", "IND-2"])
def test_a_code_is_printed_as_moulded(text: str) -> None:
    assert str(read_tread_code(text.replace("-", "").lower())) == text


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Z-3", "L loader or dozer"),
        ("", "L loader or dozer"),
        ("L-55", "L loader or dozer"),
        ("E", "has no digit"),
        ("C-5", "from C-1 to C-2"),
        ("L-1", "from L-2 to L-7"),
        ("G-0", "from G-1 to G-4"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str, told: str) -> None:
    with pytest.raises(TreadCodeError) as caught:
        read_tread_code(text)
    assert told in str(caught.value)
