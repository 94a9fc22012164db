"""The stock: complete as shipped; a fault in it says file, line and what to write instead."""

import shutil
from pathlib import Path

import pytest

from mendbook.folders import folder
from mendbook.plan import Stock, open_stock
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError


@pytest.fixture
def knowledge(tmp_path: Path) -> Path:
    for name in ("kit", "stock", "materials", "compounds", "steps"):
        shutil.copytree(Path(str(folder("knowledge"))) / name, tmp_path / name)
    return tmp_path


def test_the_shipped_stock_is_complete(stock: Stock) -> None:
    assert len(stock.kit.ids()) > 30
    assert stock.fill.name == "fill rubber"
    assert {"cement", "solvent", "cushion gum", "uncured reinforcement"} <= set(stock.goods)
    assert stock.goods["cement"].coats_outside == 2
    assert stock.kit.used_strap_share == pytest.approx(0.8)


def test_a_kit_narrowed_to_what_is_on_hand_keeps_its_circuits(stock: Stock) -> None:
    held = stock.kit.only(["PAD 250 x 400"])
    assert [pad.id for pad in held.pads] == ["pad 250 x 400"]
    assert not held.straps
    assert held.circuits == stock.kit.circuits


@pytest.mark.parametrize(
    ("file", "old", "new", "complaint"),
    [
        ("kit/heated_pads.yaml", "heated: 150 x 200 mm", "heated: 150 mm", "heated_pads.yaml:15: .*cannot be read"),
        ("kit/straps.yaml", "length: 2.5 m", "length: long", "straps.yaml"),
        ("kit/straps.yaml", "length: 2.5 m", "length: 2 to 3 m", "is a range"),
        ("kit/circuits.yaml", "power: 2400 W", "power: unknown", "is unknown"),
        ("stock/liquids.yaml", "0.80 kg/l", "0.80", "density"),
        ("compounds/fill_rubber.yaml", "t90: 12 min", "t90: 12", "no figure in min"),
        ("compounds/fill_rubber.yaml", "t90: 12 min", "t90: 9999 min", "is not between"),
        ("materials/fill_rubber.yaml", "0.25 W/m/K", "250 W/m/K", "is not between"),
        ("materials/steel_casing.yaml", "casing, steel cord", "casing, wire", "'casing, steel cord', which every"),
    ],
)
def test_a_fault_says_where_and_what_to_write(knowledge: Path, file: str, old: str, new: str, complaint: str) -> None:
    path = knowledge / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(RulebookError, match=complaint):
        open_stock(knowledge)


def test_a_missing_file_says_so(knowledge: Path) -> None:
    (knowledge / "kit" / "straps.yaml").unlink()
    with pytest.raises(DocumentError, match="no such file"):
        open_stock(knowledge)
