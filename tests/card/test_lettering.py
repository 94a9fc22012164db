import pytest

from mendbook.card.lettering import line, plain, sentence, short


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("\x1b[31mred\x1b[0m alert", "red alert"),
        ("\x1b]0;a window title\x07cut", "cut"),
        ("\x1b]8;;http://example.invalid\x1b\\link\x1b]8;;\x1b\\", "link"),
        ("\x9b2Jcleared", "cleared"),
        ("bell\x07 back\x08space", "bell backspace"),
        ("two\nlines\tand  spaces", "two lines and spaces"),
        ("[red]stop[/red] [link=x]", "[red]stop[/red] [link=x]"),
        ("a\u202egnihton\u202c", "agnihton"),
        ("\u2067turned\u2069", "turned"),
        ("צמיג 26.5", "צמיג 26.5"),
        ("می\u200cخواهم", "می\u200cخواهم"),
        ("half\ud800 a pair", "half a pair"),
        ("", ""),
    ],
)
def test_only_what_can_be_seen_is_printed(written: str, printed: str) -> None:
    assert plain(written) == printed


def test_a_long_name_is_cut_with_a_mark() -> None:
    assert short("x" * 500, 10) == "x" * 9 + "…"
    assert short("x" * 10, 10) == "x" * 10


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("look first", "Look first."),
        ("Is it out?", "Is it out?"),
        ("  ", ""),
        ("ends.", "ends.".capitalize()),
    ],
)
def test_a_sentence_has_a_capital_and_an_end(written: str, said: str) -> None:
    assert sentence(written) == said


def test_a_line_takes_markup_as_letters() -> None:
    assert line("[bold]x[/bold]").plain == "[bold]x[/bold]"
    assert line("[bold]x[/bold]").spans == []
