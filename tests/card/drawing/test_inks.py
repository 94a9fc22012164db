"""Lines can be told apart without colour, and their colours by every kind of colour sight."""

from itertools import combinations, product

import numpy as np
import pytest

from mendbook.card.drawing.inks import INKS, INSIDE, OUTSIDE, PAPER, Ink

# Machado, Oliveira, Fernandes 2009, full severity, on linear RGB (matrices from memory).
SIGHTS = {
    "usual": np.eye(3),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}


def linear(colour: str) -> np.ndarray:
    parts = np.array([int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours after WCAG 2.1 (formula from memory)."""
    light = sorted(float(linear(colour) @ (0.2126, 0.7152, 0.0722)) for colour in (one, other))
    return (light[1] + 0.05) / (light[0] + 0.05)


def lab(colour: str, sight: np.ndarray) -> np.ndarray:
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    xyz = to_xyz @ np.clip(sight @ linear(colour), 0, 1) / np.array([0.9505, 1.0, 1.089])
    f = np.where(xyz > 0.008856, np.cbrt(xyz), 7.787 * xyz + 16 / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("sight", SIGHTS)
def test_the_two_faces_are_told_apart_by_every_eye(sight: str) -> None:
    assert np.linalg.norm(lab(OUTSIDE, SIGHTS[sight]) - lab(INSIDE, SIGHTS[sight])) >= 20


def test_words_and_lines_stand_out_from_paper() -> None:
    assert contrast("#000000", PAPER) == pytest.approx(21)
    for name in ("words", "bold", "quiet"):
        assert contrast(INKS[name].stroke, PAPER) >= 4.5
    for name in ("outside pad", "inside pad", "outside bag", "inside bag", "reinforcement", "counted", "opening"):
        assert contrast(INKS[name].stroke, PAPER) >= 3.0


def without_colour(ink: Ink) -> tuple[object, ...]:
    return ink.width, ink.dashes, bool(ink.fill), ink.hatch


def test_what_may_lie_together_differs_by_more_than_colour() -> None:
    together = ("reinforcement", "outside pad", "outside bag", "inside pad", "inside bag", "counted", "opening", "edge")
    for one, other in combinations(together, 2):
        assert without_colour(INKS[one]) != without_colour(INKS[other]), f"{one} / {other}"
    layers = ("fill", "gum", "casing", "bridge", "other layer")
    areas = [(INKS[name].hatch, INKS[name].fill) for name in layers]
    assert len(set(areas)) == len(layers)
    lines = ("outside pad line", "inside pad line", "slowest")
    assert all(
        one == other or without_colour(INKS[one]) != without_colour(INKS[other]) for one, other in product(lines, lines)
    )
