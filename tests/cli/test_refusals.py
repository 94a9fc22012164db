import pytest

from mendbook.cli.refusals import RefusalError, complain, faults, refusing, wrapped


def test_an_indented_line_belongs_to_the_error_above() -> None:
    message = "a.yaml:3: no fact is called 'lenght'\n  Did you mean 'length'?\na.yaml:9: it is missing. Add it.\n"
    assert faults(message) == [
        "a.yaml:3: no fact is called 'lenght'. Did you mean 'length'?",
        "a.yaml:9: it is missing. Add it.",
    ]


def test_an_empty_message_still_says_something() -> None:
    assert faults("\n") == ["something is wrong, and no more is known."]


def test_a_quoted_escape_cannot_steer_the_terminal() -> None:
    assert faults("a.yaml:1: '\x1b[31mred\x07' is not known\u202e here") == ["a.yaml:1: ' [31mred ' is not known here"]


@pytest.mark.parametrize("columns", [40, 60, 100])
def test_an_error_is_wrapped_between_words(columns: int) -> None:
    fault = "case.yaml:12: injuries [1].length: '48' has no unit; this field is a length: write '48 mm'."
    lines = wrapped(fault, columns).splitlines()
    assert all(len(line) <= columns for line in lines)
    assert lines[0].startswith("error: case.yaml:12: ")
    assert all(line.startswith("  ") for line in lines[1:])
    assert " ".join(line.strip() for line in lines) == f"error: {fault}"


def test_a_word_longer_than_the_line_is_not_cut() -> None:
    path = "/" + "very" * 30 + ".yaml:1:"
    assert path in wrapped(f"{path} there is no such file.", 60)


def test_each_fault_is_an_error_of_its_own(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    complain("a.yaml:1: one\na.yaml:2: two")
    captured = capsys.readouterr()
    assert captured.err == "error: a.yaml:1: one\nerror: a.yaml:2: two\n"
    assert captured.out == ""


def test_only_the_errors_named_become_a_refusal() -> None:
    with pytest.raises(RefusalError, match="bad"), refusing(ValueError):
        raise ValueError("bad")
    with pytest.raises(KeyError), refusing(ValueError):
        raise KeyError("a fault of the program")
