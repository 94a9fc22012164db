import hashlib
import json
import shutil
import subprocess
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.record import Decision, EntryError
from mendbook.record.chain import GENESIS, Head, canonical, entry_text, link
from mendbook.record.entry import read_entry
from tests.record.made import WHEN, decision, docket, follow_up

TEXT = st.text(st.characters(exclude_categories=("Cs",)))
WHOLE = st.integers(min_value=-(2**53), max_value=2**53)
VALUES: Any = st.recursive(
    st.none() | st.booleans() | WHOLE | st.floats(allow_nan=False, allow_infinity=False) | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT, inner, max_size=4),
    max_leaves=12,
)


@given(st.dictionaries(TEXT, VALUES))
def test_canonical_json_read_and_written_again_is_the_same(tree: dict[str, Any]) -> None:
    text = canonical(tree)
    assert canonical(json.loads(text)) == text
    assert json.loads(text) == tree
    assert canonical(dict(reversed(tree.items()))) == text


@given(st.floats(min_value=1e-4, max_value=1e15) | st.floats(min_value=-1e15, max_value=-1e-4))
def test_figures_are_those_of_the_standard_library(figure: float) -> None:
    """Two libraries write every figure of the size that a docket holds alike: it is no matter of taste."""
    assert canonical(figure) == json.dumps(figure)


@pytest.mark.parametrize("odd", [{"a": {1, 2}}, {"a": "\ud800"}, {"a": 2**70}, {1: 2}])
def test_what_json_cannot_say_is_refused(odd: Any) -> None:
    with pytest.raises(EntryError, match="cannot be kept as JSON"):
        canonical(odd)


def test_an_entry_comes_back_from_its_text() -> None:
    for entry in (decision(), decision(stage="after skive", about=3), follow_up(2, 0.0), follow_up(2, 9.5, "failed")):
        assert read_entry(json.loads(entry_text(entry))) == entry


def test_the_hash_can_be_worked_out_without_the_program() -> None:
    """By the command that the module tells, and by the plain formula."""
    first = link(Head(), entry_text(decision()))
    second = link(Head(1, first.hash), entry_text(follow_up(1, 40)))
    assert first.previous == GENESIS
    said = f"mendbook entry 2\n{first.hash}\n{second.text}"
    assert second.hash == hashlib.sha256(said.encode()).hexdigest()
    tool = shutil.which("sha256sum")
    if tool is not None:
        summed = subprocess.run([tool], input=said.encode(), capture_output=True, check=True).stdout
        assert summed.split()[0].decode() == second.hash


@pytest.mark.parametrize(
    ("tree", "fault"),
    [
        ({"kind": "rumour"}, "kind"),
        ({"kind": "decision", "by": " ", "docket": {}}, "it is blank"),
        ({"kind": "decision", "by": "a", "docket": {}, "about": 1}, "only a decision after the skive"),
        ({"kind": "decision", "by": "a", "docket": {}, "recorded": "soon"}, "recorded"),
        ({"kind": "withdrawal", "by": "a", "corrects": 1, "note": ""}, "note"),
        ({"kind": "follow-up", "by": "a", "about": 1, "on": "2027-13-01"}, "on"),
        (follow_up(1, 5).model_dump() | {"state": "failed"}, "a cause is said of"),
        (follow_up(1, 5).model_dump() | {"cause": "x"}, "a cause is said of"),
        (follow_up(1, 5).model_dump() | {"ran": -1}, "ran"),
        (follow_up(1, 5).model_dump() | {"more": 1}, "more"),
    ],
)
def test_what_is_no_entry_is_told(tree: dict[str, Any], fault: str) -> None:
    with pytest.raises(EntryError, match=fault):
        read_entry(tree)


def test_what_a_later_program_puts_into_a_docket_is_kept() -> None:
    kept = Decision(by="a", recorded=WHEN, docket=docket() | {"not_known_yet": [1, {"b": 2.5}]})
    assert read_entry(json.loads(entry_text(kept))).model_dump()["docket"]["not_known_yet"] == [1, {"b": 2.5}]
