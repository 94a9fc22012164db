"""Whatever a shop writes: one clear error with its place, or a hold that names the field; never anything else."""

from pathlib import Path
from typing import Any

import pytest

from mendbook.facts.scenarios import TooManyChoices
from mendbook.terms.case_file import CaseError, read_case
from mendbook.triage import Shop
from mendbook.triage.places import ImpossibleCase
from tests.triage.cases import CUT, LOADER, TRUCK, Tree, but, triage, write

READY: Tree = but(LOADER, injuries=[CUT])
SMALL: Tree = but(TRUCK, tyre={"designation": "8.25-15", "casing": "nylon"})


def injury(**changes: Any) -> Tree:
    return but(LOADER, injuries=[but(CUT, **changes)])


def tyre(**changes: Any) -> Tree:
    return but(READY, tyre={name.replace("_", " "): value for name, value in changes.items()})


# What a text cannot be read as: the error names file, line and field, and says what to write instead.
UNREADABLE: dict[str, tuple[Tree, str]] = {
    "size of no form": (tyre(designation="big"), r"tyre\.designation: 'big' is not a tyre size I know\. Write it as"),
    "aspect ratio first": (tyre(designation="65/35-33"), r"Write the width first: '35/65-33'"),
    "width of 18 mm": (tyre(designation="18-25"), r"'18-25' is not a tyre size I know.*'18\.00-25'"),
    "width no tyre has": (tyre(designation="99/95R63"), r"no heavy tyre has a width of .* Read the size again"),
    "rim no tyre has": (tyre(designation="18.00R99"), r"no heavy tyre has a rim of 99 in"),
    "below zero": (injury(length="-5 mm"), r"injuries \[1\]\.length: -5 mm is not possible.*from 0 to 3000 mm"),
    "absurd": (injury(length="9000 mm"), r"9000 mm is not possible for 'length'.*Check the figure and its unit"),
    "unit of another kind": (injury(length="5 bar"), r"5 bar is a pressure; this field is a length: write e\.g\."),
    "no unit": (injury(length="48"), r"'48' has no unit; this field is a length: write '48 mm'"),
    "range backwards": (injury(length="60 to 40 mm"), r"runs backwards\. Write the smaller end first"),
    "not a number": (injury(length="nan mm"), r"'nan mm' is not clear.*Write the reading, or 'unknown'"),
    "endless": (injury(length="inf mm"), r"'inf mm' is not clear"),
    "not a number in yaml": (injury(length=float("nan")), r"'\.nan' is not a length I can read"),
    "part of a cord": (injury(cords_cut="2.5"), r"'2\.5' is not a whole number, and a count is"),
    "off the clock": (injury(clock="400 deg"), r"clock: '400 deg' is not on the clock.*from 0 to 360 deg"),
    "too long a text": (injury(length="4" * 500 + " mm"), r"is far too long for a reading"),
    "value of no list": (injury(kind="stone"), r"injuries \[1\]\.kind: 'stone' is not known here"),
    "synonym of a field": (injury(**{"circumferential size": "48 mm"}), r"Did you mean 'length'\?"),
    "near name": (injury(lenght="48 mm"), r"injuries \[1\]\.lenght: no field is called 'lenght' here\. Did you mean"),
    "near section": (but(READY, fond={"valve core": "out"}), r"fond: no field is called 'fond' here.*'found'"),
    "field in the wrong section": (tyre(speed="5 km/h"), r"'speed' does not belong here: write it under 'service:'"),
    "two of one name": (
        {**LOADER, "injuries": [CUT, but(CUT, clock="9 deg")]},
        r"injuries \[2\]\.name: two injuries are called 'A': give each its own name\.$",
    ),
    "no name": (injury(name=None), r"injuries \[1\]\.name: it is missing\. Add it"),
    "list for a section": ({**READY, "tyre": ["26.5R25"]}, r"tyre: .* stands where fields should be"),
    "map for a list": ({**READY, "injuries": {"name": "A"}}, r"injuries: .* stands where a list should be"),
    "word for an injury": ({**READY, "injuries": ["cut"]}, r"injuries \[1\]: 'cut' stands where fields should be"),
    "no day": (but(READY, judged_on="yesterday"), r"judged on: 'yesterday' is not a date\. Write year-month-day"),
    "rating that is a count": (tyre(ply_rating="22 plies"), r"is not a ply rating\. A ply rating is not a count"),
    "no pressure at all": (but(READY, service={"pressure specified": "0 bar"}), r"runs from 0\.5 to 12 bar"),
    "shift of no length": (but(READY, service={"shift": "0 h"}), r"service\.shift: '0 h' is not possible here"),
}


@pytest.mark.parametrize("fault", UNREADABLE)
def test_what_cannot_be_read_is_one_clear_error_with_its_line(fault: str, shop: Shop) -> None:
    tree, words = UNREADABLE[fault]
    with pytest.raises(CaseError, match=words) as refused:
        triage(tree, shop)
    lines = str(refused.value).splitlines()
    assert len(lines) == 1
    assert lines[0].startswith("case.yaml:")
    assert len(lines[0]) < 400


def test_the_line_of_an_error_is_the_line_in_the_file(shop: Shop) -> None:
    text = write(injury(length="5 bar"))
    at = next(number for number, line in enumerate(text.splitlines(), 1) if "5 bar" in line)
    with pytest.raises(CaseError, match=rf"^case\.yaml:{at}: injuries \[1\]\.length:"):
        triage(text, shop)


def test_all_faults_of_a_case_are_told_at_once(shop: Shop) -> None:
    tree = but(READY, injuries=[but(CUT, length="5 bar", kind="stone")], tyre={"designation": "big"})
    with pytest.raises(CaseError) as refused:
        triage(tree, shop)
    assert len(str(refused.value).splitlines()) == 3


# What can be read and cannot be true: the error says where in the case, and what to check.
IMPOSSIBLE: dict[str, tuple[Tree, tuple[str | int, ...], str]] = {
    "week 54": (tyre(date_code="5423"), ("tyre", "date code"), "there is no week 54"),
    "week 00": (tyre(date_code="0023"), ("tyre", "date code"), "there is no week 00"),
    "week to come": (tyre(date_code="5026"), ("tyre", "date code"), "is after 25 November 2026"),
    "no date code": (tyre(date_code="abcd"), ("tyre", "date code"), "is no date code"),
    "retreaded in a week to come": (
        tyre(retread_date_code="5026"), ("tyre", "retread date code"), "is after 25 November 2026",
    ),
    "retreaded before it was built": (
        tyre(retread_date_code="3120"), ("tyre", "retread date code"), "when the casing was built",
    ),
    "judged before it was built": (but(READY, judged_on="2020-01-01"), ("tyre", "date code"), "is after 01 January"),
    "diameter of another tyre": (tyre(outside_diameter="1100 mm"), ("tyre", "outside diameter"), "stands some 1739 mm"),
    "tread deeper than new": (tyre(tread_depths=["500 mm"]), ("tyre", "tread depths", 0), "deeper than the tread was"),
    "least tread deeper than new": (tyre(tread_left="120 mm"), ("tyre", "tread left"), "deeper than the tread was"),
    "beyond the centreline": (
        injury(distance_from_bead="1200 mm"), ("injuries", 0, "distance from bead"), "beyond the crown centreline",
    ),
    "beyond the bead": (
        but(TRUCK, injuries=[but(CUT, distance_from_bead=None, distance_from_centreline="450 mm", depth=None)]),
        ("injuries", 0, "distance from centreline"), "beyond the bead",
    ),
    "longer than the girth": (
        but(SMALL, injuries=[but(CUT, length="2900 mm", depth=None, distance_from_bead="100 mm")]),
        ("injuries", 0, "length"), "longer than the tyre is round",
    ),
    "wider than the tyre": (injury(width="1900 mm"), ("injuries", 0, "width"), "wider than the tyre from bead to bead"),
    "deeper than the wall": (
        but(TRUCK, injuries=[but(CUT, depth="200 mm", distance_from_bead="150 mm")]),
        ("injuries", 0, "depth"), "deeper than any tyre of this size is thick",
    ),
    "cords cut where none is reached": (injury(reaches="cord"), ("injuries", 0, "cords cut"), "damages no cord"),
    "a break inside where none is reached": (
        injury(reaches="rubber", cords_cut=None, inside_length="90 mm"), ("injuries", 0, "inside length"),
        "Write 'reaches: plies', or 'through'",
    ),
    "more plies hurt than there are": (
        but(READY, tyre={"plies": "2"}, injuries=[but(CUT, plies_damaged="9")]),
        ("injuries", 0, "plies damaged"), "the tyre has 2 plies. Count both again.",
    ),
    "more belts hurt than there are": (
        but(READY, tyre={"belts": "4"}, injuries=[but(CUT, belts_damaged="5")]),
        ("injuries", 0, "belts damaged"), "the tyre has 4 belts",
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", IMPOSSIBLE)
def test_what_cannot_be_true_is_one_clear_error_with_its_place(fault: str, shop: Shop) -> None:
    tree, path, words = IMPOSSIBLE[fault]
    with pytest.raises(ImpossibleCase) as refused:
        triage(tree, shop)
    assert words in str(refused.value)
    assert refused.value.path == path


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "the file is empty"),
        ("# nothing but a remark\n", "the file is empty"),
        ("just words\n", "the file is a single text"),
        ("- a\n- b\n", "list"),
        ("case: a\ncase: b\n", "'case' stands on line 1 already. Keep one of the two."),
        ("case: &a [x]\nnote: *a\n", "an '&' names this place"),
        ("a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", "an '&' names this place"),
        ("case: *a\n", "'*'"),
        ("case: !!python/object:os.system x\n", "'!'"),
        ("case: [1\n", "is opened and never closed"),
        ('case: "x\n', "a quote is opened and never closed"),
        ("case: x\n\tnote: y\n", "tab"),
        ("case: x\n---\ncase: y\n", "document"),
        ("[" * 40 + "]" * 40, "stand inside each other"),
        ("[" * 2000, "stand inside each other"),
    ],
)
def test_what_is_no_case_file_is_one_clear_error(text: str, words: str, tmp_path: Path, shop: Shop) -> None:
    path = tmp_path / "case.yaml"
    path.write_text(text)
    with pytest.raises(CaseError) as refused:
        read_case(path, shop.book.vocabulary, name="case.yaml")
    assert str(refused.value).startswith("case.yaml:")
    assert words in str(refused.value)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"\x00\x01\x02\x03", "NUL byte"),
        (b"case: \xff\xfe\n", "this is not UTF-8 text"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "this is not UTF-8 text"),
        (b"case: x\nnote: '" + b"x" * 20_000_000 + b"'\n", "the file is longer than 1,000,000 bytes"),
    ],
    ids=["zeroes", "other letters", "picture", "20 MB"],
)
def test_a_file_of_bytes_is_one_clear_error(data: bytes, words: str, tmp_path: Path, shop: Shop) -> None:
    path = tmp_path / "case.yaml"
    path.write_bytes(data)
    with pytest.raises(CaseError) as refused:
        read_case(path, shop.book.vocabulary, name="case.yaml")
    assert words in str(refused.value)


def test_a_file_that_is_not_there_or_is_a_folder_is_one_clear_error(tmp_path: Path, shop: Shop) -> None:
    for path, words in ((tmp_path / "none.yaml", "there is no such file"), (tmp_path, "this is a folder")):
        with pytest.raises(CaseError, match=words):
            read_case(path, shop.book.vocabulary)


@pytest.mark.parametrize(
    ("tree", "words"),
    [
        (tyre(designation="unknown"), "Read the size designation"),
        (tyre(designation=None), "Read the size designation"),
        (tyre(date_code=None), "read the serial"),
        (tyre(sides_agree="no"), "which side is right"),
        (but(READY, found={"inside inspected": None}), "look at the whole inside"),
        (but(READY, found={"pressure at removal": None}), "Find the pressure at removal"),
        (but(READY, earlier_repairs=None), "find every earlier repair"),
        (but(READY, earlier_repairs="not mapped"), "find every earlier repair"),
        (injury(object="still in"), "Pull the object"),
        (injury(readings_differ_by="12 mm"), "A third person measures"),
        (tyre(designation="45/65R45"), "engineer"),
    ],
)
def test_what_is_missing_is_a_hold_that_names_the_look(tree: Tree, words: str, shop: Shop) -> None:
    docket = triage(tree, shop)
    assert docket.outcome in ("hold", "reject")
    assert any(words in hold for hold in docket.holds)


def test_so_little_known_that_nothing_can_be_tried_is_refused_with_the_names(shop: Shop) -> None:
    """Every unknown list multiplies the ways to read the case; beyond some thousands it is no judgement."""
    nothing = {
        "case": "x",
        "found": {"valve core": "out", "heat event": "none", "contamination": "unknown", "filled with": "unknown"},
        "injuries": [{"name": "A", "kind": "unknown", "skived": "unknown"}],
    }
    with pytest.raises(TooManyChoices, match=r"too little is known to judge: .*duty.* Fill in one of them"):
        triage(nothing, shop)


def test_injuries_of_which_nothing_is_known_are_judged_as_the_worst(shop: Shop) -> None:
    docket = triage({**LOADER, "injuries": [{"name": name} for name in "ABC"]}, shop)
    assert (docket.outcome, docket.verdict) == ("hold", "reject")


def test_twelve_injuries_are_judged_like_one(shop: Shop) -> None:
    many = [but(CUT, name=f"n{number}", clock=f"{number * 11} deg") for number in range(12)]
    assert triage({**LOADER, "injuries": many}, shop).verdict == "reject"


def test_a_law_that_the_book_does_not_know_is_refused_with_those_it_knows(shop: Shop) -> None:
    with pytest.raises(ValueError, match=r"no road law is called 'fr'\. Write one of: none, us, uk, uk-part-worn"):
        triage(LOADER, shop, law="fr")
