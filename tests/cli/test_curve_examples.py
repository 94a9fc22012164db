"""The invented cure curves under examples/cure: the formula they are written by, and the report beside them.

UPDATE_EXAMPLES=1 writes both anew.
"""

import os
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from mendbook.card.curve_report import curve_report
from mendbook.card.printing import as_text
from mendbook.cli.curve_file import read_curve
from mendbook.cure.batch import describe
from mendbook.cure.curve import measure
from mendbook.cure.kinetics import rate_ratio
from mendbook.terms.cure_curve import CureCurve

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "cure"
ENERGY = 94.0  # kJ/mol
HEAD = """\
# Invented: no such batch exists and nothing was measured. With x = t/s, where s is {half:g} min at {temperature:g} °C:
# torque = 2.2 + 1.1 exp(-t/0.4) + 13.5 exp(-x/{life:g}) x^6/(1 + x^6) + 0.02 (sin 37i + sin 101i^2), reading i at t.
# temperature: {temperature:g} °C
"""
# file: temperature, s, life, end and stride [min], heading and decimal mark
CURVES = {
    "fill_batch_140.csv": (140.0, 14.0, 90.0, 70.0, 0.25, "time [min],torque [dN m]", "."),
    "fill_batch_155.csv": (155.0, 5.4, 50.0, 35.0, 0.125, "time [min];torque [dN m]", ","),
}


def formula(time: np.ndarray, half: float, life: float) -> np.ndarray:
    x = time / half
    return np.asarray(2.2 + 1.1 * np.exp(-time / 0.4) + 13.5 * np.exp(-x / life) * x**6 / (1 + x**6))


def written(name: str) -> str:
    temperature, half, life, end, stride, heading, mark = CURVES[name]
    time = np.arange(0, end + stride / 2, stride)
    place = np.arange(len(time))
    torque = formula(time, half, life) + 0.02 * (np.sin(37 * place) + np.sin(101 * place**2))
    between = ";" if mark == "," else ","
    rows = [f"{t:.3f}{between}{m:.2f}" for t, m in zip(time, torque, strict=True)]
    head = HEAD.format(half=half, life=life, temperature=temperature)
    return f"{head}{heading}\n" + "\n".join(row.replace(".", mark) for row in rows) + "\n"


def figures(name: str) -> CureCurve:
    return measure(read_curve(str(FOLDER / name)).readings).model_copy(update={"name": name})


@pytest.mark.parametrize("name", CURVES)
def test_an_example_is_what_its_formula_says(name: str) -> None:
    file = FOLDER / name
    if os.environ.get("UPDATE_EXAMPLES"):
        file.write_text(written(name), encoding="utf-8")
    assert file.read_text(encoding="utf-8") == written(name)


@pytest.mark.parametrize("name", CURVES)
def test_its_t90_is_that_of_the_formula_without_the_noise(name: str) -> None:
    _, half, life, end, *_ = CURVES[name]

    def at(t: float) -> float:
        return float(formula(np.array([t]), half, life)[0])

    least = minimize_scalar(at, bounds=(0, half), method="bounded").fun
    peak = minimize_scalar(lambda t: -at(t), bounds=(half, end), method="bounded")
    t90 = brentq(lambda t: at(t) - least - 0.9 * (-peak.fun - least), half / 2, peak.x)
    found = figures(name)
    assert found.kind == "peak"
    assert found.t90_min == pytest.approx(t90, rel=5e-3)
    assert found.maximum_dNm == pytest.approx(-peak.fun, abs=0.02)
    assert found.minimum_dNm == pytest.approx(least, abs=0.02)


def test_both_together_give_about_the_energy_they_were_made_with() -> None:
    """The times s of the two are as 94 kJ/mol would have them; their reversion shifts MH, and so t90, a little."""
    assert CURVES["fill_batch_140.csv"][1] / CURVES["fill_batch_155.csv"][1] == pytest.approx(
        rate_ratio(ENERGY, 140, 155), rel=0.01
    )
    report = describe([figures(name) for name in CURVES], "fill rubber, invented batch")
    assert report.kinetics.activation_kJ_mol == pytest.approx(ENERGY, abs=2)


def test_the_report_beside_them_is_what_they_give() -> None:
    report = describe([figures(name) for name in CURVES], "fill rubber, invented batch")
    printed = as_text(curve_report(report, width=100), width=100)
    beside = FOLDER / "fill_batch.txt"
    if os.environ.get("UPDATE_EXAMPLES"):
        beside.write_text(printed, encoding="utf-8")
    assert printed == beside.read_text(encoding="utf-8"), "run with UPDATE_EXAMPLES=1 and read what changed"
