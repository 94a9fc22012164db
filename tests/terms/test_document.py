import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.terms.document import DocumentError, parse_document, read_document

CASE = """\
tyre:
  designation: 12.00R20   # a note
  serial: 0301
  clock: 11:20
  tubeless: no
injuries:
  - zone: shoulder
    note: it runs
      over two lines
    length: 48,5 mm
  - {zone: crown, through: yes}
"""


def test_every_scalar_stays_the_text_that_was_written() -> None:
    assert parse_document(CASE, "case.yaml").tree == {
        "tyre": {"designation": "12.00R20", "serial": "0301", "clock": "11:20", "tubeless": "no"},
        "injuries": [
            {"zone": "shoulder", "note": "it runs over two lines", "length": "48,5 mm"},
            {"zone": "crown", "through": "yes"},
        ],
    }


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ((), 1),
        (("tyre",), 1),
        (("tyre", "clock"), 4),
        (("injuries", 0), 7),
        (("injuries", 0, "length"), 10),
        (("injuries", 1, "through"), 11),
        (("injuries", 1, "depth"), 11),
        (("injuries", 7, "depth"), 6),
        (("nothing", "of", "this"), 1),
    ],
)
def test_every_key_and_item_has_its_line(path: tuple[str | int, ...], line: int) -> None:
    assert parse_document(CASE, "case.yaml").line(path) == line


def test_json_is_read_alike_and_null_is_absent() -> None:
    text = '{\n\t"tyre": {"size": "12.00R20", "depth": 1.50, "tubeless": true, "cord": null},\n"list": [1]}'
    document = parse_document(text, "case.json")
    assert document.tree == {"tyre": {"size": "12.00R20", "depth": "1.50", "tubeless": "true"}, "list": ["1"]}
    assert document.line(("list", 0)) == 3


def test_a_byte_order_mark_is_no_matter() -> None:
    assert parse_document("\ufeffa: 1", "f").tree == {"a": "1"}
    assert parse_document(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n", "f").tree == {"a": "1", "b": "2"}


@pytest.mark.parametrize(
    ("text", "line", "told"),
    [
        ("a: 1\nb: 2\na: 3", 3, "'a' stands on line 1 already"),
        ("a: {b: 1, b: 2}", 1, "'b' stands on line 1 already"),
        ('{"a": 1,\n"a": 2}', 2, "'a' stands on line 1 already"),
        ("a: null\na: 1", 2, "'a' stands on line 1 already"),
        ("a: &x 1\nb: *x", 1, "'&' names this place"),
        ("a: 1\nb: *x", 2, "'*' refers to another place"),
        ("a: 1\n*x : 2", 2, "'*' refers to another place"),
        ("stars: **", 1, 'needs "quotes"'),
        ("a: !!python/object:os.system x", 1, "'!' gives a type"),
        ("a: ! x", 1, "'!' gives a type"),
        ("a: !!map {b: 1}", 1, "'!' gives a type"),
        ("a:\n  <<: {b: 1}", 2, "'<<' merges"),
        ("? [a, b]\n: 1", 1, "this is no name"),
        ("{[a]: 1}", 1, "this is no name"),
        ("null: 1", 1, "this is no name"),
        ('"": 1', 1, "this is no name"),
        ("a: 1\n---\nb: 2", 2, "a second document"),
        ("a: 1\n...\nb: 2", 3, "'...'"),
        ("a: [1, null]", 1, "is null"),
        ("because: the cut: it is long", 1, 'in "quotes"'),
        ("a: 1\n  b: 2", 2, "the line before is not finished"),
        ("a:\n\t- b", 2, "tab"),
        ("a: @b", 1, "@"),
        ("a: - b", 1, "a list begins"),
        ('a: "b', 1, "never closed"),
        ("a: [1, 2\n", 2, "never closed"),
        ('a: "b" c', 1, "does not fit"),
        ("a: 1\nword\n", 3, "Write 'name: value'"),
        ("a: \x07", 1, "cannot be seen"),
        ('{"a": "\\ud83d\\ude00"}', 1, "the character itself"),
        ("%YAML 9.9\n---\na: 1", 1, "this is not YAML"),
        ("", 1, "empty"),
        ("\n# only a note\n", 1, "empty"),
        ("---\n", 1, "empty"),
        ("- a", 1, "the file is a list"),
        ("just words", 1, "the file is a single text"),
        ("a: 1\nb: \0", 2, "NUL"),
        (b"a: 1\nb: \xff\xfe", 2, "UTF-8"),
        ("a: 1".encode("utf-16"), 1, "UTF-8"),
        ("a: \ud800", 1, "UTF-8"),
        ("a: " + "[" * 50, 1, "more than 30"),
        ("a: " + "{a: " * 50_000, 1, "more than 30"),
        ("[" * 2_000, 1, "too many maps and lists stand inside each other"),
        ("a: " + "x" * 1_000_000, 1, "longer than 1,000,000 bytes"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str | bytes, line: int, told: str) -> None:
    with pytest.raises(DocumentError) as caught:
        parse_document(text, "a.yaml")
    error = caught.value
    assert told in error.message
    assert (error.file, error.line) == ("a.yaml", line)
    assert error.column >= 1
    assert str(error) == f"a.yaml:{line}: {error.message}"


def test_a_file_is_read_and_named(tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    file.write_text(CASE, encoding="utf-8")
    assert read_document(file).name == str(file)
    assert read_document(file, name="case.yaml").tree == parse_document(CASE, "").tree


def test_a_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match=r"^none: there is no such file"):
        read_document(tmp_path / "none.yaml", name="none")
    with pytest.raises(DocumentError, match=r"^yard: this is a folder"):
        read_document(tmp_path, name="yard")
    (tmp_path / "file").write_text("a: 1")
    with pytest.raises(DocumentError, match="cannot be read"):
        read_document(tmp_path / "file" / "below.yaml")
    with pytest.raises(DocumentError, match="longer than 3 bytes"):
        read_document(tmp_path / "file", limit=3)


texts = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Zl", "Zp")), max_size=20)
names = texts.filter(lambda name: name not in ("", "<<"))
trees = st.dictionaries(
    names,
    st.recursive(texts, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(names, inner, max_size=3)),
    min_size=1,
    max_size=4,
)


@given(trees)
def test_any_tree_written_as_json_reads_back(tree: dict[str, object]) -> None:
    assert parse_document(json.dumps(tree, ensure_ascii=False), "f").tree == tree


@given(st.text(max_size=60) | st.text("ab:-{}[],&*!\"'#\n |>%@?<~", max_size=40))
def test_any_text_is_read_or_refused_in_our_own_words(text: str) -> None:
    try:
        document = parse_document(text, "f")
    except DocumentError as refused:
        message = refused.message
    else:
        message = f"{len(document.tree)} keys."
    assert message.endswith(".")
